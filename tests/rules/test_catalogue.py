"""The catalogue holds every rule that was asked for, each once, by its name for ever."""

from __future__ import annotations

from pathlib import Path

from hangar.rules import all_rules

CATALOGUE = (Path(__file__).parent / "snapshots" / "catalogue.txt").read_text("utf-8").split()


def test_every_rule_of_the_catalogue_is_there_and_no_other() -> None:
    assert len(CATALOGUE) == len(set(CATALOGUE)) == 152
    assert set(all_rules()) == set(CATALOGUE)
