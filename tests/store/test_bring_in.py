"""Tables come in whole or not at all, whoever wrote them, and every refused row is named."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from pathlib import Path

import pytest
from openpyxl import Workbook

from hangar.base.errors import BadInput, StoreFault
from hangar.base.places import demo_fleet_dir
from hangar.parts import (
    Airframe,
    Charge,
    Flight,
    Installation,
    PackFit,
    Position,
    Servo,
    ServoRating,
    ServoType,
    Setting,
)
from hangar.parts.choices import AircraftClass, Drive, Function, ServoState
from hangar.store import CellNote, Edit, Fleet, bring_in

TODAY = date(2026, 3, 14)
Write = Callable[..., Path]


def refused(fleet: Fleet, *paths: Path) -> list[CellNote]:
    """The refusals of a bring-in that must leave the fleet as it was."""
    before = fleet.whole_fleet(TODAY)
    report = bring_in(fleet, paths, today=TODAY)
    assert report.taken == {}
    assert fleet.whole_fleet(TODAY) == before
    return list(report.refused)


def test_a_bring_in_is_one_edit(trainer: Fleet, write: Write) -> None:
    path = write("servo.csv", "tag,servo_type", "0900,TS-31", "0901,TS-31")
    assert bring_in(trainer, [path]).taken == {"servo": 2}
    assert str(trainer.undo_label) == "Bring in servo.csv"
    trainer.undo()
    assert [servo.tag for servo in trainer.records(Servo)] == ["0801", "0802", "0803"]
    trainer.redo()
    assert len(trainer.records(Servo)) == 5


@pytest.mark.parametrize("name", ["Servos.csv", "servos.csv"])
def test_a_table_may_be_named_in_the_plural(trainer: Fleet, write: Write, name: str) -> None:
    path = write(name, "tag,servo_type", "0900,TS-31", "0901,TS-31")
    assert bring_in(trainer, [path]).taken == {"servo": 2}


def test_a_keepers_sheet_named_servos_is_read_by_its_headings(fleet: Fleet, write: Write) -> None:
    path = write("servos.csv", "Aircraft,Position,Servo", "Old Kestwyn,Rudder,Tessivar TS-31")
    assert bring_in(fleet, [path]).taken["position"] == 1


def test_a_dry_run_reports_the_same_and_writes_nothing(trainer: Fleet, write: Write) -> None:
    path = write("servo.csv", "tag,servo_type,hours_h", '0900,TS-31,"1,234"')
    rehearsal = bring_in(trainer, [path], dry_run=True)
    assert len(trainer.records(Servo)) == 3
    assert str(trainer.undo_label) == "Build the trainer"
    assert rehearsal == bring_in(trainer, [path])
    assert len(trainer.records(Servo)) == 4


def test_offsets_count_from_the_day_given(trainer: Fleet, write: Write) -> None:
    flights = write("flight.csv", "aircraft,flown_on,minutes_min", "DUN,D-12,8", "DUN,D,9", "DUN,D+1,7.5")
    charges = write("charge.csv", "pack,charged_at", "B061,D-12 09:30", "B061,2026-01-02 10:00", "B061,D-1")
    bring_in(trainer, [flights, charges], today=TODAY)
    assert [flight.flown_on for flight in trainer.records(Flight)] == [
        date(2026, 3, 2), date(2026, 3, 14), date(2026, 3, 15),
    ]  # fmt: skip
    assert [charge.charged_at for charge in trainer.records(Charge)] == [
        datetime(2026, 1, 2, 10), datetime(2026, 3, 2, 9, 30), datetime(2026, 3, 13),  # noqa: DTZ001
    ]  # fmt: skip


def test_a_heading_may_name_another_unit_and_a_cell_its_own(trainer: Fleet, write: Write) -> None:
    path = write(
        "servo_rating.csv",
        "servo_type,rated_v,torque [ozf in],transit_s,stall [mA]",
        "TS-31,6,56,0.174,910",
        "TS-31,7.4,4 kgf cm,0.15,",
    )
    report = bring_in(trainer, [path])
    assert report.refused == ()
    ratings = {rating.rated_v: rating for rating in trainer.records(ServoRating)}
    assert ratings[6.0].torque_nm == pytest.approx(56 * 0.00706155, rel=1e-5)
    assert ratings[6.0].stall_a == pytest.approx(0.91)
    assert ratings[7.4].torque_nm == pytest.approx(4 * 0.0980665)
    assert ratings[7.4].stall_a is None


def test_blank_is_not_known_but_a_missing_column_keeps_what_the_fleet_has(
    trainer: Fleet, write: Write
) -> None:
    trainer.edit("Note", lambda edit: edit.change(Servo, ("0802",), bin="A1", hours_h=12))
    bring_in(trainer, [write("servo.csv", "tag,servo_type,hours_h", "0802,TS-31,")])
    servo = trainer.record(Servo, "0802")
    assert servo is not None
    assert (servo.bin, servo.hours_h) == ("A1", None)


def test_words_of_a_list_and_yes_and_no_are_read_as_people_write_them(trainer: Fleet, write: Write) -> None:
    path = write(
        "servo.csv",
        "tag,servo_type,state,bought_used,sweep_clean",
        "0900,TS-31,In_the bay,YES,n",
        "0901,TS-31,,,",
    )
    bring_in(trainer, [path])
    first, second = trainer.records(Servo)[3:]
    assert (first.state, first.bought_used, first.sweep_clean) == (ServoState.IN_BAY, True, False)
    assert (second.state, second.bought_used, second.sweep_clean) == (ServoState.IN_BAY, None, None)


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "cp1252", "utf-16"])
@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
def test_encoding_and_separator_are_found_out(
    fleet: Fleet, write: Write, encoding: str, separator: str
) -> None:
    rows = (["name", "value"], ["club.name", "Große Wiese"], ["unit", "µ"])
    path = write("setting.csv", *(separator.join(row) for row in rows), encoding=encoding)
    bring_in(fleet, [path])
    assert fleet.records(Setting) == (
        Setting(name="club.name", value="Große Wiese"),
        Setting(name="unit", value="µ"),
    )


def test_a_spreadsheets_separator_line_is_obeyed(fleet: Fleet, write: Write) -> None:
    bring_in(fleet, [write("setting.csv", "sep=;", "name;value", "unit;a,b,c,d")])
    assert fleet.records(Setting) == (Setting(name="unit", value="a,b,c,d"),)


def test_a_decimal_comma_is_understood_from_the_whole_table(trainer: Fleet, write: Write) -> None:
    path = write(
        "servo.csv", "tag;servo_type;hours_h;price", "0900;TS-31;1,234;5,5", "0901;TS-31;1.234,5;2,25"
    )
    report = bring_in(trainer, [path])
    assert report.doubtful == ()
    assert [(servo.hours_h, servo.price) for servo in trainer.records(Servo)[3:]] == [
        (1.234, 5.5),
        (1234.5, 2.25),
    ]


def test_a_comma_that_could_mean_either_is_doubted(trainer: Fleet, write: Write) -> None:
    path = write("servo.csv", "tag,servo_type,hours_h", '0900,TS-31,"1,234"')
    (note,) = bring_in(trainer, [path]).doubtful
    assert (note.file, note.row, note.column, note.found) == ("servo.csv", 2, "hours_h", "1,234")
    assert str(note.reason) == '"1,234" was read as 1234; it could also mean 1.234.'


def test_every_bad_cell_of_a_table_is_reported_and_nothing_is_written(trainer: Fleet, write: Write) -> None:
    path = write(
        "servo.csv",
        "tag,servo_type,state,play_deg,bought_on,sweep_clean,flights",
        "0900,TS-31,fitted,0.3,2024-02-30,yes,1",
        "0901,TS-31,broken,11,2024-02-03,perhaps,1.5",
        ",TS-31,,,,,",
        "0902,,,,,,",
        "0903,TS-31,,=1+1,,,",
        "0904,TS-31,,,,,",
    )
    found = {(note.row, note.column, note.found): str(note.reason) for note in refused(trainer, path)}
    assert found == {
        (2, "bought_on", "2024-02-30"): "bought on is '2024-02-30'; expected a date YYYY-MM-DD or days "
        "from today such as D-12.",
        (
            3,
            "state",
            "broken",
        ): "state is 'broken'; expected one of in the bay, reserved, fitted, suspect, scrapped.",
        (3, "play_deg", "11"): "free play at the arm is 11; allowed is 0 to 10.",
        (3, "sweep_clean", "perhaps"): "sweeps without jitter or dead spot is 'perhaps'; expected yes or no.",
        (3, "flights", "1.5"): "flights is 1.5; expected a whole number.",
        (4, "tag", ""): "tag is missing; it must be given.",
        (5, "servo_type", ""): "type is missing; it must be given.",
        (6, "play_deg", "=1+1"): '"=1+1" cannot be read as an angle: "=1+1" is not understood.',
    }


def test_rows_that_do_not_fit_together_are_reported_by_place(trainer: Fleet, write: Write) -> None:
    servos = write("servo.csv", "tag,servo_type", "0900,TS-99", "0901,TS-31", "0901,TS-31")
    stays = write("installation.csv", "servo,aircraft,position,since_on,until_on", "0901,DUN,AIL,D-1,D-5")
    frames = write("airframe.csv", "code,name,aircraft_class,cg_fore_mm,cg_aft_mm", "MAR,x,giant,9,1")
    notes = [str(note) for note in refused(trainer, servos, stays, frames)]
    assert notes == [
        'servo.csv, row 2, servo_type: "TS-99" servo type TS-99 is neither in these tables nor in the fleet.',
        "servo.csv, row 4, tag: servo 0901 is named again; row 3 of servo.csv has it already.",
        "installation.csv, row 2, since_on: servo in place 0901 DUN AIL 2026-03-13: "
        "a part cannot be taken off before it was fitted.",
        "airframe.csv, row 2, code: aircraft MAR: the fore balance limit must lie before the aft one.",
    ]


@pytest.mark.parametrize(
    ("lines", "column", "reason"),
    [
        (
            ("tag,servo_type,colour", "1,TS-31,red"),
            "colour",
            "is no field of servo; the fields are tag, servo_type,",
        ),
        (("tag,servo_type,tag", "1,TS-31,2"), "tag", "tag has a column already."),
        (("servo_type", "TS-31"), "tag", "the column is missing; it must be there."),
        (("tag,servo_type,hours [kg]", "1,TS-31,2"), "hours [kg]", "does not name a unit of time"),
        (("tag,servo_type,notes [mm]", "1,TS-31,2"), "notes [mm]", "notes has no unit; found [mm]."),
        (("tag,servo_type,", "1,TS-31,2"), "", "column 3 has values but no heading."),
        (("tag,servo_type", "1,TS-31,2"), "", "the row is longer than the headings."),
    ],
)
def test_headings_that_are_not_understood_refuse_the_table(
    trainer: Fleet, write: Write, lines: tuple[str, ...], column: str, reason: str
) -> None:
    (note,) = refused(trainer, write("servo.csv", *lines))
    assert note.column == column
    assert reason in str(note.reason)


def test_one_bad_table_keeps_all_others_out(trainer: Fleet, write: Write) -> None:
    good = write("setting.csv", "name,value", "unit,mm")
    bad = write("servo.csv", "tag,servo_type,play_deg", "0900,TS-31,99")
    assert len(refused(trainer, good, bad)) == 1
    assert trainer.records(Setting) == ()


def test_a_file_that_is_no_table_of_ours_refuses_the_folder(
    trainer: Fleet, write: Write, tmp_path: Path
) -> None:
    write("setting.csv", "name,value", "unit,mm")
    write("gardening.csv", "plant,place", "rose,south")
    write("readme.txt", "not a table and not looked at")
    (note,) = refused(trainer, tmp_path)
    assert note.file == "gardening.csv"
    assert "is neither a table of records" in str(note.reason)


def test_a_second_claim_on_a_fitted_servo_comes_in_as_disputed(trainer: Fleet, write: Write) -> None:
    path = write("installation.csv", "servo,aircraft,position,since_on", "0801,DUN,ELE,D-3")
    report = bring_in(trainer, [path], today=TODAY)
    assert report.taken == {"installation": 1}
    (note,) = report.doubtful
    assert str(note) == (
        'installation.csv, row 2, servo: "0801" servo 0801 is recorded at DUN AIL already; taken as disputed.'
    )
    aileron, elevator = trainer.aircraft("DUN", TODAY).fits
    assert elevator.installation is not None
    assert elevator.installation.disputed
    assert [stay.position for stay in aileron.elsewhere] == ["ELE"]


def test_two_claims_within_one_table_keep_the_first(fleet: Fleet, trainer: Fleet, write: Write) -> None:
    path = write(
        "installation.csv", "servo,aircraft,position,since_on", "0802,DUN,ELE,D-3", "0803,DUN,ELE,D-2"
    )
    report = bring_in(trainer, [path], today=TODAY)
    assert [note.found for note in report.doubtful] == ["0803"]
    assert "DUN ELE holds servo 0802 already" in str(report.doubtful[0].reason)
    assert [(stay.servo, stay.disputed) for stay in trainer.records(Installation)] == [
        ("0801", False), ("0802", False), ("0803", True),
    ]  # fmt: skip


def test_a_table_that_ends_the_old_stay_disputes_nothing(trainer: Fleet, write: Write) -> None:
    path = write(
        "installation.csv",
        "servo,aircraft,position,since_on,until_on",
        "0801,DUN,ELE,D-3,",
        "0801,DUN,AIL,2024-01-01,D-3",
    )
    report = bring_in(trainer, [path], today=TODAY)
    assert report.doubtful == ()
    assert [(stay.position, stay.until_on is None) for stay in trainer.records(Installation)] == [
        ("AIL", False), ("ELE", True),
    ]  # fmt: skip


def test_a_pack_in_two_places_is_refused(trainer: Fleet, write: Write) -> None:
    feeds = write("feed.csv", "aircraft,code", "DUN,RX-2")
    fits = write("pack_fit.csv", "pack,aircraft,feed,since_on", "B061,DUN,RX-2,D-1")
    (note,) = refused(trainer, feeds, fits)
    assert str(note.reason) == "pack B061 is in DUN RX already; enter the day it was taken out there first."
    assert len(trainer.records(PackFit)) == 1


def test_a_workbook_is_read_by_the_names_of_its_sheets(trainer: Fleet, tmp_path: Path) -> None:
    book = Workbook()
    servos = book.active
    assert servos is not None
    servos.title = "servo"
    servos.append(["tag", "servo_type", "bought_on", "price", "bought_used"])
    servos.append([900, "TS-31", datetime(2024, 5, 6), 12.5, True])  # noqa: DTZ001
    settings = book.create_sheet("Setting")
    settings.append(["name", "value"])
    settings.append(["unit", 7])
    book.create_sheet("Empty")
    book.save(tmp_path / "all.xlsx")
    assert bring_in(trainer, [tmp_path / "all.xlsx"]).taken == {"servo": 1, "setting": 1}
    servo = trainer.record(Servo, "900")
    assert servo is not None
    assert (servo.bought_on, servo.price, servo.bought_used) == (date(2024, 5, 6), 12.5, True)
    assert trainer.records(Setting) == (Setting(name="unit", value="7"),)


def test_a_workbook_with_one_sheet_may_be_named_like_a_table(trainer: Fleet, tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["tag", "servo_type"])
    sheet.append(["0900", "TS-31"])
    book.save(tmp_path / "servo.xlsx")
    assert bring_in(trainer, [tmp_path / "servo.xlsx"]).taken == {"servo": 1}


def test_formulas_in_a_workbook_are_never_run(trainer: Fleet, tmp_path: Path) -> None:
    book = Workbook()
    sheet = book.active
    assert sheet is not None
    sheet.append(["tag", "servo_type", "notes"])
    sheet.append(["0900", "TS-31", '=HYPERLINK("x","y")'])
    book.save(tmp_path / "servo.xlsx")
    bring_in(trainer, [tmp_path / "servo.xlsx"])
    assert trainer.records(Servo, tag="0900")[0].notes is None


def test_what_is_no_workbook_is_told(trainer: Fleet, tmp_path: Path) -> None:
    (tmp_path / "servo.xlsx").write_text("tag,servo_type")
    (note,) = refused(trainer, tmp_path / "servo.xlsx")
    assert "servo.xlsx is no readable workbook" in str(note.reason)


def test_sources_that_are_not_there_are_told(fleet: Fleet, tmp_path: Path) -> None:
    for source, words in (
        (tmp_path / "none.csv", "There is no file or folder"),
        (tmp_path, "holds no tables"),
        (Path(__file__), "is neither a table nor a filled sheet; expected a file ending in .csv"),
    ):
        with pytest.raises(BadInput, match=words):
            bring_in(fleet, [source])


def test_bringing_into_a_fleet_open_for_reading_is_refused(fleet_file: Path, write: Write) -> None:
    path = write("setting.csv", "name,value", "unit,mm")
    with Fleet.open(fleet_file, read_only=True) as held, pytest.raises(StoreFault, match="reading only"):
        bring_in(held, [path])


def test_the_report_is_readable_text(trainer: Fleet, write: Write) -> None:
    path = write("installation.csv", "servo,aircraft,position,since_on", "0801,DUN,ELE,D-3")
    lines = bring_in(trainer, [path], today=TODAY).text().splitlines()
    assert lines[0] == "Taken: servo in place 1."
    assert lines[1] == "Doubtful:"
    assert "taken as disputed" in lines[2]


def test_a_table_may_bring_types_and_ratings_for_what_is_there(fleet: Fleet, write: Write) -> None:
    def put(edit: Edit) -> None:
        edit.put(ServoType(code="OF-W8", drive=Drive.DIGITAL))
        edit.put(Airframe(code="SIS", name="Siskarel", aircraft_class=AircraftClass.SAIL_FAST))
        edit.put(Position(aircraft="SIS", code="AIL", name="aileron", function=Function.AILERON))

    fleet.edit("Put", put)
    bring_in(
        fleet, [write("servo_rating.csv", "servo_type,rated_v,torque_nm,transit_s", "OF-W8,6,0.22,0.112")]
    )
    assert [rating.rated_v for rating in fleet.records(ServoType)[0].ratings] == [6.0]


class Stopped(Exception):
    """What a keeper's Stop raises."""


def test_a_bring_in_tells_how_far_it_is(fleet: Fleet) -> None:
    shares: list[float] = []
    report = bring_in(fleet, [demo_fleet_dir()], heed=shares.append)
    assert report.taken
    assert shares == sorted(shares)
    assert (shares[0] < 0.1, shares[-1]) == (True, 1.0)


@pytest.mark.parametrize("after", [0.0, 0.3, 0.6, 0.9])
def test_a_bring_in_that_is_stopped_writes_nothing(fleet: Fleet, after: float) -> None:
    def stop(share: float) -> None:
        if share >= after:
            raise Stopped

    with pytest.raises(Stopped):
        bring_in(fleet, [demo_fleet_dir()], heed=stop)
    assert fleet.aircraft_codes() == ()
    assert fleet.history() == ()
    assert fleet.undo_label is None
    assert bring_in(fleet, [demo_fleet_dir()]).taken
