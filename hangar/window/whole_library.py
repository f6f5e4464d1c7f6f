"""The type library and the parts bay as the rules and the sheets want them."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hangar.parts import (
    Arm,
    Pack,
    PackFit,
    PackType,
    Plan,
    Record,
    RegulatorType,
    Servo,
    ServoType,
    StockItem,
    SwitchType,
)
from hangar.parts.choices import PackState, ServoState
from hangar.parts.library import Library

Records = Callable[[type[Record]], tuple[Any, ...]]


def read_library(records: Records) -> Library:
    """Everything that can be fitted, and what lies in the bay to be fitted."""
    placed = {fit.pack for fit in records(PackFit) if fit.until_on is None}
    packs = [pack for pack in records(Pack) if pack.tag not in placed and pack.state is PackState.IN_USE]
    spares = [servo for servo in records(Servo) if servo.state is ServoState.IN_BAY]
    return Library(
        servo_types={one.code: one for one in records(ServoType)},
        pack_types={one.code: one for one in records(PackType)},
        regulator_types={one.code: one for one in records(RegulatorType)},
        switch_types={one.code: one for one in records(SwitchType)},
        arms={one.code: one for one in records(Arm)},
        spare_servos={one.tag: one for one in spares},
        spare_packs={one.tag: one for one in packs},
        stock=records(StockItem),
        plans=records(Plan),
    )
