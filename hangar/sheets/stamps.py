"""The stamp of a sheet that is read back: what stood at each place when it was printed."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.answers.checklists import bench_stages
from hangar.answers.outputs import outputs_of
from hangar.parts import Plan
from hangar.parts.sheet_boxes import (
    BENCH,
    CHARGING,
    FIELD,
    FLIGHTS_MOST,
    LINE,
    Stamp,
    flight_about,
    path_about,
    rotor_about,
)
from hangar.sheets.case import SheetCase
from hangar.sheets.style import SheetStyle


def stamp_of(
    style: SheetStyle, sheet: str, case: SheetCase, after: SheetCase | None = None, plan: Plan | None = None
) -> Stamp:
    """The stamp of one aircraft's sheet.

    Args:
        case: the aircraft as it is; its revision is stamped.
        after: the aircraft that the expected values are of, where a plan changes it.
    """
    shown = (after or case).aircraft
    places: dict[str, tuple[str, str] | None] = {
        **dict.fromkeys(flight_about(number) for number in range(1, FLIGHTS_MOST + 1) if sheet == FIELD),
        **dict.fromkeys(rotor_about(rotor.rotor) for rotor in shown.rotors),
        **dict.fromkeys(path_about(path.feed.code) for path in shown.paths if sheet == BENCH),
        **dict.fromkeys((LINE, *(str(stage["code"]) for stage in bench_stages()))),
        **dict.fromkeys(fed.pack.tag for path in shown.paths for fed in path.packs),
        **dict.fromkeys(surface.code for surface in shown.surfaces),
        **dict.fromkeys(output.about for output in outputs_of(shown)),
        **{fit.code: (fit.tag or "", fit.servo_type.code if fit.servo_type else "") for fit in shown.fits},
    }
    return Stamp(
        sheet=sheet,
        aircraft=case.aircraft.code,
        revision=case.revision,
        printed_on=style.printed_on,
        plan=plan.code if plan else None,
        places=places,
    )


def card_stamp(style: SheetStyle, packs: Sequence[str]) -> Stamp:
    """The stamp of a charging card, which belongs to packs and not to an aircraft."""
    return Stamp(
        sheet=CHARGING, aircraft="", revision="", printed_on=style.printed_on, places=dict.fromkeys(packs)
    )
