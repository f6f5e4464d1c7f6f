"""A second pack, isolated from the first: who is offered one, what it must bear, how it is told."""

from __future__ import annotations

import dataclasses
import subprocess
import sys
from collections.abc import Sequence

from hangar.parts import Aircraft, Library, Pack, PackType, RegulatorType, SwitchType
from hangar.parts.choices import Chemistry, PlanAction, RegulatorKind, SwitchKind
from hangar.refit import Front, Limits, Point, plan
from hangar.refit.explain import Explainer
from hangar.refit.fleet_plan import plan_fleet
from hangar.refit.line_words import change_words
from hangar.refit.prove import changed
from hangar.rules import example_parts as parts
from hangar.rules import examples as ex
from hangar.rules.changing import with_path, with_records
from hangar.survey import survey
from hangar.survey.model import Scenario
from tests.all_cases import all_cases
from tests.refit.generator import DAY

LIMITS = Limits(conditions=DAY, gauges=())
BOARD = RegulatorType(
    code="Two-in", regulator=RegulatorKind.PASS, input_max_v=8.8, drop_out_v=0.1, inputs=2, isolated=True,
    fails_through=True, burst_a=60.0, continuous_a=30.0, mass_g=40.0, price=70.0,
)  # fmt: skip
SWITCH = SwitchType(
    code="SW-new", switch=SwitchKind.ELECTRONIC, contact_mohm=3.0, continuous_a=30.0, burst_a=60.0,
    mass_g=15.0, price=25.0,
)  # fmt: skip
PACK = dataclasses.replace(ex.LITHIUM_2, code="P-like", mass_g=200.0, price=40.0)
OTHER = dataclasses.replace(PACK, code="P-other", chemistry=Chemistry.LIFEPO4, mass_g=40.0)


def library(*packs: PackType, board: RegulatorType | None = BOARD) -> Library:
    return Library(
        pack_types={kind.code: kind for kind in packs or (PACK,)},
        regulator_types={} if board is None else {board.code: board},
        switch_types={SWITCH.code: SWITCH},
    )


def one_pack_giant() -> Aircraft:
    return with_records(ex.giant(), paths=lambda paths: paths[:1])


def with_second(front: Front, aircraft: Aircraft) -> Sequence[Point]:
    known = {path.feed.code for path in aircraft.paths}
    return [
        point
        for point in front.points
        if any(line.action is PlanAction.FIT_PACK and line.place not in known for line in point.changes)
    ]


def test_a_giant_on_one_pack_is_offered_a_second_one_that_the_survey_solves_and_the_rules_accept() -> None:
    aircraft, shelf = one_pack_giant(), library()
    point = with_second(plan(aircraft, shelf, {}, LIMITS), aircraft)[0]
    after = changed(aircraft, point.changes, shelf)
    assert len(after.radio_paths) == 2
    assert {path.feed.regulator for path in after.radio_paths} == {"BOARD"}
    assert all(path.feed.isolated and path.packs and path.switch for path in after.radio_paths)
    lost = survey(after, DAY).scenarios[Scenario.ONE_LOST]
    assert lost.collapse is None
    assert lost.bus_v is not None
    assert point.worst_bus_v is not None
    assert 6.0 < lost.bus_v.expected < point.worst_bus_v
    assert "single-pack-giant" in {finding.rule for finding in point.cured}
    left = {finding.rule for finding in point.findings_after}
    assert not left & {"single-pack-giant", "twin-pack-one-fails", "parallel-unlike", "switch-single-giant"}


def test_the_fleet_buys_no_second_pack_and_says_for_whom_one_is_wanted() -> None:
    aircraft = one_pack_giant()
    for asked, is_told in ((None, True), (False, False)):
        found = plan_fleet(
            [aircraft, ex.trainer()], library(), 500.0, {}, dataclasses.replace(LIMITS, second_pack=asked)
        )
        assert not any(line.action is PlanAction.FIT_PACK for line in found.parts[0].point.changes)
        told = [note for note in found.notes if str(note).startswith("A second pack is wanted for ")]
        assert [str(note).partition(";")[0] for note in told] == (
            [f"A second pack is wanted for {aircraft.code}"] if is_told else []
        )
        assert found.exact


def test_its_price_and_mass_are_those_of_pack_board_and_switch() -> None:
    aircraft = one_pack_giant()
    point = with_second(plan(aircraft, library(), {}, LIMITS), aircraft)[0]
    assert point.price == PACK.price + BOARD.price + SWITCH.price  # type: ignore[operator]
    assert point.mass_change_g == PACK.mass_g + BOARD.mass_g + SWITCH.mass_g  # type: ignore[operator]
    assert point.price == sum(line.price or 0.0 for line in point.changes)


def test_a_pack_from_the_bay_is_fitted_before_one_is_bought() -> None:
    aircraft = one_pack_giant()
    spare = Pack(tag="B900", pack_type=PACK.code, bought_on=parts.ago(30), cycles=0)
    shelf = dataclasses.replace(library(), spare_packs={"B900": spare})
    point = with_second(plan(aircraft, shelf, {}, LIMITS), aircraft)[0]
    assert [line.from_stock for line in point.changes if line.action is PlanAction.FIT_PACK] == ["B900"]
    assert point.price == BOARD.price + SWITCH.price  # type: ignore[operator]


@all_cases(
    "aircraft, asked, offered",
    [
        (one_pack_giant(), None, True),
        (one_pack_giant(), False, False),
        (ex.giant(), None, False),
        (ex.giant(), True, False),
        (ex.trainer(), None, False),
        (ex.trainer(), True, True),
        (ex.driven_only(mass_g=3000.0), True, False),
    ],
)
def test_it_is_offered_where_one_pack_feeds_an_aircraft_that_wants_two(
    aircraft: Aircraft, asked: bool | None, offered: bool
) -> None:
    own = dataclasses.replace(ex.NICKEL_4, code="P-nickel", mass_g=110.0, price=20.0)
    front = plan(aircraft, library(PACK, own), {}, dataclasses.replace(LIMITS, second_pack=asked))
    assert bool(with_second(front, aircraft)) is offered


def test_a_lacking_board_is_told_and_nothing_offered() -> None:
    aircraft = one_pack_giant()
    for board in (None, dataclasses.replace(BOARD, isolated=False), dataclasses.replace(BOARD, inputs=1)):
        front = plan(aircraft, library(board=board), {}, LIMITS)
        assert not with_second(front, aircraft)
        told = [str(refusal.why) for refusal in front.refused if str(refusal.what) == "second pack"]
        assert told == ["the library has no board with two isolated inputs whose price is known"]


def test_a_pack_that_cannot_carry_the_aircraft_alone_is_no_second_pack() -> None:
    aircraft = one_pack_giant()
    amps = survey(aircraft, DAY).scenarios[Scenario.PEAK].total_a
    assert amps is not None
    for share, offered in ((1.3, True), (0.7, False)):
        kind = dataclasses.replace(PACK, burst_a=share * amps.expected, continuous_a=share * amps.expected)
        front = plan(aircraft, library(kind), {}, LIMITS)
        assert bool(with_second(front, aircraft)) is offered
        assert not front.cut


def test_a_pack_that_stays_is_joined_only_by_one_of_its_chemistry_and_cells() -> None:
    aircraft = one_pack_giant()
    shelf = library(PACK, OTHER)
    points = with_second(plan(aircraft, shelf, {}, LIMITS), aircraft)
    kinds = [
        tuple(path.packs[0].pack_type for path in changed(aircraft, point.changes, shelf).radio_paths)
        for point in points
    ]
    assert all((a.chemistry, a.series) == (b.chemistry, b.series) for a, b in kinds)
    assert {b.code for _, b in kinds} == {PACK.code, OTHER.code}


def test_a_board_with_an_input_left_takes_the_second_pack() -> None:
    board = with_path(
        one_pack_giant(),
        **{**ex.regulated(6.0), "regulator_type": BOARD},
    )
    point = with_second(plan(board, library(), {}, LIMITS), board)[0]
    assert all(line.action is not PlanAction.FIT_REGULATOR for line in point.changes)
    after = changed(board, point.changes, library())
    assert {path.feed.regulator for path in after.radio_paths} == {"REG"}
    assert all(path.feed.isolated for path in after.radio_paths)


def test_refits_with_a_second_pack_do_not_change_those_without() -> None:
    aircraft = one_pack_giant()
    shelf = library(PACK, OTHER)
    without = plan(aircraft, shelf, {}, dataclasses.replace(LIMITS, second_pack=False))
    front = plan(aircraft, shelf, {}, LIMITS)
    second = with_second(front, aircraft)
    assert [point.changes for point in front.points if point not in second] == [
        point.changes for point in without.points
    ]


def test_the_lines_read_as_a_keeper_would_say_them() -> None:
    aircraft = one_pack_giant()
    path = aircraft.paths[0].feed.code
    point = with_second(plan(aircraft, library(), {}, LIMITS), aircraft)[0]
    further = f"{path[:-1]}B" if path.endswith("A") else f"{path}-2"
    assert list(map(str, change_words(point.changes, aircraft))) == [
        f"{further}: second pack P-like",
        "BOARD: board Two-in, isolates the packs from each other",
        f"{further}: switch SW-new",
    ]


def test_its_explanations_stay_with_refits_that_have_a_second_pack() -> None:
    aircraft, shelf = one_pack_giant(), library(PACK, OTHER)
    front = plan(aircraft, shelf, {}, LIMITS)
    explainer = Explainer.of(front, aircraft, shelf, {}, LIMITS)
    for point in with_second(front, aircraft):
        said = str(explainer.next_best(point))
        assert "second pack" in said or "no other refit" in said


def test_the_answer_is_the_same_with_any_hash_seed() -> None:
    code = (
        "import json\n"
        "from hangar.refit import front_as_json, plan\n"
        "from tests.refit.generator import second_pack_case\n"
        "for seed in (0, 7):\n"
        "    case = second_pack_case(seed)\n"
        "    print(json.dumps(front_as_json(plan(case.aircraft, case.library, {}, case.limits))))"
    )
    said = {
        subprocess.run(
            [sys.executable, "-c", code], capture_output=True, text=True, check=True,
            env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(sys.path)},
        ).stdout
        for seed in ("1", "2")
    }  # fmt: skip
    assert len(said) == 1
