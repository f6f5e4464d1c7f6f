"""No word of the program is stored where the keeper's words go: it is kept as a text, or not at all."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from datetime import date, timedelta
from enum import Enum
from pathlib import Path

import pytest

from hangar.acts.fitting import fit_new
from hangar.acts.plans import begin_plan, carry_out, move_plan
from hangar.answers.board import Move
from hangar.answers.plans import Sketch, plans_from
from hangar.base.kept_text import read_kept, said_in
from hangar.base.text import Arg, ItemList, Text
from hangar.parts import RECORD_KINDS, Airframe, Channel, Flight, Inspection, Plan, PlanLine, Record, Snag
from hangar.parts.choices import AircraftState, FailsafeAction, InspectionKind, PlanAction, PlanState
from hangar.parts.fields import columns, key_of
from hangar.parts.holding import logged_although, recorded_hindrances
from hangar.parts.sheet_boxes import BENCH, FIELD
from hangar.store import Edit, Fleet, bring_in
from hangar.store.filled_sheet import Answer
from hangar.store.sheet_answers import take_answers
from hangar.window.log.log_dialogs import ItemState, inspection_of
from tests.demo_copies import demo_copy
from tests.pseudo import pseudo_reader

TODAY = date(2026, 3, 14)
OWN = "Zurrbel Kwampf"
"""What the keeper types everywhere here; no language has such words."""
TICK = "x"


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


def held_words(record: Record) -> Iterator[tuple[str, str]]:
    """The fields of a record that hold words of the keeper's, with what stands there."""
    for spec in columns(type(record)):
        value = getattr(record, spec.name)
        if isinstance(value, str) and not isinstance(value, Enum):
            sentence = read_kept(value) if spec.is_said else value
            for word in names_in(sentence):
                yield f"{record.KIND}.{spec.name}", word


def all_held(fleet: Fleet) -> set[tuple[str, str]]:
    return {pair for kind in RECORD_KINDS for record in fleet.records(kind) for pair in held_words(record)}


def words_in(value: str) -> set[str]:
    """The plain words of a value; a code of capitals and figures, or a lone letter, is none."""
    return {word for word in re.findall(r"[A-Za-z]{3,}", value) if not word.isupper()}


@pytest.fixture
def fleet() -> Iterator[Fleet]:
    with demo_copy(TODAY) as made:
        yield made


def fresh_words(fleet: Fleet, before: set[tuple[str, str]]) -> dict[str, set[str]]:
    """Words that stand in a field since then and are neither the keeper's nor stood in the fleet before."""
    known = {word for _, value in before for word in words_in(value)} | words_in(OWN)
    strange_by_field: dict[str, set[str]] = {}
    for field, value in all_held(fleet) - before:
        if strange := words_in(value) - known:
            strange_by_field.setdefault(field, set()).update(strange)
    return strange_by_field


def do(fleet: Fleet, act: Callable[..., object], *given: object) -> None:
    """Do an act in an edit of its own."""

    def work(edit: Edit) -> None:
        act(edit, *given)

    fleet.edit("Do", work)


def hold(fleet: Fleet, code: str) -> None:
    held = {"state": AircraftState.HELD, "state_reason": OWN}
    fleet.edit("Hold", lambda edit: edit.change(Airframe, (code,), **held))


def test_a_flight_logged_although_it_must_not_fly(fleet: Fleet) -> None:
    hold(fleet, "MARQ")
    before = all_held(fleet)
    aircraft = fleet.aircraft("MARQ")
    reasons = recorded_hindrances(aircraft.airframe, aircraft.snags)
    flight = Flight(aircraft="MARQ", flown_on=TODAY, minutes_min=5.0, remarks=logged_although(reasons, OWN))
    fleet.edit("Log", lambda edit: edit.put(flight))
    assert fresh_words(fleet, before) == {}
    kept = fleet.record(Flight, "MARQ", TODAY, 1)
    assert kept is not None
    assert str(said_in(kept.remarks)) == f"Logged while not released: held: {OWN}. {OWN}"


def test_what_sheets_say_of_a_day(fleet: Fleet) -> None:
    def set_failsafe(edit: Edit) -> None:
        for channel in fleet.records(Channel, aircraft="CIND"):
            edit.change(Channel, key_of(channel), failsafe=FailsafeAction.OFF)

    fleet.edit("Set", set_failsafe)
    hold(fleet, "CIND")
    before = all_held(fleet)
    field = [
        Answer("", "Minutes", "8"), Answer("", "Remarks", OWN), Answer("", "Snag found", OWN),
        Answer("line", "complete", TICK), Answer("line", "controls", ""), Answer("ELE", "Stick", OWN),
    ]  # fmt: skip
    bench = [
        Answer("B0", "Passed", TICK), Answer("B1", "Passed", ""), Answer("", "Signature", OWN),
        Answer("THR", "It did", OWN), Answer("THR", "After", "2"), Answer("", "Second person", OWN),
        Answer("ELE", "Currents", TICK),
    ]  # fmt: skip
    do(fleet, take_answers, "CIND", FIELD, field, TODAY)
    do(fleet, take_answers, "CIND", BENCH, bench, TODAY)
    strange = fresh_words(fleet, before)
    # The lines of a checklist are kept by their unchanging names, which are no words for readers.
    strange.get("inspection.findings", set()).difference_update({"complete", "controls"})
    assert {field: words for field, words in strange.items() if words} == {}
    snags = [str(said_in(snag.text)) for snag in fleet.records(Snag, aircraft="CIND", raised_on=TODAY)]
    assert any(words.startswith("Failsafe of THR: without a signal it did") for words in snags)
    gate = fleet.record(Inspection, "CIND", TODAY, InspectionKind.GATE)
    assert gate is not None
    reader = pseudo_reader()
    assert OWN in reader.put(said_in(gate.findings))


def test_an_inspection_entered_item_by_item(fleet: Fleet) -> None:
    before = all_held(fleet)
    items = {Text("Nothing rattles."): ItemState.NOT_OK, Text("Nothing is loose."): ItemState.NOT_LOOKED_AT}
    made = inspection_of("MARQ", InspectionKind.YEARLY, TODAY, items, OWN)
    fleet.edit("Enter", lambda edit: edit.put(made))
    assert fresh_words(fleet, before) == {}
    assert "Nothing rattles" in str(said_in(made.findings))


def test_a_plan_begun_and_carried_out(fleet: Fleet) -> None:
    before = all_held(fleet)
    position = fleet.aircraft("MARQ").fits[0]
    kind = next(code for code in fleet.library().servo_types)
    lines = (PlanLine(plan="?", number=1, action=PlanAction.FIT_SERVO, place=position.code, part_type=kind),)
    (plan,) = plans_from(fleet, [Sketch("MARQ", lines)], TODAY)
    do(fleet, begin_plan, plan)
    do(fleet, move_plan, plan, Move(PlanState.FITTING), {"bus_v": 5.0})
    there = fleet.record(Plan, plan.code)
    assert there is not None
    (stands,) = (other_plan for other_plan in fleet.records(Plan) if other_plan.code == plan.code)
    line, library = stands.lines[0], fleet.library()
    do(fleet, carry_out, stands, line, fleet.aircraft("MARQ"), library, TODAY, "Zurrbel")
    do(fleet, fit_new, position, kind, "Kwampf", TODAY + timedelta(1))
    assert fresh_words(fleet, before) == {}


def test_a_sheet_of_the_keepers_own(fleet: Fleet, tmp_path: Path) -> None:
    before = all_held(fleet)
    sheet = tmp_path / "zurrbel.csv"
    sheet.write_text(
        "Model,Ch,Function,Servo,Fitted,Battery\n"
        "Zurrbel,1,2x aileron,Kwampf 20,1999,4 NiCd 1100\n"
        "Zurrbel,2,elevator,Kwampf 21,3/4/1999,\n"
        "Zurrbel,3,,Kwampf 21,,\n",
        encoding="utf-8",
    )
    bring_in(fleet, [sheet], today=TODAY)
    changed = sheet.read_text(encoding="utf-8").replace("Kwampf 21,3/4", "Kwampf 22,3/4")
    sheet.write_text(changed, encoding="utf-8")
    bring_in(fleet, [sheet], today=TODAY)
    strange = fresh_words(fleet, before)
    # What the sheet says itself is the keeper's: its file, its text, its headings.
    kept = {"field-origin.file", "field-origin.text", "sheet-source.file", "sheet-source.headings",
            "sheet-source.content", "field-origin.record", "field-origin.kind", "field-origin.field",
            "sheet-source.code"}  # fmt: skip
    assert {field: words for field, words in strange.items() if field not in kept} == {}
