"""Printed sheets as PDF."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from hangar.base.errors import BadInput
from hangar.sheets.build import draw_build_sheet
from hangar.sheets.field import draw_field_sheet
from hangar.sheets.kit import Sheet, write_pdf
from hangar.sheets.parts_of_sheet import SheetCase
from hangar.sheets.style import SheetStyle

SHEETS: dict[str, tuple[str, Callable[[Sheet, SheetCase], None]]] = {
    "field": ("Field checklist", draw_field_sheet),
    "build": ("Build sheet", draw_build_sheet),
}


def write_sheet(kind: str, cases: Sequence[SheetCase], out: Path, style: SheetStyle) -> None:
    """Write one PDF with a sheet for each aircraft given.

    Raises: BadInput for an unknown kind or no aircraft; StoreFault when the file cannot be written.
    """
    if kind not in SHEETS:
        raise BadInput(f"{kind!r} is no sheet; allowed is {', '.join(SHEETS)}.")
    if not cases:
        raise BadInput("there is no aircraft to print a sheet for.")
    title, draw = SHEETS[kind]
    names = ", ".join(case.aircraft.airframe.name for case in cases[:3]) + (" ..." if len(cases) > 3 else "")

    def draw_all(sheet: Sheet) -> None:
        for case in cases:
            draw(sheet, case)

    write_pdf(out, f"{title}: {names}", style, draw_all)


__all__ = ["SHEETS", "SheetCase", "SheetStyle", "write_sheet"]
