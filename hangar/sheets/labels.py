"""Labels with a QR code for packs and servos, and flags for both ends of each lead."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from hangar.answers.outputs import by_channel
from hangar.base.errors import BadInput
from hangar.base.text import ENGLISH, Arg, listed, text
from hangar.parts import Pack, PackType, ServoFit
from hangar.parts.protection import label_words
from hangar.sheets.case import SheetCase
from hangar.sheets.charging import must_not_charge
from hangar.sheets.kit import Sheet
from hangar.sheets.label_fit import CODE_GAP_MM, Label, LabelPicture, fit, line_mm, refuse_what_does_not_fit
from hangar.sheets.label_grid import LabelGrid, grid_for
from hangar.sheets.page import Page
from hangar.sheets.qr_code import draw_qr
from hangar.sheets.style import LABEL_PARTS

PACK, SERVO, LEAD = LABEL_PARTS


def draw_labels(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """Draw the labels of all aircraft given, page after page; spares come with a whole fleet.

    Raises: BadInput for a label sheet that is unknown, of another paper, or too small for a label.
    """
    style = sheet.style
    grid = grid_for(style)
    labels = labels_of(cases, style.label_parts, style.put)
    refuse_what_does_not_fit(labels, grid, style.label_grid)
    sheet.begin(text("Labels"), text("Labels"), _no_foot, answers="labels")
    if not labels:
        sheet.write(
            text(
                "No {parts} is recorded: there is nothing to label.",
                parts=listed(map(text, style.label_parts), joint="or"),
            )
        )
    for number, label in enumerate(labels, start=style.label_start - 1):
        place = number % grid.count
        if number and not place:
            sheet.canvas.showPage()
        x_mm, y_mm = grid.corner(place)
        if grid.cut_lines:
            sheet.rect(x_mm, y_mm, grid.width_mm, grid.height_mm, line_pt=0.5)
        fitted = fit(label, grid)
        if fitted is None:
            raise BadInput("label {tag} does not fit {size}.", tag=label.tag, size=grid.size_words)
        (_draw_flag if label.flag else _draw_label)(sheet, label.tag, fitted, grid, x_mm, y_mm)


def _no_foot(sheet: Page) -> float:
    """Label sheets are full to the edge; the law stands on every other sheet."""
    return sheet.page_height_mm


def labels_of(
    cases: Sequence[SheetCase], parts: Sequence[str] = LABEL_PARTS, put: Callable[[Arg], str] = ENGLISH.put
) -> list[Label]:
    """Packs first, then servos, then two flags for each lead; only of the parts chosen.

    ``put`` puts their words into the language of the sheet.
    """
    packs = [label for case in cases for label in _pack_labels(case, put)]
    servos = [label for case in cases for label in _servo_labels(case, put)]
    if len(cases) > 1:
        library = cases[0].library
        packs += [
            _pack_label(pack, library.pack_types[pack.pack_type], (text("spare"),), put)
            for pack in library.spare_packs.values()
            if pack.pack_type in library.pack_types
        ]
        servos += [
            Label(tag=servo.tag, lines=(servo.servo_type, put(text("spare"))), part=SERVO)
            for servo in library.spare_servos.values()
        ]
    flags = [
        Label(tag=label_words(fit), lines=(case.aircraft.code,), flag=True, part=LEAD)
        for case in cases
        for fit in by_channel(case.aircraft)
        if fit.lead
        for _end in range(2)
    ]
    return [label for label in (*packs, *servos, *flags) if label.part in parts]


def _pack_labels(case: SheetCase, put: Callable[[Arg], str]) -> Iterator[Label]:
    for path, fed in case.fed_packs:
        use = (f"{case.aircraft.code} {path.feed.code}", path.feed.role)
        yield _pack_label(fed.pack, fed.pack_type, use, put)


def _pack_label(pack: Pack, kind: PackType, use: tuple[Arg, ...], put: Callable[[Arg], str]) -> Label:
    never = must_not_charge(pack)
    side = f"{kind.parallel}P" if kind.parallel > 1 else ""
    lines: tuple[Arg, ...] = (
        *([text("NEVER CHARGE: {why}", why=never)] if never else []),
        text("{chemistry} {cells}", chemistry=kind.chemistry, cells=f"{kind.series}S{side}"),
        text("{capacity:g} mAh", capacity=kind.capacity_mah),
        *use,
        text("from {day}", day=pack.bought_on or "________"),
    )
    return Label(tag=pack.tag, lines=tuple(map(put, lines)), part=PACK)


def _servo_labels(case: SheetCase, put: Callable[[Arg], str]) -> Iterator[Label]:
    for fitted in by_channel(case.aircraft):
        if fitted.tag:
            kind = fitted.servo_type.code if fitted.servo_type else put(text("type {code}", code="______"))
            lines = (kind, f"{case.aircraft.code} {put(_place(fitted))}")
            yield Label(tag=fitted.tag, lines=lines, part=SERVO)


def _place(fit: ServoFit) -> Arg:
    number = fit.position.channel
    return fit.code if number is None else text("ch {channel} {place}", channel=number, place=fit.code)


def _draw_label(
    sheet: Sheet, tag: str, fitted: LabelPicture, grid: LabelGrid, x_mm: float, y_mm: float
) -> None:
    side, inset = fitted.code_mm, grid.inset_mm
    draw_qr(sheet, tag, x_mm + inset, y_mm + (grid.height_mm - side) / 2, side)
    _put_lines(sheet, fitted, x_mm + inset + side + CODE_GAP_MM, y_mm, grid)


def _draw_flag(
    sheet: Sheet, _tag: str, fitted: LabelPicture, grid: LabelGrid, x_mm: float, y_mm: float
) -> None:
    half = grid.width_mm / 2
    sheet.line(x_mm + half, y_mm + grid.inset_mm, x_mm + half, y_mm + grid.height_mm - grid.inset_mm, 0.5)
    for place in (0, 1):
        _put_lines(sheet, fitted, x_mm + place * half + grid.inset_mm, y_mm, grid)


def _put_lines(sheet: Sheet, fitted: LabelPicture, x_mm: float, y_mm: float, grid: LabelGrid) -> None:
    base = y_mm + grid.inset_mm
    for line, size_pt, bold in fitted.lines:
        base += line_mm(size_pt)
        sheet.put(line, x_mm, base - 0.22 * line_mm(size_pt), size_pt, bold=bold)
