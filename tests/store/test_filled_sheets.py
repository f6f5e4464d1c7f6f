"""A sheet is written, filled in, read back: every reading stands in the records as it was entered."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date, datetime, time, timedelta
from functools import cache
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from pypdf import PdfWriter

from hangar.base.places import demo_fleet_dir
from hangar.base.units import convert
from hangar.parts import (
    Airframe,
    BenchCheck,
    Channel,
    Charge,
    Flight,
    Inspection,
    LoadTest,
    Pack,
    Position,
    RangeCheck,
    Servo,
    ServoType,
    Setting,
    Snag,
    Surface,
)
from hangar.parts.choices import InspectionKind
from hangar.sheets import SheetStyle, write_sheet
from hangar.store import Edit, Fleet, bring_in, take_out
from tests.sheets.cases import TODAY, demo_case, demo_cases
from tests.sheets.filling import TICK, box_names, fill, fill_in_viewer, flatten

NOON = datetime.combine(TODAY, time(12))
Filler = Callable[[Path, Path, dict[str, str]], Path]


@pytest.fixture
def fleet() -> Iterator[Fleet]:
    with Fleet.in_memory() as made:
        bring_in(made, [demo_fleet_dir()])
        yield made


@cache
def _written(kind: str, code: str, folder: Path) -> Path:
    path = folder / f"{kind} {code or 'all'}.pdf"
    cases = [demo_case(code)] if code else list(demo_cases())
    write_sheet(kind, cases, path, SheetStyle(fillable=True, printed_on=TODAY))
    return path


@pytest.fixture(scope="module")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Callable[[str, str], Path]:
    folder = tmp_path_factory.mktemp("sheets")

    def sheet(kind: str, code: str = "") -> Path:
        return _written(kind, code, folder)

    return sheet


def tables_of(fleet: Fleet, folder: Path) -> dict[str, bytes]:
    return {path.name: path.read_bytes() for path in take_out(fleet, folder)}


def filled(sheets: Callable[..., Path], kind: str, code: str, out: Path, **texts: str) -> Path:
    """A sheet of one aircraft with these boxes filled; the names are given without the aircraft's."""
    start = {"field": code, "bench": f"{code} bench", "charging": "charge"}[kind]
    names = {name.replace("__", " "): text for name, text in texts.items()}
    return fill(sheets(kind, code), out, {f"{start} {name}": text for name, text in names.items()})


BENCH_TEXTS = {
    "Neutral": ("9,5 mA", "neutral_ma", 9.5), "Moving": ("0.12 A", "moving_ma", 120.0),
    "End A": ("41", "end_a_ma", 41.0), "End B": ("0,03 A", "end_b_ma", 30.0),
    "Up deg": ("21°", "throw_up_deg", 21.0), "Down deg": ("0.3 rad", "throw_down_deg", 17.188734),
}  # fmt: skip


def bench_answers(path: Path, today: date) -> dict[str, str]:
    answers = {}
    for name, is_tick in box_names(path).items():
        what = next((each for each in BENCH_TEXTS if name.endswith(f" {each}")), None)
        if is_tick:
            answers[name] = TICK
        elif what:
            answers[name] = BENCH_TEXTS[what][0]
        elif name.endswith(" Play"):
            answers[name] = "0,4°"
        elif name.endswith(" bench Date"):
            answers[name] = f"{today:%d.%m.%Y} 12:00"
        elif name.endswith(" Bench-checked by"):
            answers[name] = "Ada"
        elif name.endswith(" B12 Measured"):
            answers[name] = "100 ft"
    return answers


def test_every_bench_reading_of_every_aircraft_comes_back_as_entered(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    path = sheets("bench")
    report = bring_in(fleet, [fill(path, tmp_path / "filled.pdf", bench_answers(path, TODAY))])
    names = box_names(path)
    for case in demo_cases():
        code = case.aircraft.code
        moved = {
            note.column.rsplit(" ", 1)[0] for note in report.refused if "was read on servo" in note.reason
        }
        for fit in case.aircraft.fits:
            check = fleet.record(BenchCheck, code, fit.code, NOON)
            if any(each.startswith(fit.code) for each in moved):
                continue
            assert check is not None, (code, fit.code)
            assert (check.direction_ok, check.by) == (True, "Ada")
            for what, (_, field, value) in BENCH_TEXTS.items():
                if f"{code} bench {fit.code} {what}" in names:
                    assert getattr(check, field) == pytest.approx(value), (code, fit.code, field)
        for surface in fleet.records(Surface, aircraft=code):
            if f"{code} bench {surface.code} Play" in names:
                assert (surface.play_deg, surface.play_on) == (0.4, TODAY)
        ranged = fleet.record(RangeCheck, code, TODAY)
        assert ranged is not None
        assert ranged.passed
        assert ranged.distance_m == pytest.approx(30.48)
    only_moved = ("was read on servo", "no channel is recorded")
    assert all(any(words in note.reason for words in only_moved) for note in report.refused), report.text()


def field_answers(path: Path) -> dict[str, str]:
    texts = {"At rest": "5,6 V", "Read": "5350 mV", "Load": "1000 mA", "Pilot": "Ada", "Minutes": "8; 7,5",
             "Flights today": "2", "Snag found": "left wheel loose", "Remarks": "gusty",
             "Date  time": f"{TODAY} 12:00"}  # fmt: skip
    answers = {}
    for name, is_tick in box_names(path).items():
        what = next((each for each in texts if name.endswith(f" {each}")), None)
        if is_tick:
            answers[name] = TICK
        elif what:
            answers[name] = texts[what]
    return answers


@pytest.mark.parametrize("filler", [fill, fill_in_viewer])
def test_every_field_sheet_comes_back_as_entered_whoever_filled_it(
    filler: Filler, fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    before = len(fleet.records(Snag))
    path = sheets("field")
    out = filler(path, tmp_path / "filled.pdf", field_answers(path))
    report = bring_in(fleet, [out])
    for case in demo_cases():
        code = case.aircraft.code
        for _, fed in case.tested_packs:
            test = fleet.record(LoadTest, fed.pack.tag, NOON)
            assert test is not None
            assert (test.rest_v, test.load_a, test.by) == (5.6, 1.0, "Ada")
            assert test.loaded_v == pytest.approx(5.35)
            pack = fleet.record(Pack, fed.pack.tag)
            assert pack is not None
            assert (pack.rest_v, pack.rest_on) == (5.6, TODAY)
        for fit in case.aircraft.fits:
            check = fleet.record(BenchCheck, code, fit.code, NOON)
            assert check is not None
            assert (check.direction_ok, check.centre_ok) == (True, True)
        flights = [one for one in fleet.records(Flight, aircraft=code) if one.flown_on == TODAY]
        gate = fleet.record(Inspection, code, TODAY, InspectionKind.GATE)
        assert [one.minutes_min for one in flights][-2:] == [8.0, 7.5]
        assert gate is not None
        assert gate.passed
        assert fleet.record(RangeCheck, code, TODAY) is not None
    assert len(fleet.records(Snag)) == before + len(demo_cases())
    assert all("no channel is recorded" in note.reason for note in report.refused), report.text()


def test_every_charge_of_the_card_comes_back_as_entered(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    path = sheets("charging")
    answers = {name: TICK if is_tick else "1.1 Ah" for name, is_tick in box_names(path).items()
               if is_tick or name.endswith("Put back")}  # fmt: skip
    answers["charge Date"] = f"{TODAY} 12:00"
    bring_in(fleet, [fill(path, tmp_path / "filled.pdf", answers)])
    tags = {name.removeprefix("charge ").removesuffix(" Put back") for name in answers if "Put" in name}
    assert len(tags) >= 15
    for tag in tags:
        charge, pack = fleet.record(Charge, tag, NOON), fleet.record(Pack, tag)
        assert charge is not None
        assert charge.put_back_mah == pytest.approx(1100)
        assert pack is not None
        assert pack.charged_on == TODAY


@pytest.mark.parametrize("kind", ["field", "bench", "charging"])
def test_reading_the_same_sheet_twice_changes_nothing(
    kind: str, fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    path = sheets(kind, "MARQ")
    answers = {"field": field_answers(path), "bench": bench_answers(path, TODAY)}.get(kind) or {
        name: TICK for name, is_tick in box_names(path).items() if is_tick
    }
    out = fill(path, tmp_path / "filled.pdf", answers)
    bring_in(fleet, [out])
    once, changes = tables_of(fleet, tmp_path / "once"), len(fleet.history())
    again = bring_in(fleet, [out])
    assert tables_of(fleet, tmp_path / "twice") == once
    assert len(fleet.history()) == changes
    assert any("stood in the records already" in note.reason for note in again.stated)
    fleet.undo()
    assert tables_of(fleet, tmp_path / "undone") != once


def test_one_bring_in_of_several_sheets_is_one_undoable_edit(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    before = tables_of(fleet, tmp_path / "before")
    one = filled(sheets, "field", "MARQ", tmp_path / "one.pdf", **{"ELE-L__Control": TICK})
    two = filled(sheets, "bench", "SISK", tmp_path / "two.pdf", B12__Passed=TICK)
    report = bring_in(fleet, [one, two])
    assert set(report.taken) == {"bench-check", "range-check", "inspection"}
    fleet.undo()
    assert tables_of(fleet, tmp_path / "after") == before


def test_an_unreadable_entry_is_named_and_leaves_the_others_standing(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    out = filled(
        sheets, "bench", "MARQ", tmp_path / "odd.pdf",
        **{"ELE-L__Neutral": "a little", "ELE-L__Moving": "45 ozf in", "ELE-L__End__A": "99 A",
           "ELE-L__End__B": "40", "AIL-L__Play": "900 mm", "B13__Measured": "2.4", "ELE-L__Up__mm": "900"},
    )  # fmt: skip
    report = bring_in(fleet, [out])
    refused = {note.column: str(note) for note in report.refused}
    assert set(refused) == {
        "ELE-L Neutral", "ELE-L Moving", "ELE-L End A", "AIL-L Play", "B13 Measured", "ELE-L Up mm",
    }  # fmt: skip
    assert refused["ELE-L End A"].startswith('odd.pdf, ELE-L End A: "99 A" cannot be kept')
    assert "allowed is 0 to 40000" in refused["ELE-L End A"]
    assert "allowed is 0 to" in refused["ELE-L Up mm"]
    (check,) = (one for one in fleet.records(BenchCheck, aircraft="MARQ") if one.end_b_ma == 40)
    assert (check.neutral_ma, check.moving_ma, check.end_a_ma) == (None, None, None)


def test_a_sheet_of_an_older_revision_is_taken_with_a_doubt_where_the_servo_is_the_same(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    out = filled(
        sheets, "bench", "MARQ", tmp_path / "old.pdf", **{"ELE-L__Neutral": "9", "AIL-L__Neutral": "9"}
    )
    spare = "S-NEW"
    kind = fleet.records(ServoType)[0].code

    def fit_another(edit: Edit) -> None:
        edit.put(Servo(tag=spare, servo_type=kind))
        edit.fit_servo(spare, "MARQ", "AIL-L", TODAY)

    fleet.edit("Fit another", fit_another)
    report = bring_in(fleet, [out])
    assert [note.column for note in report.refused] == ["AIL-L Neutral"]
    assert f"was read on servo 0201, but AIL-L of MARQ holds {spare}" in report.refused[0].reason
    assert any("was printed from revision" in note.reason for note in report.doubtful)
    checks = [one for one in fleet.records(BenchCheck, aircraft="MARQ") if one.checked_at.date() == TODAY]
    assert [one.position for one in checks] == ["ELE-L"]


def test_what_is_no_longer_there_is_refused_by_name(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    out = filled(sheets, "bench", "MARQ", tmp_path / "old.pdf", **{"ELE-L__Neutral": "9"})
    fleet.edit("Take it away", lambda edit: edit.remove(Position, ("MARQ", "ELE-L")))
    report = bring_in(fleet, [out])
    assert [str(note) for note in report.refused] == [
        'old.pdf, ELE-L Neutral: "9" is of a position that MARQ has no longer.'
    ]
    assert not report.taken


@pytest.mark.parametrize(
    ("text", "read"),
    [("2026-03-04", "2026-03-04"), ("4.3.2026", "2026-03-04"), ("4. 3. 2026 9:05", "2026-03-04 09:05"),
     ("2026-03-04, 09:05", "2026-03-04 09:05")],
)  # fmt: skip
def test_a_date_is_read_as_people_write_it(
    text: str, read: str, fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    out = filled(sheets, "bench", "MARQ", tmp_path / "dated.pdf", **{"ELE-L__Neutral": "9", "Date": text})
    bring_in(fleet, [out])
    assert fleet.record(BenchCheck, "MARQ", "ELE-L", datetime.fromisoformat(read)) is not None


@pytest.mark.parametrize("text", ["tomorrow", "03/04/2026", str(TODAY + timedelta(days=1)), "31.2.2026"])
def test_a_sheet_whose_date_is_not_sound_is_not_taken(
    text: str, fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    out = filled(sheets, "bench", "MARQ", tmp_path / "odd.pdf", **{"ELE-L__Neutral": "9", "Date": text})
    report = bring_in(fleet, [out])
    assert not report.taken
    assert [(note.column, note.found) for note in report.refused] == [("Date", text)]
    assert report.refused[0].reason.endswith("Nothing of this sheet was taken.")


def test_an_old_sheet_does_not_take_newer_readings_away(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    fleet.edit(
        "Read it",
        lambda edit: edit.change(Surface, ("MARQ", "AIL-L"), play_deg=0.9, play_on=TODAY),
    )
    out = filled(
        sheets, "bench", "MARQ", tmp_path / "old.pdf", **{"AIL-L__Play": "0.2°", "Date": "2020-01-02"}
    )
    report = bring_in(fleet, [out])
    surface = fleet.record(Surface, "MARQ", "AIL-L")
    assert surface is not None
    assert surface.play_deg == 0.9
    assert any("which stays" in note.reason for note in report.stated)


def test_ticked_stages_open_the_gates_of_the_refit_they_were_printed_for(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    path = sheets("bench", "MER60")
    ticks = {name: TICK for name, is_tick in box_names(path).items() if is_tick and name.endswith("Passed")}
    bring_in(fleet, [fill(path, tmp_path / "filled.pdf", ticks)])
    gates = {one.name for one in fleet.records(Setting) if one.name.startswith("gate.")}
    assert {name.rpartition(".")[2] for name in gates} >= {"B0", "B14"}
    (refit,) = (one for one in fleet.records(Inspection, aircraft="MER60") if one.inspected_on == TODAY)
    assert (refit.kind, refit.passed) == (InspectionKind.AFTER_REFIT, True)


def test_what_has_no_field_of_its_own_is_kept_in_words(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    out = filled(
        sheets, "bench", "MARQ", tmp_path / "words.pdf",
        **{"B2__Measured": "0,42 A", "B0__Passed": TICK, "Second__person": "Bo", "ELE-L__Low__rate": "22"},
    )  # fmt: skip
    bring_in(fleet, [out])
    gate = fleet.record(Inspection, "MARQ", TODAY, InspectionKind.GATE)
    assert gate is not None
    assert gate.passed is None
    for words in (
        "B2 Measured 0,42 A",
        "ticked: B0;",
        "Second person Bo",
        "ELE-L Low rate 22",
        "not ticked: B1",
    ):
        assert words in (gate.findings or "")


def _empty(path: Path, _sheets: Callable[..., Path]) -> None:
    path.write_bytes(b"")


def _broken(path: Path, sheets: Callable[..., Path]) -> None:
    path.write_bytes(sheets("field", "MARQ").read_bytes()[:900])


def _no_pdf(path: Path, _sheets: Callable[..., Path]) -> None:
    path.write_text("code,name\n")


def _foreign(path: Path, _sheets: Callable[..., Path]) -> None:
    writer = PdfWriter()
    writer.add_blank_page(200, 200)
    writer.write(path)


def _locked(path: Path, sheets: Callable[..., Path]) -> None:
    writer = PdfWriter(clone_from=sheets("field", "MARQ"))
    writer.encrypt("secret", algorithm="RC4-128")
    writer.write(path)


def _flat(path: Path, sheets: Callable[..., Path]) -> None:
    flatten(fill(sheets("field", "MARQ"), path, {"MARQ ELE-L Control": TICK}), path.with_suffix(".flat"))
    path.with_suffix(".flat").replace(path)


def _for_paper(path: Path, _sheets: Callable[..., Path]) -> None:
    write_sheet("field", [demo_case("MARQ")], path, SheetStyle())


def _passport(path: Path, _sheets: Callable[..., Path]) -> None:
    write_sheet("passport", [demo_case("MARQ")], path, SheetStyle(fillable=True))


def _blank(path: Path, sheets: Callable[..., Path]) -> None:
    path.write_bytes(sheets("field", "MARQ").read_bytes())


def _bad_stamp(path: Path, sheets: Callable[..., Path]) -> None:
    writer = PdfWriter(clone_from=sheets("field", "MARQ"))
    for page in writer.pages:
        writer.update_page_form_field_values(page, {"MARQ stamp": '{"sheet":"field"}'})
    writer.write(path)


REFUSED = [
    (_empty, "is empty, 0 bytes"), (_broken, "is no readable PDF"), (_no_pdf, "is no PDF"),
    (_foreign, "is no sheet that Hangar wrote"), (_locked, "is encrypted"), (_flat, "has no boxes any more"),
    (_for_paper, "was written for paper"), (_passport, "is a sheet of Hangar that is not read back"),
    (_blank, "has no box filled in"), (_bad_stamp, "cannot be read back"),
]  # fmt: skip


@pytest.mark.parametrize(("make", "words"), REFUSED, ids=[words for _, words in REFUSED])
def test_a_file_that_is_no_filled_sheet_is_refused_in_one_sentence(
    make: Callable[[Path, Callable[..., Path]], None], words: str, fleet: Fleet,
    sheets: Callable[..., Path], tmp_path: Path,
) -> None:  # fmt: skip
    path = tmp_path / "odd.pdf"
    make(path, sheets)
    report = bring_in(fleet, [path])
    assert not report.taken
    (note,) = report.refused
    assert note.file == "odd.pdf"
    assert words in note.reason
    assert str(note).startswith("odd.pdf")
    assert str(note).endswith(".")


def test_a_sheet_of_another_fleet_is_refused_by_name(sheets: Callable[..., Path], tmp_path: Path) -> None:
    out = filled(sheets, "field", "MARQ", tmp_path / "marq.pdf", **{"ELE-L__Control": TICK})
    with Fleet.in_memory() as other:
        report = bring_in(other, [out])
    assert "is a field checklist of MARQ, which is not in this fleet" in report.text()


CURRENT = ("mA", 40000.0, ("mA", "A"))
ANGLE = ("deg", 90.0, ("deg", "rad"))
NUMBERS = {
    "Neutral": ("neutral_ma", CURRENT), "Moving": ("moving_ma", CURRENT), "End A": ("end_a_ma", CURRENT),
    "End B": ("end_b_ma", CURRENT), "Up deg": ("throw_up_deg", ANGLE), "Down deg": ("throw_down_deg", ANGLE),
}  # fmt: skip


@settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_any_readings_in_any_unit_come_back_within_what_was_typed(
    data: st.DataObject,
    fleet: Fleet,
    sheets: Callable[..., Path],
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    path = sheets("bench", "MARQ")
    names = [name for name in box_names(path) if any(name.endswith(f" {what}") for what in NUMBERS)]
    answers: dict[str, str] = {}
    wanted: dict[str, dict[str, float]] = {}
    for name in data.draw(st.lists(st.sampled_from(names), min_size=1, max_size=8, unique=True)):
        what = next(each for each in NUMBERS if name.endswith(f" {each}"))
        field, (unit, most, units) = NUMBERS[what]
        typed = data.draw(st.sampled_from(units))
        # A little below the most, so that no rounding of what is typed carries it over.
        number = f"{convert(data.draw(st.floats(0, most * 0.999)), unit, typed):.6f}"
        answers[name] = f"{number.replace('.', data.draw(st.sampled_from('.,')))} {typed}"
        position = name.removeprefix("MARQ bench ").removesuffix(f" {what}")
        wanted.setdefault(position, {})[field] = convert(float(number), typed, unit)
    report = bring_in(fleet, [fill(path, tmp_path_factory.mktemp("filled") / "any.pdf", answers)])
    assert not report.refused
    for position, readings in wanted.items():
        check = fleet.record(BenchCheck, "MARQ", position, datetime.combine(TODAY, time()))
        assert {field: getattr(check, field) for field in readings} == pytest.approx(readings, abs=1e-6)
    fleet.undo()


def test_the_mass_and_the_balance_share_one_box(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    frame = fleet.record(Airframe, "MARQ")
    assert frame is not None
    mass_g = (frame.all_up_mass_g or 0) + 50
    out = filled(sheets, "bench", "MARQ", tmp_path / "mass.pdf", B13__Measured=f"{mass_g / 1000} kg; 11 cm")
    bring_in(fleet, [out])
    after = fleet.record(Airframe, "MARQ")
    assert after is not None
    assert after.all_up_mass_g == pytest.approx(mass_g)
    assert (after.cg_measured_mm, after.cg_measured_on) == (110, TODAY)


def test_what_an_output_does_is_entered_only_where_nothing_was_known(
    fleet: Fleet, sheets: Callable[..., Path], tmp_path: Path
) -> None:
    channels = {one.number: one for one in fleet.records(Channel, aircraft="MARQ")}
    out = filled(sheets, "field", "MARQ", tmp_path / "proved.pdf", **{"ELE-L__Failsafe": TICK})
    bring_in(fleet, [out])
    position = fleet.record(Position, "MARQ", "ELE-L")
    assert position is not None
    assert position.channel in channels
    proved = fleet.record(Channel, "MARQ", position.port, position.channel)
    assert proved is not None
    assert proved.failsafe_proved_on == TODAY


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_no_damage_to_a_file_gets_further_than_a_sentence(
    data: st.DataObject,
    fleet: Fleet,
    sheets: Callable[..., Path],
    tmp_path_factory: pytest.TempPathFactory,
) -> None:
    folder = tmp_path_factory.mktemp("damaged")
    whole = filled(sheets, "charging", "MARQ", folder / "whole.pdf", B021__Charged=TICK).read_bytes()
    content = bytearray(whole)
    for _ in range(data.draw(st.integers(1, 30))):
        content[data.draw(st.integers(9, len(content) - 1))] = data.draw(st.integers(0, 255))
    damaged = folder / "damaged.pdf"
    damaged.write_bytes(content[: data.draw(st.integers(0, len(content)))])
    report = bring_in(fleet, [damaged])
    assert report.taken or report.refused
    for note in report.refused:
        assert str(note).startswith("damaged.pdf")
    if report.taken:
        fleet.undo()
