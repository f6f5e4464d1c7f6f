"""What is said of a keeper's own sheet is said in every language, and quotes the keeper unchanged."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from enum import Enum
from pathlib import Path
from random import Random

from hangar.base.kept_text import read_kept
from hangar.base.reader import Reader
from hangar.base.text import Arg, ItemList, Text, text
from hangar.parts import FieldOrigin
from hangar.store import BringInReport, Fleet, bring_in
from tests.pseudo import bare_words, pseudo_reader
from tests.store.intake.forge import fleet as forged_fleet
from tests.store.intake.forge import forged, put, style

TODAY = date(2026, 3, 14)
SHEET = """Model,Ch,Function,Servo,Drive,Torque kgcm,Speed,Volts,Fitted,Lead,Battery,Remarks
Main,1,2x aileron,Servo TE-20,both,3.2/9,0.2,6/7.4/8.4,3/4/1999,long,some pack,
Main,1,elevator,,digital,none at all,0.2,6,31.2.1998,12 cm,4 NiCd 1100,two of them perhaps
Mainn,x,wobbler,?,digital,9,12,99,1850,?,?,
Throttle,3,throttle,TE-20,analog,,,,summer 98,,,
Throttle,4,tail,TE-20,digital,999,,6,?,,,
total,,,,,12,,,,,,
"""
TWO_AILERONS = "Model,Ch,Function,Servo\nWindrush,1,2x aileron,TE-20"


def names_in(argument: Arg) -> Iterator[str]:
    """The keeper's words that a text holds, wherever in it they stand."""
    if isinstance(argument, Text):
        for arg in argument.args.values():
            yield from names_in(arg)
    elif isinstance(argument, ItemList):
        for item in argument.items:
            yield from names_in(item)
    elif isinstance(argument, str) and not isinstance(argument, Enum):
        yield argument


def of_sheet(folder: Path, content: str, fleet: Fleet) -> BringInReport:
    path = folder / "liste.csv"
    path.write_text(content, encoding="utf-8")
    return bring_in(fleet, [path], today=TODAY)


def forged_sheet(number: int, folder: Path) -> Path:
    chance = Random(number)
    how = style(chance)
    return put(forged(Random(number + 1), how, forged_fleet(chance)), how, folder)


def said_of(report: BringInReport) -> Iterator[Text]:
    assert report.account is not None
    for entry in report.account.entries():
        yield entry.reason
    for question in report.account.questions():
        yield question.text
        yield from (
            text("{answer}", answer=answer) for answer in question.answers if isinstance(answer, Enum)
        )
    yield from (change.words for change in report.changes)


def test_every_doubt_is_a_text_of_the_catalogue(tmp_path: Path) -> None:
    reader, bare, doubts = pseudo_reader(), [], set()
    (tmp_path / "own.csv").write_text(SHEET, encoding="utf-8")
    for path in [tmp_path / "own.csv", *(forged_sheet(number, tmp_path) for number in range(12))]:
        with Fleet.in_memory() as fleet:
            for sentence in said_of(bring_in(fleet, [path], today=TODAY)):
                doubts.add(sentence.key if sentence.key != "{items}" else str(sentence))
                words = reader.put(sentence)
                if bare_words(words, set(names_in(sentence))):
                    bare.append(words)
    assert bare == []
    assert len(doubts) > 20


def test_the_report_is_printed_in_german_and_quotes_the_keeper(tmp_path: Path) -> None:
    with Fleet.in_memory() as fleet:
        report = of_sheet(tmp_path, SHEET, fleet)
        words = report.text(Reader("de").put)
    assert "Welcher Klasse gehört jedes dieser Flugzeuge an" in words
    assert "gehört zu keinem Servotyp." in words
    assert "Haupt" not in words


def test_a_sheet_that_comes_again_is_told_in_german(tmp_path: Path) -> None:
    head = "Model,Span mm,Ch,Function,Servo\n"
    with Fleet.in_memory() as fleet:
        of_sheet(tmp_path, head + "Main,1500,1,elevator,TE-20\nLight,900,1,rudder,TE-20", fleet)
        report = of_sheet(tmp_path, head + "Main,1600,3,elevator,TE-20", fleet)
        words = report.text(Reader("de").put)
    assert "Main Höhenruder Mitte, Kanal: 1 -> 3" in words
    assert "Light, Flugzeug: Light -> nicht mehr im Blatt; es bleibt" in words


def test_a_doubt_is_kept_as_a_text(tmp_path: Path) -> None:
    with Fleet.in_memory() as fleet:
        of_sheet(tmp_path, TWO_AILERONS, fleet)
        doubt = fleet.records(FieldOrigin)[0].doubt
    sentence = read_kept(doubt or "")
    assert isinstance(sentence, Text)
    assert Reader("de").put(sentence)
