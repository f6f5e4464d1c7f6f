"""How much risk an aircraft carries: a stated measure that the keeper may change."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from hangar.parts.choices import Criticality
from hangar.refit.prove import flat
from hangar.rules.finding import Finding, Level


@dataclass(frozen=True)
class RiskMeasure:
    """Points for every open finding: by its level, times what hangs on it. Common practice, no source.

    Attributes:
        by_level: points of one finding.
        by_criticality: factor for what it concerns.
    """

    by_level: Mapping[Level, float] = field(
        default_factory=lambda: {
            Level.WARNING: 100.0,
            Level.CAUTION: 10.0,
            Level.CANT_TELL: 5.0,
            Level.ADVISORY: 1.0,
        }
    )
    by_criticality: Mapping[Criticality, float] = field(
        default_factory=lambda: {Criticality.FLIGHT: 3.0, Criticality.SAFETY: 2.0, Criticality.COMFORT: 1.0}
    )

    def of(self, findings: Iterable[Finding]) -> float:
        """The risk of all open findings together, consequences counted as well."""
        return sum(
            self.by_level.get(finding.level, 0.0) * self.by_criticality.get(finding.criticality, 1.0)
            for finding in flat(findings)
            if finding.is_open
        )

    @property
    def words(self) -> str:
        """The measure in one sentence."""
        levels = ", ".join(f"{level.value} {points:g}" for level, points in self.by_level.items())
        factors = ", ".join(f"{kind.value} x {factor:g}" for kind, factor in self.by_criticality.items())
        return f"Risk is the sum over open findings: {levels}; {factors}. Common practice, no source."
