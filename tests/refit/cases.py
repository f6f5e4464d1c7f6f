"""How many cases by chance the tests of the planner try."""

from __future__ import annotations

import os

CASES = int(os.environ.get("HANGAR_REFIT_CASES", "40"))
"""Cases of each kind; before a release 1,000 are asked for."""
FIRST = int(os.environ.get("HANGAR_REFIT_FIRST", "0"))
"""The first case's seed; another thousand starts at 1000."""


def seeds(share: int = 1) -> range:
    """Seeds of the cases of a run; of costly ones one in so many."""
    return range(FIRST, FIRST + max(1, CASES // share))
