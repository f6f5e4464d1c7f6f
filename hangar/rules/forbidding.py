"""What a plan would bring that forbids fitting its parts: a bus that fails, or parts that burn."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from hangar.parts import PlanLine
from hangar.parts.choices import PlanAction
from hangar.rules.finding import Finding, Level

FORBIDDING = (
    "under-volts-receiver", "regulator-current", "servo-over-volts", "gyro-over-volts", "receiver-over-volts",
    "regulator-setting-vs-servos",
)  # fmt: skip
"""Rules whose warning ends controlled flight or destroys a part at once, gravest first."""
_PARTS = (PlanAction.FIT_SERVO, PlanAction.FIT_PACK, PlanAction.FIT_REGULATOR, PlanAction.SET_REGULATOR,
          PlanAction.FIT_SWITCH)  # fmt: skip


def forbidding(before: Iterable[Finding], after: Iterable[Finding]) -> tuple[Finding, ...]:
    """The warnings after a plan that forbid it and that are not there today, gravest first."""
    today = {finding.rule for finding in _warnings(before)}
    new_warnings = {finding.rule: finding for finding in _warnings(after) if finding.rule not in today}
    return tuple(new_warnings[rule] for rule in FORBIDDING if rule in new_warnings)


def _warnings(findings: Iterable[Finding]) -> Iterator[Finding]:
    for finding in findings:
        for named in (finding, *finding.folded):
            if named.level is Level.WARNING:
                yield named


def parts_brought(lines: Iterable[PlanLine]) -> tuple[tuple[str, str], ...]:
    """The parts that the open lines of a plan bring, each with its place, once."""
    pairs = ((line.part_type or line.action.value, line.place or "-") for line in lines if _brings(line))
    return tuple(dict.fromkeys(pairs))


def _brings(line: PlanLine) -> bool:
    return line.done_on is None and line.action in _PARTS
