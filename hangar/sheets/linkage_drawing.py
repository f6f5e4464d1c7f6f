"""Each linkage from the side, to scale: servo arm, rod and horn at neutral, the ends of travel beside."""

from __future__ import annotations

import math

from hangar.answers.outputs import by_channel
from hangar.base.text import Arg, series, text
from hangar.parts import Aircraft, Linkage, ServoFit
from hangar.parts.choices import LinkageKind
from hangar.sheets.kit import Sheet
from hangar.sheets.style import LEAST_LINE_PT, MM, SheetStyle
from hangar.sheets.wrapping import BODY, BOLD, SMALLEST_PT, wrapped
from hangar.survey import Survey

_ACROSS, _DRAWN_MM, _GAP_MM, _BELOW_MM = 3, 18.0, 4.0, 3.5
_SHORTEN = 3.0
"""A rod longer than that many times the larger radius is drawn broken off."""


def draw_linkages(sheet: Sheet, surveyed: Survey) -> None:
    """Draw the linkage of every position whose arm is known; name those that cannot be drawn."""
    aircraft = surveyed.aircraft
    drawn = [fit for fit in by_channel(aircraft) if fit.linkage and fit.linkage.arm_mm]
    numbers = _numbers(aircraft)
    width = (sheet.width_mm - (_ACROSS - 1) * _GAP_MM) / _ACROSS
    for start in range(0, len(drawn), _ACROSS):
        row = drawn[start : start + _ACROSS]
        words = [_words(sheet, surveyed, fit, numbers[fit.code], width) for fit in row]
        name_mm = max(len(names) for names, _ in words) * sheet.line_mm()
        below_mm = max(len(lines) for _, lines in words) * sheet.line_mm()
        sheet.need(name_mm + _DRAWN_MM + below_mm + _BELOW_MM)
        for place, (fit, labels) in enumerate(zip(row, words, strict=True)):
            x_mm = sheet.left_mm + place * (width + _GAP_MM)
            _draw_one(sheet, surveyed, fit, labels, x_mm, width, name_mm)
        sheet.gap(name_mm + _DRAWN_MM + below_mm + _BELOW_MM)
    missing = [fit.code for fit in by_channel(aircraft) if fit not in drawn]
    if missing:
        sheet.write(text("Not drawn, for the arm is not recorded: {places}.", places=series(missing, ",")))


def _numbers(aircraft: Aircraft) -> dict[str, int]:
    return {fit.code: number for number, fit in enumerate(aircraft.fits, start=1)}


def _words(
    sheet: Sheet, surveyed: Survey, fit: ServoFit, number: int, width_mm: float
) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """The lines above and below a drawing: whose it is, and its measures."""
    assert fit.linkage is not None
    measures = _measures(sheet.style, fit.linkage, _travel_deg(surveyed, fit))
    name = f"{number}  {fit.position.name}"
    return wrapped(name, BOLD, SMALLEST_PT, width_mm), wrapped(measures, BODY, SMALLEST_PT, width_mm)


def _travel_deg(surveyed: Survey, fit: ServoFit) -> float | None:
    travel = surveyed.positions[fit.code].servo_travel_deg
    return min(abs(travel.expected), 80.0) if travel else None


def _draw_one(
    sheet: Sheet, surveyed: Survey, fit: ServoFit, lines: tuple[tuple[str, ...], tuple[str, ...]],
    x_mm: float, width_mm: float, name_mm: float,
) -> None:  # fmt: skip
    link, top = fit.linkage, sheet.y_mm
    assert link is not None
    names, measures = lines
    for place, line in enumerate(names, start=1):
        sheet.put(line, x_mm, top + (place - 0.25) * sheet.line_mm() + 0.6, bold=True)
    drawn = top + name_mm + 1.2
    _draw_sides(sheet, fit, link, _travel_deg(surveyed, fit), x_mm + 2, drawn, width_mm - 4)
    for place, line in enumerate(measures, start=1):
        sheet.put(line, x_mm, drawn + _DRAWN_MM + (place - 0.1) * sheet.line_mm() + 0.6)


def _measures(style: SheetStyle, link: Linkage, travel_deg: float | None) -> str:
    parts: list[Arg] = [text("arm {length}", length=style.show(link.arm_mm, "mm"))]
    parts.append(
        text("horn {length}", length=style.show(link.horn_mm, "mm") or "____") if _turns(link) else link.kind
    )
    if link.kind is not LinkageKind.DIRECT:
        parts.append(text("rod {length}", length=style.show(link.rod_length_mm, "mm") or "____"))
    parts.append(text("arm to rod {angle}", angle=style.show(link.arm_angle_deg, "deg") or "____"))
    if travel_deg is not None:
        parts.append(text("travel {angle:.0f}°", angle=travel_deg))
    return style.put(series(parts, ","))


def _turns(link: Linkage) -> bool:
    return link.horn_mm is not None or link.kind is LinkageKind.PUSHROD


def _draw_sides(
    sheet: Sheet, fit: ServoFit, link: Linkage, travel_deg: float | None,
    x_mm: float, y_mm: float, width_mm: float,
) -> None:  # fmt: skip
    arm, horn = link.arm_mm or 0.0, link.horn_mm or 0.0
    rod = min(link.rod_length_mm or 5 * max(arm, horn), _SHORTEN * max(arm, horn) + 20)
    scale = min(0.9 * _DRAWN_MM / max(arm, horn), width_mm / (rod + arm + horn))
    base = y_mm + _DRAWN_MM - 1.2
    left = x_mm + arm * scale * 0.8
    right = left + rod * scale
    lean = math.radians(90.0 - (link.arm_angle_deg or 90.0))
    tip = _arm(sheet, left, base, arm * scale, lean, 1.4)
    for side in (-1, 1):
        if travel_deg is not None:
            _arm(sheet, left, base, arm * scale, lean + side * math.radians(travel_deg), LEAST_LINE_PT)
    if not horn:
        sheet.line(*tip, right, tip[1], 0.8)
        return
    horn_tip = _arm(sheet, right, base, horn * scale, 0.0, 1.4)
    sheet.line(*tip, *horn_tip, 0.8)
    if fit.surface:
        for angle in (fit.surface.throw_up_deg or 0.0, -(fit.surface.throw_down_deg or 0.0)):
            _arm(sheet, right, base, horn * scale, math.radians(angle), LEAST_LINE_PT)


def _arm(
    sheet: Sheet, x_mm: float, y_mm: float, length_mm: float, lean_rad: float, line_pt: float
) -> tuple[float, float]:
    """An arm standing on its axis, leaning by an angle; returns its tip."""
    tip = x_mm + length_mm * math.sin(lean_rad), y_mm - length_mm * math.cos(lean_rad)
    sheet.line(x_mm, y_mm, *tip, line_pt)
    sheet.canvas.circle(x_mm * MM, (sheet.page_height_mm - y_mm) * MM, 0.8 * MM, stroke=1, fill=0)
    return tip
