"""A second pack, isolated from the first: who is offered one, what it must bear, how it is told."""

from __future__ import annotations

import dataclasses

from hangar.parts import Aircraft, Library, Pack, PackType, Plan, RegulatorType, SwitchType, after_plan
from hangar.parts.choices import Chemistry, PlanAction, RegulatorKind, SwitchKind
from hangar.refit.bay import bay_of
from hangar.refit.line_words import change_words
from hangar.refit.refusal import Refusal
from hangar.refit.request import RefitRequest
from hangar.refit.supplies import Supply, supplies_of
from hangar.rules import example_parts as parts
from hangar.rules import examples as ex
from hangar.rules import inspect
from hangar.rules.changing import with_path, with_records
from hangar.survey import survey
from hangar.survey.model import Scenario
from tests.all_cases import all_cases
from tests.refit.generator import DAY

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


def offered(
    aircraft: Aircraft, shelf: Library, asked: bool | None = None
) -> tuple[tuple[Supply, ...], tuple[Refusal, ...]]:
    """The supplies with a second pack, and what was refused."""
    asking = RefitRequest(conditions=DAY, gauges=(), second_pack=asked)
    supplies, refused = supplies_of(aircraft, shelf, bay_of(shelf, None, aircraft), asking)
    return tuple(supply for supply in supplies if supply.second), tuple(refused)


def first(aircraft: Aircraft, shelf: Library) -> Supply:
    """The cheapest supply with a second pack."""
    return min(offered(aircraft, shelf)[0], key=lambda supply: supply.price)


def fitted(aircraft: Aircraft, supply: Supply, shelf: Library) -> Aircraft:
    """The aircraft with that supply."""
    lines = tuple(dataclasses.replace(line, plan="P", number=at) for at, line in enumerate(supply.lines, 1))
    return after_plan(aircraft, Plan(code="P", aircraft=aircraft.code, title="P", lines=lines), shelf)


def test_a_giant_on_one_pack_is_offered_a_second_one_that_the_survey_solves_and_the_rules_accept() -> None:
    aircraft, shelf = one_pack_giant(), library()
    after = fitted(aircraft, first(aircraft, shelf), shelf)
    assert len(after.radio_paths) == 2
    assert {path.feed.regulator for path in after.radio_paths} == {"BOARD"}
    assert all(path.feed.isolated and path.packs and path.switch for path in after.radio_paths)
    seen = survey(after, DAY)
    lost, peak = seen.scenarios[Scenario.ONE_LOST], seen.scenarios[Scenario.PEAK]
    assert lost.collapse is None
    assert lost.bus_v is not None
    assert peak.bus_v is not None
    assert 6.0 < lost.bus_v.expected < peak.bus_v.expected
    assert "single-pack-giant" in {finding.rule for finding in inspect(aircraft, survey(aircraft, DAY))}
    left = {finding.rule for finding in inspect(after, seen)}
    assert not left & {"single-pack-giant", "twin-pack-one-fails", "parallel-unlike", "switch-single-giant"}


def test_its_price_and_mass_are_those_of_pack_board_and_switch() -> None:
    supply = first(one_pack_giant(), library())
    assert supply.price == PACK.price + BOARD.price + SWITCH.price  # type: ignore[operator]
    assert supply.mass_g == PACK.mass_g + BOARD.mass_g + SWITCH.mass_g  # type: ignore[operator]
    assert supply.price == sum(line.price or 0.0 for line in supply.lines)


def test_a_pack_from_the_bay_is_fitted_before_one_is_bought() -> None:
    spare = Pack(tag="B900", pack_type=PACK.code, bought_on=parts.ago(30), cycles=0)
    shelf = dataclasses.replace(library(), spare_packs={"B900": spare})
    supply = first(one_pack_giant(), shelf)
    assert [line.from_stock for line in supply.lines if line.action is PlanAction.FIT_PACK] == ["B900"]
    assert supply.price == BOARD.price + SWITCH.price  # type: ignore[operator]


@all_cases(
    "aircraft, asked, is_offered",
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
    aircraft: Aircraft, asked: bool | None, is_offered: bool
) -> None:
    own = dataclasses.replace(ex.NICKEL_4, code="P-nickel", mass_g=110.0, price=20.0)
    assert bool(offered(aircraft, library(PACK, own), asked)[0]) is is_offered


def test_a_lacking_board_is_told_and_nothing_offered() -> None:
    for board in (None, dataclasses.replace(BOARD, isolated=False), dataclasses.replace(BOARD, inputs=1)):
        supplies, refused = offered(one_pack_giant(), library(board=board))
        assert not supplies
        whys = [str(refusal.why) for refusal in refused if str(refusal.what) == "second pack"]
        assert whys == ["the library has no board with two isolated inputs whose price is known"]


def test_a_pack_that_stays_is_joined_only_by_one_of_its_chemistry_and_cells() -> None:
    aircraft, shelf = one_pack_giant(), library(PACK, OTHER)
    kinds = [
        tuple(path.packs[0].pack_type for path in fitted(aircraft, supply, shelf).radio_paths)
        for supply in offered(aircraft, shelf)[0]
    ]
    assert all((a.chemistry, a.series) == (b.chemistry, b.series) for a, b in kinds)
    assert {b.code for _, b in kinds} == {PACK.code, OTHER.code}


def test_a_board_with_an_input_left_takes_the_second_pack() -> None:
    board = with_path(one_pack_giant(), **{**ex.regulated(6.0), "regulator_type": BOARD})
    supply = first(board, library())
    assert all(line.action is not PlanAction.FIT_REGULATOR for line in supply.lines)
    after = fitted(board, supply, library())
    assert {path.feed.regulator for path in after.radio_paths} == {"REG"}
    assert all(path.feed.isolated for path in after.radio_paths)


def test_the_lines_read_as_a_keeper_would_say_them() -> None:
    aircraft = one_pack_giant()
    path = aircraft.paths[0].feed.code
    further = f"{path[:-1]}B" if path.endswith("A") else f"{path}-2"
    assert list(map(str, change_words(first(aircraft, library()).lines, aircraft))) == [
        f"{further}: second pack P-like",
        "BOARD: board Two-in, isolates the packs from each other",
        f"{further}: switch SW-new",
    ]
