"""Where the data files that travel with Hangar lie, in a checkout or in an installed wheel."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent.parent


def _travelling(name: str) -> Path:
    installed = _PACKAGE / f"_{name}"
    return installed if installed.is_dir() else _PACKAGE.parent / name


def resources_dir() -> Path:
    """Icons, class defaults, thresholds, checklist texts, fonts, translations."""
    return _travelling("resources")


def demo_fleet_dir() -> Path:
    """The invented fleet as tables."""
    return _travelling("demo_fleet")


COPIES_OF_SERVERS = "copies of servers"
"""The folder, among the program's own of a keeper, in which the copies of a club's server lie."""
