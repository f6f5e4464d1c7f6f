"""What a part would have to have: made by the rules that name one as cure, and told in words."""

from __future__ import annotations

from hangar.base.text import NOTHING, Amount, Arg, Text, listed, text
from hangar.parts import ServoFit
from hangar.rules.case import Case
from hangar.rules.cures import Need


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
    position, room = fit.position, case.limit("bay-clearance")
    sides = (
        ("length", position.bay_length_mm),
        ("width", position.bay_width_mm),
        ("height", position.bay_height_mm),
    )
    within = tuple((name, round(size - room, 1), "mm") for name, size in sides if size is not None)
    return Need(
        part="servo", quantity=quantity, value=value, unit=unit, at=at, at_unit="" if at is None else "V",
        within=within, at_most=at_most,
    )  # fmt: skip


def need_words(need: Need) -> Text:
    """The need as a keeper would ask for it in a shop.

    >>> str(need_words(Need(part="servo", quantity="torque", value=3.58, unit="N m", at=6.58, at_unit="V",
    ...                     within=(("width", 22.0, "mm"),))))
    'a servo of at least 3.58 N·m at 6.58 V, at most 22 mm wide'
    """
    amount = Amount(need.value, need.unit)
    arguments: dict[str, Arg] = {"part": text(need.part), "amount": amount, "quantity": _quantity(need)}
    if need.quantity == "torque":
        wanted = text("{part} of at least {amount}", part=_a(need), amount=amount)
    elif need.at_most:
        wanted = text("{part} with {quantity} of at most {amount}", **{**arguments, "part": _a(need)})
    else:
        wanted = text("{part} with {quantity} of at least {amount}", **{**arguments, "part": _a(need)})
    at = NOTHING if need.at is None else text(" at {volts}", volts=Amount(need.at, need.at_unit))
    sides: list[Arg] = [
        text("at most {size} {side}", size=Amount(value, unit), side=_SIDES[name])
        for name, value, unit in need.within
    ]
    if not sides:
        return text("{wanted}{at}", wanted=wanted, at=at)
    return text("{wanted}{at}, {sides}", wanted=wanted, at=at, sides=listed(sides, joint=",", most=0))


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
}
_SIDES = {"length": text("long"), "width": text("wide"), "height": text("high")}
