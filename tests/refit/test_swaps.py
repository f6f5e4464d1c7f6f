"""Servos swapped between two aircraft: cures here, nothing worse there, and never one servo used twice."""

from __future__ import annotations

import dataclasses
import itertools
import json

import pytest

from hangar.parts import Aircraft, Library, Plan, PlanLine, Servo, ServoType, after_plan
from hangar.parts.choices import AircraftState, PlanAction, PlanState
from hangar.refit.answer import Answer
from hangar.refit.answer_as_json import answer_as_json, fleet_answer_as_json, stages_as_json
from hangar.refit.bundles import lines_elsewhere
from hangar.refit.fleet import fleet
from hangar.refit.ladder import Questions
from hangar.refit.partners import Partners
from hangar.refit.request import RefitRequest
from hangar.refit.stages import best_in_stages, lines_in_stages
from hangar.rules import Level
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe, with_fit, with_pack
from hangar.rules.inspecting import open_flags
from hangar.survey import survey
from tests.refit.generator import DAY

WEAK = dataclasses.replace(
    ex.STANDARD, code="weak", price=None, duties="rudder", ratings=ex.weaker(ex.STANDARD, 0.2)
)  # fmt: skip
"""A weak servo that is marked for rudders."""
STRONG = dataclasses.replace(
    ex.STANDARD, code="strong", price=None, ratings=ex.boasted(ex.STANDARD, 1.3)
)  # fmt: skip
ASKING = RefitRequest(conditions=DAY, gauges=(), change_supply=False, second_pack=False)


def trainer(code: str, place: str, kind: ServoType, dive_speed_m_s: float = 45.0) -> Aircraft:
    """A trainer with servos of its own tags, another type at one place."""
    aircraft = with_airframe(ex.trainer(), code=code, dive_speed_m_s=dive_speed_m_s)
    for fit in aircraft.fits:
        assert fit.servo is not None
        assert fit.installation is not None
        other = kind if fit.code == place else fit.servo_type
        assert other is not None
        tag = f"{code}-{fit.code}"
        servo = dataclasses.replace(fit.servo, tag=tag, servo_type=other.code)
        stay = dataclasses.replace(fit.installation, servo=tag, aircraft=code)
        aircraft = with_fit(aircraft, fit.code, servo=servo, servo_type=other, installation=stay)
    return aircraft


def library_of(aircraft: tuple[Aircraft, ...], **more: object) -> Library:
    """A library that sells nothing and knows every servo that is fitted."""
    placed: dict[str, Servo] = {
        fit.servo.tag: fit.servo for own in aircraft for fit in own.fits if fit.servo is not None
    }
    kinds = {
        fit.servo_type.code: dataclasses.replace(fit.servo_type, price=None)
        for own in aircraft
        for fit in own.fits
        if fit.servo_type is not None
    }
    return dataclasses.replace(Library(servo_types=kinds, servos_elsewhere=placed), **more)  # type: ignore[arg-type]


def faults(aircraft: Aircraft) -> dict[tuple[str, str], Level]:
    """Warnings and cautions by rule and position, the gravest of each."""
    found: dict[tuple[str, str], Level] = {}
    for rule, flag in open_flags(Case(aircraft, survey(aircraft, DAY))):
        for place in [code for code in flag.about if aircraft.fit(code)] or [""]:
            if flag.level in (Level.WARNING, Level.CAUTION):
                level = found.get((rule.slug, place))
                found[rule.slug, place] = flag.level if level is None else min(
                    level, flag.level, key=lambda level: level.rank
                )  # fmt: skip
    return found


def swapped(answer: Answer) -> list[PlanLine]:
    """The lines that take a servo off another aircraft."""
    own = answer.aircraft.code
    return [line for line in answer.lines if line.from_aircraft not in (None, own)]


SHORT = trainer("SHORT", "ELE", WEAK)
"""With a rudder servo at its elevator."""
SLOW = trainer("SLOW", "RUD", STRONG, dive_speed_m_s=12.0)
"""So slow that a weak rudder servo does for it."""


def questions(*others: Aircraft, own: Aircraft = SHORT, **more: object) -> Questions:
    library = library_of((own, *others), **more)
    return Questions(own, library, dataclasses.replace(ASKING, swap_with=Partners((own, *others))))


def test_a_swap_cures_here_and_makes_nothing_worse_there() -> None:
    answer = questions(SLOW).best(0.0)
    (line,) = swapped(answer)
    assert (line.place, line.from_stock, line.from_aircraft) == ("ELE", "SLOW-RUD", "SLOW")
    ((code, (back,)),) = answer.lines_elsewhere.items()
    assert (code, back.place, back.from_stock, back.from_aircraft) == ("SLOW", "RUD", "SHORT-ELE", "SHORT")
    assert answer.left < answer.today
    assert answer.left.money == 0.0
    # Both lines have their hours.
    assert answer.left.hours >= 2.0 * ASKING.hours(PlanAction.FIT_SERVO)
    library = library_of((SHORT, SLOW))
    plan = Plan(code="P", aircraft="SLOW", title="P", lines=(back,))
    there = after_plan(SLOW, plan, library)
    fit = there.fit("RUD")
    assert fit is not None
    assert fit.servo is not None
    assert fit.servo.tag == "SHORT-ELE"
    before, after = faults(SLOW), faults(there)
    assert all(unit in before and before[unit].rank <= level.rank for unit, level in after.items())
    # What goes to the other aircraft does not go to Stores.
    assert "weak" not in [kind for kind, _, _ in answer.freed]
    plain = json.loads(json.dumps(answer_as_json(answer)))
    assert [change["at"] for change in plain["changes"]].count("SLOW") == 1
    assert {change["from_aircraft"] for change in plain["changes"] if change["from_stock"]} == {
        "SLOW",
        "SHORT",
    }


def test_without_partners_nothing_is_swapped() -> None:
    library = library_of((SHORT, SLOW))
    assert not swapped(Questions(SHORT, library, ASKING).best(0.0))


@pytest.mark.parametrize(
    "other",
    [
        trainer("FAST", "RUD", STRONG, dive_speed_m_s=45.0),
        with_airframe(SLOW, state=AircraftState.LAID_UP),
        with_airframe(SLOW, state=AircraftState.PASSED_ON),
        with_fit(SLOW, "RUD", position={"bay_width_mm": 15.0}),
    ],
    ids=["worse off", "laid up", "passed on", "no room"],
)
def test_no_servo_comes_off_where_that_makes_something_worse_or_nobody_could_tell(other: Aircraft) -> None:
    assert not [
        line for line in swapped(questions(other).best(0.0)) if line.from_stock == f"{other.code}-RUD"
    ]


def test_a_servo_that_another_plan_has_stays_where_it_is() -> None:
    line = PlanLine(
        plan="Q", number=1, action=PlanAction.FIT_SERVO, place="RUD", part_type="strong",
        from_stock="SLOW-RUD", from_aircraft="SLOW",
    )  # fmt: skip
    plan = Plan(code="Q", aircraft="THIRD", title="Q", state=PlanState.SKETCHED, lines=(line,))
    assert not [
        line for line in swapped(questions(SLOW, plans=(plan,)).best(0.0)) if line.from_stock == "SLOW-RUD"
    ]


def test_a_place_that_is_to_stay_is_not_swapped() -> None:
    asking = dataclasses.replace(ASKING, swap_with=Partners((SHORT, SLOW)), locked=frozenset({"ELE"}))
    answer = Questions(SHORT, library_of((SHORT, SLOW)), asking).best(0.0)
    assert not [line for line in swapped(answer) if line.place == "ELE"]


def test_the_line_that_is_left_can_be_done_when_the_other_one_is() -> None:
    """The servo that came off lies in Stores then, and is still the one that is meant."""
    answer = questions(SLOW).best(0.0)
    (back,) = answer.lines_elsewhere["SLOW"]
    library = library_of((SHORT, SLOW))
    moved = library.servos_elsewhere["SHORT-ELE"]
    library = dataclasses.replace(
        library,
        spare_servos={moved.tag: moved},
        servos_elsewhere={tag: servo for tag, servo in library.servos_elsewhere.items() if tag != moved.tag},
    )
    there = after_plan(SLOW, Plan(code="P", aircraft="SLOW", title="P", lines=(back,)), library)
    fit = there.fit("RUD")
    assert fit is not None
    assert fit.servo is not None
    assert fit.servo.tag == moved.tag


def test_one_servo_is_never_used_twice_in_a_fleet() -> None:
    # Nothing within an aircraft helps, so both want the one good servo.
    both = (
        with_fit(SHORT, "RUD", position={"bay_width_mm": 15.0}),
        with_fit(trainer("SECOND", "ELE", WEAK), "RUD", position={"bay_width_mm": 15.0}),
        SLOW,
    )
    library = library_of(both)
    locked = frozenset({"THR", "AIL-L", "AIL-R"})
    asking = dataclasses.replace(ASKING, budget=0.0, locked=locked)
    answer = fleet(both, library, asking)
    taken = [line.from_stock for part in answer.parts for line in part.lines if line.from_stock]
    assert len(taken) == len(set(taken))
    moves = [(line.from_aircraft, part.aircraft.code) for part in answer.parts for line in swapped(part)]
    # Every servo that comes has one that goes.
    assert sorted(moves) == sorted((to, off) for off, to in moves)
    assert len(moves) == 2
    for part in answer.parts:
        before, after = faults(part.aircraft), faults(part.after)
        assert all(unit in before and before[unit].rank <= level.rank for unit, level in after.items())
    assert answer.worth == sum(10.0 * part.left.warnings + part.left.cautions for part in answer.parts)
    assert answer.bound <= answer.worth + 1e-6
    assert not answer.spares
    plain = json.loads(json.dumps(fleet_answer_as_json(answer)))
    assert len(plain["swaps"]) == 1
    alone = fleet(both, library, dataclasses.replace(asking, swaps=False))
    assert answer.worth < alone.worth


def test_a_fleet_takes_the_best_of_every_swap() -> None:
    """Each swap that is offered is tried by hand: the fleet leaves no more than the best of them."""
    both = (SHORT, SLOW)
    library = library_of(both)
    answer = fleet(both, library, dataclasses.replace(ASKING, budget=0.0))
    worths = []
    for here, there in itertools.product(SHORT.fits, SLOW.fits):
        lines = [
            PlanLine(plan="P", number=1, action=PlanAction.FIT_SERVO, place=to.code,
                     part_type=fit.servo_type.code, from_stock=fit.servo.tag, from_aircraft=off)
            for to, fit, off in ((here, there, "SLOW"), (there, here, "SHORT"))
            if fit.servo and fit.servo_type
        ]  # fmt: skip
        after = [
            after_plan(own, Plan(code="P", aircraft=own.code, title="P", lines=(line,)), library)
            for own, line in zip(both, lines, strict=True)
        ]
        if all(_no_worse(faults(own), faults(then)) for own, then in zip(both, after, strict=True)):
            worths.append(sum(_worth(faults(then)) for then in after))
    assert worths
    assert sum(_worth(faults(part.after)) for part in answer.parts) <= min(worths)


def _no_worse(before: dict[tuple[str, str], Level], after: dict[tuple[str, str], Level]) -> bool:
    return all(unit in before and before[unit].rank <= level.rank for unit, level in after.items())


def _worth(found: dict[tuple[str, str], Level]) -> int:
    return sum(10 if level is Level.WARNING else 1 for level in found.values())


def with_own_pack(aircraft: Aircraft, code: str, tag: str, mah: float) -> Aircraft:
    """The aircraft under a code with a pack of its own type."""
    aircraft = with_airframe(trainer_of(aircraft, code), code=code)
    kind = {"code": f"pack {mah:g}", "capacity_mah": mah}
    return with_pack(
        aircraft, pack={"tag": tag, "pack_type": kind["code"], "capacity_mah": 0.95 * mah}, pack_type=kind
    )


def trainer_of(aircraft: Aircraft, code: str) -> Aircraft:
    """The aircraft with servos of tags of its own."""
    for fit in aircraft.fits:
        assert fit.servo is not None
        assert fit.installation is not None
        tag = f"{code}-{fit.code}"
        stay = dataclasses.replace(fit.installation, servo=tag, aircraft=code)
        aircraft = with_fit(
            aircraft, fit.code, servo=dataclasses.replace(fit.servo, tag=tag), installation=stay
        )
    return aircraft


def pack_pair(flight_min: float) -> tuple[Aircraft, Aircraft, Library]:
    """An aircraft whose pack is too small, one with a large pack that flies so long, and what is fitted."""
    long = with_airframe(ex.trainer(), flight_min=90.0)
    short = with_airframe(ex.trainer(), flight_min=flight_min)
    small, large = with_own_pack(long, "LONG", "P-1", 900.0), with_own_pack(short, "SHORT", "P-2", 3000.0)
    fed = [own.radio_paths[0].packs[0] for own in (small, large)]
    library = library_of(
        (small, large),
        pack_types={own.pack_type.code: own.pack_type for own in fed},
        packs_elsewhere={own.pack.tag: own.pack for own in fed},
    )
    return small, large, library


def test_a_pack_is_swapped_where_the_other_aircraft_is_no_worse_off() -> None:
    small, large, library = pack_pair(5.0)
    asking = dataclasses.replace(ASKING, change_supply=True, swap_with=Partners((small, large)))
    answer = Questions(small, library, asking).best(0.0)
    assert "pack-too-small" in {unit.rule for unit in answer.clears}
    (line,) = (line for line in answer.lines if line.action is PlanAction.FIT_PACK)
    assert (line.from_stock, line.from_aircraft, line.price) == ("P-2", "SHORT", 0.0)
    ((code, (back,)),) = answer.lines_elsewhere.items()
    assert (code, back.from_stock, back.from_aircraft) == ("SHORT", "P-1", "LONG")
    there = after_plan(large, Plan(code="P", aircraft="SHORT", title="P", lines=(back,)), library)
    assert there.radio_paths[0].packs[0].pack.tag == "P-1"
    assert _no_worse(faults(large), faults(there))
    assert not answer.freed
    both = fleet((small, large), library, dataclasses.replace(asking, swap_with=None, budget=0.0))
    taken = sorted(line.from_stock or "" for part in both.parts for line in part.lines if line.from_stock)
    assert taken == ["P-1", "P-2"]
    assert not both.spares


@pytest.mark.parametrize("shared", [True, False])
def test_a_pack_stays_where_it_is_wanted_or_flies_in_two(shared: bool) -> None:
    small, large, library = pack_pair(5.0 if shared else 90.0)
    third = dataclasses.replace(large, airframe=dataclasses.replace(large.airframe, code="THIRD"))
    fleet_of = (small, large, third) if shared else (small, large)
    asking = dataclasses.replace(ASKING, change_supply=True, swap_with=Partners(fleet_of))
    answer = Questions(small, library, asking).best(0.0)
    assert not [line for line in answer.lines if line.action is PlanAction.FIT_PACK]


def with_missing_screws(aircraft: Aircraft, place: str) -> Aircraft:
    """The aircraft with handwork to do at one place."""
    return with_fit(aircraft, place, installation={"screws_fitted": 2, "screws_of": 4})


HANDY = with_missing_screws(SHORT, "THR")


@pytest.mark.parametrize("months", [(0.0, 50.0), (50.0,), (1.0, 1.0, 50.0)])
def test_a_swap_is_a_line_of_a_refit_in_stages(months: tuple[float, ...]) -> None:
    """Beside bought small parts; after every stage both aircraft are judged here by hand."""
    both = (HANDY, SLOW)
    library = library_of(both)
    # Nothing within the aircraft helps.
    locked = frozenset({"RUD", "AIL-L", "AIL-R"})
    asking = dataclasses.replace(ASKING, swap_with=Partners(both), locked=locked)
    staged = best_in_stages(HANDY, library, asking, months)
    assert not staged.left
    done: list[PlanLine] = []
    there: list[PlanLine] = []
    swaps = 0
    for stage in staged.stages:
        for bundle in stage.bundles:
            done += bundle.lines
            there += bundle.elsewhere.get("SLOW", ())
            is_swap = any(line.from_aircraft == "SLOW" for line in bundle.lines)
            swaps += is_swap
            # Both halves of a swap are done in one stage.
            assert is_swap == bool(bundle.elsewhere)
            assert bundle.hours >= sum(line.hours_h or 0.0 for line in bundle.every_line) - 1e-9
        for own, lines in ((HANDY, done), (SLOW, there)):
            numbered = tuple(dataclasses.replace(line, number=at) for at, line in enumerate(lines, 1))
            after = after_plan(own, Plan(code="P", aircraft=own.code, title="P", lines=numbered), library)
            assert _no_worse(faults(own), faults(after))
        mine = stage.answer.lines_elsewhere
        assert set(mine.get("SLOW", ())) == {
            dataclasses.replace(line, number=own.number)
            for line, own in zip(there, mine.get("SLOW", ()), strict=True)
        }
    assert swaps == 1
    assert any(line.action is PlanAction.FIT_FIXINGS for line in done)
    # The swap costs nothing, so it waits for no money.
    assert any(line.from_aircraft == "SLOW" for bundle in staged.stages[0].bundles for line in bundle.lines)
    plain = json.loads(json.dumps(stages_as_json(staged)))
    assert [entry["at"] for stage in plain["stages"] for entry in stage["done"] if "at" in entry] == ["SLOW"]


def kept(lines: tuple[PlanLine, ...], aircraft: Aircraft, code: str) -> Aircraft:
    """The aircraft with a plan of these lines."""
    own = tuple(dataclasses.replace(line, plan=code, number=at) for at, line in enumerate(lines, 1))
    return dataclasses.replace(
        aircraft, plans=(Plan(code=code, aircraft=aircraft.code, title=code, lines=own),)
    )


@pytest.mark.parametrize("case", ["kept at both", "only here", "worse there", "nobody judges it"])
def test_a_kept_plan_with_a_swap_is_staged_where_the_other_aircraft_is_no_worse_off(case: str) -> None:
    other = trainer("SLOW", "RUD", STRONG) if case == "worse there" else SLOW
    answer = questions(SLOW).best(0.0)
    (line,) = swapped(answer)
    there = kept(answer.lines_elsewhere["SLOW"] if case != "only here" else (), other, "Q")
    fleet_of = (SHORT, there)
    asking = ASKING
    if case != "nobody judges it":
        asking = dataclasses.replace(asking, swap_with=Partners(fleet_of))
    elsewhere = lines_elsewhere("SHORT", answer.lines, fleet_of)
    assert bool(elsewhere) == (case != "only here")
    staged = lines_in_stages(SHORT, answer.lines, library_of(fleet_of), asking, (10.0,), elsewhere)
    done = [own for stage in staged.stages for bundle in stage.bundles for own in bundle.lines]
    left = {str(why) for bundle, why in staged.left if line in bundle.lines}
    assert (line in done) == (case == "kept at both")
    assert (
        left
        == {
            "kept at both": set(),
            "only here": {"nothing takes its place on SLOW"},
            "worse there": {"it would make something worse on SLOW"},
            "nobody judges it": {"SLOW cannot be judged"},
        }[case]
    )


def test_servos_that_change_places_within_an_aircraft_are_one_stage() -> None:
    library = library_of((SHORT,))
    answer = Questions(SHORT, library, ASKING).best(0.0)
    assert {line.from_aircraft for line in answer.lines if line.from_stock} == {"SHORT"}
    staged = best_in_stages(SHORT, library, ASKING, (0.0, 5.0))
    assert not staged.left
    done = [line for bundle in staged.stages[0].bundles for line in bundle.lines]
    assert {line.from_stock for line in done} == {line.from_stock for line in answer.lines}
    assert staged.stages[0].answer.left.warnings == answer.left.warnings
