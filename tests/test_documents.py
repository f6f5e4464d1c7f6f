"""The documents name only commands, files and folders that exist, and each command written there runs."""

from __future__ import annotations

import csv
import importlib.util
import re
import shutil
from pathlib import Path

import pytest

from hangar.base.places import demo_fleet_dir
from hangar.commands import COMMANDS, main
from hangar.parts import Snag
from hangar.store import Fleet, bring_in
from tests.test_layers import MAY_IMPORT

ROOT = Path(__file__).resolve().parent.parent
GUIDE = sorted((ROOT / "resources" / "guide").rglob("*.md"))
DOCUMENTS = [
    *(ROOT / name for name in ("README.md", "DEVELOPERS.md")),
    *(ROOT / folder / "README.md" for folder in ("resources/packaging", "hangar/refit")),
]
AIRCRAFT, PLAN, POSITION, SERVO, PACK = "MER60", "Merlane digital", "CYC-1", "0301", "B014"
TWO = (AIRCRAFT, "DUNN")
PATH_WORDS = re.compile(r"(?<![\w/])(?:hangar|tests|resources|demo_fleet|\.ci)(?:/[\w.-]+)+")


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_path_named_exists(document: Path) -> None:
    named = set(PATH_WORDS.findall(document.read_text(encoding="utf-8")))
    assert named
    missing = [name for name in named if not (ROOT / name.rstrip(".")).exists()]
    assert not missing, missing


def test_the_readme_of_the_planner_names_only_files_of_its_folder() -> None:
    folder = ROOT / "hangar" / "refit"
    text = (folder / "README.md").read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 120
    named = set(re.findall(r"`(\w+\.py)[:`]", text))
    assert len(named) > 20
    assert named <= {file.name for file in folder.glob("*.py")}


def test_the_readme_names_every_command_and_no_other() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`hangar ([a-z-]+)", text))
    assert named == set(COMMANDS)


def test_the_root_holds_nothing_else() -> None:
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "hangar", "resources", "tests", "demo_fleet"}
    import subprocess

    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    names = {line.split("/")[0] for line in listed.splitlines()}
    assert {name for name in names if not name.startswith(".")} <= allowed


def test_the_map_of_folders_is_the_one_that_the_layer_test_checks() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for folder in set(MAY_IMPORT) - {"__main__", "__init__", "commands"}:
        assert f"`hangar/{folder}`" in text


def commands_written(documents: list[Path]) -> list[str]:
    """Every command line with its words that stands in these documents, the optional ones included."""
    commands: dict[str, None] = {}
    for document in documents:
        lines = re.findall(r"`hangar ([a-z-]+ [^`]+)`", document.read_text(encoding="utf-8"))
        commands |= dict.fromkeys(lines)
    return list(commands)


def fleet_in(folder: Path, tables: Path) -> Path:
    """A fleet file of these tables that has been edited once."""
    path = folder / "fleet.hangar"
    with Fleet.create(path) as fleet:
        assert bring_in(fleet, [tables]).refused == ()
    # The first edit after opening leaves a backup, which one of the commands puts back.
    with Fleet.open(path) as fleet:
        fleet.edit("Try", lambda edit: edit.put(edit.records(Snag)[0]))
    return path


@pytest.fixture(scope="module")
def fleet_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return fleet_in(tmp_path_factory.mktemp("documents"), demo_fleet_dir())


@pytest.fixture(scope="module")
def fleet_of_two(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two aircraft of the invented fleet with all its types and parts, for what looks at each."""
    tables = tmp_path_factory.mktemp("tables")
    rows = {table.stem: table_rows(table) for table in demo_fleet_dir().glob("*.csv")}
    plans = [row["code"] for row in rows["plan"] if row["aircraft"] in TWO]
    for name, all_rows in rows.items():
        key, kept = {"airframe": ("code", TWO), "plan_line": ("plan", plans)}.get(name, ("aircraft", TWO))
        with (tables / f"{name}.csv").open("w", newline="", encoding="utf-8") as file:
            table = csv.DictWriter(file, list(all_rows[0]))
            table.writeheader()
            table.writerows(row for row in all_rows if row.get(key, "") in (*kept, ""))
    return fleet_in(tmp_path_factory.mktemp("two"), tables)


def table_rows(table: Path) -> list[dict[str, str]]:
    with table.open(newline="", encoding="utf-8") as file:
        return list(csv.DictReader(file))


@pytest.fixture
def flight_log(tmp_path: Path) -> Path:
    """A minute of a flight as a logger writes it."""
    path = tmp_path / "flight.csv"
    rows = [f"{at / 5:.1f},{5.2 - 0.02 * (at % 9):.2f},{0.2 + 0.1 * (at % 9):.1f}" for at in range(300)]
    path.write_text("\n".join(["Time (s),Bus volts (V),Current (A)", *rows]), encoding="utf-8")
    return path


@pytest.mark.slow
@pytest.mark.parametrize("line", commands_written([ROOT / "README.md", *GUIDE]))
def test_every_command_written_runs_with_all_its_words(
    line: str,
    fleet_file: Path,
    fleet_of_two: Path,
    flight_log: Path,
    tmp_path: Path,
    capsys: pytest.CaptureFixture[str],
) -> None:
    command = line.split()[0]
    file = fleet_of_two if "--whole-fleet" in line else fleet_file
    place = shutil.copytree(file.parent, tmp_path / "club") / file.name
    if command == "fit":
        assert main(["take-off", str(place), "--aircraft", AIRCRAFT, "--position", POSITION]) == 0
    meant = {
        "FLEET": str(place),
        "CODE": AIRCRAFT,
        "KIND": "field",
        "X": "90",
        "MONEY": "90",
        "PLAN": PLAN,
        "FILE.pdf": str(tmp_path / "sheet.pdf"),
        "FILE.html": str(tmp_path / "page.html"),
        "SOURCE": str(demo_fleet_dir() / "stock_item.csv"),
        "FOLDER": str(tmp_path / "tables"),
        "BACKUP": "newest",
        "POS": POSITION,
        "TAG": PACK if command == "log" else SERVO,
        "BIN": "9",
        "NEW": "NEW1",
        "CLASS": "giant",
        "WHAT=HOW": "tail=2",
        "TYPE": "OF-D620",
        "FIRST": "0995",
        "LENGTH": "90",
        "AWG": "22",
        "PACK": PACK,
        "SWITCH": "SL-3",
        "REGULATOR": "R5",
        "N": "4",
        "WORDS": "calm",
        "FILE": str(flight_log),
        "VOLTS": "4.8",
        "DEGREES": "15",
        "REASON": "checked by two",
    }
    words = [word.strip("[]").removesuffix("...") for word in line.split()]
    capitals = {word for word in words if word.isupper()}
    assert capitals <= set(meant)
    code = main([meant.get(word, word) for word in words])
    output = capsys.readouterr()
    assert not output.err
    assert code in ((0, 1) if command in ("inspect", "flight-record") else (0,))


def test_every_module_and_script_that_is_to_be_run_exists() -> None:
    for document in DOCUMENTS:
        text = document.read_text(encoding="utf-8")
        for module in re.findall(r"python -m ((?:tests|hangar)[\w.]*)", text):
            assert importlib.util.find_spec(module), module
        for script in re.findall(r"\bsh ([\w/.]+\.sh)", text):
            assert (ROOT / script).is_file(), script
