"""Blocks that several sheets share: head, release line, foot, power, channels, findings."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

from reportlab.graphics.barcode.qr import QrCodeWidget
from reportlab.graphics.shapes import Drawing

from hangar.base.figure import Figure
from hangar.parts import Aircraft, Library, ServoFit
from hangar.parts.choices import AircraftState, Function
from hangar.physics.throws import throw_mm
from hangar.rules import Thresholds, summary
from hangar.rules.finding import Finding, Level
from hangar.sheets.kit import BODY, BOLD, Cell, Sheet, wrapped
from hangar.sheets.style import MARGIN_MM, MM, SheetStyle
from hangar.sheets.texts import cautions_for, footer
from hangar.survey import Survey


@dataclass(frozen=True, kw_only=True)
class SheetCase:
    """One aircraft as a sheet needs it: surveyed, judged, with the library beside it."""

    survey: Survey
    findings: tuple[Finding, ...]
    library: Library = field(default_factory=Library)
    thresholds: Thresholds = field(default_factory=Thresholds)

    @property
    def aircraft(self) -> Aircraft:
        """The aircraft the sheet is for."""
        return self.survey.aircraft


def date_words(day: object) -> str | None:
    """A date as YYYY-MM-DD, or None when not known."""
    return None if day is None else str(day)


def head(sheet: Sheet, case: SheetCase, title: str) -> None:
    """Name, code, class, mass, mark and the day the figures stand for, with a QR of the code."""
    frame, style, day = case.aircraft.airframe, sheet.style, case.survey.conditions
    qr_mm = 21.0
    top = sheet.y_mm
    _qr(sheet, frame.code, sheet.right_mm - qr_mm, top, qr_mm)
    room = sheet.width_mm - qr_mm - 3
    sheet.put(title, sheet.left_mm, top + 4.2, 10.5, bold=True)
    sheet.put(f"printed {style.printed_on}", sheet.left_mm + room, top + 4.2, align="right")
    name = wrapped(f"{frame.name}  ({frame.code})", BOLD, 17, room)[0]
    sheet.put(name, sheet.left_mm, top + 12.0, 17, bold=True)
    place = f" {frame.registration_place}" if frame.registration and frame.registration_place else ""
    facts = [
        f"{frame.aircraft_class}, {frame.power}",
        f"all-up mass {_mass_words(style, frame.all_up_mass_g) or '______'}",
        f"mark {frame.registration or '______'}{place}",
        f"data of {day.today}; air {style.show(day.air_c, 'C')}, {day.altitude_m:g} m",
    ]
    sheet.y_mm = top + 13.0
    for line in wrapped("   ·   ".join(facts), BODY, 9, room):
        sheet.y_mm += sheet.line_mm()
        sheet.put(line, sheet.left_mm, sheet.y_mm)
    sheet.y_mm = max(sheet.y_mm, top + qr_mm) + 1.5


def _mass_words(style: SheetStyle, mass_g: float | None) -> str | None:
    if mass_g is None or mass_g < 1000:
        return style.both(mass_g, "g")
    return style.both(mass_g / 1000, "kg")


def _qr(sheet: Sheet, text: str, x_mm: float, y_mm: float, side_mm: float) -> None:
    code = QrCodeWidget(text, barLevel="M")
    low_x, low_y, high_x, high_y = code.getBounds()
    side = side_mm * MM
    drawing = Drawing(side, side, transform=[side / (high_x - low_x), 0, 0, side / (high_y - low_y), 0, 0])
    drawing.add(code)
    drawing.drawOn(sheet.canvas, x_mm * MM, (sheet.page_height_mm - y_mm - side_mm) * MM)


def release_line(sheet: Sheet, case: SheetCase) -> None:
    """HELD or NOT RELEASED in words across the page, or what the rules did not find."""
    frame = case.aircraft.airframe
    warnings = open_at(case.findings, Level.WARNING)
    if frame.state is AircraftState.HELD:
        sheet.banner(f"HELD: {frame.state_reason or 'reason not written down'}", dark=True)
    if warnings:
        noun = "warning is" if len(warnings) == 1 else "warnings are"
        sheet.banner(f"NOT RELEASED: {len(warnings)} {noun} open", dark=True)
    elif frame.state is not AircraftState.HELD:
        words = summary(case.findings)
        sheet.banner(words[0].upper() + words[1:], dark=False)


def open_at(findings: Sequence[Finding], level: Level) -> list[Finding]:
    """The findings of a level that nobody has accepted in writing."""
    return [finding for finding in findings if finding.level is level and finding.is_open]


LEVEL_MARK = {
    Level.WARNING: "WARNING",
    Level.CAUTION: "Caution",
    Level.ADVISORY: "Advisory",
    Level.CANT_TELL: "Can't tell",
}


def findings_table(sheet: Sheet, findings: Sequence[Finding], *, with_remedy: bool) -> None:
    """Findings by level in words, with what to do where there is room for it."""
    if with_remedy:
        rows: list[list[Cell]] = [
            [LEVEL_MARK[finding.level] + _accepted(finding), _message(finding), finding.remedy or "-"]
            for finding in findings
        ]
        sheet.table(["Level", "Finding", "What to do"], [18, 92, 60], rows)
    else:
        sheet.table(
            ["Level", "Finding"],
            [18, 152],
            [[LEVEL_MARK[finding.level] + _accepted(finding), finding.message] for finding in findings],
        )


def _message(finding: Finding) -> str:
    detail = finding.detail
    return f"{finding.message} {detail[:1].upper()}{detail[1:]}".strip()


def _accepted(finding: Finding) -> str:
    return f", accepted to {finding.accepted_until}" if finding.accepted_until else ""


def foot_of(case: SheetCase, kind: str) -> Callable[[Sheet], float]:
    """A function that draws the foot of each page and returns where it begins."""
    lines, last = cautions_for(case.aircraft, kind), footer()

    def foot(sheet: Sheet) -> float:
        first = sheet.page <= 1
        texts = [*(lines if first else []), last]
        blocks = [wrapped(text, BOLD if text is last else BODY, 9, sheet.width_mm) for text in texts]
        height = sum(len(block) for block in blocks) * sheet.line_mm() + 1.5
        top = sheet.page_height_mm - MARGIN_MM - height
        sheet.line(sheet.left_mm, top, sheet.right_mm, top, 0.9)
        y_mm = top + 0.8
        for text, block in zip(texts, blocks, strict=True):
            for line in block:
                y_mm += sheet.line_mm()
                sheet.put(line, sheet.left_mm, y_mm - 0.9, bold=text is last)
        return top - 1.0

    return foot


def throw_words(sheet: Sheet, fit: ServoFit) -> str | None:
    """Throw up and down in degrees and in millimetres at the root trailing edge."""
    surface = fit.surface
    if surface is None:
        return "-" if not fit.function.is_surface else None
    angles = (surface.throw_up_deg, surface.throw_down_deg)
    edges = [sheet.style.show(throw_mm(angle, surface.root_chord_mm), "mm", 2) or "" for angle in angles]
    unit = edges[1].rpartition(" ")[2]
    return f"{angles[0]:.0f}° / {angles[1]:.0f}°, {edges[0].removesuffix(f' {unit}')} / {edges[1]}"


def function_words(fit: ServoFit) -> str:
    """The position's name as the keeper wrote it."""
    return fit.position.name


def channel_key(fit: ServoFit) -> tuple[bool, int, str]:
    """Order of positions on a sheet: by channel, those without one last."""
    number = fit.position.channel
    return (number is None, number or 0, fit.code)


def figure_or_dash(sheet: Sheet, figure: Figure | None, *, needed: bool) -> Cell:
    """A figure in the keeper's unit; a box where it is needed and not known, else a dash."""
    words = sheet.style.figure(figure)
    return words if words is not None else (None if needed else "-")


def needs_load(fit: ServoFit) -> bool:
    """Whether air or rotor load must be known at that position."""
    return fit.function.is_surface or fit.function in (Function.CYCLIC, Function.COLLECTIVE, Function.TAIL)
