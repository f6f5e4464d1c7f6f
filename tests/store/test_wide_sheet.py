"""A keeper's own wide sheet comes in as far as it can be understood, and every doubt is named."""

from __future__ import annotations

import csv
from collections.abc import Callable, Iterator
from datetime import date, datetime
from pathlib import Path

import pytest
from openpyxl import Workbook

from hangar.parts import Airframe, Lead, Pack, PackType, Servo, ServoRating, ServoType
from hangar.parts.choices import AircraftClass, Chemistry, Drive, Function, PowerKind, Side
from hangar.store import BringInReport, CellNote, Fleet, bring_in

TODAY = date(2026, 1, 1)
FILE = "keeper_sheet.csv"
KGF_CM = 0.0980665
OZF_IN = 0.028349523125 * 9.80665 * 0.0254
"""Newton metres, from the definitions of pound, standard gravity and inch (NIST SP 811, appendix B)."""

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


@pytest.fixture(scope="module")
def brought(keeper_sheet: Path) -> Iterator[tuple[Fleet, BringInReport]]:
    """The whole sheet, brought into an empty fleet."""
    with Fleet.in_memory() as made:
        yield made, bring_in(made, [keeper_sheet], today=TODAY)


def cells(notes: tuple[CellNote, ...]) -> list[tuple[int, str, str, str]]:
    return [(note.row, note.column, note.found, note.reason) for note in notes]


def test_only_the_totals_row_and_the_negative_speed_are_refused(brought: tuple[Fleet, BringInReport]) -> None:
    assert cells(brought[1].refused) == [
        (
            17,
            "Speed",
            "-0.22",
            "time for 60 deg is -0.22 s/60°; a number above zero is wanted. It was left out.",
        ),
        (18, "Servo", "=COUNTA(D2:D17)", "is a row of totals, not a servo; the row was left out."),
    ]


def test_every_doubtful_cell_is_named_with_how_it_was_read(brought: tuple[Fleet, BringInReport]) -> None:
    alike = "has no unit; read as ozf·in, which agrees with another cell of this type."
    year = "names only the year; taken as the first of January: "
    volts = "names no voltage; taken at 4.8 / 6 V as the torque beside it."
    small = "has no unit; read as kgf·cm by its size."
    assert sorted(cells(brought[1].doubtful)) == [
        (2, "Fitted", "May 1997", "names no day; taken as the first of the month: 1997-05-01."),
        (2, "Model", "Windrush Mk2", "class guessed as sport, power as glow: nothing that says otherwise."),
        (3, "Fitted", "1997", f"{year}1997-01-01."),
        (4, "Fitted", "?", "is not known; the servo counts as fitted from 2026-01-01 on."),
        (4, "Torque", "44", alike),
        (5, "Torque", "3,2kg/cm", '"kg/cm" was read as kgf·cm.'),
        (6, "Torque", "106oz", '"oz" was read as ozf·in.'),
        (7, "Model", "Halcyon 3m",
         "class guessed as sail-thermal, power as none: flaps or a V-tail and no throttle."),
        (7, "Speed", "0.142/0.112", volts),
        (8, "Notes", "max 7.4", "was read as the type's upper supply voltage, 7.4 V."),
        (8, "Torque", "3.7 / 4.7", small),
        (9, "Torque", "3.7 / 4.7", small),
        (10, "Speed", "0.142/0.112", volts),
        (11, "Ch", "6", 'channel 6 is used by "aileron right" already; both were taken.'),
        (13, "Fitted", "2001", f"{year}2001-01-01."),
        (13, "Model", "Rotor 30 trainer", 'class guessed as heli-ic, power as glow: "rotor" in its words.'),
        (13, "Torque", "65", "has no unit; read as ozf·in by its size."),
        (14, "Fitted", "2001", f"{year}2001-01-01."),
        (14, "Torque", "65", "has no unit; read as ozf·in by its size."),
        (16, "Torque", "3.1 kg @6", '"kg" was read as kgf·cm.'),
        (17, "Fitted", "2001", f"{year}2001-01-01."),
        (17, "Torque", "44", alike),
    ]  # fmt: skip


def test_the_unit_of_each_column_is_stated(brought: tuple[Fleet, BringInReport]) -> None:
    stated = {note.column: note.reason for note in brought[1].stated if note.row == 1}
    assert stated == {
        "Torque": "each cell's own unit; bare numbers as kgf·cm below 20, ozf·in from there on, "
        "unless another row of the type tells.",
        "Speed": "bare numbers as seconds for 60°.",
        "Volt": "bare numbers as V.",
        "mAh": "bare numbers as mAh.",
        "Lead": "each cell's own unit; bare numbers as in below 90, mm from there on.",
        "Fitted": "days with strokes as day/month/year.",
    }


def test_what_was_made_up_is_stated(brought: tuple[Fleet, BringInReport]) -> None:
    stated = [(row, found, reason) for row, _, found, reason in cells(brought[1].stated)]
    for expected in (
        (2, "Windrush Mk2", "was given the code WINM2."),
        (3, "tessivar ts31", "taken as type TS-31."),
        (4, "TS-31 (Tessivar)", "taken as type TS-31."),
        (5, "Tessivar TS 31", "taken as type TS-31."),
        (7, "14/5/2021", "read as day/month/year: 2021-05-14."),
        (2, "Tessivar TS-31", "tags W-01 to W-15 were made up for 15 servos that had none."),
        (5, "", "4 rows give no day; their servos count as fitted from 2026-01-01 on."),
        (
            2,
            "NiMH AA",
            "pack tags WP-01 to WP-03 were made up; the packs count as in place from 2026-01-01 on.",
        ),
    ):
        assert expected in stated


def test_one_type_stands_behind_all_its_spellings(brought: tuple[Fleet, BringInReport]) -> None:
    types = {kind.code: kind for kind in brought[0].records(ServoType)}
    assert set(types) == {"TS-31", "TS-45H", "OF-D620", "OF-W8", "OF-W10", "OF-N30", "MK-M16"}
    assert {kind.maker for kind in types.values()} == {"Tessivar", "Ostrafell", "Marrowick"}
    assert types["TS-31"].drive is Drive.ANALOG
    assert types["OF-W8"].drive is Drive.DIGITAL
    assert types["OF-N30"].pulse_us == 760
    assert types["MK-M16"].supply_max_v == 7.4
    tags = {servo.tag for servo in brought[0].records(Servo, servo_type="TS-31")}
    assert tags == {"W-01", "W-02", "W-03", "W-04", "W-15"}


@pytest.mark.parametrize(
    ("code", "rated_v", "torque_nm", "transit_s"),
    [
        ("TS-31", 4.8, 44 * OZF_IN, 0.22),
        ("TS-45H", 4.8, 65 * OZF_IN, 0.19),
        ("OF-D620", 4.8, 106 * OZF_IN, 0.139),
        ("OF-D620", 6.0, 9.7 * KGF_CM, 0.110),
        ("OF-W8", 4.8, 1.8 * KGF_CM, 0.142),
        ("OF-W8", 6.0, 2.3 * KGF_CM, 0.112),
        ("OF-W10", 6.0, 5.6 * KGF_CM, 0.125),
        ("OF-N30", 6.0, 3.1 * KGF_CM, 0.045),
        ("MK-M16", 4.8, 3.7 * KGF_CM, 0.127),
        ("MK-M16", 6.0, 4.7 * KGF_CM, 0.100),
    ],
)
def test_mixed_units_and_voltages_become_one_rating_each(
    brought: tuple[Fleet, BringInReport], code: str, rated_v: float, torque_nm: float, transit_s: float
) -> None:
    rating = brought[0].record(ServoRating, code, rated_v)
    assert rating is not None
    assert rating.torque_nm == pytest.approx(torque_nm, rel=1e-9)
    assert rating.transit_s == pytest.approx(transit_s)


def test_there_are_no_other_ratings(brought: tuple[Fleet, BringInReport]) -> None:
    assert len(brought[0].records(ServoRating)) == 10


def test_each_aircraft_has_its_positions_channels_and_servos(brought: tuple[Fleet, BringInReport]) -> None:
    fleet = brought[0]
    found = {
        aircraft.airframe.name: [
            (fit.code, fit.position.channel, fit.servo.servo_type if fit.servo else None)
            for fit in aircraft.fits
        ]
        for aircraft in fleet.whole_fleet(TODAY)
    }
    assert found == {
        "Halcyon 3m": [
            ("AIL-L", 1, "OF-W8"), ("VT-L", 2, "MK-M16"), ("VT-R", 3, "MK-M16"),
            ("AIL-R", 6, "OF-W8"), ("FLAP-L", 6, "OF-W10"),
        ],
        "Rotor 30 trainer": [
            ("CYC", 1, "TS-45H"), ("CYC-2", 2, "TS-45H"), ("THR", 3, "TS-31"),
            ("TAIL", 4, "OF-N30"), ("COLL", 6, "OF-D620"),
        ],
        "Windrush Mk2": [
            ("AIL-L", 1, "TS-31"), ("ELE", 2, "TS-31"), ("THR", 3, "TS-31"),
            ("RUD", 4, "TS-31"), ("AIL-R", 5, "OF-D620"),
        ],
    }  # fmt: skip


def test_classes_are_guessed_from_words_and_functions(brought: tuple[Fleet, BringInReport]) -> None:
    guessed = {frame.name: (frame.aircraft_class, frame.power) for frame in brought[0].airframes()}
    assert guessed == {
        "Halcyon 3m": (AircraftClass.SAIL_THERMAL, PowerKind.NONE),
        "Rotor 30 trainer": (AircraftClass.HELI_IC, PowerKind.GLOW),
        "Windrush Mk2": (AircraftClass.SPORT, PowerKind.GLOW),
    }


def test_a_channel_used_twice_is_kept_as_the_contradiction_it_is(
    brought: tuple[Fleet, BringInReport],
) -> None:
    halcyon = brought[0].aircraft("HAL3M", TODAY)
    both = [fit for fit in halcyon.fits if fit.position.channel == 6]
    assert [fit.position.name for fit in both] == ["aileron right", "flap left"]
    assert both[0].channel == both[1].channel
    assert both[0].channel is not None
    assert not both[0].channel.y_lead


def test_sides_and_functions_are_understood(brought: tuple[Fleet, BringInReport]) -> None:
    fits = {fit.code: fit for fit in brought[0].aircraft("HAL3M", TODAY).fits}
    assert (fits["VT-R"].function, fits["VT-R"].position.side) == (Function.V_TAIL, Side.RIGHT)
    assert (fits["AIL-L"].function, fits["AIL-L"].position.side) == (Function.AILERON, Side.LEFT)
    heli = {fit.code: fit for fit in brought[0].aircraft("ROT30", TODAY).fits}
    assert (heli["CYC"].function, heli["CYC"].position.side) == (Function.CYCLIC, Side.MIDDLE)
    assert heli["TAIL"].function is Function.TAIL


def test_leads_packs_dates_and_notes_are_kept(brought: tuple[Fleet, BringInReport]) -> None:
    fleet = brought[0]
    leads = {(lead.aircraft, lead.position): (lead.length_mm, lead.awg) for lead in fleet.records(Lead)}
    assert leads == {
        ("WINM2", "AIL-L"): (304.8, None),
        ("WINM2", "ELE"): (609.6, 26),
        ("WINM2", "RUD"): (600, None),
        ("WINM2", "AIL-R"): (304.8, None),
    }
    packs = {kind.code: (kind.chemistry, kind.series, kind.capacity_mah) for kind in fleet.records(PackType)}
    assert packs == {
        "NiMH AA 4x2000": (Chemistry.NIMH, 4, 2000),
        "Li-ion 2x3000": (Chemistry.LI_ION, 2, 3000),
        "NiCd 5x1200": (Chemistry.NICD, 5, 1200),
    }
    windrush = fleet.aircraft("WINM2", TODAY)
    assert [pack.pack.tag for path in windrush.paths for pack in path.packs] == ["WP-01"]
    days = {fit.code: fit.installation.since_on for fit in windrush.fits if fit.installation}
    assert days == {
        "AIL-L": date(1997, 5, 1), "ELE": date(1997, 1, 1), "THR": TODAY, "RUD": TODAY,
        "AIL-R": date(2024, 3, 2),
    }  # fmt: skip
    assert [fit.position.notes for fit in windrush.fits][1] == "bit of slop"


def test_a_dry_run_gives_the_same_report_and_writes_nothing(fleet: Fleet, keeper_sheet: Path) -> None:
    rehearsal = bring_in(fleet, [keeper_sheet], today=TODAY, dry_run=True)
    assert fleet.airframes() == ()
    assert rehearsal == bring_in(fleet, [keeper_sheet], today=TODAY)
    assert len(fleet.airframes()) == 3
    fleet.undo()
    assert fleet.airframes() == ()


def test_the_same_sheet_a_second_time_changes_nothing(fleet: Fleet, keeper_sheet: Path) -> None:
    bring_in(fleet, [keeper_sheet], today=TODAY)
    before = fleet.whole_fleet(TODAY)
    report = bring_in(fleet, [keeper_sheet], today=date(2026, 2, 2))
    assert report.taken == {}
    assert fleet.whole_fleet(TODAY) == before
    assert sum("of that type already; nothing was changed." in note.reason for note in report.stated) == 15


def test_the_same_sheet_as_a_workbook_gives_the_same_fleet(
    brought: tuple[Fleet, BringInReport], keeper_sheet: Path, tmp_path: Path
) -> None:
    book = Workbook()
    tab = book.active
    assert tab is not None
    tab.title = "servos"
    tab.append(["My models", None, "kept since 1996"])
    with keeper_sheet.open(encoding="utf-8", newline="") as file:
        for row in csv.reader(file):
            tab.append([_as_typed(cell) for cell in row])
    book.save(tmp_path / "keeper.xlsx")
    with Fleet.in_memory() as fleet:
        report = bring_in(fleet, [tmp_path / "keeper.xlsx"], today=TODAY)
        assert [note.row for note in report.refused] == [18, 19]
        assert fleet.whole_fleet(TODAY) == brought[0].whole_fleet(TODAY)


def _as_typed(cell: str) -> str | float | datetime | None:
    """The value a spreadsheet program makes of what is typed into a cell."""
    if not cell:
        return None
    for read in (float, datetime.fromisoformat):
        try:
            return read(cell) if len(cell) != 4 or not cell.isdigit() else cell
        except ValueError:
            continue
    return cell


def test_types_of_the_fleet_are_recognised_and_left_as_they_are(fleet: Fleet, tmp_path: Path) -> None:
    rating = ServoRating(servo_type="TS-31", rated_v=4.8, torque_nm=0.31, transit_s=0.22)
    known = ServoType(code="TS-31", maker="Tessivar", drive=Drive.ANALOG, mass_g=45, ratings=(rating,))
    fleet.edit("Put", lambda edit: edit.put(known))
    path = tmp_path / "sheet.csv"
    path.write_text(f"{HEAD}\nWindrush,1,aileron,tessivar ts 31,,60,0.2,4.8,1997,,,,,\n")
    report = bring_in(fleet, [path], today=TODAY)
    assert fleet.records(ServoType) == (known,)
    assert (2, "Servo", "tessivar ts 31", "taken as type TS-31 of the fleet.") in cells(report.stated)
    (note,) = [note for note in report.doubtful if "fleet's" in note.reason]
    assert note.reason == "gives 0.424 N·m at 4.8 V; the fleet's 0.31 N·m was kept."


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
        ("W,1,aileron,TS-31,analog,44 oz-in,.2,,1997,,,,,", "Torque", "names no voltage; it was left out."),
        ("W,1,aileron,TS-31,analog,3/4/5 kgcm,.2,4.8/6,1997,,,,,", "Torque", "gives 3 values for 2 voltages"),
        (
            "W,1,aileron,TS-31,analog,44 oz-in,,4.8,1997,,,,,",
            "Torque",
            "has no transit time at 4.8 V beside it",
        ),
        ("W,1,aileron,TS-31,analog,44 oz-in,.2/.1,4.8,1997,,,,,", "Speed", "gives 2 times for 1 voltages"),
        (
            "W,1,aileron,TS-31,analog,44 oz-in,5,4.8,1997,,,,,",
            "Speed",
            "time for 60 deg is 5; allowed is 0.02 to 1.5",
        ),
        (
            "W,1,aileron,TS-31,analog,44 oz-in,.2,480,1997,,,,,",
            "Volt",
            "voltage is 480; allowed is 2.4 to 15",
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
    assert any((note.row, note.column) == (2, column) and reason in note.reason for note in report.refused)
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
    assert reason in note.reason
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
    assert note.reason == "WIND AIL holds servo W-01 of another type; the row was left out."
    assert len(fleet.records(Servo)) == 1


def test_new_rows_of_a_known_aircraft_are_added(bring: Bring, fleet: Fleet) -> None:
    bring("Windrush,1,aileron,TS-31,analog,,,,1997,,,,,")
    bring("windrush,1,aileron,TS-31,analog,,,,1997,,,,,", "windrush,2,elevator,TS-31,,,,,2001,,,,,")
    assert [frame.name for frame in fleet.records(Airframe)] == ["Windrush"]
    assert [(fit.code, fit.tag) for fit in fleet.whole_fleet(TODAY)[0].fits] == [
        ("AIL", "W-01"),
        ("ELE", "W-02"),
    ]
