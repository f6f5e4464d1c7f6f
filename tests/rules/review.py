"""Print how often each rule speaks of aircraft that are fine, of bad ones and of the invented fleet.

``python -m tests.rules.review`` prints one line a rule; ``python -m tests.rules.review SLUG`` what it says.
A column has warnings, cautions, advisories and can't-tells, in set-ups of a hundred; a point is none.
"""

from __future__ import annotations

import sys
from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Mapping

from hangar.parts import Aircraft, Library
from hangar.rules import Finding, Level, all_rules, inspect, line
from hangar.survey import Conditions, survey
from tests.rules import demo_trees
from tests.rules.practice.as_kept import FIELD_DAY, HOME, WINTER, bare, sparse
from tests.rules.practice.judging import SETUPS

Spoken = Mapping[str, Counter[Level]]
"""For each rule, in how many set-ups it spoke, by the gravest level it had there."""

DEMO_DAY = Conditions(today=demo_trees.TODAY)

NOISE = 0.25
"""Share of the sound set-ups that an advisory may speak of."""

_SIGNS = {Level.WARNING: "W", Level.CAUTION: "C", Level.ADVISORY: "A", Level.CANT_TELL: "?"}


def findings_of(aircraft: Aircraft, day: Conditions, library: Library | None = None) -> list[Finding]:
    """Every finding of an aircraft, folded ones too."""
    top = inspect(aircraft, survey(aircraft, day), library=library)
    return [finding for head in top for finding in head.with_folded()]


def heads_of(aircraft: Aircraft, day: Conditions) -> tuple[Finding, ...]:
    """The findings of an aircraft that stand in a line of their own."""
    return inspect(aircraft, survey(aircraft, day))


def said_of_all(
    fleet: Iterable[tuple[Aircraft, Conditions]], library: Library | None = None
) -> Iterator[list[Finding]]:
    """The findings of each of several aircraft."""
    return (findings_of(aircraft, day, library) for aircraft, day in fleet)


def spoken(fleet: Iterable[tuple[Aircraft, Conditions]], library: Library | None = None) -> Spoken:
    """How often each rule speaks of several aircraft."""
    counts: dict[str, Counter[Level]] = defaultdict(Counter)
    for findings in said_of_all(fleet, library):
        gravest: dict[str, Level] = {}
        for finding in findings:
            before = gravest.get(finding.rule)
            if before is None or finding.level.rank < before.rank:
                gravest[finding.rule] = finding.level
        for slug, level in gravest.items():
            counts[slug][level] += 1
    return counts


def states() -> Mapping[str, list[tuple[Aircraft, Conditions]]]:
    """The fleets that are looked at: sound set-ups in six states, bad ones, the invented fleet."""
    made = [(setup.make(), setup) for setup in SETUPS]
    sound = [(aircraft, setup.day or HOME) for aircraft, setup in made if setup.is_sound]
    return {
        "sound": sound,
        "field": [(aircraft, FIELD_DAY) for aircraft, _ in sound],
        "winter": [(aircraft, WINTER) for aircraft, _ in sound],
        "sparse": [(sparse(aircraft), HOME) for aircraft, _ in sound],
        "sparse field": [(sparse(aircraft), FIELD_DAY) for aircraft, _ in sound],
        "bare": [(bare(aircraft), HOME) for aircraft, _ in sound],
        "bad": [(aircraft, setup.day or HOME) for aircraft, setup in made if not setup.is_sound],
        "demo": [(aircraft, DEMO_DAY) for aircraft in demo_trees.demo()[0].values()],
    }  # fmt: skip


def _column(counts: Counter[Level], of: int) -> str:
    lines = [f"{_SIGNS[level]}{round(100 * counts[level] / of) or 1}" for level in _SIGNS if counts[level]]
    return " ".join(lines) or "."


def main(slugs: list[str]) -> None:
    """Print the table, or what some rules say of each set-up."""
    fleets = states()
    library = demo_trees.demo()[1]
    if slugs:
        for state, fleet in fleets.items():
            for (aircraft, _), findings in zip(fleet, said_of_all(fleet), strict=True):
                for finding in findings:
                    if finding.rule in slugs:
                        lacks = "; ".join(str(field) for field in finding.missing)
                        print(f"{state:13} {aircraft.code:5} {finding.rule}: {line(finding)} {lacks}")
        return
    columns = {state: spoken(fleet, library if state == "demo" else None) for state, fleet in fleets.items()}
    print(f"{'rule':28}", *(f"{state + f' {len(fleet)}':15}" for state, fleet in fleets.items()))
    for slug in all_rules():
        row = (_column(columns[state].get(slug, Counter()), len(fleet)) for state, fleet in fleets.items())
        print(f"{slug:28}", *(f"{cell:15}" for cell in row))


if __name__ == "__main__":
    main(sys.argv[1:])
