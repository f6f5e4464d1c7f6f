"""An outcome of the search as an answer: each line with what it cures, what it brings, what stays and why."""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterator
from dataclasses import replace

from hangar.base.text import NOTHING, Text, listed, text
from hangar.parts import PlanLine
from hangar.parts.choices import PlanAction
from hangar.refit.answer import Answer, Because, Change, Stay, Unit, Value
from hangar.refit.goal import Goal
from hangar.refit.hours import hours_of_line
from hangar.refit.judge import Key, OpenFlag, Picks, PlanVerdict, Stop
from hangar.refit.nodes import Outcome
from hangar.refit.search import Search
from hangar.rules.case import Case
from hangar.rules.cures import Need
from hangar.rules.finding import Level
from hangar.rules.needs import need_of, need_words
from hangar.survey.model import Scenario, Survey

_MOST_LOOKS, _MOST_NODES = 120, 300
"""Looks and nodes that finding out why one warning stays may take."""


def answer_of(
    search: Search, question: str, goal: Goal, outcome: Outcome, stop: Stop | None = None,
    taken: Collection[str] = (),
) -> Answer:  # fmt: skip
    """The answer to a question, its plan judged in full; the aircraft as it is where no plan is allowed.

    With ``stop`` it is found out why each warning stays, which takes looks; without it that is left open.
    ``taken`` are tags that plans of other aircraft take.
    """
    judged = outcome.judged or search.today
    before = search.judge.looks
    changes = tuple(_changes(search, judged))
    stays = tuple(_stays(search, goal, judged, stop))
    warnings, cautions = judged.count
    today = search.today.count
    own = sum(change.hours for change in changes), sum(change.mass_g for change in changes)
    return Answer(
        question=question,
        aircraft=search.aircraft,
        after=judged.aircraft,
        proved=outcome.proved,
        gap=outcome.gap,
        today=Value(*today),
        left=Value(warnings, cautions, search.price(judged.picks), round(own[0], 2), round(own[1], 1)),
        changes=changes,
        clears=tuple(
            _unit(search, key, level)
            for key, level in _by_level(search.today)
            if _is_worse(level, judged.units.get(key))
        ),
        brings=tuple(
            _unit(search, key, level)
            for key, level in _by_level(judged)
            if _is_worse(level, search.today.units.get(key))
        ),
        stays=stays,
        unknown=tuple(_unknown(judged)),
        weakest_margin=_weakest(judged.seen),
        bus_peak_v=_bus_peak_v(judged.seen),
        findings_after=search.judge.findings(judged),
        refused=search.refused,
        freed=tuple(_freed(search, judged, taken)),
        picks=judged.picks,
        looks=outcome.looks + search.judge.looks - before,
        nodes=outcome.nodes,
        stopped=outcome.stopped,
    )


def elsewhere_of(search: Search, picks: Picks) -> dict[str, tuple[PlanLine, ...]]:
    """What the swaps of a plan do on other aircraft, by their codes."""
    parts = [choice_list.choices[at] for choice_list, at in zip(search.lists, picks, strict=False)]
    there = {code: lines for part in parts for code, lines in part.elsewhere.items()}
    return there | dict(search.supplies[picks[-1]].elsewhere)


def _unit(search: Search, key: Key, level: Level) -> Unit:
    return Unit(key[0], search.judge.places(key), level)


def _by_level(judged: PlanVerdict) -> list[tuple[Key, Level]]:
    return sorted(judged.units.items(), key=lambda unit: (unit[1].rank, str(unit[0])))


def _is_worse(level: Level, other: Level | None) -> bool:
    return other is None or level.rank < other.rank


def _changes(search: Search, judged: PlanVerdict) -> Iterator[Change]:
    """The lines, each with what comes back without the change it belongs to."""
    number = 0
    lines = search.judge.lines(judged.picks)
    further = len(lines) + 1
    for at, choice in enumerate(judged.picks):
        if not choice:
            continue
        last = at == len(search.lists)
        part = search.supplies[choice] if last else search.lists[at].choices[choice]
        own = lines[number : number + len(part.lines)]
        number += len(part.lines)
        cures = _without(search, judged, at)
        pairs = [(code, line) for code, lines in part.elsewhere.items() for line in lines]
        there = {
            replace(line, number=number): code for number, (code, line) in enumerate(pairs, further)
        }  # fmt: skip
        further += len(there)
        for line in (*own, *there):
            yield Change(
                line=line,
                hours=hours_of_line(line, search.asking.thresholds),
                mass_g=part.mass_g / len(own) if line in own else 0.0,
                cures=cures,
                together=tuple(other.number for other in (*own, *there) if other is not line),
                at=there.get(line, ""),
            )


def _without(search: Search, judged: PlanVerdict, at: int) -> tuple[Unit, ...]:
    """The units that are graver when one change of a plan is left out, and what takes a servo it frees."""
    freed = search.lists[at].choices[judged.picks[at]].frees if at < len(search.lists) else frozenset()
    taken_out = [
        at,
        *(
            other
            for other, choice_list in enumerate(search.lists)
            if freed & set(choice_list.choices[judged.picks[other]].spares)
        ),
    ]
    picks: Picks = tuple(0 if other in taken_out else pick for other, pick in enumerate(judged.picks))
    without = search.judged(picks)
    if without is None:
        return ()
    return tuple(
        _unit(search, key, level)
        for key, level in _by_level(without)
        if _is_worse(level, judged.units.get(key))
    )


def _stays(search: Search, goal: Goal, judged: PlanVerdict, stop: Stop | None) -> Iterator[Stay]:
    """Every warning and caution that is left, and why."""
    for key, level in _by_level(judged):
        raised, need = judged.flags[key][0], None
        because, words = _because(search, goal, judged, key, stop)
        if because is Because.NO_PART:
            case = Case(judged.aircraft, judged.seen, search.asking.thresholds)
            need = need_of(case, raised.rule, raised.flag)
            words = _no_part(raised, need)
        yield Stay(unit=_unit(search, key, level), because=because, words=words, need=need)


def _no_part(raised: OpenFlag, need: Need | None) -> Text:
    """What a part would need that nobody offers; where the rule has no figure, what to do instead."""
    if need is not None:
        return text("Nothing to be had clears it: it takes {need}.", need=need_words(need))
    remedy = raised.flag.remedy or raised.rule.remedy
    return text("Nothing to be had clears it. {remedy}", remedy=remedy)


def _because(
    search: Search, goal: Goal, judged: PlanVerdict, key: Key, stop: Stop | None
) -> tuple[Because, Text]:
    raised, level = judged.flags[key][0], judged.units[key]
    if raised.rule.cures == ():
        remedy = raised.flag.remedy or raised.rule.remedy
        return Because.PAPER, text("No part cures it. {remedy}", remedy=remedy)
    locked = [place for place in search.judge.places(key) if place in search.asking.locked]
    if locked:
        return Because.LOCKED, text("{places} is to stay as it is.", places=", ".join(locked))
    if level not in goal.counts or level is not Level.WARNING or stop is None or stop():
        return Because.NOT_ASKED, NOTHING
    free = search.goal(budget=None, counts=goal.counts, no_worse=goal.no_worse, without=frozenset({key}))
    other = search.best(free, stop=stop, most_looks=_MOST_LOOKS, most_nodes=_MOST_NODES)
    if other.judged is not None:
        price = search.price(other.judged.picks)
        if goal.budget is not None and price > goal.budget:
            return Because.DEARER, text("It can be cured for {price:g}.", price=price)
        return Because.BRINGS_WORSE, _instead(search, judged, other.judged)
    harmful = search.best(
        search.goal(budget=None, counts=goal.counts, no_worse=frozenset(), without=frozenset({key})),
        stop=stop, most_looks=_MOST_LOOKS, most_nodes=_MOST_NODES,
    )  # fmt: skip
    if harmful.judged is not None:
        return Because.BRINGS_WORSE, _instead(search, judged, harmful.judged)
    if not harmful.proved:
        return Because.UNKNOWN, text("Not settled within the looks that were allowed.")
    return Because.NO_PART, NOTHING


def _instead(search: Search, judged: PlanVerdict, other: PlanVerdict) -> Text:
    """What a plan that clears a unit costs, and what is graver with it than with this one."""
    names = [
        other.flags[key][0].rule.title
        for key, level in _by_level(other)
        if _is_worse(level, judged.units.get(key))
    ]
    price = search.price(other.picks)
    if not names:
        return text("It can be cured for {price:g}.", price=price)
    return text(
        "It can be cured for {price:g}, but that brings: {names}.",
        price=price, names=listed(dict.fromkeys(names), joint=",", most=3),
    )  # fmt: skip


def _unknown(judged: PlanVerdict) -> list[Text]:
    """What some rule could not tell, each field once."""
    fields = [field for raised in judged.unknown if raised.rule.cures for field in raised.flag.missing]
    return list(dict.fromkeys(fields))


def _weakest(seen: Survey) -> float | None:
    margins = [place.reserve.expected for place in seen.positions.values() if place.reserve is not None]
    return min(margins, default=None)


def _bus_peak_v(seen: Survey) -> float | None:
    peak = seen.scenarios.get(Scenario.PEAK)
    return None if peak is None or peak.bus_v is None else peak.bus_v.expected


def _freed(
    search: Search, judged: PlanVerdict, taken: Collection[str]
) -> Iterator[tuple[str, int, float | None]]:
    """Types that come off and go to the bay, how many, and what they would cost."""
    library, counts = search.judge.library, Counter[str]()
    lines = search.judge.lines(judged.picks)
    moved = {line.from_stock for line in lines if line.from_aircraft is not None}
    there = elsewhere_of(search, judged.picks).values()
    moved |= {line.from_stock for own in there for line in own} | set(taken)
    for line in lines:
        fit = search.aircraft.fit(line.place or "")
        if line.action is PlanAction.FIT_SERVO and fit is not None and fit.servo_type is not None:
            if fit.servo is not None and fit.servo.tag in moved:
                continue
            counts[fit.servo_type.code] += 1
        if line.action is PlanAction.FIT_PACK:
            fed = [
                pack for path in search.aircraft.paths if path.feed.code == line.place for pack in path.packs
            ]
            counts.update(pack.pack_type.code for pack in fed if pack.pack.tag not in moved)
    for code, count in counts.items():
        kind = library.servo_types.get(code) or library.pack_types.get(code)
        price = None if kind is None else kind.price
        yield code, count, None if price is None else round(count * price, 2)
