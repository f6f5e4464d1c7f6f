"""A plan's lines in words, as a keeper would say them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from hangar.base.text import Amount, Text, text
from hangar.parts import Aircraft, PlanLine
from hangar.parts.choices import PlanAction


def line_words(line: PlanLine, aircraft: Aircraft | None = None) -> Text:
    """A plan line as a keeper would say it.

    Args:
        line: what is done.
        aircraft: as it is, to tell a second pack, and the board between two packs, from what is replaced.
    """
    return text("{place}: {done}", place=line.place, done=_done_words(line, aircraft))


def change_words(lines: Sequence[PlanLine], aircraft: Aircraft | None = None) -> list[Text]:
    """The lines of a plan in words, places that get the same in one.

    >>> from hangar.parts.choices import PlanAction
    >>> leads = [
    ...     PlanLine(plan="P", number=number, action=PlanAction.CHANGE_LEAD, place=place, awg=22)
    ...     for number, place in enumerate(("AIL-L", "AIL-R"), 1)
    ... ]
    >>> [str(words) for words in change_words(leads)]
    ['AIL-L, AIL-R: lead 22 AWG']
    """
    places: dict[Text, list[str]] = {}
    for line in lines:
        places.setdefault(_done_words(line, aircraft), []).append(line.place or "-")
    return [text("{place}: {done}", place=", ".join(each), done=done) for done, each in places.items()]


def _done_words(line: PlanLine, aircraft: Aircraft | None) -> Text:
    known = None if aircraft is None else {path.feed.code for path in aircraft.paths}
    is_new = known is not None and line.place not in known
    done = _PART_WORDS[line.action](line, is_new)
    if line.from_stock:
        return text("{done} ({tag} from the Parts Bay)", done=done, tag=line.from_stock)
    if line.action is PlanAction.FIT_SERVO and line.price == 0.0:
        return text("{done} (from the Parts Bay)", done=done)
    return done


def regulator_words(line: PlanLine, *, isolates: bool = False) -> Text:
    """A board or regulator that is fitted or set, with its volts.

    Args:
        line: fits or sets it.
        isolates: whether it stands between two packs.
    """
    volts = Amount(line.set_v, "V") if line.set_v else None
    if line.action is PlanAction.SET_REGULATOR:
        return text("regulator set to {volts}", volts=volts) if volts else text("regulator")
    if isolates and volts:
        return text(
            "board {type} set to {volts}, isolates the packs from each other",
            type=line.part_type,
            volts=volts,
        )
    if isolates:
        return text("board {type}, isolates the packs from each other", type=line.part_type)
    if volts:
        return text("regulator {type} set to {volts}", type=line.part_type, volts=volts)
    return text("board {type}", type=line.part_type)


def _pack_words(line: PlanLine, is_new: bool) -> Text:
    if is_new:
        return text("second pack {type}", type=line.part_type)
    return text("pack {type}", type=line.part_type)


def _arm_words(line: PlanLine, _is_new: bool) -> Text:
    return text("arm {type}", type=line.part_type or text("for the new spline"))


_PART_WORDS: dict[PlanAction, Callable[[PlanLine, bool], Text]] = {
    PlanAction.FIT_SERVO: lambda line, _: text("servo {type}", type=line.part_type),
    PlanAction.FIT_PACK: _pack_words,
    PlanAction.FIT_REGULATOR: lambda line, is_new: regulator_words(line, isolates=is_new),
    PlanAction.SET_REGULATOR: lambda line, _: regulator_words(line),
    PlanAction.FIT_SWITCH: lambda line, _: text("switch {type}", type=line.part_type),
    PlanAction.CHANGE_LEAD: lambda line, _: text("lead {awg} AWG", awg=line.awg),
    PlanAction.CHANGE_ARM: _arm_words,
}
