"""The command line: answers, exit codes, and one clear sentence for whatever is wrong."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from hangar.base.places import demo_fleet_dir
from hangar.base.reader import Reader
from hangar.commands import answers, main
from hangar.store import Fleet
from tests.sheets.cases import empty_case

DEMO = str(demo_fleet_dir())


def told(capsys: pytest.CaptureFixture[str]) -> str:
    return capsys.readouterr().err.strip()


@pytest.fixture(scope="module")
def fleet(tmp_path_factory: pytest.TempPathFactory) -> Path:
    path = tmp_path_factory.mktemp("fleet") / "club.hangar"
    assert main(["bring-in", str(path), DEMO]) == 0
    return path


def clean_code(fleet: Path, capsys: pytest.CaptureFixture[str]) -> str:
    main(["inspect", str(fleet), "--json"])
    guilty = {finding["aircraft"] for finding in json.loads(capsys.readouterr().out)}
    with Fleet.open(fleet, read_only=True) as opened:
        (clean,) = set(opened.aircraft_codes()) - guilty
    return clean


def test_inspect_prints_findings_as_objects_and_says_a_warning_is_open(
    fleet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["inspect", str(fleet), "--json"]) == 1
    findings = json.loads(capsys.readouterr().out)
    wanted = {
        "aircraft",
        "rule",
        "level",
        "about",
        "message",
        "figures",
        "remedy",
        "source",
        "accepted_until",
    }
    assert len(findings) > 40
    for finding in findings:
        assert wanted <= set(finding)
        assert finding["level"] in {"warning", "caution", "advisory", "cant-tell"}
        for figure in finding["figures"].values():
            assert {"value", "unit", "basis"} <= set(figure)


def test_the_clean_aircraft_has_no_finding_and_exit_0(
    fleet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = clean_code(fleet, capsys)
    assert main(["inspect", str(fleet), "--aircraft", code]) == 0
    out = capsys.readouterr().out
    assert "no open warnings on the data entered" in out
    assert "safe to fly" not in out


def test_a_folder_of_tables_serves_like_a_file(fleet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(["inspect", str(fleet), "--json"])
    of_file = capsys.readouterr().out
    main(["inspect", DEMO, "--json"])
    assert capsys.readouterr().out == of_file


def test_survey_prints_every_figure_with_basis_and_working(
    fleet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    code = clean_code(fleet, capsys)
    assert main(["survey", str(fleet), "--aircraft", code, "--json"]) == 0
    text = capsys.readouterr().out
    assert json.loads(text)
    for word in ("basis", "working", "source", "unit"):
        assert f'"{word}"' in text


def test_refit_tells_the_best_for_money_as_an_object(fleet: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = ["refit", str(fleet), "--aircraft", "CIND"]
    assert main([*asked, "--budget", "60", "--json"]) == 0
    best = json.loads(capsys.readouterr().out)
    assert best["question"] == "best_for_budget"
    assert best["aircraft"] == "CIND"
    assert best["money"] <= 60
    assert best["brings"] == []
    assert best["left"]["warnings"] < best["today"]["warnings"]
    assert all(change["cures"] for change in best["changes"])
    assert main([*asked, "--json"]) == 0
    clear = json.loads(capsys.readouterr().out)
    assert clear["question"] == "clear"
    assert clear["left"]["warnings"] <= best["left"]["warnings"]
    assert main([*asked, "--next", "--json"]) == 0
    step = json.loads(capsys.readouterr().out)
    assert step["question"] == "next_step"
    assert step["left"]["warnings"] < step["today"]["warnings"]


def test_a_swap_may_be_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    """Nothing of the invented fleet can be swapped, so the answer is the same."""
    asked = ["refit", DEMO, "--aircraft", "NIM7", "--budget", "0", "--json"]
    assert main(asked) == 0
    without = json.loads(capsys.readouterr().out)
    assert main([*asked, "--swaps"]) == 0
    swapped = json.loads(capsys.readouterr().out)
    assert swapped == without


def test_refit_says_in_words_what_comes_back_and_what_stays(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["refit", DEMO, "--aircraft", "CIND"]) == 0
    words = capsys.readouterr().out
    assert words.startswith("CIND  ")
    assert "else: warning " in words
    assert "stays: warning " in words
    assert "paper or proof" in words


def test_stages_of_a_kept_plan_are_told_as_text_and_as_json(
    fleet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    words = [
        "refit",
        str(fleet),
        "--aircraft",
        "MARQ",
        "--plan",
        "Marquess stage 1",
        "--stages",
        "150",
        "900",
    ]
    assert main([*words, "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    first, second = answer["stages"]
    lefts = [answer["today"]["warnings"], *(stage["left"]["warnings"] for stage in answer["stages"])]
    assert lefts == sorted(lefts, reverse=True)
    assert first["spent"] <= 150
    assert second["at_hand"] == pytest.approx(1050 - first["spent"])
    assert main(words) == 0
    text = capsys.readouterr().out
    assert f"MARQ  Marquess: {lefts[0]} warnings and {answer['today']['cautions']} cautions today" in text
    assert all(line["place"] in text for stage in answer["stages"] for line in stage["done"])
    assert all(bundle["because"] in text for bundle in answer["in_no_stage"])


def test_stages_of_a_searched_refit_spend_no_more_than_their_money(
    fleet: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["refit", str(fleet), "--aircraft", "SISK", "--stages", "40", "60", "--json"]) == 0
    answer = json.loads(capsys.readouterr().out)
    first, second = answer["stages"]
    assert first["money"] <= 40
    assert second["money"] <= 100
    today, left = first["today"]["warnings"], [stage["left"]["warnings"] for stage in (first, second)]
    assert today >= left[0] >= left[1]
    assert today > left[1]
    assert not first["brings"]
    assert answer["proved"]


@pytest.mark.parametrize("kind", ["field", "build"])
def test_sheets_are_written_whole(kind: str, fleet: Path, tmp_path: Path) -> None:
    from pypdf import PdfReader

    out = tmp_path / "sheet.pdf"
    assert main(["sheet", kind, str(fleet), "--out", str(out)]) == 0
    assert len(PdfReader(out).pages) >= 8
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.pdf"]


def test_take_out_and_bring_in_give_the_same_findings(
    fleet: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["take-out", str(fleet), str(tmp_path / "tables")]) == 0
    capsys.readouterr()
    main(["inspect", str(fleet), "--json"])
    first = capsys.readouterr().out
    main(["inspect", str(tmp_path / "tables"), "--json"])
    assert capsys.readouterr().out == first


WRONG = {
    "no such file": ["inspect", "nowhere.hangar"],
    "not a fleet": ["inspect", "README.txt"],
    "no such aircraft": ["inspect", DEMO, "--aircraft", "NOPE"],
    "survey without aircraft": ["survey", DEMO],
    "survey of nobody": ["survey", DEMO, "--aircraft", "NOPE"],
    "refit of nobody": ["refit", DEMO, "--aircraft", "NOPE"],
    "stages of no plan": ["refit", DEMO, "--aircraft", "MARQ", "--plan", "NOPE", "--stages", "5"],
    "a plan without stages": ["refit", DEMO, "--aircraft", "MARQ", "--plan", "Marquess stage 1"],
    "stages of less than nothing": ["refit", DEMO, "--aircraft", "MARQ", "--stages", "-5"],
    "stages of a whole fleet": ["refit", DEMO, "--whole-fleet", "--budget", "5", "--stages", "5"],
    "refit for nothing less": ["refit", DEMO, "--aircraft", "NOPE", "--budget", "much"],
    "unknown sheet": ["sheet", "poster", DEMO, "--out", "x.pdf"],
    "sheet without out": ["sheet", "field", DEMO],
    "sheet into a missing folder": ["sheet", "field", DEMO, "--out", "missing/x.pdf"],
    "unknown word": ["inspekt", "x", "y"],
    "unknown option": ["inspect", DEMO, "--colour"],
    "bring in nothing": ["bring-in", "new.hangar"],
    "bring in a missing table": ["bring-in", "new.hangar", "missing.csv"],
    "bring in a text": ["bring-in", "new.hangar", "README.txt"],
    "check no fleet": ["check-file", "README.txt"],
    "take out of nothing": ["take-out", "nowhere.hangar", "folder"],
    "empty file": ["inspect", "empty.hangar"],
}


@pytest.mark.parametrize("words", WRONG.values(), ids=WRONG.keys())
def test_wrong_words_get_one_sentence_and_exit_2(
    words: list[str], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "README.txt").write_text("Just some words.\n", encoding="utf-8")
    (tmp_path / "empty.hangar").touch()
    try:
        code = main(words)
    except SystemExit as stop:
        code = int(stop.code or 0)
    sentence = told(capsys)
    assert code == 2
    assert sentence.startswith("hangar: ")
    assert "\n" not in sentence
    assert sentence[-1] in ".…"
    assert "Traceback" not in sentence
    assert sorted(path.name for path in tmp_path.iterdir()) == ["README.txt", "empty.hangar"]


def test_help_and_version_load_neither_window_nor_tables() -> None:
    script = (
        "import sys; from hangar.commands import main\n"
        "try: main([sys.argv[1]])\nexcept SystemExit as s: assert not s.code\n"
        "heavy = {'PySide6', 'sqlmodel', 'numpy', 'reportlab'} & set(sys.modules); assert not heavy, heavy"
    )
    for word in ("--help", "--version"):
        done = subprocess.run(
            [sys.executable, "-c", script, word], capture_output=True, text=True, check=False
        )
        assert done.returncode == 0, done.stderr
        assert "hangar" in done.stdout


def test_an_aircraft_of_which_nothing_is_known_is_not_told_calmly(capsys: pytest.CaptureFixture[str]) -> None:
    case = empty_case()
    answers._print_findings(case.aircraft, case.findings, Reader())
    assert capsys.readouterr().out.startswith("NEW1  Fresh: NOT JUDGED, no all-up mass, no pack, no servo")


def test_a_command_speaks_the_language_asked_for_and_json_stays_english(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.delenv("HANGAR_LANGUAGE", raising=False)
    asked = ["inspect", DEMO, "--aircraft", "DUNN"]
    outputs = {}
    for words in ([], ["--language", "de"], ["--language=de"]):
        main([*asked, *words])
        outputs[" ".join(words)] = capsys.readouterr().out
    assert "no open warnings on the data entered" in outputs[""]
    assert outputs["--language de"] == outputs["--language=de"]
    for words in (["--language", "de"], ["--language=de"]):
        main([*words, *asked])
        assert capsys.readouterr().out == outputs["--language de"]
    assert "eine offenen Warnungen zu den eingetragenen Daten" in outputs["--language de"]
    main([*asked, "--json"])
    english = capsys.readouterr().out
    main([*asked, "--json", "--language", "de"])
    assert capsys.readouterr().out == english


def test_without_being_asked_a_command_speaks_the_seat_s_language(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.delenv("HANGAR_LANGUAGE", raising=False)
    (tmp_path / "hangar").mkdir()
    (tmp_path / "hangar" / "window.ini").write_text("[General]\nlanguage=de\nlast%20fleet=/x%y\n")
    missing = str(tmp_path / "none.hangar")
    assert main(["inspect", missing]) == 2
    assert "gibt es nicht" in told(capsys)
    monkeypatch.setenv("HANGAR_LANGUAGE", "en")
    assert main(["inspect", missing]) == 2
    assert "does not exist" in told(capsys)


def test_a_language_that_is_not_there_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["inspect", DEMO, "--language", "xx"]) == 2
    assert told(capsys) == "hangar: 'xx' is no language that is spoken here; allowed is en, de."
