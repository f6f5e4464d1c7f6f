"""What another supply must not do to positions that were asked to stay."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
from numpy.typing import NDArray

from hangar.refit.strengths import AtLevel

if TYPE_CHECKING:
    from hangar.refit.tables import Tables

_LEAST_V = 2.5


def bearable(tables: Tables, at: int, judged: AtLevel) -> NDArray[np.bool_]:
    """The variants of a locked group that bring no warning of lead or torque that is not there today.

    The bus stands up to a step above its level; what only that step may save is left to the proof.
    """
    leeway = 1.0 + tables.limits.level_step_v / _LEAST_V
    good = np.ones(len(judged.short), np.bool_)
    most_drop = tables.limit("lead-drop-warn") / 100.0
    if tables.present_drop(at) <= most_drop:
        good &= ~(judged.drop > most_drop * leeway)
    margins = [
        margin.expected
        for code in tables.lists[at].group.codes
        if (margin := tables.survey.positions[code].margin) is not None
    ]
    if min(margins, default=0.0) >= 1.0:
        good &= ~(judged.margin_pct * leeway**2 < 100.0)
    return good
