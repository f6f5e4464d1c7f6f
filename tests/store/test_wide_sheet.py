"""A keeper's own wide sheet comes in as far as it can be understood, and every doubt is named."""

from __future__ import annotations

import csv
from collections.abc import Iterator
from datetime import date, datetime
from pathlib import Path

import pytest
from openpyxl import Workbook

from hangar.parts import Lead, PackType, Servo, ServoRating, ServoType
from hangar.parts.choices import AircraftClass, Chemistry, Drive, Function, PowerKind, Side
from hangar.store import BringInReport, CellNote, Fleet, bring_in

TODAY = date(2026, 1, 1)
FILE = "keeper_sheet.csv"
KGF_CM = 0.0980665
OZF_IN = 0.028349523125 * 9.80665 * 0.0254
"""Newton metres, from the definitions of pound, standard gravity and inch (NIST SP 811, appendix B)."""


@pytest.fixture(scope="module")
def brought(keeper_sheet: Path) -> Iterator[tuple[Fleet, BringInReport]]:
    """The whole sheet, brought into an empty fleet."""
    with Fleet.in_memory() as made:
        yield made, bring_in(made, [keeper_sheet], today=TODAY)


def cells(notes: tuple[CellNote, ...]) -> list[tuple[int, str, str, str]]:
    return [(note.row, note.column, note.found, str(note.reason)) for note in notes]


def test_only_the_totals_row_and_the_negative_speed_are_refused(brought: tuple[Fleet, BringInReport]) -> None:
    assert cells(brought[1].refused) == [
        (
            17,
            "Speed",
            "-0.22",
            "time for 60° is -0.22 s/60°; a number above zero is wanted. It was left out.",
        ),
        (18, "Servo", "=COUNTA(D2:D17)", "is a row of totals, not a servo; the row was left out."),
    ]


def test_every_doubtful_cell_is_named_with_how_it_was_read(brought: tuple[Fleet, BringInReport]) -> None:
    alike = "has no unit; read as ozf·in, which agrees with another cell of this type."
    year = "names only the year; taken as the first of January: "
    volts = "names no volts; taken at 4.8 / 6 V as the torque beside it."
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
        (8, "Notes", "max 7.4", "was read as the type's highest volts, 7.4 V."),
        (8, "Torque", "3.7 / 4.7", small),
        (9, "Torque", "3.7 / 4.7", small),
        (10, "Speed", "0.142/0.112", volts),
        (11, "Ch", "6", 'channel 6 is used by "aileron right" already; both were taken.'),
        (13, "Fitted", "2001", f"{year}2001-01-01."),
        (13, "Model", "Rotor 30 trainer", 'class guessed as heli-ic, power as glow: "Rotor" in its words.'),
        (13, "Torque", "65", "has no unit; read as ozf·in by its size."),
        (14, "Fitted", "2001", f"{year}2001-01-01."),
        (14, "Torque", "65", "has no unit; read as ozf·in by its size."),
        (16, "Torque", "3.1 kg @6", '"kg" was read as kgf·cm.'),
        (17, "Fitted", "2001", f"{year}2001-01-01."),
        (17, "Torque", "44", alike),
    ]  # fmt: skip


def test_the_unit_of_each_column_is_stated(brought: tuple[Fleet, BringInReport]) -> None:
    stated = {note.column: str(note.reason) for note in brought[1].stated if note.row == 1}
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
    assert (
        sum("of that type already; nothing was changed." in str(note.reason) for note in report.stated) == 15
    )


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
