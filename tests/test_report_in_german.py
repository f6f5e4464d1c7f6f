"""What is said of wrong tables is told in German; the keeper's own words stay as he wrote them."""

from __future__ import annotations

import re
from datetime import date
from pathlib import Path

import pytest

from hangar.base.sentence_patterns import HOLE
from hangar.parts import RECORD_KINDS
from hangar.parts.choices import Function, Side
from hangar.parts.fields import columns
from hangar.store import BringInReport, Fleet, bring_in
from hangar.store.wide_words import duty_of
from tests.sentences import read_catalogue
from tests.told import german
from tests.translating import read_catalogue as window_words

TODAY = date(2026, 1, 1)
_WORD = re.compile(r"[^\W\d_]{2,}")
_HEAD = "Model,Ch,Function,Servo,Tag,Type,Torque,Speed,Volt,Fitted,Pack,Cells,mAh,Lead,Notes,Colour"
KEEPERS_SHEET = (
    _HEAD,
    "Windrush,1,L aileron,Tessivar TS-31,0101,analog,44 oz-in,0.22,4.8,May 1997,NiMH AA,4,2000,12,max 6,red",
    ",2,elevator,Tesivar TS31,0101,neither,44,0.22,4.8,31/2/2021,same,,,a yard or so,,",
    "Windrush,2,wobbler,TS-31,,digital,99 oz-in,0.22,4.8,1997,sandwich,,,900 m,,",
    'Windrush,99,rudder,TS-31,,,"3,2kg/cm",-0.22,4.8,3/4/2021,Li-ion,,,,,',
    'Windrush,five,R aileron,Ostrafell OF-1,,,"1,234",0.1/0.2,4.8/6,?,Li-ion 2S,3,,,,',
    "Windrush,6,flap,OF-2,,,12 bananas,,4.8,2199-01-01,Li-ion 2S,2,many,,,",
    "Windrush,7,flap,OF-3,,,1.2/3.4,0.2,5,04/13/2021,Li-ion 2S,1.5,1000,,,",
    "Windrush,8,flap,OF-4,,,?,0.2,,14/5/2021,LiPo 3S,3,1000,,,",
    "Glide,1,V tail L,OF-4,,,3.1,,,,same,,,,sailplane,",
    "Glide,,,,,,,,,,,,,,,",
    "Glide,1,V tail R,=A1,,,,,,,,,,,,",
    "Rotor 30,1,cyclic,OF-9,,dig,1 kgcm@4.8,0.142,,,NiCd,2S,99999999,,,",
    "TOTALS,,,=COUNTA(D2:D17),,,,,,,,,,,,",
)
OWN_TABLES = {
    "servo.csv": (
        "tag,servo_type,state,play_deg,bought_on,sweep_clean,flights,hours_h",
        "0900,TS-31,fitted,0.3,2024-02-30,yes,1,1",
        '0901,TS-31,broken,11,2024-02-03,perhaps,1.5,"1,234"',
        ",TS-31,,,,,,",
        "0903,TS-31,,=1+1,,,,12 parsecs,too long",
    ),
    "airframe.csv": ("code,name,aircraft_class,cg_fore_mm,cg_aft_mm", "MAR,x,giant,9,1"),
    "installation.csv": ("servo,aircraft,position,since_on,until_on", "0901,DUN,AIL,D-1,D-5"),
    "pack.csv": ("tag,tag,weight,inner_ohm", "P1,P1,3,4"),
    "position.csv": ("code,wing span", "AIL,3"),
    "notes.csv": ("one,two", "1,2"),
}
LINKED_WRONGLY = {
    "servo.csv": ("tag,servo_type", "0900,TS-99", "0901,TS-31", "0901,TS-31"),
    "airframe.csv": ("code,name,aircraft_class,power", "MAR,x,giant,glow"),
}
ONE_OF_EACH = (
    "Modell,Kanal,Funktion,Servo,Typ,Drehmoment (kgcm),Stellzeit,Spannung,Akku,Zellen,Kapazität",
    "Windrush,1,rudder,TS-31,analog,3.2,0.2,4.8,NiMH,4,2000",
)


def _report(folder: Path, tables: dict[str, tuple[str, ...]]) -> BringInReport:
    for name, lines in tables.items():
        (folder / name).write_text("\n".join(lines), encoding="utf-8")
    fleet = Fleet.in_memory()
    try:
        return bring_in(fleet, [folder / name for name in tables], today=TODAY)
    finally:
        fleet.close()


@pytest.mark.parametrize(
    "tables",
    [{"my sheet.csv": KEEPERS_SHEET}, OWN_TABLES, LINKED_WRONGLY, {"liste.csv": ONE_OF_EACH}],
    ids=["a keeper's sheet", "tables", "links", "one servo"],
)
def test_no_english_is_left_in_the_report_of_wrong_tables(
    tables: dict[str, tuple[str, ...]], tmp_path: Path
) -> None:
    report = _report(tmp_path, tables)
    told = report.text(german().say)
    assert told != report.text()
    english = _words(HOLE.sub(" ", text) for text in read_catalogue())
    own = _words(HOLE.sub(" ", text) for text in read_catalogue().values()) | _words(window_words().values())
    keepers = _words(line for lines in tables.values() for line in lines) | _words(tables)
    # The code SPARE is made of a function that nobody understands.
    names = {"spare"} | _words(
        name for kind in RECORD_KINDS for name in (kind.KIND, *(one.name for one in columns(kind)))
    )
    english -= own | keepers | names
    left = {line: word for line in told.splitlines() for word in _words([line]) & english}
    assert left == {}


def test_the_wrong_sheet_has_something_refused_doubted_and_stated(tmp_path: Path) -> None:
    report = _report(tmp_path, {"my sheet.csv": KEEPERS_SHEET})
    assert min(len(report.refused), len(report.doubtful), len(report.stated)) >= 8


def test_what_the_keeper_wrote_in_a_cell_is_not_translated(tmp_path: Path) -> None:
    lines = (_HEAD, "Windrush,1,no torque,TS-31,,analog,44 oz-in,torque,4.8,,,,,,,", "Yes,1,,,,,,,,,,,,,,")
    told = _report(tmp_path, {"row.csv": lines}).text(german().say)
    assert "row.csv, Zeile 2, Speed: „torque“ ist nicht als Stellzeit zu lesen" in told
    assert 'row.csv, Zeile 2, Function: "no torque" ist keine Funktion, die Hangar kennt' in told


def test_a_sheet_with_german_headings_is_understood(tmp_path: Path) -> None:
    report = _report(tmp_path, {"liste.csv": ONE_OF_EACH})
    assert report.refused == ()
    assert {"servo": 1, "servo-rating": 1, "position": 1, "pack": 1}.items() <= dict(report.taken).items()


@pytest.mark.parametrize(
    ("words", "function", "side"),
    [
        ("Querruder links", Function.AILERON, Side.LEFT),
        ("Querruder rechts", Function.AILERON, Side.RIGHT),
        ("Höhenruder", Function.ELEVATOR, Side.MIDDLE),
        ("Seitenruder", Function.RUDDER, Side.MIDDLE),
        ("Wölbklappe rechts", Function.FLAP, Side.RIGHT),
        ("Störklappe links", Function.SPOILER, Side.LEFT),
        ("Gas", Function.THROTTLE, Side.MIDDLE),
        ("Schleppkupplung", Function.TOW_RELEASE, Side.MIDDLE),
    ],
)
def test_a_function_in_german_is_understood(words: str, function: Function, side: Side) -> None:
    duty = duty_of(words)
    assert (duty.function, duty.side, duty.understood) == (function, side, True)


def _words(texts: object) -> set[str]:
    return {word.lower() for text in texts for word in _WORD.findall(text)}  # type: ignore[attr-defined]
