"""Labels with a QR code for packs and servos, and flags for both ends of each lead."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hangar.parts import Pack, PackType, ServoFit
from hangar.parts.protection import label_words
from hangar.sheets.case import SheetCase
from hangar.sheets.charging import must_not_charge
from hangar.sheets.fit_words import by_channel
from hangar.sheets.kit import Sheet
from hangar.sheets.label_grid import LabelGrid, grid_for
from hangar.sheets.page import Page
from hangar.sheets.qr_code import draw_qr
from hangar.sheets.wrapping import BODY, BOLD, SMALLEST_PT, wrapped

_INSET_MM = 1.6
_LEAST_QR_MM, _MOST_QR_MM = 13.0, 24.0
_TAG_SIZES_PT = (13.0, 11.0, 9.0)
_LEADING = 1.12


@dataclass(frozen=True, kw_only=True)
class Label:
    """One sticky label: its tag in bold, lines under it, and what its QR code holds (the tag alone).

    A ``flag`` is folded round a lead: its words stand on both halves, without a code.
    """

    tag: str
    lines: tuple[str, ...] = ()
    flag: bool = False


def draw_labels(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """Draw the labels of all aircraft given, page after page; spares come with a whole fleet.

    Raises: BadInput for a label sheet that is unknown or of another paper.
    """
    grid = grid_for(sheet.style)
    labels = labels_of(cases)
    sheet.begin("Labels", "Labels", _no_foot, answers="labels")
    if not labels:
        sheet.write("No pack, servo or lead is recorded: there is nothing to label.")
    for number, label in enumerate(labels):
        place = number % grid.count
        if number and not place:
            sheet.canvas.showPage()
        x_mm, y_mm = grid.corner(place)
        if grid.cut_lines:
            sheet.rect(x_mm, y_mm, grid.width_mm, grid.height_mm, line_pt=0.25)
        (_draw_flag if label.flag else _draw_label)(sheet, label, grid, x_mm, y_mm)


def _no_foot(sheet: Page) -> float:
    """Label sheets are full to the edge; the law stands on every other sheet."""
    return sheet.page_height_mm


def labels_of(cases: Sequence[SheetCase]) -> list[Label]:
    """Packs first, then servos, then two flags for each lead."""
    packs = [label for case in cases for label in _pack_labels(case)]
    servos = [label for case in cases for label in _servo_labels(case)]
    if len(cases) > 1:
        library = cases[0].library
        packs += [
            _pack_label(pack, library.pack_types[pack.pack_type], ("spare",))
            for pack in library.spare_packs.values()
            if pack.pack_type in library.pack_types
        ]
        servos += [
            Label(tag=servo.tag, lines=(servo.servo_type, "spare")) for servo in library.spare_servos.values()
        ]
    flags = [
        Label(tag=label_words(fit), lines=(case.aircraft.code,), flag=True)
        for case in cases
        for fit in by_channel(case.aircraft)
        if fit.lead
        for _end in range(2)
    ]
    return [*packs, *servos, *flags]


def _pack_labels(case: SheetCase) -> Iterator[Label]:
    for path, fed in case.fed_packs:
        use = (f"{case.aircraft.code} {path.feed.code}", str(path.feed.role))
        yield _pack_label(fed.pack, fed.pack_type, use)


def _pack_label(pack: Pack, kind: PackType, use: tuple[str, ...]) -> Label:
    never = must_not_charge(pack)
    lines = (
        *([f"NEVER CHARGE: {never}"] if never else []),
        f"{kind.chemistry} {kind.series}S{f'{kind.parallel}P' if kind.parallel > 1 else ''}",
        f"{kind.capacity_mah:g} mAh",
        *use,
        f"from {pack.bought_on}" if pack.bought_on else "from ________",
    )
    return Label(tag=pack.tag, lines=lines)


def _servo_labels(case: SheetCase) -> Iterator[Label]:
    for fit in by_channel(case.aircraft):
        if fit.tag:
            kind = fit.servo_type.code if fit.servo_type else "type ______"
            yield Label(tag=fit.tag, lines=(kind, f"{case.aircraft.code} {_place(fit)}"))


def _place(fit: ServoFit) -> str:
    channel = f"ch {fit.position.channel} " if fit.position.channel is not None else ""
    return f"{channel}{fit.code}"


def _line_mm(size_pt: float) -> float:
    return size_pt * _LEADING * 25.4 / 72


def _draw_label(sheet: Sheet, label: Label, grid: LabelGrid, x_mm: float, y_mm: float) -> None:
    side = max(_LEAST_QR_MM, min(_MOST_QR_MM, grid.height_mm - 2 * _INSET_MM, 0.42 * grid.width_mm))
    draw_qr(sheet, label.tag, x_mm + 0.6, y_mm + (grid.height_mm - side) / 2, side)
    left = x_mm + side + 1.2
    room = grid.width_mm - side - 1.2 - _INSET_MM
    bottom = y_mm + grid.height_mm - _INSET_MM
    size_pt = _fitting_size(label.tag, room)
    base = _put_lines(sheet, (label.tag,), left, y_mm + _INSET_MM, bottom, room, size_pt, bold=True)
    _put_lines(sheet, label.lines, left, base, bottom, room, SMALLEST_PT, bold=False)


def _fitting_size(text: str, room_mm: float) -> float:
    return next((size for size in _TAG_SIZES_PT if len(wrapped(text, BOLD, size, room_mm)) == 1), SMALLEST_PT)


def _put_lines(
    sheet: Sheet, texts: Sequence[str], x_mm: float, y_mm: float, bottom_mm: float, room_mm: float,
    size_pt: float, *, bold: bool,
) -> float:  # fmt: skip
    """As many lines as the label holds, top down; returns where they end."""
    for text in texts:
        for line in wrapped(text, BOLD if bold else BODY, size_pt, room_mm):
            if y_mm + _line_mm(size_pt) > bottom_mm:
                return y_mm
            y_mm += _line_mm(size_pt)
            sheet.put(line, x_mm, y_mm - 0.2 * _line_mm(size_pt), size_pt, bold=bold)
    return y_mm


def _draw_flag(sheet: Sheet, label: Label, grid: LabelGrid, x_mm: float, y_mm: float) -> None:
    half = grid.width_mm / 2
    sheet.line(x_mm + half, y_mm + 2, x_mm + half, y_mm + grid.height_mm - 2, 0.25)
    for place in (0, 1):
        left, room = x_mm + place * half + _INSET_MM, half - 2 * _INSET_MM
        bottom = y_mm + grid.height_mm - _INSET_MM
        base = _put_lines(sheet, (label.tag,), left, y_mm + _INSET_MM, bottom, room, SMALLEST_PT, bold=True)
        _put_lines(sheet, label.lines, left, base, bottom, room, SMALLEST_PT, bold=False)
