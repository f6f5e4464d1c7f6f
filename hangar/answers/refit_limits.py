"""What a search for a refit keeps to before any wish."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from hangar.answers.judging import JudgingBasis
    from hangar.refit import Limits
    from hangar.refit.request import RefitRequest


def usual_limits(basis: JudgingBasis) -> Limits:
    """No wishes beyond the keeper's own limits and shares, and the way he counts risk.

    Raises: BadInput for a setting that cannot be read.
    """
    # The search brings numpy, which must not be loaded before the window is on screen.
    from hangar.refit import Limits
    from hangar.refit.risk import RiskMeasure

    return Limits(
        conditions=basis.conditions(),
        thresholds=basis.thresholds,
        risk=RiskMeasure.from_settings(basis.settings),
    )


def usual_request(basis: JudgingBasis) -> RefitRequest:
    """No wishes beyond the keeper's own limits, shares and hours of work.

    Raises: BadInput for a setting that cannot be read.
    """
    from hangar.refit.request import RefitRequest

    return RefitRequest(conditions=basis.conditions(), thresholds=basis.thresholds)
