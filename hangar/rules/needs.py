"""What a part would have to have: made by the rules that name one as cure, and told in words."""

from __future__ import annotations

from hangar.base.text import Amount, Arg, Text, listed, text
from hangar.parts import ServoFit
from hangar.rules.case import Case
from hangar.rules.cures import Need, Wants
from hangar.rules.flag import Flag, own_need
from hangar.rules.registry import Rule


def servo_need(case: Case, fit: ServoFit, quantity: str, value: float, unit: str, *, at: float | None = None,
               at_most: bool = False) -> Need:  # fmt: skip
    """A servo for a position: what it must give or bear there, and the room it has.

    Args:
        case: the aircraft, for the room its class wants round a servo.
        fit: the position.
        quantity: ``torque``, ``highest volts``, ``lowest volts`` or ``dead band``.
        value: the least, or the most where ``at_most``, in ``unit``.
        unit: stored unit of the value.
        at: bus volts at which it is needed.
        at_most: whether ``value`` is the most.
    """
    return Need(
        part="servo", quantity=quantity, value=value, unit=unit, at=at, at_unit="" if at is None else "V",
        within=_within(case, fit), at_most=at_most,
    )  # fmt: skip


def _within(case: Case, fit: ServoFit) -> tuple[tuple[str, float, str], ...]:
    """The room that a servo bay has for a servo."""
    position, room = fit.position, case.limit("bay-clearance")
    sides = (
        ("length", position.bay_length_mm),
        ("width", position.bay_width_mm),
        ("height", position.bay_height_mm),
    )
    return tuple((name, round(size - room, 1), "mm") for name, size in sides if size is not None)


def need_of(case: Case, rule: Rule, flag: Flag) -> Need | None:
    """What a part would need to cure a flag: as the flag says, else as its rule declares."""
    need = own_need(flag)
    if need is not None:
        return need
    return next((need for wants in rule.wants if (need := _declared(case, flag, wants)) is not None), None)


def _declared(case: Case, flag: Flag, wants: Wants) -> Need | None:
    fit = next((fit for code in flag.about if (fit := case.aircraft.fit(code)) is not None), None)
    within = _within(case, fit) if wants.part == "servo" and fit is not None else ()
    if isinstance(wants.words, Text):
        return Need(part=wants.part, words=wants.words, within=within)
    figure = _figure(case, flag, wants)
    if figure is None:
        return None
    value, unit = figure
    return Need(
        part=wants.part, quantity=wants.quantity, value=value, unit=unit, at_most=wants.at_most,
        within=within, words=wants.words(Amount(value, unit)),
    )  # fmt: skip


def _figure(case: Case, flag: Flag, wants: Wants) -> tuple[float, str] | None:
    if not isinstance(wants.of, str):
        value = wants.of(case, flag)
        return None if value is None else (value, wants.unit)
    known = [
        (float(figure.expected), figure.unit)
        for figure in flag.figures
        if figure.name.key.startswith(wants.of)
    ]
    return (min if wants.at_most else max)(known, default=None)


def need_words(need: Need) -> Text:
    """The need as a keeper would ask for it in a shop.

    >>> str(need_words(Need(part="servo", quantity="torque", value=3.58, unit="N m", at=6.58, at_unit="V",
    ...                     within=(("width", 22.0, "mm"),))))
    'a servo of at least 3.58 N·m at 6.58 V, at most 22 mm wide'
    """
    if need.words:
        return _with_room(need, need.words)
    amount = Amount(need.value or 0.0, need.unit)
    arguments: dict[str, Arg] = {"part": text(need.part), "amount": amount, "quantity": _quantity(need)}
    if need.quantity == "torque":
        wanted = text("{part} of at least {amount}", part=_a(need), amount=amount)
    elif need.at_most:
        wanted = text("{part} with {quantity} of at most {amount}", **{**arguments, "part": _a(need)})
    else:
        wanted = text("{part} with {quantity} of at least {amount}", **{**arguments, "part": _a(need)})
    if need.at is not None:
        wanted = text("{wanted} at {volts}", wanted=wanted, volts=Amount(need.at, need.at_unit))
    return _with_room(need, wanted)


def _with_room(need: Need, wanted: Text) -> Text:
    """What is wanted with the room there is for it."""
    sides: list[Arg] = [
        text("at most {size} {side}", size=Amount(value, unit), side=_SIDES[name])
        for name, value, unit in need.within
    ]
    if not sides:
        return wanted
    return text("{wanted}, {sides}", wanted=wanted, sides=listed(sides, joint=",", most=0))


def _a(need: Need) -> Text:
    return _PARTS.get(need.part, text("a part"))


def _quantity(need: Need) -> Text:
    return _QUANTITIES.get(need.quantity, text("what is wanted"))


_PARTS = {
    "servo": text("a servo"),
    "arm": text("an arm"),
    "pack": text("a pack"),
    "regulator": text("a regulator"),
    "switch": text("a switch"),
    "receiver": text("a receiver"),
    "lead": text("a lead"),
}
_QUANTITIES = {
    "torque": text("a stall torque"),
    "highest volts": text("highest volts"),
    "lowest volts": text("lowest volts"),
    "continuous current": text("a continuous current"),
    "burst current": text("a burst current"),
    "capacity": text("a capacity"),
    "dead band": text("a dead band"),
    "bus current": text("a bus current"),
    "set volts": text("set volts"),
}
_SIDES = {"length": text("long"), "width": text("wide"), "height": text("high")}
