"""The tip of a servo arm or horn while it is dragged to another radius."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from PySide6.QtCore import QPointF

from hangar.answers.linkages import LinkageStudy
from hangar.parts import Linkage
from hangar.parts.fields import columns
from hangar.window.linkages.linkage_drawing import Frame

STEP_MM = 0.5
"""Radii without known holes go by steps of that much."""
RANGES = {
    spec.name: (spec.within.low, spec.within.high)
    for spec in columns(Linkage)
    if spec.name in ("arm_mm", "horn_mm")
}
"""Least and largest radius that a record takes, by its field."""


@dataclass(frozen=True)
class TipDrag:
    """What is held, and where: ``field`` of the linkage, pivot and tip on the widget, radius in mm."""

    field: str
    pivot: QPointF
    tip: QPointF
    radius_mm: float
    before_mm: float
    scale: float
    holes: tuple[float, ...] = ()

    @property
    def is_another(self) -> bool:
        """Whether it was dragged to another radius."""
        return self.radius_mm != self.before_mm

    def moved_to(self, where: QPointF) -> TipDrag:
        """The same with the tip on its line as far out as this point, at a hole where the holes are known."""
        away = where - self.pivot
        wanted = math.hypot(away.x(), away.y()) / self.scale
        radius = nearest_radius(wanted, self.field, self.holes)
        way = self.tip - self.pivot
        length = math.hypot(way.x(), way.y()) or 1.0
        return replace(self, radius_mm=radius, tip=self.pivot + way / length * radius * self.scale)


def nearest_radius(wanted_mm: float, field: str, holes: tuple[float, ...]) -> float:
    """The radius nearest to the one that is wanted: a hole, or a step where no hole is known."""
    if holes:
        return min(holes, key=lambda hole: abs(hole - wanted_mm))
    low, high = RANGES[field]
    within = max(wanted_mm if low is None else max(wanted_mm, low), STEP_MM)
    return round((within if high is None else min(within, high)) / STEP_MM) * STEP_MM


def grip_at(
    where: QPointF,
    frame: Frame,
    study: LinkageStudy,
    travel_deg: float,
    holes: tuple[float, ...],
    reach: float,
) -> TipDrag | None:
    """The tip that lies within ``reach`` pixels of a point, or none."""
    link, there = study.link, study.at(travel_deg)
    if link is None or there is None:
        return None
    hinge = (link.horn_pivot[0], link.horn_pivot[1])
    arm_end = frame.at((there.servo_end_mm[0], there.servo_end_mm[1]))
    horn_end = frame.beyond((there.horn_end_mm[0], there.horn_end_mm[1]))
    grips = (
        TipDrag("arm_mm", frame.at((0.0, 0.0)), arm_end, link.arm_mm, link.arm_mm, frame.scale, holes),
        TipDrag("horn_mm", frame.beyond(hinge), horn_end, link.horn_mm, link.horn_mm, frame.scale),
    )
    near = [grip for grip in grips if _apart(grip.tip, where) <= reach]
    return min(near, key=lambda grip: _apart(grip.tip, where), default=None)


def _apart(one: QPointF, other: QPointF) -> float:
    return math.hypot(one.x() - other.x(), one.y() - other.y())
