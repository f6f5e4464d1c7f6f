"""What can be done at a servo position; every step is one undoable edit."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from hangar.base.errors import BadInput
from hangar.parts import Channel, Lead, Linkage, Position, Record, Servo, ServoFit, StockItem
from hangar.parts.choices import ServoState, StockKind
from hangar.parts.fields import FieldSpec
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import say

if TYPE_CHECKING:
    from hangar.store import Edit


def spare_servos(desk: Desk) -> tuple[Servo, ...]:
    """Servos that lie in the bay and may be fitted, by tag."""
    fit_for_use = (ServoState.IN_BAY, ServoState.RESERVED)
    servos: Iterable[Servo] = desk.records(Servo)
    return tuple(sorted((one for one in servos if one.state in fit_for_use), key=lambda one: one.tag))


def fit_tag(desk: Desk, fit: ServoFit, tag: str, why: str = "") -> None:
    """Fit a servo; the one that is there goes to the bay. A servo from another place moves here."""
    aircraft, position = fit.position.aircraft, fit.code
    label = say("Fit servo {tag} at {position}", tag=tag, position=position)
    desk.change(label, lambda edit: edit.fit_servo(tag, aircraft, position, desk.today, why))


def take_off(desk: Desk, fit: ServoFit, why: str = "") -> None:
    """Take the servo off to the bay.

    Raises: BadInput when there is none.
    """
    tag = fit.tag
    if tag is None:
        raise BadInput(say("There is no servo at {position} to take off.", position=fit.code))
    label = say("Take servo {tag} off {position}", tag=tag, position=fit.code)
    desk.change(label, lambda edit: edit.unfit_servo(tag, desk.today, ServoState.IN_BAY, why))


def stocked_types(desk: Desk) -> dict[str, float]:
    """Servo types that lie in the bay without a tag of their own, with how many there are."""
    counts: dict[str, float] = {}
    for item in _servo_stock(desk.records(StockItem)):
        counts[str(item.part_type)] = counts.get(str(item.part_type), 0) + item.on_hand
    return counts


def _servo_stock(items: Iterable[StockItem]) -> list[StockItem]:
    return [one for one in items if one.kind is StockKind.SERVO and one.part_type and one.on_hand >= 1]


def fit_new(desk: Desk, fit: ServoFit, servo_type: str, tag: str) -> None:
    """Enter a servo that had no tag yet and fit it, in one step; one less of its type is in the bay.

    Raises: BadInput when the tag is empty or in use.
    """
    tag = tag.strip()
    if not tag:
        raise BadInput(say("The tag is empty; every servo needs a tag of its own."))
    if desk.records(Servo, tag=tag):
        raise BadInput(say("Tag {tag} is in use; choose another one.", tag=tag))

    def work(edit: Edit) -> None:
        edit.put(Servo(tag=tag, servo_type=servo_type))
        for item in _servo_stock(edit.records(StockItem, part_type=servo_type))[:1]:
            edit.change(StockItem, (item.code,), on_hand=item.on_hand - 1)
        edit.fit_servo(tag, fit.position.aircraft, fit.code, desk.today, "")

    label = say("Fit new servo {tag} at {position}", tag=tag, position=fit.code)
    desk.change(label, work)


def swap(desk: Desk, one: ServoFit, other: ServoFit) -> None:
    """Let the servos of two positions change places.

    Raises: BadInput when one of them is empty.
    """
    if one.tag is None or other.tag is None:
        empty = one.code if one.tag is None else other.code
        raise BadInput(say("There is no servo at {position}; nothing to swap.", position=empty))
    first, second = one.tag, other.tag

    def work(edit: Edit) -> None:
        why = say("swapped")
        edit.unfit_servo(second, desk.today, ServoState.IN_BAY, why)
        edit.fit_servo(first, other.position.aircraft, other.code, desk.today, why)
        edit.fit_servo(second, one.position.aircraft, one.code, desk.today, why)

    desk.change(say("Swap servos of {one} and {other}", one=one.code, other=other.code), work)


def set_channel(desk: Desk, fit: ServoFit, number: int | None) -> None:
    """Plug a position into another channel; a channel that is not recorded yet is entered."""
    position = fit.position
    if number == position.channel:
        return
    key = (position.aircraft, position.code)

    def work(edit: Edit) -> None:
        if number is not None:
            _enter_channel(edit, position, number)
        edit.change(Position, key, channel=number)

    shown = say("none") if number is None else number
    desk.change(say("Plug {position} into channel {number}", position=fit.code, number=shown), work)


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


def set_part_field(desk: Desk, fit: ServoFit, kind: type[Record], spec: FieldSpec, value: Any) -> None:
    """Change a field of the linkage or lead at a position; a linkage not recorded yet is entered.

    Raises: BadInput when a lead is not recorded and its length is not the field given.
    """
    record: Record | None = fit.linkage if kind is Linkage else fit.lead
    key = (fit.position.aircraft, fit.code)
    label = say("Change {field} at {position}", field=spec.label, position=fit.code)
    if record is not None:
        if getattr(record, spec.name) != value:
            desk.change(label, lambda edit: edit.change(kind, key, **{spec.name: value}))
        return
    if kind is Lead and spec.name != "length_mm":
        raise BadInput(say("No lead is recorded at {position}; enter its length first.", position=fit.code))
    made = kind(aircraft=key[0], position=key[1], **{spec.name: value})  # type: ignore[call-arg]
    desk.change(label, lambda edit: edit.put(made))


def place_dot(desk: Desk, fit: ServoFit, across: float, along: float) -> None:
    """Put the position's dot elsewhere on the plan view."""
    key = (fit.position.aircraft, fit.code)
    label = say("Move {position} on the plan view", position=fit.code)
    desk.change(label, lambda edit: edit.change(Position, key, plan_x=across, plan_y=along))


def next_tag(desk: Desk) -> str:
    """A servo tag that is free: the highest numbered one, counted on."""
    return counted_on([one.tag for one in desk.records(Servo)], "S-001")


def counted_on(tags: Iterable[str], first: str) -> str:
    """The highest numbered tag counted on; the first one where none has a number.

    >>> counted_on(["B-09", "spare"], "B-01")
    'B-10'
    """
    numbered = [(tag.rstrip("0123456789"), tag) for tag in tags if tag and tag[-1].isdigit()]
    if not numbered:
        return first
    stem, tag = max(numbered, key=lambda pair: int(pair[1][len(pair[0]) :]))
    digits = tag[len(stem) :]
    return f"{stem}{int(digits) + 1:0{len(digits)}d}"
