"""Handwork and settings of a plan: what each leaves, what doing it writes, and that undo brings all back."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from hangar.acts import plans
from hangar.base.errors import BadInput
from hangar.base.reader import Reader
from hangar.parts import Aircraft, Library, Plan, PlanLine, Servo, after_plan
from hangar.parts.choices import (
    FormerEdge,
    JointLock,
    LeadCare,
    PackJoin,
    PlanAction,
    PlanState,
    RodMaterial,
    RodWork,
)
from hangar.refit.hours import hours_of
from hangar.refit.line_words import line_words
from hangar.rules import Thresholds
from hangar.store import Edit, Fleet
from tests.demo_copies import TODAY, demo_copy
from tests.rules.demo_trees import demo


def line(action: PlanAction, place: str, **values: Any) -> PlanLine:
    return PlanLine(plan="P", number=1, action=action, place=place, price=0.0, **values)


def after(code: str, *lines: PlanLine) -> Aircraft:
    fleet, library = demo()
    return after_plan(fleet[code], Plan(code="P", aircraft=code, title="P", lines=lines), library)


def do(fleet: Fleet, plan: Plan, work: PlanLine, aircraft: Aircraft, tag: str = "") -> None:
    def step(edit: Edit) -> None:
        plans.carry_out(edit, plan, work, aircraft, fleet.library(), TODAY, tag)

    fleet.edit("Do", step)


HANDWORK: dict[str, tuple[str, PlanLine, tuple[tuple[str, str, object], ...]]] = {
    "lock": (
        "CIND",
        line(PlanAction.PROTECT_LEAD, "RUD", care=LeadCare.LOCK),
        (("lead", "lock", JointLock.SHRINK),),
    ),
    "grommet": (
        "CIND",
        line(PlanAction.PROTECT_LEAD, "RUD", care=LeadCare.FORMER),
        (("lead", "former_edge", FormerEdge.GROMMET),),
    ),
    "heat": (
        "CIND",
        line(PlanAction.PROTECT_LEAD, "RUD", care=LeadCare.HEAT_SLEEVE),
        (("lead", "heat_sleeve", True),),
    ),
    "tie": (
        "CIND",
        line(PlanAction.PROTECT_LEAD, "RUD", care=LeadCare.TIE_CLEAR),
        (("lead", "moving_tied", True),),
    ),
    "support": (
        "CIND",
        line(PlanAction.PROTECT_LEAD, "RUD", care=LeadCare.SUPPORT),
        (("lead", "support_mm", 150.0),),
    ),
    "shrinks": (
        "CIND",
        line(PlanAction.PROTECT_LEAD, "RUD", care=LeadCare.SHRINKS),
        (("lead", "shrink_pieces", 2), ("lead", "shrink_mm", 16.0)),
    ),
    "loop": (
        "CIND",
        line(PlanAction.PROTECT_LEAD, "RUD", care=LeadCare.LOOP),
        (("lead", "twist_loop", True),),
    ),
    "twist": (
        "CIND",
        line(PlanAction.PROTECT_LEAD, "RUD", care=LeadCare.TWIST),
        (("lead", "twisted", True),),
    ),
    "keeper": (
        "CIND",
        line(PlanAction.CHANGE_ROD, "RUD", rod=RodWork.KEEPER),
        (("linkage", "clevis_keeper", True),),
    ),
    "cable": (
        "CIND",
        line(PlanAction.CHANGE_ROD, "RUD", rod=RodWork.CABLE),
        (("linkage", "cable_note", "right"),),
    ),
    "rod": (
        "CIND",
        line(PlanAction.CHANGE_ROD, "ELE-L", rod=RodWork.NEW_ROD, rod_diameter_mm=6.0, rod_bore_mm=4.0,
             rod_material=RodMaterial.CARBON),
        (("linkage", "rod_diameter_mm", 6.0), ("linkage", "rod_bore_mm", 4.0)),
    ),
    "horn": ("CIND", line(PlanAction.SET_HORN, "ELE-L", horn_mm=33.0), (("linkage", "horn_mm", 33.0),)),
    "fixings": (
        "CIND",
        line(PlanAction.FIT_FIXINGS, "AIL-L"),
        (("installation", "screws_fitted", 4), ("installation", "arm_screw_locked", True)),
    ),
    "arm": (
        "CIND",
        line(PlanAction.CHANGE_ARM, "RUD", part_type="23T-12", arm_mm=11.0),
        (("linkage", "arm_mm", 11.0), ("installation", "arm_teeth", 23)),
    ),
    "gyro pulse": (
        "MER60",
        line(PlanAction.SET_PULSE, "TAIL", pulse_us=760.0),
        (("through", "pulse_us", 760.0),),
    ),
    "gyro rate": (
        "NIM7",
        line(PlanAction.SET_RATE, "CYC-2", rate_hz=120.0),
        (("through", "cyclic_rate_hz", 120.0),),
    ),
    "channel pulse": (
        "CIND",
        line(PlanAction.SET_PULSE, "RUD", pulse_us=1000.0),
        (("channel", "pulse_us", 1000.0),),
    ),
    "channel rate": ("CIND", line(PlanAction.SET_RATE, "RUD", rate_hz=60.0), (("channel", "rate_hz", 60.0),)),
}  # fmt: skip


@pytest.mark.parametrize("name", HANDWORK)
def test_handwork_leaves_what_it_says_is_written_so_and_undone_whole(name: str) -> None:
    code, work, wanted = HANDWORK[name]
    fit = after(code, work).fit(str(work.place))
    assert fit is not None
    for part, field, value in wanted:
        assert getattr(getattr(fit, part), field) == value
    with demo_copy() as fleet:
        plan = Plan(code="P", aircraft=code, title="P", state=PlanState.FITTING, lines=(work,))
        fleet.edit("Begin", lambda edit: edit.put(plan))
        before = fleet.aircraft(code, TODAY)
        do(fleet, plan, work, before)
        done = fleet.aircraft(code, TODAY)
        there = done.fit(str(work.place))
        assert there is not None
        for part in {part for part, *_ in wanted}:
            assert getattr(there, part) == getattr(fit, part)
        assert done.plans[-1].lines[0].done_on == TODAY or any(
            plan_line.done_on == TODAY for kept in done.plans for plan_line in kept.lines if kept.code == "P"
        )
        fleet.undo()
        assert fleet.aircraft(code, TODAY) == before


def test_a_gyro_that_is_set_is_set_for_all_that_run_through_it() -> None:
    changed = after("NIM7", line(PlanAction.SET_PULSE, "CYC-1", pulse_us=960.0))
    assert {gyro.cyclic_pulse_us for gyro in changed.stabilisers} == {960.0}
    assert {fit.through.cyclic_pulse_us for fit in changed.fits if fit.through} == {960.0}


def test_a_guide_halves_the_free_length() -> None:
    fleet, _ = demo()
    before = next(
        fit for aircraft in fleet.values() for fit in aircraft.fits if fit.linkage and fit.linkage.rod_free_mm
    )
    assert before.linkage is not None
    assert before.linkage.rod_free_mm is not None
    fit = after(before.position.aircraft, line(PlanAction.CHANGE_ROD, before.code, rod=RodWork.GUIDE)).fit(
        before.code
    )
    assert fit is not None
    assert fit.linkage is not None
    assert fit.linkage.rod_free_mm == before.linkage.rod_free_mm / 2


def test_a_pack_is_joined_to_those_of_its_path_and_one_pack_alone_stands_single() -> None:
    fleet, _ = demo()
    kind = fleet["MER60"].paths[0].packs[0].pack_type.code
    one_more = line(PlanAction.JOIN_PACKS, "RX-A", part_type=kind, join=PackJoin.PLAIN_Y)
    path = after("MER60", one_more).paths[0]
    assert (path.feed.join, len(path.packs)) == (PackJoin.PLAIN_Y, 2)
    third = after("MER60", one_more, replace(one_more, number=2)).paths[0]
    assert len({fed.pack.tag for fed in third.packs}) == 3
    alone = after("ALB5", line(PlanAction.FIT_PACK, "RX-A", part_type=kind)).paths[0]
    assert (alone.feed.join, len(alone.packs)) == (PackJoin.SINGLE, 1)


def test_a_joined_pack_is_carried_out_beside_the_one_that_stays() -> None:
    with demo_copy() as fleet:
        before = fleet.aircraft("MER60", TODAY)
        kind = before.paths[0].packs[0].pack_type.code
        work = line(PlanAction.JOIN_PACKS, "RX-A", part_type=kind, join=PackJoin.SERIES)
        plan = Plan(code="P", aircraft="MER60", title="P", state=PlanState.FITTING, lines=(work,))
        fleet.edit("Begin", lambda edit: edit.put(plan))
        kept = fleet.aircraft("MER60", TODAY)
        do(fleet, plan, work, before, "B-99")
        path = fleet.aircraft("MER60", TODAY).paths[0]
        assert path.feed.join is PackJoin.SERIES
        assert {fed.pack.tag for fed in path.packs} == {"B-99", before.paths[0].packs[0].pack.tag}
        fleet.undo()
        assert fleet.aircraft("MER60", TODAY) == kept


def test_another_receiver_takes_the_place_and_the_antennas_of_the_old_one() -> None:
    fleet, library = demo()
    old = fleet["MER60"].receivers[0]
    other = next(kind for kind in library.receivers if kind != old.model_type)
    (new,) = after("MER60", line(PlanAction.FIT_RECEIVER, "RX", part_type=other)).receivers
    assert (new.model_type, new.aircraft, new.code) == (other, "MER60", "RX")
    assert (new.supply_min_v, new.antenna_route) == (library.receivers[other].supply_min_v, old.antenna_route)


def test_a_servo_is_swapped_with_another_aircraft() -> None:
    with demo_copy() as fleet:
        mine, library = fleet.aircraft("CIND", TODAY), fleet.library()
        theirs = fleet.aircraft("MARQ", TODAY)
        taken = theirs.fits[0].servo
        assert taken is not None
        kind = taken.servo_type
        work = line(PlanAction.FIT_SERVO, "RUD", part_type=kind, from_stock=taken.tag, from_aircraft="MARQ")
        plan = Plan(code="P", aircraft="CIND", title="P", state=PlanState.FITTING, lines=(work,))
        changed = after_plan(mine, plan, library).fit("RUD")
        assert changed is not None
        assert changed.tag == taken.tag
        fleet.edit("Begin", lambda edit: edit.put(plan))
        do(fleet, plan, work, mine, taken.tag)
        there = fleet.aircraft("CIND", TODAY).fit("RUD")
        assert there is not None
        assert there.tag == taken.tag
        assert fleet.aircraft("MARQ", TODAY).fits[0].servo is None
        with pytest.raises(BadInput, match="is in no aircraft"):
            after_plan(mine, replace(plan, lines=(replace(work, from_stock="none"),)), library)


@pytest.mark.parametrize(
    ("work", "sentence"),
    [
        (line(PlanAction.PROTECT_LEAD, "RUD"), "the protection of the lead is missing"),
        (line(PlanAction.CHANGE_ROD, "RUD"), "the work on the rod is missing"),
        (line(PlanAction.CHANGE_ROD, "RUD", rod=RodWork.NEW_ROD), "the diameter and the material"),
        (line(PlanAction.SET_HORN, "RUD"), "the horn radius is missing"),
        (line(PlanAction.SET_PULSE, "RUD"), "the pulse centre is missing"),
        (line(PlanAction.SET_RATE, "RUD"), "the frame rate is missing"),
        (line(PlanAction.JOIN_PACKS, "RX-A", part_type="NL4-20"), "how the packs are joined is missing"),
        (line(PlanAction.FIT_RECEIVER, "RX", part_type="none"), "is no receiver type in the library"),
        (line(PlanAction.FIT_RECEIVER, "RX9", part_type="RX8"), "'RX9' is no receiver of CIND"),
        (line(PlanAction.FIT_FIXINGS, "NOSE"), "'NOSE' is no position of CIND"),
    ],
)
def test_a_line_that_does_not_say_enough_is_refused_in_one_sentence(work: PlanLine, sentence: str) -> None:
    with pytest.raises(BadInput) as fault:
        after("CIND", work)
    assert str(fault.value).startswith("plan P, line 1: ")
    assert sentence in str(fault.value)


def test_every_action_is_told_in_words_and_has_its_hours() -> None:
    german = Reader("de")
    for action in PlanAction:
        work = line(action, "X", part_type="T", care=LeadCare.LOCK, rod=RodWork.KEEPER, pulse_us=760.0)
        work = replace(work, rate_hz=70.0, horn_mm=20.0, arm_mm=12.0, awg=22, set_v=5.0, join=PackJoin.SERIES)
        assert german.put(line_words(work)) != str(line_words(work)), action
        assert 0.0 < hours_of(action, Thresholds()) < 3.0


def test_a_library_without_the_servo_says_so() -> None:
    fleet, library = demo()
    bare = Library(servo_types=library.servo_types, servos_elsewhere={"1": Servo(tag="1", servo_type="?")})
    work = line(PlanAction.FIT_SERVO, "RUD", part_type=next(iter(library.servo_types)), from_aircraft="MARQ")
    with pytest.raises(BadInput, match="the tag of the servo that comes off MARQ is missing"):
        after_plan(fleet["CIND"], Plan(code="P", aircraft="CIND", title="P", lines=(work,)), bare)
