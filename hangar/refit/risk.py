"""How much risk an aircraft carries: a stated measure that the keeper may change."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from hangar.base.errors import BadInput
from hangar.base.text import Listed, Text, listed, text
from hangar.parts import Setting
from hangar.parts.choices import Criticality
from hangar.rules.finding import Finding, Level

SETTING_PREFIX = "risk."
MOST_POINTS, MOST_FACTOR = 100_000.0, 1000.0
_POINTS = {Level.WARNING: 100.0, Level.CAUTION: 10.0, Level.CANT_TELL: 5.0, Level.ADVISORY: 1.0}
_FACTORS = {Criticality.FLIGHT: 3.0, Criticality.SAFETY: 2.0, Criticality.COMFORT: 1.0}


@dataclass(frozen=True)
class RiskMeasure:
    """Points for every open finding: by its level, times what hangs on it. Common practice, no source.

    Attributes:
        by_level: points of one finding, 0 to 100000.
        by_criticality: factor for what it concerns, 0 to 1000.
    """

    by_level: Mapping[Level, float] = field(default_factory=lambda: dict(_POINTS))
    by_criticality: Mapping[Criticality, float] = field(default_factory=lambda: dict(_FACTORS))

    @classmethod
    def from_settings(cls, settings: Iterable[Setting]) -> RiskMeasure:
        """The measure with the keeper's own points and factors; other settings are passed over.

        Raises:
            BadInput: a setting names no level and nothing that hangs on it, or is out of range.

        >>> RiskMeasure.from_settings([Setting(name="risk.warning", value="50")]).by_level[Level.WARNING]
        50.0
        """
        points, factors = dict(_POINTS), dict(_FACTORS)
        for setting in settings:
            if not setting.name.startswith(SETTING_PREFIX):
                continue
            name = setting.name.removeprefix(SETTING_PREFIX)
            value = _number(name, setting.value)
            if name in list(Level):
                points[Level(name)] = value
            else:
                factors[Criticality(name)] = value
        return cls(points, factors)

    def of(self, findings: Iterable[Finding]) -> float:
        """The risk of all open findings together, consequences counted as well."""
        return sum(
            self.by_level.get(finding.level, 0.0) * self.by_criticality.get(finding.criticality, 1.0)
            for finding in flat(findings)
            if finding.is_open
        )

    @property
    def is_shipped(self) -> bool:
        """Whether the keeper changed nothing."""
        return dict(self.by_level) == _POINTS and dict(self.by_criticality) == _FACTORS

    @property
    def words(self) -> Text:
        """The measure in one sentence."""
        levels = [
            text("{level} {points:g}", level=level, points=points) for level, points in self.by_level.items()
        ]
        source = text("common practice, no source") if self.is_shipped else text("set among the limits")
        return text(
            "Risk is the sum over open findings of points ({levels}) times a factor ({factors}); {source}.",
            levels=listed(levels, joint=",", most=0),
            factors=self.factor_words,
            source=source,
        )

    @property
    def factor_words(self) -> Listed:
        """The factors in a row."""
        return listed(
            [
                text("{weight} x {factor:g}", weight=kind, factor=factor)
                for kind, factor in self.by_criticality.items()
            ],
            joint=",",
            most=0,
        )


def risk_names() -> tuple[str, ...]:
    """What can be set, in the order in which it is shown: the levels, then what hangs on a finding.

    >>> risk_names()
    ('warning', 'caution', 'cant-tell', 'advisory', 'flight', 'safety', 'comfort')
    """
    return (*(level.value for level in _POINTS), *(kind.value for kind in _FACTORS))


def shipped_risk(name: str) -> float:
    """The points or the factor before the keeper changed anything.

    >>> shipped_risk("warning"), shipped_risk("flight")
    (100.0, 3.0)
    """
    return _POINTS[Level(name)] if name in list(Level) else _FACTORS[Criticality(name)]


def risk_setting(name: str, text: str) -> Setting:
    """The setting that puts the keeper's own points or factor in force.

    Raises:
        BadInput: there is no such name, or the text is no number of the allowed range.

    >>> risk_setting("warning", "50")
    Setting(name='risk.warning', value='50')
    """
    return Setting(name=f"{SETTING_PREFIX}{name}", value=f"{_number(name, text):.12g}")


def _number(name: str, text: str) -> float:
    if name not in risk_names():
        raise BadInput(
            "Setting {setting} names nothing that risk is counted by: use one of {names}.",
            setting=f"{SETTING_PREFIX}{name}",
            names=listed(risk_names(), joint=",", most=0),
        )
    most = MOST_POINTS if name in list(Level) else MOST_FACTOR
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = math.nan
    if not 0.0 <= value <= most:
        raise BadInput(
            'Setting {setting} is "{found}"; a number from 0 to {most:g} is allowed.',
            setting=f"{SETTING_PREFIX}{name}",
            found=text,
            most=most,
        )
    return value


def flat(findings: Iterable[Finding]) -> Iterator[Finding]:
    """Findings with their consequences."""
    for finding in findings:
        yield finding
        yield from flat(finding.folded)
