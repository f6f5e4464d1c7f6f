"""Single cells and headings of a keeper's sheet: what they may look like, and what is said of them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from hangar.parts import Airframe, Lead, Pack, Servo, ServoRating, ServoType
from hangar.parts.choices import Chemistry, Drive, Function
from hangar.store import BringInReport, CellNote, Fleet, bring_in

TODAY = date(2026, 1, 1)
HEAD = "Model,Ch,Function,Servo,Type,Torque,Speed,Volt,Fitted,Pack,Cells,mAh,Lead,Notes"
Bring = Callable[..., BringInReport]


@pytest.fixture
def bring(fleet: Fleet, tmp_path: Path) -> Bring:
    """Brings a sheet of the given lines into the empty fleet."""

    def bring_lines(*lines: str, head: str = HEAD) -> BringInReport:
        path = tmp_path / "sheet.csv"
        path.write_text("\n".join([head, *lines]), encoding="utf-8")
        return bring_in(fleet, [path], today=TODAY)

    return bring_lines


def cells(notes: tuple[CellNote, ...]) -> list[tuple[int, str, str, str]]:
    return [(note.row, note.column, note.found, str(note.reason)) for note in notes]


def test_types_of_the_fleet_are_recognised_and_left_as_they_are(fleet: Fleet, tmp_path: Path) -> None:
    rating = ServoRating(servo_type="TS-31", rated_v=4.8, torque_nm=0.31, transit_s=0.22)
    known = ServoType(code="TS-31", maker="Tessivar", drive=Drive.ANALOG, mass_g=45, ratings=(rating,))
    fleet.edit("Put", lambda edit: edit.put(known))
    path = tmp_path / "sheet.csv"
    path.write_text(f"{HEAD}\nWindrush,1,aileron,tessivar ts 31,,60,0.2,4.8,1997,,,,,\n")
    report = bring_in(fleet, [path], today=TODAY)
    assert fleet.records(ServoType) == (known,)
    assert (2, "Servo", "tessivar ts 31", "taken as type TS-31 of the fleet.") in cells(report.stated)
    (note,) = [note for note in report.doubtful if "fleet's" in str(note.reason)]
    assert str(note.reason) == "gives 0.424 N·m at 4.8 V; the fleet's 0.31 N·m was kept."


def test_a_name_that_only_resembles_a_type_is_doubted(bring: Bring, fleet: Fleet) -> None:
    report = bring(
        "Windrush,1,aileron,Tessivar TS-31,analog,44 oz-in,.22,4.8,1997,,,,,",
        "Windrush,2,elevator,Tesivar TS31,analog,44 oz-in,.22,4.8,1997,,,,,",
        "Windrush,3,rudder,Tessivar TS-32,analog,44 oz-in,.22,4.8,1997,,,,,",
    )
    assert [kind.code for kind in fleet.records(ServoType)] == ["TS-31", "TS-32"]
    assert (
        3,
        "Servo",
        "Tesivar TS31",
        '"Tesivar TS31" was taken for Tessivar TS-31, which it resembles.',
    ) in cells(report.doubtful)


def test_headings_may_use_other_words_and_name_units(bring: Bring, fleet: Fleet) -> None:
    report = bring(
        "Siskarel;2;right flap;OF-W10;digital;55,5;125;6;600;Remark one",
        head="Plane;Channel;Used for;Servo type;Analog/digital;Torque (N cm);Transit [deg/s];"
        "Voltage;Wire mm;Remarks",
    )
    assert report.refused == ()
    (rating,) = fleet.records(ServoRating)
    assert rating.torque_nm == pytest.approx(0.555)
    assert rating.transit_s == pytest.approx(60 / 125)
    assert fleet.records(Lead)[0].length_mm == 600
    assert (1, "Torque (N cm)", "Torque (N cm)", "each cell's own unit; bare numbers as N·cm.") in cells(
        report.stated
    )


@pytest.mark.parametrize(
    ("line", "column", "reason"),
    [
        ("W,99,aileron,TS-31,analog,,,,1997,,,,,", "Ch", "is 99; allowed is 1 to 32"),
        ("W,x,aileron,TS-31,analog,,,,1997,,,,,", "Ch", '"x" is not a number'),
        ("W,1,aileron,TS-31,funny,,,,1997,,,,,", "Type", "says neither analog nor digital"),
        ("W,1,aileron,TS-31,analog,strong,,4.8,1997,,,,,", "Torque", '"strong" cannot be read as a torque'),
        ("W,1,aileron,TS-31,analog,44 oz-in,.2,,1997,,,,,", "Torque", "names no volts; it was left out."),
        (
            "W,1,aileron,TS-31,analog,3/4/5 kgcm,.2,4.8/6,1997,,,,,",
            "Torque",
            "number of values 3, of volts 2",
        ),
        (
            "W,1,aileron,TS-31,analog,44 oz-in,,4.8,1997,,,,,",
            "Torque",
            "has no transit time at 4.8 V beside it",
        ),
        (
            "W,1,aileron,TS-31,analog,44 oz-in,.2/.1,4.8,1997,,,,,",
            "Speed",
            "number of times 2, of volts 1",
        ),
        (
            "W,1,aileron,TS-31,analog,44 oz-in,5,4.8,1997,,,,,",
            "Speed",
            "time for 60° is 5; allowed is 0.02 to 1.5",
        ),
        (
            "W,1,aileron,TS-31,analog,44 oz-in,.2,480,1997,,,,,",
            "Volt",
            "volts is 480; allowed is 2.4 to 15",
        ),
        ("W,1,aileron,TS-31,analog,,,,31/2/2020,,,,,", "Fitted", "is no day of the calendar"),
        ("W,1,aileron,TS-31,analog,,,,soon,,,,,", "Fitted", "is no date; expected one such as 2021-05-14"),
        (
            "W,1,aileron,TS-31,analog,,,,2031,,,,,",
            "Fitted",
            "would be 2031-01-01; expected a day from 1930 to",
        ),
        ("W,1,aileron,TS-31,analog,,,,1997,brick,4,2000,,", "Pack", "names no cell chemistry"),
        ("W,1,aileron,TS-31,analog,,,,1997,NiMH,,2000,,", "Pack", "gives no number of cells"),
        ("W,1,aileron,TS-31,analog,,,,1997,NiMH,4,,,", "Pack", "gives no capacity"),
        ("W,1,aileron,TS-31,analog,,,,1997,NiMH,4,lots,,", "mAh", "cannot be read as a charge"),
        (
            "W,1,aileron,TS-31,analog,,,,1997,NiMH,40,2000,,",
            "Pack",
            "cells in series is 40; allowed is 1 to 14",
        ),
        ("W,1,aileron,TS-31,analog,,,,1997,same,,,,", "Pack", "points at a row above, but no pack is named"),
        ("W,1,aileron,TS-31,analog,,,,1997,,,,long,", "Lead", "cannot be read as a length"),
        ("W,1,aileron,TS-31,analog,,,,1997,,,,90 m,", "Lead", "allowed is 20 to 6000"),
    ],
)
def test_a_cell_that_cannot_be_read_is_refused_but_its_row_is_taken(
    bring: Bring, fleet: Fleet, line: str, column: str, reason: str
) -> None:
    report = bring(line)
    assert any(
        (note.row, note.column) == (2, column) and reason in str(note.reason) for note in report.refused
    )
    assert [fit.tag for fit in fleet.whole_fleet(TODAY)[0].fits] == ["W-01"]


@pytest.mark.parametrize(
    ("line", "column", "reason"),
    [
        (",1,aileron,TS-31,,,,,,,,,,", "Model", "names no aircraft; the row was left out."),
        ("W,,,,,,,,,,,,,only a remark", "Function", "tells of no channel, function or servo"),
        ("W,1,=B2,TS-31,,,,,,,,,,", "Function", "is a formula; the row was left out."),
        ("Sum,,,,,,,,,,,7,,", "Model", "is a row of totals, not a servo"),
    ],
)
def test_rows_that_are_no_servo_are_refused(
    bring: Bring, fleet: Fleet, line: str, column: str, reason: str
) -> None:
    (note,) = bring(line).refused
    assert (note.row, note.column) == (2, column)
    assert reason in str(note.reason)
    assert fleet.airframes() == ()


@pytest.mark.parametrize(
    ("written", "day", "sure"),
    [
        ("3/4/2021", date(2021, 4, 3), False),
        ("5/14/2021", date(2021, 5, 14), False),
        ("14.5.98", date(1998, 5, 14), True),
        ("3 Sept 2019", date(2019, 9, 3), True),
        ("2020/06/07", date(2020, 6, 7), True),
        ("ca 1995", date(1995, 1, 1), False),
    ],
)
def test_days_are_read_as_keepers_write_them(
    bring: Bring, fleet: Fleet, written: str, day: date, sure: bool
) -> None:
    report = bring(f"W,1,aileron,TS-31,analog,,,,{written},,,,,")
    stay = fleet.whole_fleet(TODAY)[0].fits[0].installation
    assert stay is not None
    assert stay.since_on == day
    assert any(note.column == "Fitted" for note in report.doubtful) is not sure


def test_a_row_without_an_aircraft_belongs_to_the_one_above(bring: Bring, fleet: Fleet) -> None:
    report = bring("W,1,aileron,TS-31,analog,,,,1997,,,,,", ",2,elevator,TS-31,,,,,1997,,,,,")
    assert [fit.code for fit in fleet.whole_fleet(TODAY)[0].fits] == ["AIL", "ELE"]
    assert (3, "Model", "", "names no aircraft; taken for W of the row above.") in cells(report.doubtful)


def test_the_keepers_own_tags_are_kept(bring: Bring, fleet: Fleet) -> None:
    report = bring(
        "W,1,aileron,TS-31,0117,note", "W,2,elevator,TS-31,0117,", "W,3,rudder,TS-31,,",
        head="Model,Ch,Function,Servo,Tag,Notes",
    )  # fmt: skip
    assert [servo.tag for servo in fleet.records(Servo)] == ["0117", "W-01", "W-02"]
    assert (3, "Tag", "0117", "is the tag of another servo already; a new one was made up.") in cells(
        report.doubtful
    )


def test_a_column_that_is_not_understood_is_told(bring: Bring) -> None:
    report = bring("W,1,aileron,TS-31,blue", head="Model,Ch,Function,Servo,Colour")
    assert (1, "Colour", "Colour", "column is not understood; it was left out.") in cells(report.refused)


def test_an_unknown_function_is_taken_as_spare_and_doubted(bring: Bring, fleet: Fleet) -> None:
    report = bring("W,1,bomb bay,TS-31,analog,,,,1997,,,,,")
    assert fleet.whole_fleet(TODAY)[0].fits[0].function is Function.SPARE
    assert (2, "Function", "bomb bay", "is no function Hangar knows; taken as spare.") in cells(
        report.doubtful
    )


def test_a_second_pack_gets_a_power_path_of_its_own(bring: Bring, fleet: Fleet) -> None:
    bring(
        "W,1,aileron,TS-31,analog,,,,1997,LiFe 2S,,2100,,",
        "W,2,elevator,TS-31,,,,,1997,LiPo 3 cell,,1.3 Ah,,",
        "W,3,rudder,TS-31,,,,,1997,ditto,,,,",
    )
    paths = fleet.whole_fleet(TODAY)[0].paths
    found = [(path.feed.code, pack.pack_type.chemistry, pack.pack_type.series, pack.pack_type.capacity_mah)
             for path in paths for pack in path.packs]  # fmt: skip
    assert found == [("RX-A", Chemistry.LIFEPO4, 2, 2100), ("RX-B", Chemistry.LIPO, 3, 1300)]
    assert len(fleet.records(Pack)) == 2


def test_another_servo_at_a_place_that_is_taken_is_refused(bring: Bring, fleet: Fleet) -> None:
    bring("Windrush,1,aileron,TS-31,analog,,,,1997,,,,,")
    report = bring("WINDRUSH,1,aileron,OF-W8,digital,,,,1997,,,,,")
    (note,) = report.refused
    assert str(note.reason) == "WIND AIL holds servo W-01 of another type; the row was left out."
    assert len(fleet.records(Servo)) == 1


def test_new_rows_of_a_known_aircraft_are_added(bring: Bring, fleet: Fleet) -> None:
    bring("Windrush,1,aileron,TS-31,analog,,,,1997,,,,,")
    bring("windrush,1,aileron,TS-31,analog,,,,1997,,,,,", "windrush,2,elevator,TS-31,,,,,2001,,,,,")
    assert [frame.name for frame in fleet.records(Airframe)] == ["Windrush"]
    assert [(fit.code, fit.tag) for fit in fleet.whole_fleet(TODAY)[0].fits] == [
        ("AIL", "W-01"),
        ("ELE", "W-02"),
    ]
