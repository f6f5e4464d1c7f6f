"""What a search for a refit keeps to before any wish."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hangar.answers.judging import JudgingBasis
    from hangar.refit.request import RefitRequest


def usual_request(basis: JudgingBasis) -> RefitRequest:
    """No wishes beyond the keeper's own limits, shares and hours of work.

    Raises: BadInput for a setting that cannot be read.
    """
    from hangar.refit.request import RefitRequest

    return RefitRequest(
        conditions=basis.conditions(),
        thresholds=basis.thresholds,
        warning_in_cautions=basis.thresholds.value("warning-in-cautions", None),
    )
