"""Findings by what would cure them, and by the system of the aircraft that they concern."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from hangar.base.text import Text, listed, text
from hangar.parts import Aircraft
from hangar.rules.cures import Cure
from hangar.rules.finding import Finding, Level
from hangar.rules.registry import all_rules


class System(StrEnum):
    """A part of the aircraft, as a keeper would name it."""

    POWER = "power"
    SERVOS = "servos"
    LINKAGES = "linkages"
    LEADS = "leads"
    RADIO = "radio"
    STRUCTURE = "structure"
    RECORDS = "records"


_FAMILIES: dict[System, tuple[str, ...]] = {
    System.POWER: (
        "bench_supply", "charging", "high_volts", "low_volts", "load_tests", "pack_health", "pack_joining",
        "pack_size", "pack_use", "regulators", "storage", "switches",
    ),
    System.SERVOS: ("duty", "fitting", "pair_matching", "ratings", "surfaces", "swash_matching", "torque"),
    System.LINKAGES: ("arms", "binding", "play", "rods"),
    System.LEADS: ("lead_care", "leads", "sleeves"),
    System.RADIO: ("channels", "failsafe", "pulses"),
    System.STRUCTURE: ("mass_balance",),
    System.RECORDS: (
        "law", "learned", "log", "parts_records", "plans", "proofs", "unconfirmed", "vital_data",
    ),
}  # fmt: skip
_SYSTEM_OF = {family: system for system, families in _FAMILIES.items() for family in families}
_WHOLE = (Cure.SUPPLY, Cure.RECEIVER)
"""Cures of the whole aircraft; the others are made at a position."""


def system_of(finding: Finding) -> System:
    """The system that a finding concerns, by the family of its check."""
    rule = all_rules().get(finding.rule)
    return _SYSTEM_OF.get(rule.family, System.RECORDS) if rule else System.RECORDS


@dataclass(frozen=True)
class CureGroup:
    """Findings of one aircraft that one thing may cure.

    ``cure`` is None for what no part cures: a test, a proof, work by hand, or something to find out;
    ``places`` are the positions where the cure is made, none for the whole aircraft.
    """

    aircraft: str
    cure: Cure | None
    places: tuple[str, ...]
    findings: tuple[Finding, ...]

    @property
    def is_unknown(self) -> bool:
        """Whether something must be found out before anything can be said."""
        return self.cure is None and all(finding.level is Level.CANT_TELL for finding in self.findings)

    @property
    def title(self) -> Text:
        """What to do, and how many findings it may clear."""
        count = len(self.findings)
        if self.is_unknown:
            return text("{aircraft}: to find out first", aircraft=self.aircraft)
        if self.cure is None:
            return text("{aircraft}: by hand, by a test or on paper", aircraft=self.aircraft)
        if not self.places:
            return text(
                "{aircraft}: {cure}, may clear {count}", aircraft=self.aircraft, cure=self.cure, count=count
            )
        return text(
            "{aircraft}: {cure} at {places}, may clear {count}",
            aircraft=self.aircraft,
            cure=self.cure,
            places=listed(self.places),
            count=count,
        )


def by_cure(findings: Iterable[Finding], fleet: Mapping[str, Aircraft]) -> tuple[CureGroup, ...]:
    """Groups with the gravest first; of equal ones the one that may clear most.

    A finding that several things may cure stands under the one that may cure most of the others: the cure is
    taken that covers most findings, then the next of what is left, as is usual for such covers
    (V. Chvatal, A greedy heuristic for the set-covering problem, Mathematics of Operations Research, 1979).
    """
    of_aircraft: dict[str, list[Finding]] = {}
    for finding in findings:
        of_aircraft.setdefault(finding.aircraft, []).append(finding)
    groups = [
        group
        for code, findings in of_aircraft.items()
        for group in _groups_of(code, findings, fleet.get(code))
    ]
    return tuple(sorted(groups, key=_gravity))


def _gravity(group: CureGroup) -> tuple[int, bool, int]:
    worst = min(finding.level.rank for finding in group.findings)
    return worst, group.cure is None, -len(group.findings)


def _groups_of(code: str, findings: list[Finding], aircraft: Aircraft | None) -> list[CureGroup]:
    places = {id(finding): _places(finding, aircraft) for finding in findings}
    remaining, groups = list(findings), []
    while remaining:
        choices = dict.fromkeys(
            (cure, () if cure in _WHOLE else places[id(finding)])
            for finding in remaining
            for cure in _cures(finding)
            if cure in _WHOLE or places[id(finding)]
        )
        covered = {
            choice: [finding for finding in remaining if _cures_it(choice, finding, places[id(finding)])]
            for choice in choices
        }
        if not covered:
            break
        cure, where = max(covered, key=lambda choice: len(covered[choice]))
        taken = covered[cure, where]
        groups.append(CureGroup(code, cure, where, tuple(taken)))
        remaining = [finding for finding in remaining if all(finding is not other for other in taken)]
    unknown = [finding for finding in remaining if finding.level is Level.CANT_TELL]
    known = [finding for finding in remaining if finding.level is not Level.CANT_TELL]
    groups += [CureGroup(code, None, (), tuple(some)) for some in (known, unknown) if some]
    return groups


def _cures(finding: Finding) -> tuple[Cure, ...]:
    """What may cure a finding; nothing where it cannot be judged yet."""
    rule = all_rules().get(finding.rule)
    if rule is None or rule.cures is None or finding.level is Level.CANT_TELL:
        return ()
    return rule.cures


def _cures_it(choice: tuple[Cure, tuple[str, ...]], finding: Finding, places: tuple[str, ...]) -> bool:
    cure, where = choice
    if cure not in _cures(finding):
        return False
    return cure in _WHOLE or (bool(places) and set(places) <= set(where))


def _places(finding: Finding, aircraft: Aircraft | None) -> tuple[str, ...]:
    fits = aircraft.fits if aircraft is not None else ()
    about = set(finding.about)
    return tuple(fit.code for fit in fits if {fit.code, fit.tag} & about)
