"""Which servos, leads and supplies to change: fronts, stages, one budget for the fleet, and why."""

from __future__ import annotations

from hangar.refit.as_json import front_as_json
from hangar.refit.front import Front, Point
from hangar.refit.limits import Limits
from hangar.refit.planning import plan
from hangar.refit.refusal import Refusal

__all__ = ["Front", "Limits", "Point", "Refusal", "front_as_json", "plan"]
