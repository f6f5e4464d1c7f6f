"""What a sheet is drawn from, gathered in the window's thread, and the drawing, done beside it."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.parts import Attachment
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import say

if TYPE_CHECKING:
    from hangar.sheets import SheetStyle
    from hangar.sheets.photo import AircraftPhoto

_CLUB = "club.name"


def sheet_work(
    desk: Desk, kind: str, codes: Sequence[str], style_of: Callable[[str], SheetStyle], *, with_photo: bool
) -> Callable[[Path], Path]:
    """Work that writes a PDF with the sheets of some aircraft to a place and returns it.

    ``style_of`` is given the name of the club. Everything is read from the fleet here; the work itself
    may be done on another thread.

    Raises: BadInput when no aircraft is chosen or the style is refused.
    """
    from hangar.parts.library import Library
    from hangar.rules.thresholds import Thresholds
    from hangar.sheets import SheetCase, write_sheet

    judged = [one for one in (desk.judgement(code) for code in codes) if one is not None]
    if not judged:
        raise BadInput(say("Choose an aircraft first."))
    around = desk.around()
    club = next((each.value for each in around.settings if each.name == _CLUB), "")
    style, library = style_of(club), around.library or Library()
    thresholds = Thresholds.from_settings(around.settings)
    photos = _photos(desk, codes) if with_photo else {}
    cases = [
        SheetCase(
            survey=one.survey,
            findings=one.findings,
            library=library,
            thresholds=thresholds,
            photo=photos.get(one.aircraft.code),
        )
        for one in judged
    ]

    def work(out: Path) -> Path:
        write_sheet(kind, cases, out, style)
        return out

    return work


def _photos(desk: Desk, codes: Sequence[str]) -> dict[str, AircraftPhoto | None]:
    from hangar.sheets.photo import photo_of

    papers: tuple[Attachment, ...] = desk.records(Attachment)
    return {code: photo_of(code, papers, desk.fleet.paper) for code in codes}
