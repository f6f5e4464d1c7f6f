"""The register as a whole: causes and limits that it names."""

from __future__ import annotations

from pathlib import Path

from hangar.rules import all_rules, shipped_thresholds
from hangar.rules.folding import GROUPS

HANGAR = Path(__file__).parents[2] / "hangar"


def test_folded_causes_name_rules_that_are_there() -> None:
    assert {slug for group in GROUPS for slug in group.slugs} <= set(all_rules())


def test_every_threshold_is_used_and_every_one_used_is_there() -> None:
    code = "\n".join(path.read_text("utf-8") for path in HANGAR.rglob("*.py"))
    unused = [
        name
        for name in shipped_thresholds()
        if f'"{name}"' not in code
        and not name.startswith(("life-", "giant-pack", "gauge-", "storage-", "hours-"))
    ]
    assert unused == []
