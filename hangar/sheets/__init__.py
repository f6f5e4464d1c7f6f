"""Printed sheets as PDF."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from hangar.base.errors import BadInput
from hangar.base.text import series, text
from hangar.sheets.style import SheetStyle

if TYPE_CHECKING:
    from hangar.sheets.case import SheetCase
    from hangar.sheets.kit import Sheet


@dataclass(frozen=True)
class Drawer:
    """Where the function lies that draws a kind of sheet; it is loaded when a sheet is printed.

    ``whole_fleet``: it draws one sheet over all aircraft, not one for each.
    """

    module: str
    function: str
    whole_fleet: bool = False

    def load(self) -> Callable[[Sheet, Any], None]:
        """The function itself."""
        function: Callable[[Sheet, Any], None] = getattr(
            import_module(f"hangar.sheets.{self.module}"), self.function
        )
        return function


class SheetKind(NamedTuple):
    """A kind of sheet: its title, what draws it, and whether that shows the aircraft's photo."""

    title: str
    drawer: Drawer
    with_photo: bool = False


SHEETS: dict[str, SheetKind] = {
    "field": SheetKind("Field checklist", Drawer("field", "draw_field_sheet")),
    "bench": SheetKind("Bench check", Drawer("bench", "draw_bench_sheet")),
    "build": SheetKind("Build sheet", Drawer("build", "draw_build_sheet"), with_photo=True),
    "cuts": SheetKind("Cut list", Drawer("cuts", "draw_cut_list", whole_fleet=True)),
    "labels": SheetKind("Labels", Drawer("labels", "draw_labels", whole_fleet=True)),
    "charging": SheetKind("Charging card", Drawer("charging", "draw_charging_card", whole_fleet=True)),
    "shopping": SheetKind("Shopping list", Drawer("shopping", "draw_shopping_list", whole_fleet=True)),
    "passport": SheetKind("Passport", Drawer("passport", "draw_passport"), with_photo=True),
    "fleet": SheetKind("Fleet overview", Drawer("fleet", "draw_fleet_overview", whole_fleet=True)),
    "working": SheetKind("Working", Drawer("working", "draw_working")),
}

WORDS_OF_TABLES = tuple(kind.title for kind in SHEETS.values())


def write_sheet(kind: str, cases: Sequence[SheetCase], out: Path, style: SheetStyle) -> None:
    """Write one PDF: a sheet for each aircraft given, or one over all of them.

    Raises: BadInput for an unknown kind or no aircraft; StoreFault when the file cannot be written.
    """
    if kind not in SHEETS:
        raise BadInput("'{kind}' is no sheet; allowed is {kinds}.", kind=kind, kinds=series(SHEETS, ","))
    if not cases:
        raise BadInput("there is no aircraft to print a sheet for.")
    from hangar.sheets.pdf_file import Revision, write_pdf
    from hangar.sheets.sheet_head import revisions

    title, drawer, _ = SHEETS[kind]
    names = ", ".join(case.aircraft.airframe.name for case in cases[:3]) + (" ..." if len(cases) > 3 else "")
    write_pdf(
        out,
        style.put(text("{sheet}: {names}", sheet=text(title), names=names)),
        style,
        lambda sheet: draw_cases(sheet, drawer, cases),
        Revision(max(case.conditions.today for case in cases), style.put(revisions(cases))),
    )


def draw_cases(sheet: Sheet, drawer: Drawer, cases: Sequence[SheetCase]) -> None:
    """Draw the sheets of several aircraft one after the other."""
    draw = drawer.load()
    if drawer.whole_fleet:
        draw(sheet, cases)
        return
    for case in cases:
        # A case of its own for each: the figures that are worked out for it go with it.
        draw(sheet, replace(case))


def __getattr__(name: str) -> Any:
    # The names of the sheets must be had without the rules, which come in with the first sheet.
    if name == "SheetCase":
        from hangar.sheets.case import SheetCase

        return SheetCase
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")


__all__ = ["SHEETS", "Drawer", "SheetCase", "SheetKind", "SheetStyle", "draw_cases", "write_sheet"]
