"""Findings that the keeper accepted in writing, until a day and while nothing changes."""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Iterable, Iterator
from datetime import date

from hangar.parts import Acceptance, Aircraft
from hangar.rules.finding import Finding
from hangar.rules.flag import Flag, Scalar

_ANY = "-"


def fingerprint(slug: str, flag: Flag) -> str:
    """A short text that changes when what a finding rests on changes.

    Numbers count to three digits, so that a rounding does not bring an accepted finding back.
    """
    rests_on: tuple[Scalar, ...]
    if flag.rests_on is None:
        rests_on = (
            flag.level.value,
            *(figure.expected for figure in flag.figures),
            *(str(field) for field in flag.missing),
        )
    else:
        rests_on = flag.rests_on
    parts = [slug, *flag.about, *(_rounded(part) for part in rests_on)]
    return hashlib.blake2b("|".join(parts).encode(), digest_size=8).hexdigest()


def _rounded(part: Scalar) -> str:
    return f"{part:.3g}" if isinstance(part, int | float) else str(part)


def acceptance_of(finding: Finding, until_on: date, reason: str, by: str | None = None) -> Acceptance:
    """The record that accepts a finding until a day; it returns earlier when its inputs change."""
    return Acceptance(
        aircraft=finding.aircraft,
        rule=finding.rule,
        about=", ".join(finding.about) or _ANY,
        until_on=until_on,
        reason=reason,
        by=by,
        inputs=finding.inputs,
    )


def accept(findings: Iterable[Finding], aircraft: Aircraft, today: date) -> list[Finding]:
    """The findings with what the keeper accepted written on them."""
    if not aircraft.acceptances:
        return list(findings)
    places = {fit.tag: fit.code for fit in aircraft.fits if fit.tag}
    return [_judged(finding, aircraft.acceptances, places, today) for finding in findings]


def _judged(
    finding: Finding, acceptances: tuple[Acceptance, ...], places: dict[str, str], today: date
) -> Finding:
    returned = False
    for acceptance in acceptances:
        if acceptance.rule != finding.rule or not _covers(acceptance, finding, places):
            continue
        changed = acceptance.inputs is not None and acceptance.inputs != finding.inputs
        if changed or acceptance.until_on < today:
            returned = True
            continue
        return dataclasses.replace(
            finding, accepted_until=acceptance.until_on, accepted_because=acceptance.reason
        )
    return dataclasses.replace(finding, returned=returned) if returned else finding


def _covers(acceptance: Acceptance, finding: Finding, places: dict[str, str]) -> bool:
    """Whether it names everything that the finding is about; a servo's tag stands for its position."""
    if acceptance.about.strip() in ("", _ANY):
        return True
    named = set(_as_places(acceptance.about.split(","), places))
    return set(_as_places(finding.about, places)) <= named


def _as_places(names: Iterable[str], places: dict[str, str]) -> Iterator[str]:
    for name in names:
        bare = name.strip()
        yield places.get(bare, bare)
