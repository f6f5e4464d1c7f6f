"""The relief a lifting surface gives a flap beyond what the lifting line sees."""

from __future__ import annotations

import math

from hangar.base.errors import OutOfValidity
from hangar.physics.chart import Chart, read_chart
from hangar.physics.surface import Slopes, finite_span_slopes, section_slopes

_INCIDENCE: Chart = (
    (2.0, 0.0182), (3.0, 0.0140), (4.0, 0.0108), (5.0, 0.0085), (6.0, 0.0068),
    (7.0, 0.0055), (8.0, 0.0046), (9.0, 0.0039), (10.0, 0.0035),
)  # fmt: skip
_FLAP_CHORD: Chart = (
    (0.1, 0.65), (0.2, 0.92), (0.25, 1.02), (0.3, 1.09), (0.4, 1.22), (0.5, 1.33), (0.6, 1.42),
)  # fmt: skip
_ASPECTS = (2.0, 2.5, 3.0, 3.5, 4.0, 5.0, 6.0, 7.0, 8.0, 10.0)
_DEFLECTION: tuple[tuple[float, tuple[float, ...]], ...] = (
    (0.2, (0.0390, 0.0300, 0.0250, 0.0214, 0.0183, 0.0142, 0.0113, 0.0090, 0.0072, 0.0050)),
    (0.4, (0.0350, 0.0280, 0.0230, 0.0195, 0.0168, 0.0130, 0.0100, 0.0082, 0.0065, 0.0046)),
    (0.6, (0.0305, 0.0246, 0.0205, 0.0175, 0.0151, 0.0118, 0.0094, 0.0075, 0.0061, 0.0043)),
)


def lifting_surface_slopes(flap_ratio: float, aspect_ratio: float) -> Slopes:
    """Slopes of a full-span flap on an unswept panel, with the chord-wise induced camber.

    The load model keeps to :func:`hangar.physics.surface.finite_span_slopes`, the heavier of the two;
    this is for seeing how much more relief there probably is.

    Args:
        flap_ratio: flap chord behind the hinge over whole chord [-], 0.10 to 0.60.
        aspect_ratio: span² over area of the panel [-], 2 to 10.

    Returns:
        The panel's slopes; trailing edge down is positive.

    Raises:
        OutOfValidity: outside the charts.

    Valid for: attached flow, flap along the whole span; on outboard flaps it relieves too little.
    Source: USAF Stability and Control DATCOM, 6.1.6.1 and 6.1.6.2, charts read in a re-keyed form.

    >>> round(lifting_surface_slopes(0.30, 3.0).b2_per_rad / section_slopes(0.30).b2_per_rad, 2)
    0.72
    """
    if not (0.10 <= flap_ratio <= 0.60 and 2.0 <= aspect_ratio <= 10.0):
        raise OutOfValidity(
            "Flap ratio {flap_ratio:.3g} at aspect ratio {aspect_ratio:.3g}; the charts hold from "
            "0.1 to 0.6 and from 2 to 10.",
            flap_ratio=flap_ratio,
            aspect_ratio=aspect_ratio,
        )
    section = section_slopes(flap_ratio)
    panel = finite_span_slopes(section, aspect_ratio)
    chord = read_chart(_FLAP_CHORD, flap_ratio)
    across: Chart = tuple(
        (ratio, read_chart(tuple(zip(_ASPECTS, row, strict=True)), aspect_ratio))
        for ratio, row in _DEFLECTION
    )
    # The charts are for one radian of lift slope, hence the two-pi of the thin section.
    b1 = panel.b1_per_rad + 2.0 * math.pi * chord * read_chart(_INCIDENCE, aspect_ratio)
    flap_lift = 2.0 * math.pi * section.effectiveness
    b2 = panel.b2_per_rad + flap_lift * chord * read_chart(across, flap_ratio)
    return Slopes(b1, b2, section.effectiveness)
