"""What was measured beside what was predicted from everything else, with a plain word."""

from __future__ import annotations

from enum import StrEnum

from hangar.physics.estimating import Z90
from hangar.physics.tracking import DOES_NOT_FIT


class Fits(StrEnum):
    """How a reading stands beside what was expected of it."""

    FITS = "fits"
    MORE = "more than expected"
    LESS = "less than expected"
    NOT = "does not fit"


def fits(z: float) -> Fits:
    """The word for a reading that lies so many standard deviations above what was expected.

    >>> [fits(z).value for z in (0.5, 2.0, -2.0, 4.0)]
    ['fits', 'more than expected', 'less than expected', 'does not fit']
    """
    if abs(z) <= Z90:
        return Fits.FITS
    if abs(z) > DOES_NOT_FIT:
        return Fits.NOT
    return Fits.MORE if z > 0.0 else Fits.LESS
