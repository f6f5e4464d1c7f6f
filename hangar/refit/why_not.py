"""Why a plan has this servo type and not that one: refused, or what is worse with it."""

from __future__ import annotations

from collections.abc import Iterator

from hangar.base.text import Text, listed, text
from hangar.parts import Aircraft, Library
from hangar.parts.choices import PlanAction
from hangar.refit.choice import Choice, ChoiceList
from hangar.refit.judge import Picks, PlanVerdict, Stop, never
from hangar.refit.planner import search_of
from hangar.refit.refusal import Refusal
from hangar.refit.request import RefitRequest
from hangar.refit.search import Search
from hangar.rules.cures import Cure


def why_not(
    aircraft: Aircraft, library: Library, asking: RefitRequest, picks: Picks, place: str, stop: Stop = never
) -> tuple[Refusal, ...]:
    """Every type of the library that a plan does not take at a place, with the first reason.

    What may not be fitted has the reason for it. Of the others the cheapest way to fit them is judged in
    full in the place of what the plan takes there, all else left alone.

    Args:
        aircraft: as it is.
        library: its servo types.
        asking: as the plan was asked for.
        picks: the plan, as in its answer.
        place: a position.
        stop: asked often; true ends with the types told so far.
    """
    search = search_of(aircraft, library, asking)
    at = next(
        (
            at
            for at, choice_list in enumerate(search.lists)
            if place in choice_list.places and Cure.SERVO in choice_list.kinds
        ),
        None,
    )
    if at is None:
        return ()
    chosen = search.judged(picks or search.as_it_is)
    assert chosen is not None
    offered = tuple(_offered(search, chosen, at, stop))
    return (*offered, *search.lists[at].refused)


def _offered(search: Search, chosen: PlanVerdict, at: int, stop: Stop) -> Iterator[Refusal]:
    own = _type_of(search.lists[at].choices[chosen.picks[at]])
    for code, numbers in _by_type(search.lists[at]).items():
        if stop():
            return
        if code == own:
            continue
        verdicts = [
            judged
            for number in numbers
            if (judged := search.judged((*chosen.picks[:at], number, *chosen.picks[at + 1 :]))) is not None
        ]
        if verdicts:
            best = min(verdicts, key=lambda judged: (*judged.count, search.price(judged.picks)))
            what = text("{place}: {what}", place=search.lists[at].name, what=code)
            yield Refusal(what, _worse_words(search, chosen, best), "findings")


def _by_type(choice_list: ChoiceList) -> dict[str, list[int]]:
    """Of each type the choices without another lead, by their numbers."""
    numbers: dict[str, list[int]] = {}
    for number, choice in enumerate(choice_list.choices):
        code = _type_of(choice)
        if code and all(line.action is not PlanAction.CHANGE_LEAD for line in choice.lines):
            numbers.setdefault(code, []).append(number)
    return numbers


def _type_of(choice: Choice) -> str:
    types = [line.part_type for line in choice.lines if line.action is PlanAction.FIT_SERVO]
    return (types[0] or "") if types else ""


def _worse_words(search: Search, chosen: PlanVerdict, other: PlanVerdict) -> Text:
    """What is open with it and not with the plan, and what it costs more or less."""
    names = [
        other.flags[key][0].rule.title
        for key, level in sorted(other.units.items(), key=lambda unit: (unit[1].rank, str(unit[0])))
        if key not in chosen.units or level.rank < chosen.units[key].rank
    ]
    more = round(search.price(other.picks) - search.price(chosen.picks), 2)
    if names:
        cost = text("{price:g} more", price=more) if more > 0.0 else text("{price:g} less", price=-more)
        return text(
            "with it there is: {names} ({cost})", names=listed(dict.fromkeys(names), joint=",", most=3),
            cost=cost if more else text("for the same money"),
        )  # fmt: skip
    gone = [
        chosen.flags[key][0].rule.title
        for key, level in chosen.units.items()
        if key not in other.units or level.rank < other.units[key].rank
    ]
    if gone:
        return text(
            "it clears {names}, for {price:g} more",
            names=listed(dict.fromkeys(gone), joint=",", most=3), price=more,
        )  # fmt: skip
    if more > 0.0:
        return text("it does no more, for {price:g} more", price=more)
    return text("it does as much, with more work or mass")
