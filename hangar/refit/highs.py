"""The solver HiGHS, loaded where it is first asked, without the banner it writes."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from functools import cache
from typing import Any


@cache
def highs_package() -> Any:
    """The package of HiGHS, loaded where a programme is first solved."""
    import highspy

    _without_banner(highspy.Highs)
    return highspy


def _without_banner(make: Callable[[], object]) -> None:
    """Make the first solver of a process where its banner, which no option silences, is not seen."""
    sys.stdout.flush()
    try:
        kept, nowhere = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    except OSError:  # a program without a console has no output to keep clean
        make()
        return
    try:
        os.dup2(nowhere, 1)
        make()
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nowhere)
