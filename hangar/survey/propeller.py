"""A propeller by its trade size, and the wash it puts on a surface behind it at a flying speed."""

from __future__ import annotations

import re

from hangar.base.values import value_class
from hangar.physics.slipstream import flying_share, pitch_speed_m_s, wash_pa

_INCH_M = 0.0254
_USUAL_PITCH = 0.5
"""Pitch over diameter where the size does not tell it: common practice, no source."""
_NUMBER = r"(\d+(?:[.,]\d+)?)\s*"
_BOTH = re.compile(rf"\s*{_NUMBER}(?:in\b|\"|″)?\s*[x×*/]\s*{_NUMBER}", re.IGNORECASE)
_ALONE = re.compile(rf"\s*{_NUMBER}(?:[x×*/]|in|\"|″)", re.IGNORECASE)


@value_class
class Propeller:
    """Diameter and pitch; ``pitch_told`` is False where the usual pitch for the diameter stands in."""

    diameter_m: float
    pitch_m: float
    pitch_told: bool = True

    @classmethod
    def of_size(cls, size: str | None) -> Propeller | None:
        """A propeller from its trade size in inches, diameter first; None where it tells no diameter.

        >>> found = Propeller.of_size("20x8 wood")
        >>> found and (round(found.diameter_m, 3), round(found.pitch_m, 3))
        (0.508, 0.203)
        """
        match = _BOTH.match(size or "") or _ALONE.match(size or "")
        if match is None:
            return None
        diameter, *rest = (float(group.replace(",", ".")) for group in match.groups())
        if not 2.0 <= diameter <= 40.0:
            return None
        pitch = rest[0] if rest else 0.0
        is_usual = 0.2 * diameter <= pitch <= 2.0 * diameter
        return cls(diameter * _INCH_M, (pitch if is_usual else _USUAL_PITCH * diameter) * _INCH_M, is_usual)


@value_class
class Wash:
    """What a propeller adds to the air on one surface: all of it standing, less the faster it flies."""

    static_pa: float = 0.0
    pitch_speed_m_s: float = 0.0

    @classmethod
    def of(
        cls, propeller: Propeller, static_thrust_n: float, density_kg_m3: float, washed_share: float
    ) -> Wash:
        """The wash of a propeller of a static thrust on the washed share of a surface."""
        speed = pitch_speed_m_s(static_thrust_n, propeller.diameter_m, propeller.pitch_m, density_kg_m3)
        return cls(wash_pa(static_thrust_n, propeller.diameter_m, washed_share), speed)

    def at_pa(self, speed_m_s: float) -> float:
        """Dynamic pressure it adds at a flying speed."""
        return self.static_pa * flying_share(speed_m_s, self.pitch_speed_m_s)
