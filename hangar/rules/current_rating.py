"""Currents against a part's ratings: means against what it carries for long, the peak against its burst."""

from __future__ import annotations

from hangar.base.figure import Figure
from hangar.base.text import Text, text
from hangar.base.values import value_class
from hangar.rules.case import Case
from hangar.rules.finding import Level
from hangar.survey.model import Scenario

BURST_SHARE = 1.5
"""Burst over continuous current of a part whose burst nobody states: common practice, no source."""
FAR_OVER = 2.0
"""Peak over burst current above which a part is in danger at once: common practice, no source."""

_WAYS = (Scenario.CRUISE, Scenario.BRISK, Scenario.PEAK)
ON_AVERAGE, IN_BRISK, AT_PEAK = text("on average"), text("in brisk flying"), text("at peak")


@value_class
class PathCurrents:
    """What flows through the parts of one power path: averaged over a flight, in brisk flying, at peak."""

    mean: Figure | None
    brisk: Figure | None
    peak: Figure | None

    @classmethod
    def of_packs(cls, case: Case, code: str) -> PathCurrents:
        """Currents out of a path's packs, through its plugs and its switch."""
        return cls(*(case.scenario(scenario).path_a.get(code) for scenario in _WAYS))

    @classmethod
    def of_regulator(cls, case: Case, code: str) -> PathCurrents:
        """Currents out of a path's regulator into the bus; those of its packs where none regulates."""
        scenarios = (case.scenario(scenario) for scenario in _WAYS)
        return cls(*(survey.regulator_a.get(code) or survey.path_a.get(code) for survey in scenarios))

    @classmethod
    def on_bus(cls, case: Case) -> PathCurrents:
        """Currents of everything on the bus together."""
        return cls(*(case.scenario(scenario).total_a for scenario in _WAYS))

    @property
    def known(self) -> tuple[Figure, ...]:
        """Those that are known."""
        return tuple(figure for figure in (self.mean, self.brisk, self.peak) if figure is not None)


@value_class
class Overrun:
    """One current that is more than a part may carry."""

    level: Level
    amps: float
    limit: float
    when: Text


def burst_of(continuous_a: float | None, burst_a: float | None) -> float | None:
    """What a part may carry for a moment."""
    if burst_a is not None or continuous_a is None:
        return burst_a
    return BURST_SHARE * continuous_a


def overrun(
    currents: PathCurrents, continuous_a: float | None, burst_a: float | None, share: float = 1.0
) -> Overrun | None:
    """The gravest way in which a part is overrun; None where it is not.

    The mean of a flight above what it may carry for long is a warning, the mean of brisk flying a caution.
    The peak above its burst current is a caution, and a warning where it is far above.

    Args:
        currents: of the part's path.
        continuous_a: what it may carry for long.
        burst_a: what it may carry for a moment; typical where only the other is known.
        share: share of the continuous current that a mean may reach.
    """
    peak, burst = currents.peak, burst_of(continuous_a, burst_a)
    steady = None if continuous_a is None else share * continuous_a
    if steady is not None and currents.mean is not None and currents.mean.expected > steady:
        return Overrun(Level.WARNING, currents.mean.expected, steady, ON_AVERAGE)
    if peak is not None and burst is not None and peak.expected > FAR_OVER * burst:
        return Overrun(Level.WARNING, peak.expected, burst, AT_PEAK)
    if steady is not None and currents.brisk is not None and currents.brisk.expected > steady:
        return Overrun(Level.CAUTION, currents.brisk.expected, steady, IN_BRISK)
    if peak is not None and burst is not None and peak.expected > burst:
        return Overrun(Level.CAUTION, peak.expected, burst, AT_PEAK)
    return None
