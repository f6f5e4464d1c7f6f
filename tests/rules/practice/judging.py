"""What the checks say of the practice set-ups, beside their labels."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache

from hangar.parts import Aircraft
from hangar.parts.thresholds import Thresholds
from hangar.rules import Finding, Level, all_rules, inspect
from hangar.rules.examples import home_day
from hangar.survey import Conditions, Survey, survey
from tests.rules.practice.bad_build import BAD as BUILD
from tests.rules.practice.bad_loads import BAD as LOADS
from tests.rules.practice.bad_more import BAD as MORE_BAD
from tests.rules.practice.fine_big import FINE as BIG
from tests.rules.practice.fine_heli import FINE as HELI
from tests.rules.practice.fine_more import FINE as MORE
from tests.rules.practice.fine_small import FINE as SMALL
from tests.rules.practice.held_bad import BAD as HELD_BAD
from tests.rules.practice.held_fine import FINE as HELD
from tests.rules.practice.held_heli import FINE as HELD_HELI
from tests.rules.practice.held_second import SETUPS as SECOND
from tests.rules.practice.setup import Setup

SETUPS: tuple[Setup, ...] = (
    *SMALL, *BIG, *HELI, *MORE, *HELD, *HELD_HELI, *LOADS, *BUILD, *MORE_BAD, *HELD_BAD, *SECOND
)  # fmt: skip

LOADS_AND_SUPPLY = frozenset({"torque", "surfaces", "play", "arms", "high_volts", "low_volts", "leads",
                              "regulators", "switches", "pack_size", "load_tests"})  # fmt: skip
"""Families of checks whose cautions on a sound set-up are counted: torque, volts and currents."""


@dataclass(frozen=True)
class Verdict:
    """One set-up judged; ``findings`` are every finding above can't tell, folded ones too."""

    setup: Setup
    kind: str
    findings: tuple[Finding, ...]

    @property
    def found(self) -> bool:
        """Whether a fault was told at least at its level."""
        return any(finding.rule in self.setup.faults and finding.level.rank <= self.setup.least.rank
                   for finding in self.findings)  # fmt: skip

    @property
    def noticed(self) -> bool:
        """Whether a fault was told at least as a caution."""
        return any(
            finding.rule in self.setup.faults and finding.level.rank <= Level.CAUTION.rank
            for finding in self.findings
        )

    @property
    def warned(self) -> tuple[Finding, ...]:
        """Warnings about something else than the fault."""
        return tuple(finding for finding in self.findings if finding.level is Level.WARNING
                     and finding.rule not in self.setup.faults)  # fmt: skip

    @property
    def cautioned(self) -> tuple[Finding, ...]:
        """Cautions about torque, volts or currents that are not the fault."""
        return tuple(
            finding
            for finding in self.findings
            if finding.level is Level.CAUTION
            and finding.rule not in self.setup.faults
            and _family(finding.rule) in LOADS_AND_SUPPLY
        )


def _family(slug: str) -> str:
    return all_rules()[slug].family


@cache
def _made(setup: Setup) -> Aircraft:
    return setup.make()


@cache
def surveyed(setup: Setup) -> Survey:
    """The survey of a set-up on its day."""
    return survey(_made(setup), setup.day or home_day())


def judge(
    setup: Setup, thresholds: Thresholds | None = None, conditions: Conditions | None = None
) -> Verdict:
    """What the checks say of one set-up, with other limits or conditions where they are given."""
    aircraft = _made(setup)
    looked = survey(aircraft, conditions) if conditions else surveyed(setup)
    top = inspect(aircraft, looked, thresholds)
    findings = [
        other_finding
        for finding in top
        for other_finding in finding.with_folded()
        if other_finding.level is not Level.CANT_TELL
    ]
    return Verdict(setup, str(aircraft.airframe.aircraft_class), tuple(findings))


@dataclass
class Tally:
    """Counts over some set-ups."""

    sound: int = 0
    warned: int = 0
    cautioned: int = 0
    bad: int = 0
    missed: list[str] = field(default_factory=list)
    unnoticed: list[str] = field(default_factory=list)

    def add(self, verdict: Verdict) -> None:
        """Count one more."""
        if verdict.setup.is_sound:
            self.sound += 1
            self.warned += bool(verdict.warned)
            self.cautioned += bool(verdict.cautioned)
        else:
            self.bad += 1
            if not verdict.found:
                self.missed.append(verdict.setup.name)
            if not verdict.noticed:
                self.unnoticed.append(verdict.setup.name)


def tally(verdicts: Iterable[Verdict]) -> Tally:
    """Hits, misses and false alarms of some set-ups."""
    counts = Tally()
    for verdict in verdicts:
        counts.add(verdict)
    return counts


def by_class(verdicts: Iterable[Verdict]) -> Mapping[str, Tally]:
    """The same for each class of aircraft."""
    tallies: dict[str, Tally] = {}
    for verdict in verdicts:
        tallies.setdefault(verdict.kind, Tally()).add(verdict)
    return dict(sorted(tallies.items()))
