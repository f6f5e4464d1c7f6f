"""The plan view on paper: the aircraft from above with a numbered dot for each servo."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from hangar.parts import Aircraft
from hangar.parts.outlines import OutlinePart, first_place, outline_of
from hangar.sheets.kit import Sheet
from hangar.sheets.style import MM

_DOT_MM = 2.6
_APART_MM = 2 * _DOT_MM + 0.4
_MOST_RINGS = 24


def draw_plan_view(sheet: Sheet, aircraft: Aircraft, height_mm: float) -> None:
    """Draw the outline and its dots; dot numbers follow the order of the aircraft's positions."""
    outline = outline_of(aircraft)
    scale = min(sheet.width_mm / outline.width, height_mm / outline.height)
    sheet.need(outline.height * scale + 4)
    left = sheet.left_mm + (sheet.width_mm - outline.width * scale) / 2
    top = sheet.y_mm + 1
    for part in outline.parts:
        _draw_part(sheet, part, left, top, scale)
    wanted = []
    for fit in aircraft.fits:
        across, along = first_place(outline, fit.position)
        wanted.append((left + across * outline.width * scale, top + along * outline.height * scale))
    edges = (sheet.left_mm, top, sheet.right_mm, top + outline.height * scale)
    dots = spread(wanted, edges)
    for place, dot in zip(wanted, dots, strict=True):
        if place != dot:
            sheet.line(*place, *dot, 0.5)
    for number, dot in enumerate(dots, start=1):
        _draw_dot(sheet, number, *dot)
    sheet.y_mm = top + outline.height * scale + 3


def spread(
    wanted: Sequence[tuple[float, float]], edges: tuple[float, float, float, float]
) -> list[tuple[float, float]]:
    """Places where no two dots touch: the first stays, a later one goes to the nearest free ring.

    >>> spread([(20.0, 20.0), (50.0, 20.0)], (0.0, 0.0, 100.0, 100.0))
    [(20.0, 20.0), (50.0, 20.0)]
    """
    placed: list[tuple[float, float]] = []
    for place in wanted:
        free = (
            spot
            for spot in _rings(place)
            if _inside(spot, edges) and all(math.dist(spot, other) >= _APART_MM for other in placed)
        )
        placed.append(next(free, place))
    return placed


def _rings(place: tuple[float, float]) -> Iterator[tuple[float, float]]:
    yield place
    for ring in range(1, _MOST_RINGS):
        count = 6 * ring
        for step in range(count):
            angle = 2 * math.pi * step / count
            radius = ring * _APART_MM
            yield place[0] + radius * math.cos(angle), place[1] + radius * math.sin(angle)


def _inside(spot: tuple[float, float], edges: tuple[float, float, float, float]) -> bool:
    left, top, right, bottom = edges
    across = left + _DOT_MM <= spot[0] <= right - _DOT_MM
    return across and top + _DOT_MM <= spot[1] <= bottom - _DOT_MM


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
