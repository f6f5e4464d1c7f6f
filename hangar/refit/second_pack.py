"""A second pack for the radio, isolated from the first: one plug or one cell then decides no flight alone."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence

from hangar.base.text import text
from hangar.parts import Aircraft, Library, PackType, PlanLine, PowerPath
from hangar.parts.choices import FeedRole, PlanAction
from hangar.refit.bay import Bay
from hangar.refit.new_places import board_place, further_path
from hangar.refit.refusal import Refusal
from hangar.refit.request import RefitRequest
from hangar.refit.supply_changes import PLAN, Draft, outputs
from hangar.rules.case import Case
from hangar.rules.catalogue.pack_joining import single_pack_giant
from hangar.survey import survey

Step = tuple[PlanAction, str, str, float | None, str | None, float, float]
"""Action, place, type, volts set, spare, price and mass of one line."""


def wants_second_pack(aircraft: Aircraft, limits: RefitRequest) -> bool:
    """Whether one receiver pack alone feeds the radio, and the rules or the keeper want a second one."""
    paths = aircraft.radio_paths
    is_single = len(paths) == 1 and paths[0].feed.role is FeedRole.RECEIVER and len(paths[0].packs) == 1
    if not is_single or limits.second_pack is False:
        return False
    if limits.second_pack:
        return True
    case = Case(aircraft, survey(aircraft, limits.conditions), limits.thresholds)
    return any(True for _ in single_pack_giant(case))


def second_pack_drafts(
    aircraft: Aircraft, library: Library, bay: Bay, limits: RefitRequest, refused: list[Refusal]
) -> Iterator[Draft]:
    """Every way to give the radio a second pack of the first one's chemistry and cells, on a board.

    The first pack stays or both become one type; the second gets a switch where the first has one.

    Args:
        aircraft: with one receiver path and one pack.
        library: types and prices.
        bay: spare packs.
        limits: volts that a board may be set to.
        refused: gets what the library lacks for it.
    """
    path = aircraft.radio_paths[0]
    further = further_path(aircraft)
    packs = list(_packs(path, further, library, bay))
    boards = list(_boards(aircraft, path, library, limits))
    switches = list(_switches(path, further, library))
    for choices, lack in (
        (boards, text("the library has no board with two isolated inputs whose price is known")),
        (packs, text("the library has no pack of the first one's chemistry and cells whose price is known")),
        (switches, text("the library has no switch whose price is known")),
    ):
        if not choices:
            refused.append(Refusal(text("second pack"), lack, "price"))
    for pack, board, switch in itertools.product(packs, boards, switches):
        steps = (*pack, *board, *switch)
        yield Draft(
            tuple(
                PlanLine(plan=PLAN, number=1, action=action, place=place, part_type=kind, from_stock=spare,
                         set_v=set_v, price=round(price, 2))
                for action, place, kind, set_v, spare, price, _ in steps
            ),
            sum(step[-2] for step in steps),
            sum(step[-1] for step in steps),
            second=True,
        )  # fmt: skip


def _packs(path: PowerPath, further: str, library: Library, bay: Bay) -> Iterator[Sequence[Step]]:
    own = path.packs[0].pack_type
    for code, kind in sorted(library.pack_types.items()):
        tags = bay.pack_tags.get(code, ())
        if kind.mass_g is None:
            continue
        if (kind.chemistry, kind.series) == (own.chemistry, own.series):
            yield from _bought([(further, kind.mass_g)], kind, tags)
        if code != own.code:
            changed = (path.feed.code, kind.mass_g - (own.mass_g or 0.0))
            yield from _bought([changed, (further, kind.mass_g)], kind, tags)


def _bought(
    places: Sequence[tuple[str, float]], kind: PackType, tags: Sequence[str]
) -> Iterator[Sequence[Step]]:
    """Packs of one type, those of the bay first; nothing where one has to be bought without a price."""
    if kind.price is None and len(tags) < len(places):
        return
    spares = [*tags[: len(places)], *[None] * (len(places) - len(tags))]
    yield [
        (PlanAction.FIT_PACK, place, kind.code, None, spare, 0.0 if spare else kind.price or 0.0, mass)
        for (place, mass), spare in zip(places, spares, strict=True)
    ]


def _boards(
    aircraft: Aircraft, path: PowerPath, library: Library, limits: RefitRequest
) -> Iterator[Sequence[Step]]:
    """The board that is there, where it has an input left, then every one that could be bought."""
    own = path.regulator_type
    if own is not None and own.inputs > 1 and own.isolated and path.regulator is not None:
        yield []
    place = board_place(aircraft)
    old_g = own.mass_g or 0.0 if own is not None else 0.0
    for code, kind in sorted(library.regulator_types.items()):
        if kind.inputs < 2 or not kind.isolated or kind.price is None or kind.mass_g is None:
            continue
        if own is not None and own.code == code:
            continue
        for set_v in outputs(kind, limits):
            yield [(PlanAction.FIT_REGULATOR, place, code, set_v, None, kind.price, kind.mass_g - old_g)]


def _switches(path: PowerPath, further: str, library: Library) -> Iterator[Sequence[Step]]:
    own = path.switch_type
    if own is None and path.feed.switch is None:
        yield []
        return
    for code, kind in sorted(library.switch_types.items()):
        if kind.price is None or kind.mass_g is None:
            continue
        second = (PlanAction.FIT_SWITCH, further, code, None, None, kind.price, kind.mass_g)
        yield [second]
        if own is None or own.code != code:
            old_g = own.mass_g or 0.0 if own is not None else 0.0
            first = (
                PlanAction.FIT_SWITCH, path.feed.code, code, None, None, kind.price, kind.mass_g - old_g,
            )  # fmt: skip
            yield [first, second]
