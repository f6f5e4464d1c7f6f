"""A plan's lines in words, as a keeper would say them."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from hangar.base.text import Amount, Text, text
from hangar.parts import Aircraft, PlanLine
from hangar.parts.choices import PackJoin, PlanAction, RodWork


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
    return [text("{place}: {done}", place=", ".join(place), done=done) for done, place in places.items()]


def _done_words(line: PlanLine, aircraft: Aircraft | None) -> Text:
    known = None if aircraft is None else {path.feed.code for path in aircraft.paths}
    is_new = known is not None and line.place not in known
    done = _PART_WORDS[line.action](line, is_new)
    stays = aircraft is not None and line.from_aircraft == aircraft.code
    if line.action is PlanAction.FIT_PACK and line.from_stock and stays:
        return text("{done} ({tag} stays)", done=done, tag=line.from_stock)
    if line.from_stock and line.from_aircraft:
        return text("{done} ({tag} off {aircraft})", done=done, tag=line.from_stock,
                    aircraft=line.from_aircraft)  # fmt: skip
    if line.from_aircraft and not stays:
        return text("{done} (off {aircraft})", done=done, aircraft=line.from_aircraft)
    if line.from_stock:
        return text("{done} ({tag} from Stores)", done=done, tag=line.from_stock)
    if line.action is PlanAction.FIT_SERVO and line.price == 0.0:
        return text("{done} (from Stores)", done=done)
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
    if line.part_type and line.arm_mm:
        return text("arm {type} at {length}", type=line.part_type, length=Amount(line.arm_mm, "mm"))
    return text("arm {type}", type=line.part_type or text("for the new spline"))


def _join_words(line: PlanLine, _is_new: bool) -> Text:
    if line.join is PackJoin.SERIES:
        return text("one more pack {type}, in series", type=line.part_type)
    return text("one more pack {type}, on a plain Y", type=line.part_type)


def _fixing_words(_line: PlanLine, _is_new: bool) -> Text:
    return text("screws and grommets complete, arm screw locked")


def _horn_words(line: PlanLine, _is_new: bool) -> Text:
    return text("rod into the horn hole at {length}", length=Amount(line.horn_mm or 0.0, "mm"))


def rod_words(line: PlanLine, _is_new: bool = False) -> Text:
    """What is done to the rod or cable of a linkage."""
    if line.rod is not RodWork.NEW_ROD:
        return text("{rod}", rod=line.rod or text("rod"))
    if line.rod_bore_mm:
        return text(
            "new rod: {material} tube {diameter}, bore {bore}",
            material=line.rod_material,
            diameter=Amount(line.rod_diameter_mm or 0.0, "mm"),
            bore=Amount(line.rod_bore_mm, "mm"),
        )
    return text(
        "new rod: {material} {diameter}",
        material=line.rod_material,
        diameter=Amount(line.rod_diameter_mm or 0.0, "mm"),
    )


def _care_words(line: PlanLine, _is_new: bool) -> Text:
    return text("lead: {care}", care=line.care or text("protect"))


def _pulse_words(line: PlanLine, _is_new: bool) -> Text:
    return text("output set to pulses of {pulse}", pulse=Amount(line.pulse_us or 0.0, "us"))


def _rate_words(line: PlanLine, _is_new: bool) -> Text:
    return text("output set to {rate}", rate=Amount(line.rate_hz or 0.0, "Hz"))


_PART_WORDS: dict[PlanAction, Callable[[PlanLine, bool], Text]] = {
    PlanAction.FIT_SERVO: lambda line, _: text("servo {type}", type=line.part_type),
    PlanAction.FIT_PACK: _pack_words,
    PlanAction.FIT_REGULATOR: lambda line, is_new: regulator_words(line, isolates=is_new),
    PlanAction.SET_REGULATOR: lambda line, _: regulator_words(line),
    PlanAction.FIT_SWITCH: lambda line, _: text("switch {type}", type=line.part_type),
    PlanAction.CHANGE_LEAD: lambda line, _: text("lead {awg} AWG", awg=line.awg),
    PlanAction.CHANGE_ARM: _arm_words,
    PlanAction.JOIN_PACKS: _join_words,
    PlanAction.FIT_RECEIVER: lambda line, _: text("receiver {type}", type=line.part_type),
    PlanAction.FIT_FIXINGS: _fixing_words,
    PlanAction.SET_HORN: _horn_words,
    PlanAction.CHANGE_ROD: rod_words,
    PlanAction.PROTECT_LEAD: _care_words,
    PlanAction.SET_PULSE: _pulse_words,
    PlanAction.SET_RATE: _rate_words,
}
