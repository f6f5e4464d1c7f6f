"""What is done at a servo position: fit, take off, swap, plug, and what is noted of its linkage and lead."""

from __future__ import annotations

from datetime import date
from typing import Any

from hangar.answers.bay import servo_stock
from hangar.base.errors import BadInput
from hangar.base.text import NOTHING, Text, fixed, text
from hangar.parts import Channel, Lead, Linkage, Position, Record, Servo, ServoFit, StockItem
from hangar.parts.choices import ServoState
from hangar.parts.fields import FieldSpec
from hangar.store import Edit


def fit_servo(edit: Edit, fit: ServoFit, tag: str, today: date, why: str = "") -> Text:
    """Fit a servo; the one that is there goes to the bay. A servo from another place moves here.

    Raises: BadInput when there is no servo of that tag, or it is scrapped.
    """
    edit.fit_servo(tag, fit.position.aircraft, fit.code, today, why)
    return text("Fit servo {tag} at {position}", tag=tag, position=fit.code)


def take_off(edit: Edit, fit: ServoFit, today: date, why: str = "", to_bin: str | None = None) -> Text:
    """Take the servo off to the bay, into a bin where one is given.

    Raises: BadInput when there is none.
    """
    tag = fit.tag
    if tag is None:
        raise BadInput("There is no servo at {position} to take off.", position=fit.code)
    edit.unfit_servo(tag, today, ServoState.IN_BAY, why)
    if to_bin:
        edit.change(Servo, (tag,), bin=to_bin)
    return text("Take servo {tag} off {position}", tag=tag, position=fit.code)


def fit_new(edit: Edit, fit: ServoFit, servo_type: str, tag: str, today: date) -> Text:
    """Enter a servo that had no tag yet and fit it; one less of its type is in the bay.

    Raises: BadInput when the tag is empty or in use.
    """
    tag = tag.strip()
    if not tag:
        raise BadInput("The tag is empty; every servo needs a tag of its own.")
    if edit.record(Servo, tag) is not None:
        raise BadInput("Tag {tag} is in use; choose another one.", tag=tag)
    edit.put(Servo(tag=tag, servo_type=servo_type))
    for item in servo_stock(edit.records(StockItem, part_type=servo_type))[:1]:
        edit.change(StockItem, (item.code,), on_hand=item.on_hand - 1)
    edit.fit_servo(tag, fit.position.aircraft, fit.code, today)
    return text("Fit new servo {tag} at {position}", tag=tag, position=fit.code)


def swap(edit: Edit, servo_fit: ServoFit, other: ServoFit, today: date) -> Text:
    """Let the servos of two positions change places.

    Raises: BadInput when one of them is empty.
    """
    if servo_fit.tag is None or other.tag is None:
        empty = servo_fit.code if servo_fit.tag is None else other.code
        raise BadInput("There is no servo at {position}; nothing to swap.", position=empty)
    edit.unfit_servo(other.tag, today, ServoState.IN_BAY)
    edit.fit_servo(servo_fit.tag, other.position.aircraft, other.code, today)
    edit.fit_servo(other.tag, servo_fit.position.aircraft, servo_fit.code, today)
    return text("Swap servos of {one} and {other}", one=servo_fit.code, other=other.code)


def set_channel(edit: Edit, fit: ServoFit, number: int | None) -> Text:
    """Plug a position into another channel; a channel that is not recorded yet is entered."""
    position = fit.position
    if number == position.channel:
        return NOTHING
    if number is not None:
        _enter_channel(edit, position, number)
    edit.change(Position, (position.aircraft, position.code), channel=number)
    shown = fixed("none") if number is None else number
    return text("Plug {position} into channel {number}", position=fit.code, number=shown)


def _enter_channel(edit: Edit, position: Position, number: int) -> None:
    if edit.record(Channel, position.aircraft, position.port, number) is None:
        edit.put(
            Channel(
                aircraft=position.aircraft,
                port=position.port,
                number=number,
                function=position.function,
            )
        )


def set_part_field(edit: Edit, fit: ServoFit, kind: type[Record], spec: FieldSpec, value: Any) -> Text:
    """Change a field of the linkage or lead at a position; a linkage not recorded yet is entered.

    Raises: BadInput when a lead is not recorded and its length is not the field given.
    """
    record: Record | None = fit.linkage if kind is Linkage else fit.lead
    key = (fit.position.aircraft, fit.code)
    if record is not None:
        if getattr(record, spec.name) == value:
            return NOTHING
        edit.change(kind, key, **{spec.name: value})
    elif kind is Lead and spec.name != "length_mm":
        raise BadInput("No lead is recorded at {position}; enter its length first.", position=fit.code)
    else:
        edit.put(kind(aircraft=key[0], position=key[1], **{spec.name: value}))  # type: ignore[call-arg]
    return text("Change {field} at {position}", field=fixed(spec.label), position=fit.code)


def place_dot(edit: Edit, fit: ServoFit, across: float, along: float) -> Text:
    """Put the position's dot elsewhere on the plan view."""
    edit.change(Position, (fit.position.aircraft, fit.code), plan_x=across, plan_y=along)
    return text("Move {position} on the plan view", position=fit.code)
