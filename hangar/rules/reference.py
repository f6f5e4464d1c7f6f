"""The reference of all rules as Markdown, made from their docstrings and the thresholds' table."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import groupby

from hangar.base.places import resources_dir
from hangar.base.units import format_quantity
from hangar.parts.thresholds import Threshold, shipped_thresholds
from hangar.rules.registry import SECTIONS, Rule, all_rules

_HEAD = """# What Hangar looks for

Made from the rules themselves; do not edit. A finding is a **warning** (do not fly or charge until
cured), a **caution** (look at it before the next flying day), an **advisory** (good to know), or **can't
tell** (a field is blank; never a good sign). Nothing found means no more than that: no open warnings on
the data entered. The maker's manual, the club's rules and the law govern.
"""


def rule_reference() -> str:
    """Every rule by family with its sections, then every threshold with its default and source."""
    lines = [_HEAD]
    rules = sorted(all_rules().values(), key=lambda rule: (rule.family, rule.slug))
    for family, members in groupby(rules, key=lambda rule: rule.family):
        lines.append(f"## {family.replace('_', ' ').capitalize()}\n")
        for rule in members:
            lines.extend(_rule_lines(rule))
    lines.append("## Limits\n")
    lines.extend(_threshold_lines(shipped_thresholds().values()))
    return "\n".join(lines)


def _rule_lines(rule: Rule) -> Iterator[str]:
    yield f"### {rule.slug}\n"
    notes = [", ".join(level.value for level in rule.levels)]
    if rule.field_only:
        notes.append("an advisory at most at home")
    if rule.passed_on:
        notes.append("also for aircraft that are passed on")
    if rule.laid_up:
        notes.append("also for aircraft that are laid up")
    if rule.reminder:
        notes.append("printed on sheets, never counted")
    yield f"**{rule.title}** ({'; '.join(notes)})\n"
    for section in SECTIONS:
        yield f"- {section}: {rule.doc[section]}"
    yield ""


def _threshold_lines(thresholds: Iterable[Threshold]) -> Iterator[str]:
    yield "| name | limits | default | by class | source |"
    yield "|---|---|---|---|---|"
    for threshold in thresholds:
        by_class = ", ".join(
            f"{kind} {_shown(value, threshold.unit)}" for kind, value in threshold.by_class.items()
        )
        cells = (
            f"`{threshold.name}`",
            threshold.words,
            _shown(threshold.default, threshold.unit),
            by_class,
            threshold.source,
        )
        yield f"| {' | '.join(cells)} |"
    yield ""


def _shown(value: float, unit: str) -> str:
    return format_quantity(value, unit) if unit else f"{value:g}"


if __name__ == "__main__":
    (resources_dir() / "rule_reference.md").write_text(rule_reference(), "utf-8")
