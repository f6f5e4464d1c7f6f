"""One cause, one finding: consequences go under the finding that names their cause."""

from __future__ import annotations

import dataclasses
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from hangar.base.text import NOTHING, Arg, ItemList, Text, text
from hangar.parts.choices import Criticality
from hangar.rules.finding import Finding, Level
from hangar.rules.flag import Flag
from hangar.rules.registry import Rule

MISSING = "data-missing-vital"
"""The rule that a line about blank fields stands under when several checks wait for them."""


@dataclass(frozen=True)
class CauseGroup:
    """Rules that speak of one cause; the gravest finding leads, then the one named first.

    ``same_part``: only findings that share a tag or position belong together. ``advisories``: only those
    that are no more than an advisory; what is graver stands by itself.
    """

    cause: str
    slugs: tuple[str, ...]
    same_part: bool = False
    advisories: bool = False


GROUPS: tuple[CauseGroup, ...] = (
    CauseGroup(
        "more volts than the parts may have",
        ("servo-over-volts", "gyro-over-volts", "receiver-over-volts", "regulator-setting-vs-servos",
         "accessory-over-volts", "servo-over-volts-resting"),
    ),
    CauseGroup(
        "weak pack",
        ("dcir-risen", "load-test-failed", "discharge-rate-short", "under-volts-receiver"),
        same_part=True,
    ),
    CauseGroup(
        "pack too small",
        ("pack-too-small", "pack-below-one-hour", "pack-below-giant-table"),
        same_part=True,
    ),
    CauseGroup("one power path alone", ("single-pack-giant", "switch-single-giant")),
    CauseGroup(
        "half-done refit",
        ("mixed-kinds-swash", "speed-mismatch-swash", "mixed-types-swash", "analog-left-in-refit"),
    ),
    CauseGroup(
        "unlike pair",
        ("mixed-kinds-pair", "speed-mismatch-pair", "mixed-types-pair", "analog-left-in-refit"),
        same_part=True,
    ),
    CauseGroup(
        "lead without sleeve at a former",
        ("former-unsleeved", "sleeve-short", "shrink-short", "shrink-bore-wrong"),
        same_part=True,
    ),
    CauseGroup("throttle held without a signal", ("turbine-failsafe", "failsafe-not-set"), same_part=True),
    CauseGroup("not proved since the refit", ("direction-not-proved", "range-check-stale")),
    CauseGroup(
        "to be done before it flies again",
        ("failsafe-not-set", "range-check-stale", "load-test-stale", "turbine-fire-kit", "charge-stale",
         "ni-refresh-due"),
        advisories=True,
    ),
)  # fmt: skip

AT_THE_PART = frozenset({
    "lead-drop", "slop-over-limit", "torque-short-surface", "torque-short-cyclic", "torque-short-tail",
    "load-test-failed", "regulator-current", "under-volts-servo",
})  # fmt: skip
"""Causes that act on the part they name and on no other."""


OF_THE_PACK = frozenset({"pack-old", "pack-cycles", "capacity-faded"})
"""Consequences that need a cause in the same pack."""


TAKES_CONTROL = frozenset({"under-volts-receiver"})
"""What ends a flight by itself: receiver or gyro stop working. It is graver than what leads to it."""

ENDS_THE_FLIGHT = TAKES_CONTROL | {
    "receiver-over-volts", "gyro-over-volts", "regulator-current", "regulator-heat", "switch-current",
    "connector-current", "pack-too-small", "load-test-failed",
}  # fmt: skip
"""Whose consequence is that of the whole aircraft, not of one control."""


def fold(findings: Iterable[Finding]) -> list[Finding]:
    """Findings with consequences folded under their causes, the gravest of each fold as its headline.

    A finding never goes under one of a lower level, nor an open one under one accepted in writing. Where a
    consequence is graver than its cause it leads, with the cause's remedy and the cause first under it. What
    it leads to is told first: the gravest of all that stand there.
    """
    remaining = list(findings)
    for group in GROUPS:
        remaining = _fold_group(remaining, group)
    return [_headed_by_gravest(finding) for finding in _fold_caused(remaining)]


def _fold_group(findings: list[Finding], group: CauseGroup) -> list[Finding]:
    members = [finding for finding in findings if finding.rule in group.slugs and _is_judged(finding)]
    if group.advisories:
        members = [finding for finding in members if finding.level is Level.ADVISORY]
    if len(members) < 2:
        return findings
    members.sort(
        key=lambda finding: (not _stands_alone(finding), finding.level.rank, group.slugs.index(finding.rule))
    )
    heads: list[list[Finding]] = []
    for member in members:
        home = next((head for head in heads if _belongs(member, head[0], group.same_part)), None)
        if home is None:
            heads.append([member])
        else:
            home.append(member)
    folded = {id(member): None for head in heads for member in head[1:]}
    by_head = {id(head[0]): head for head in heads}
    return [
        _under(finding, by_head[id(finding)][1:]) if id(finding) in by_head else finding
        for finding in findings
        if id(finding) not in folded
    ]


def _stands_alone(finding: Finding) -> bool:
    """Whether it never is a line under another: the flight ends by it."""
    return finding.rule in TAKES_CONTROL and finding.level is Level.WARNING


def _is_judged(finding: Finding) -> bool:
    return finding.level is not Level.CANT_TELL


def _belongs(member: Finding, head: Finding, same_part: bool) -> bool:
    if member.is_open != head.is_open:
        return False
    return not same_part or bool(set(member.about) & set(head.about))


def _fold_caused(findings: list[Finding]) -> list[Finding]:
    homes = {id(finding): _cause_of(finding, findings) for finding in findings}
    under: dict[int, list[Finding]] = defaultdict(list)
    top = []
    for finding in findings:
        home = _root(finding, homes)
        if home is None:
            top.append(finding)
        else:
            under[id(home)].append(finding)
    return [_under(finding, under[id(finding)]) if id(finding) in under else finding for finding in top]


def _root(finding: Finding, homes: Mapping[int, Finding | None]) -> Finding | None:
    """The cause that has no cause itself; None where causes run in a circle."""
    seen, home = {id(finding)}, homes[id(finding)]
    while home is not None and (further := homes[id(home)]) is not None:
        if id(home) in seen:
            return None
        seen.add(id(home))
        home = further
    return home


def _cause_of(finding: Finding, findings: list[Finding]) -> Finding | None:
    if not _is_judged(finding) or _stands_alone(finding):
        return None
    for slug in finding.caused_by:
        for other in findings:
            if other is not finding and _speaks_of(other, slug, finding):
                return other
    return None


def _speaks_of(other: Finding, slug: str, finding: Finding) -> bool:
    speaks = slug == other.rule or any(slug == below.rule for below in other.folded)
    if not speaks or not _is_judged(other):
        return False
    if other.level.rank > finding.level.rank or other.is_open != finding.is_open:
        return False
    anywhere = slug not in AT_THE_PART and finding.rule not in OF_THE_PACK
    return anywhere or bool(set(other.about) & set(finding.about))


def _under(head: Finding, consequences: Sequence[Finding]) -> Finding:
    if not consequences:
        return head
    return dataclasses.replace(head, folded=(*head.folded, *consequences))


def _headed_by_gravest(cause: Finding) -> Finding:
    if not cause.folded or not _is_judged(cause):
        return cause
    head = _led_by_gravest(cause)
    worst = min(head.with_folded(), key=_weight_of_consequence)
    return dataclasses.replace(head, consequence=worst.consequence)


def _weight_of_consequence(finding: Finding) -> tuple[int, bool, int]:
    """Lower is graver: level, then whether it takes the whole aircraft, then what hangs on it."""
    order = list(Criticality)
    ends = finding.rule in ENDS_THE_FLIGHT
    return finding.level.rank, not ends, order.index(finding.criticality)


def _led_by_gravest(cause: Finding) -> Finding:
    if _stands_alone(cause):
        return _with_cause_first(cause)
    gravest = min((cause, *cause.folded), key=_gravity)
    if gravest is cause:
        return cause
    others = tuple(below for below in cause.folded if below is not gravest)
    return dataclasses.replace(
        gravest,
        remedy=cause.remedy,
        folded=(dataclasses.replace(cause, folded=()), *others, *gravest.folded),
    )


def _with_cause_first(head: Finding) -> Finding:
    """A finding that heads its own cause, with the cause's remedy."""
    named = next((below for below in head.folded if below.rule in head.caused_by), None)
    if named is None:
        return head
    others = tuple(below for below in head.folded if below is not named)
    return dataclasses.replace(head, remedy=named.remedy, folded=(named, *others))


def _gravity(finding: Finding) -> tuple[int, int, bool]:
    """Lower is graver: level, then what hangs on it, then whether it ends a flight by itself."""
    order = list(Criticality)
    return finding.level.rank, order.index(finding.criticality), finding.rule not in TAKES_CONTROL


def gather_unknown(aircraft: str, raised: Sequence[tuple[Rule, Flag]]) -> list[Finding]:
    """One can't-tell finding for each set of checks that wait for the same blank fields."""
    raised_for: dict[Text, list[tuple[Rule, Flag]]] = defaultdict(list)
    for pair in raised:
        for field in pair[1].missing:
            raised_for[field].append(pair)
    groups: dict[tuple[str, ...], list[Text]] = defaultdict(list)
    for field, pairs in raised_for.items():
        groups[tuple(sorted({rule.slug for rule, _flag in pairs}))].append(field)
    findings = []
    for slugs, fields in groups.items():
        rule_by_slug = {rule.slug: rule for rule, _flag in raised_for[fields[0]]}
        flags = [flag for field in fields for _rule, flag in raised_for[field]]
        parts = tuple(dict.fromkeys(part for flag in flags for part in flag.about))
        weight = min({flag.criticality for flag in flags}, key=list(Criticality).index)
        rules_waiting = [rule_by_slug[slug] for slug in slugs]
        findings.append(_unknown(aircraft, rules_waiting, tuple(fields), parts, weight))
    return findings


def _unknown(
    aircraft: str, rules: list[Rule], fields: tuple[Text, ...], about: tuple[str, ...], weight: Criticality
) -> Finding:
    several = len(rules) > 1
    what = text("{count} checks", count=len(rules)) if several else text('"{title}"', title=rules[0].title)
    named: Arg = ItemList(fields[:3], ";")
    if len(fields) > 3:
        named = text("{first}; and {count} more", first=named, count=len(fields) - 3)
    lead = Finding(
        rule=MISSING if several else rules[0].slug,
        title=text("Cannot judge {what}", what=what),
        level=Level.CANT_TELL,
        aircraft=aircraft,
        about=about,
        message=text("Cannot judge {what}; not known: {named}.", what=what, named=named),
        detail=text("{fields}", fields=ItemList(fields, ";")) if len(fields) > 3 else NOTHING,
        remedy=text("Enter what is missing."),
        source=text("logic: without these the answer is not known"),
        missing=fields,
        criticality=weight,
    )
    if not several:
        return lead
    below = tuple(_unknown(aircraft, [rule], fields, about, weight) for rule in rules)
    return dataclasses.replace(lead, folded=below)
