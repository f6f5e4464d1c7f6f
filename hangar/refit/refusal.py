"""A choice that is not possible, with the first hard rule it breaks."""

from __future__ import annotations

from dataclasses import dataclass

from hangar.base.text import Text, text

LACKING = {
    "rating": text("its rating is not known"),
    "mass": text("its mass is not known"),
    "highest volts": text("its highest volts is not known"),
    "price": text("its price is not known"),
}
"""Why nothing can be chosen of which something is not known, by what that is."""


@dataclass(frozen=True)
class Refusal:
    """What was refused and why.

    Attributes:
        what: the choice: ``AIL-L, AIL-R: TS-31`` or a supply.
        why: the rule it breaks with its numbers, one clause.
        rule: the rule's short name: ``size``, ``spline``, ``pulse``, ``frame-rate``, ``duty``,
            ``over-volts``, ``speed``, ``torque``, ``volts``, ``lead`` or what is not known.
    """

    what: Text
    why: Text
    rule: str
