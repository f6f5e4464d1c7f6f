"""Whatever a command prints is said in the language asked for; bare stands only what the keeper wrote."""

from __future__ import annotations

from collections.abc import Iterator
from enum import Enum
from pathlib import Path

import pytest

from hangar.base.reader import languages
from hangar.commands.running import COMMANDS, main
from hangar.parts import RECORD_KINDS
from hangar.parts.fields import columns
from hangar.rules import all_rules
from tests.demo_copies import demo_copy
from tests.pseudo import OPEN, bare_words, pseudo_catalogue

OWN_SHEET = (
    "Model,Ch,Function,Servo,Fitted\n"
    "Zurrbel,1,2x aileron,Kwampf 20,3/4/1999\n"
    "Zurrbel,2,wobbler,?,soon\n"
)  # fmt: skip
OWN_WORDS = {
    *("Zurrbel", "Kwampf", "Kwampf 20", "wobbler", "aileron", "2x aileron", "soon", "liste.csv"),
    *("Model", "Ch", "Function", "Servo", "Fitted"),
}


@pytest.fixture
def spoken(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[str]:
    """A language made of marks, found among the others."""
    words = tmp_path / "words"
    words.mkdir()
    (words / "xx.mo").write_bytes(pseudo_catalogue().read_bytes())
    monkeypatch.setattr("hangar.base.reader.words_dir", lambda: words)
    languages.cache_clear()
    yield "xx"
    languages.cache_clear()


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """The invented fleet as a file."""
    path = tmp_path / "club.hangar"
    with demo_copy() as fleet:
        fleet.save_copy(path)
    return path


def keepers_words() -> set[str]:
    """Every word that stands in the records, and the names of rules that a command prints as they are."""
    lines = {"hangar", *all_rules(), *COMMANDS}
    with demo_copy() as fleet:
        for kind in RECORD_KINDS:
            for record in fleet.records(kind):
                for spec in columns(kind):
                    value = getattr(record, spec.name)
                    if isinstance(value, str) and not isinstance(value, Enum) and value:
                        lines |= {value, value[:1].lower() + value[1:]}
    return lines


@pytest.mark.parametrize(
    "words",
    [
        ("inspect", "FLEET", "--aircraft", "MARQ"),
        ("survey", "FLEET", "--aircraft", "ALB5"),
        ("refit", "FLEET", "--aircraft", "CIND", "--budget", "60"),
        ("refit", "FLEET", "--aircraft", "CIND", "--stages", "40", "40"),
        ("check-file", "FLEET"),
        ("bring-in", "-", "OWN", "--rehearse"),
        ("log", "FLEET", "--aircraft", "MARQ", "--minutes", "5", "--although-held", "Zurrbel"),
    ],
    ids=lambda words: " ".join(words[:1]),
)
def test_what_a_command_prints_is_said_in_the_language(
    words: tuple[str, ...], place: Path, spoken: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = tmp_path / "liste.csv"
    own.write_text(OWN_SHEET, encoding="utf-8")
    places = {"FLEET": str(place), "OWN": str(own)}
    assert main([*(places.get(word, word) for word in words), "--language", spoken]) in (0, 1)
    out, err = capsys.readouterr()
    assert OPEN in out
    known = keepers_words() | OWN_WORDS | set(places.values()) | {str(tmp_path), place.name, "N"}
    bare = {line: rest for line in (out + err).splitlines() if (rest := bare_words(line, known))}
    assert bare == {}


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("inspect", "--language", "de"), "hangar: es fehlen die Angaben: FLEET; siehe hangar --help."),
        (("log", "x", "--aircraft", "--language", "de"), "Angabe --aircraft: hier wird eine Angabe erwartet"),
        (("sheet", "poster", "x", "--out", "y", "--language", "de"), "'poster' ist nicht erlaubt"),
    ],
)
def test_words_that_are_no_command_are_refused_in_the_language(
    words: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    with pytest.raises(SystemExit) as ended:
        main(words)
    assert ended.value.code == 2
    assert said in capsys.readouterr().err


def test_the_help_is_given_in_the_language(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["inspect", "--help", "--language", "de"])
    wording = capsys.readouterr().out
    assert wording.startswith("Aufruf: hangar inspect")
    for words in ("Angaben:", "Optionen:", "diese Hilfe zeigen"):
        assert words in wording
    assert "usage" not in wording
