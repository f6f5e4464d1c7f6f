"""Every rule on aircraft that are fine: whole records and a first evening, at home and at the field."""

from __future__ import annotations

from collections.abc import Mapping

import pytest

from hangar.rules import Finding, Level, all_rules
from hangar.rules.folding import GROUPS
from tests.rules.practice.as_kept import HOME, sparse
from tests.rules.practice.judging import LOADS_AND_SUPPLY, SETUPS
from tests.rules.review import NOISE, findings_of, heads_of, states

FINE = ("sound", "field", "winter", "sparse", "bare")
WARNED, CAUTIONED = 1 / 25, 3 / 25
"""Share of the fine aircraft with a warning, and with a caution of torque, volts or currents, at the most."""

_DUE = next(group.slugs for group in GROUPS if group.advisories)

Told = Mapping[str, list[tuple[Finding, ...]]]


@pytest.fixture(scope="module")
def told() -> Told:
    """What stands in a line of its own of each fine aircraft, by how it is kept."""
    fleets = states()
    return {state: [heads_of(aircraft, day) for aircraft, day in fleets[state]] for state in FINE}


def _share(by_state: Told, state: str, slug: str, level: Level) -> float:
    lines = by_state[state]
    return sum(
        any(line.rule == slug and line.level is level for line in findings) for findings in lines
    ) / len(lines)


def test_no_advisory_speaks_of_nearly_every_fine_aircraft(told: Told) -> None:
    noisy = {
        (state, rule): share
        for state in FINE
        for rule in all_rules()
        if rule not in _DUE and (share := _share(told, state, rule, Level.ADVISORY)) > NOISE
    }
    assert noisy == {}


def test_what_is_due_before_the_next_flight_is_one_line(told: Told) -> None:
    for state in FINE:
        for findings in told[state]:
            assert sum(line.rule in _DUE and line.level is Level.ADVISORY for line in findings) <= 1


def test_an_aircraft_at_home_with_all_in_order_has_no_caution_for_the_days_that_pass(told: Told) -> None:
    for findings in told["winter"]:
        assert not [line.rule for line in findings if line.level is not Level.ADVISORY and line.rule in _DUE]


def test_blanks_do_not_make_fine_aircraft_look_bad(told: Told) -> None:
    families = {slug: rule.family for slug, rule in all_rules().items()}
    for state in ("sparse", "bare"):
        lines = told[state]
        warned = [findings for findings in lines if any(line.level is Level.WARNING for line in findings)]
        cautioned = [
            findings
            for findings in lines
            if any(
                line.level is Level.CAUTION and families[line.rule] in LOADS_AND_SUPPLY for line in findings
            )
        ]
        assert len(warned) <= WARNED * len(lines), state
        assert len(cautioned) <= CAUTIONED * len(lines), state


def test_what_cannot_be_told_names_fields(told: Told) -> None:
    for state in FINE:
        for findings in told[state]:
            for line in findings:
                if line.level is Level.CANT_TELL:
                    assert line.missing, line.rule
                    assert not any("whole chord" in str(field) for field in line.missing)


MEASURED = frozenset({"dcir-risen"})
"""Faults that nothing but a reading shows: taken away with it."""
_DRIVEN = frozenset(
    {"torque", "surfaces", "high_volts", "low_volts", "regulators", "swash_matching", "pulses"}
)


def test_blanks_hide_no_fault_of_torque_volts_or_drive() -> None:
    family = {slug: rule.family for slug, rule in all_rules().items()}
    missed = []
    for setup in SETUPS:
        families = {family[slug] for slug in setup.faults}
        if setup.is_sound or not families & _DRIVEN or setup.faults & MEASURED:
            continue
        findings = findings_of(sparse(setup.make()), setup.day or HOME)
        if not any(
            finding.rule in setup.faults and finding.level.rank <= Level.CAUTION.rank for finding in findings
        ):
            missed.append(setup.name)
    assert missed == []
