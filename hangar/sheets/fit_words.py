"""Words for one position that several sheets use."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.base.figure import Figure
from hangar.base.text import Text, text
from hangar.parts import PackType, ServoFit
from hangar.parts.choices import Function
from hangar.physics.pack import CellVolts, Chemistry, cell
from hangar.physics.throws import throw_mm
from hangar.sheets.case import SheetCase
from hangar.sheets.kit import Cell
from hangar.sheets.style import SheetStyle


def yes_no(answer: bool | None) -> Text | None:
    """Yes, no, or None when nobody knows."""
    return None if answer is None else text("yes") if answer else text("no")


def tag_and_type(tag: str | None, code: str) -> str:
    """Tag and type; a part still to be bought has its type in its tag already."""
    return tag if tag and tag.endswith(code) else f"{tag or '-'} {code}"


def servo_words(fit: ServoFit) -> str | None:
    """Tag and type of the servo at a position, or None where none is recorded."""
    return tag_and_type(fit.tag, fit.servo_type.code) if fit.servo_type else fit.tag


def throw_words(style: SheetStyle, fit: ServoFit, *, both: bool) -> str | None:
    """Throw up and down in degrees, and as lengths at the root trailing edge."""
    surface = fit.surface
    if surface is None:
        return "-" if not fit.function.is_surface else None
    if surface.throw_up_deg is None or surface.throw_down_deg is None:
        return None
    angles = (surface.throw_up_deg, surface.throw_down_deg)
    if surface.root_chord_mm is None:
        return style.reader.number(f"{angles[0]:.0f}° / {angles[1]:.0f}°")
    edges_mm = [throw_mm(angle, surface.root_chord_mm) for angle in angles]
    size = _pair([style.units.show(edge_mm, "mm", 2) for edge_mm in edges_mm])
    other = f" ({_pair([style.units.other(edge_mm, 'mm', 2) for edge_mm in edges_mm])})" if both else ""
    return f"{angles[0]:.0f}° / {angles[1]:.0f}°, {style.reader.number(size + other)}"


def _pair(edges: Sequence[str]) -> str:
    """Two lengths of one unit that is named once."""
    up, down = edges
    return f"{up.removesuffix(' ' + down.rpartition(' ')[2])} / {down}"


def figure_or_dash(style: SheetStyle, figure: Figure | None, *, needed: bool) -> Cell:
    """A figure in the keeper's unit; a box where it is needed and not known, else a dash."""
    words = style.figure(figure)
    return words if words is not None else (None if needed else "-")


def needs_load(fit: ServoFit) -> bool:
    """Whether air or rotor load must be known at that position."""
    return fit.function.is_surface or fit.function in (Function.CYCLIC, Function.COLLECTIVE, Function.TAIL)


def cell_volts(kind: PackType) -> CellVolts:
    """Volts of one cell of a pack's chemistry."""
    return cell(Chemistry(kind.chemistry.value))


def range_words(ends: str, datum: str | None) -> Text:
    """Where the balance may lie, and from where it is measured if that is recorded."""
    return text("{ends} from {datum}", ends=ends, datum=datum) if datum else text("{ends}", ends=ends)


def aircraft_words(cases: Sequence[SheetCase]) -> Text | str:
    """Whom a sheet over several aircraft is for: the only one by its name, several by their number."""
    if len(cases) == 1:
        return cases[0].aircraft.airframe.name
    return text("{count} aircraft", count=len(cases))
