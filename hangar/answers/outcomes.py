"""What a change would do to an aircraft: which findings go, come and stay, and the worst of them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from hangar.answers.judging import Judgement
from hangar.base.figure import Figure
from hangar.parts import Aircraft
from hangar.rules.finding import Finding, Level
from hangar.rules.gathering import whose_figure

_Key = tuple[str, Level, str]


class Side(StrEnum):
    """On which side of a change a finding stands."""

    NEW = "new"
    GONE = "gone"
    STAYS = "stays"


@dataclass(frozen=True)
class Outcome:
    """The open findings of an aircraft before and after a change, told apart place by place.

    A finding on two servos of which one is changed goes there and stays elsewhere; it stands in both.
    ``places`` of a finding are the positions it concerns, whatever servo sits there.
    """

    gone: tuple[Finding, ...]
    new: tuple[Finding, ...]
    stays: tuple[Finding, ...]
    before: Judgement
    after: Judgement

    @classmethod
    def of(cls, before: Judgement, after: Judgement) -> Outcome:
        """Compare two judgements of one aircraft."""
        old, fresh = (_by_key(judgement) for judgement in (before, after))
        return cls(
            gone=_distinct(finding for key, finding in old.items() if key not in fresh),
            new=_distinct(finding for key, finding in fresh.items() if key not in old),
            stays=_distinct(finding for key, finding in fresh.items() if key in old),
            before=before,
            after=after,
        )

    def worst_change(self, place: str) -> tuple[Side, Finding] | None:
        """The gravest finding that comes or goes anywhere or that stays at this place.

        Of one level what comes stands before what goes, and what goes before what stays. None where
        nothing comes or goes and nothing is open at the place.
        """
        here = tuple(finding for finding in self.stays if place in _places(finding, self.after.aircraft))
        return _gravest(((Side.NEW, self.new), (Side.GONE, self.gone), (Side.STAYS, here)))

    def worst_left(self, place: str) -> tuple[Side, Finding] | None:
        """The gravest finding that is open after the change; at this place before another one."""
        here = tuple(finding for finding in self.stays if place in _places(finding, self.after.aircraft))
        return _gravest(((Side.NEW, self.new), (Side.STAYS, here), (Side.STAYS, self.stays)))

    def level_of(self, figure: Figure | None, place: str, *, after: bool) -> Level | None:
        """The level of the gravest open finding at this place that names this figure."""
        judgement = self.after if after else self.before
        if figure is None:
            return None
        levels = [
            finding.level
            for finding in judgement.open_findings
            if _concerns(finding, place, judgement.aircraft)
            and any(_is_same(figure, other_figure, place) for other_figure in finding.figures)
        ]
        return min(levels, key=lambda level: level.rank, default=None)


def _concerns(finding: Finding, place: str, aircraft: Aircraft) -> bool:
    places = _places(finding, aircraft)
    return not places or place in places


def _is_same(figure: Figure, other_figure: Figure, place: str) -> bool:
    whose, called = whose_figure(other_figure.name)
    is_here = not whose or whose == place
    return is_here and str(called) == str(figure.name) and other_figure.expected == figure.expected


def _gravest(groups: Iterable[tuple[Side, tuple[Finding, ...]]]) -> tuple[Side, Finding] | None:
    sided = [(side, finding) for side, findings in groups for finding in findings]
    return min(sided, key=lambda pair: pair[1].level.rank, default=None)


def _by_key(judgement: Judgement) -> dict[_Key, Finding]:
    return {key: finding for finding in judgement.open_findings for key in _keys(finding, judgement.aircraft)}


def _keys(finding: Finding, aircraft: Aircraft) -> Iterator[_Key]:
    """A key for each place; a finding without one has its parts for its place."""
    places = _places(finding, aircraft) or frozenset([" ".join(sorted(map(str, finding.about)))])
    for place in places:
        yield finding.rule, finding.level, place


def _places(finding: Finding, aircraft: Aircraft) -> frozenset[str]:
    about = set(finding.about)
    return frozenset(fit.code for fit in aircraft.fits if {fit.code, fit.tag} & about)


def _distinct(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    kept: list[Finding] = []
    for finding in findings:
        if not any(finding is other for other in kept):
            kept.append(finding)
    return tuple(sorted(kept, key=lambda finding: finding.level.rank))
