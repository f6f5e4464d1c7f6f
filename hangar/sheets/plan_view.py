"""The plan view on paper: the aircraft from above with a numbered dot for each servo."""

from __future__ import annotations

from hangar.parts import Aircraft
from hangar.parts.outlines import OutlinePart, first_place, outline_of
from hangar.sheets.kit import Sheet
from hangar.sheets.style import MM

_DOT_MM = 2.6


def draw_plan_view(sheet: Sheet, aircraft: Aircraft, height_mm: float) -> None:
    """Draw the outline and its dots; dot numbers follow the order of the aircraft's positions."""
    outline = outline_of(aircraft)
    scale = min(sheet.width_mm / outline.width, height_mm / outline.height)
    sheet.need(outline.height * scale + 4)
    left = sheet.left_mm + (sheet.width_mm - outline.width * scale) / 2
    top = sheet.y_mm + 1
    for part in outline.parts:
        _draw_part(sheet, part, left, top, scale)
    for number, fit in enumerate(aircraft.fits, start=1):
        across, along = first_place(outline, fit.position)
        _draw_dot(sheet, number, left + across * outline.width * scale, top + along * outline.height * scale)
    sheet.y_mm = top + outline.height * scale + 3


def _draw_part(sheet: Sheet, part: OutlinePart, left_mm: float, top_mm: float, scale: float) -> None:
    canvas = sheet.canvas
    line = canvas.beginPath()
    act = {"M": line.moveTo, "L": line.lineTo, "C": line.curveTo, "Z": line.close}
    for word, numbers in part.strokes:
        points = [
            (left_mm + value * scale) * MM
            if index % 2 == 0
            else (sheet.page_height_mm - top_mm - value * scale) * MM
            for index, value in enumerate(numbers)
        ]
        act[word](*points)
    canvas.saveState()
    canvas.setLineWidth(0.7)
    canvas.setStrokeGray(0.25)
    canvas.setFillGray(0.95)
    if part.dashed:
        canvas.setDash(3, 2)
    canvas.drawPath(line, stroke=1, fill=int(part.filled))
    canvas.restoreState()


def _draw_dot(sheet: Sheet, number: int, x_mm: float, y_mm: float) -> None:
    canvas = sheet.canvas
    canvas.setFillGray(1.0)
    canvas.setStrokeGray(0.0)
    canvas.setLineWidth(1.1)
    canvas.circle(x_mm * MM, (sheet.page_height_mm - y_mm) * MM, _DOT_MM * MM, stroke=1, fill=1)
    canvas.setFillGray(0.0)
    sheet.put(str(number), x_mm, y_mm + 1.1, 9, bold=True, align="middle")
