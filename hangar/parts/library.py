"""The type library and the parts bay: what can be fitted, and what lies there to be fitted."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from hangar.base.errors import BadInput
from hangar.base.text import ItemList, fixed
from hangar.parts.power import Pack, PackType, RegulatorType, SwitchType
from hangar.parts.radio import Receiver
from hangar.parts.servos import Arm, Servo, ServoType
from hangar.parts.workshop import Plan, StockItem

Part = TypeVar("Part")


@dataclass(frozen=True, kw_only=True)
class Library:
    """Types by code, the parts that are fitted nowhere by tag, the untagged stock, and all plans.

    ``receivers`` holds one receiver of each type that flies in some aircraft, as a pattern for another one;
    ``servos_elsewhere`` and ``packs_elsewhere`` what is fitted in all aircraft by tag, of which one may be
    taken off for another place.
    """

    servo_types: Mapping[str, ServoType] = field(default_factory=dict)
    pack_types: Mapping[str, PackType] = field(default_factory=dict)
    regulator_types: Mapping[str, RegulatorType] = field(default_factory=dict)
    switch_types: Mapping[str, SwitchType] = field(default_factory=dict)
    arms: Mapping[str, Arm] = field(default_factory=dict)
    receivers: Mapping[str, Receiver] = field(default_factory=dict)
    spare_servos: Mapping[str, Servo] = field(default_factory=dict)
    spare_packs: Mapping[str, Pack] = field(default_factory=dict)
    servos_elsewhere: Mapping[str, Servo] = field(default_factory=dict)
    packs_elsewhere: Mapping[str, Pack] = field(default_factory=dict)
    stock: tuple[StockItem, ...] = ()
    plans: tuple[Plan, ...] = ()

    def servo_type(self, code: str) -> ServoType:
        """The servo type of that code.

        Raises: BadInput when the library does not hold it.
        """
        return _found(self.servo_types, code, "servo type")

    def pack_type(self, code: str) -> PackType:
        """The pack type of that code.

        Raises: BadInput when the library does not hold it.
        """
        return _found(self.pack_types, code, "pack type")

    def regulator_type(self, code: str) -> RegulatorType:
        """The regulator type of that code.

        Raises: BadInput when the library does not hold it.
        """
        return _found(self.regulator_types, code, "regulator type")

    def switch_type(self, code: str) -> SwitchType:
        """The switch type of that code.

        Raises: BadInput when the library does not hold it.
        """
        return _found(self.switch_types, code, "switch type")

    def receiver(self, code: str) -> Receiver:
        """A receiver of that type, as it is recorded in some aircraft.

        Raises: BadInput when no aircraft has one.
        """
        return _found(self.receivers, code, "receiver type")

    def stocked(self, part_type: str) -> float:
        """How many of a type lie in the bay: tagged spares and untagged stock."""
        tagged = sum(servo.servo_type == part_type for servo in self.spare_servos.values())
        tagged += sum(pack.pack_type == part_type for pack in self.spare_packs.values())
        return tagged + sum(item.on_hand for item in self.stock if item.part_type == part_type)


def _found(shelf: Mapping[str, Part], code: str, noun: str) -> Part:
    if code not in shelf:
        known = ItemList(tuple(sorted(shelf)), ",") if shelf else fixed("none")
        raise BadInput(
            "{code} is no {noun} in the library; there are {known}.",
            code=repr(code),
            noun=fixed(noun),
            known=known,
        )
    return shelf[code]
