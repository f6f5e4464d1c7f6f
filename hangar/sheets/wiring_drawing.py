"""The wiring as a drawing: every port with its channel, the lead to each servo, and what a Y lead joins."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby

from hangar.answers.outputs import Output, outputs_of
from hangar.base.text import Arg, Text, series, text
from hangar.parts import Aircraft
from hangar.sheets.fit_words import tag_and_type
from hangar.sheets.kit import Sheet
from hangar.sheets.wrapping import BODY, BOLD, SMALLEST_PT, wrapped

_PORT_MM, _BRANCH_MM, _SERVO_MM, _ROW_MM = 26.0, 12.0, 74.0, 9.2
_PLUG_MM, _PLUG_HIGH_MM, _PINS = 10.0, 4.0, "- + S"
_POLARITY = text(
    "Plug of a servo: three pins, - minus (dark wire), + plus (the middle one), S signal (bright wire); "
    "common practice, no source. Hold each against the maker's drawing before it gets volts."
)


def draw_wiring(sheet: Sheet, aircraft: Aircraft) -> None:
    """Draw each channel as a line from its port to what hangs on it; a channel is on one page."""
    outputs = outputs_of(aircraft)
    if not outputs:
        return
    sheet.heading(text("Wiring, port by port"))
    for _, sharing in groupby(outputs, key=_port):
        _channel(sheet, list(sharing))
    sheet.gap(1.0)
    sheet.write(_POLARITY)


def _port(output: Output) -> tuple[str, str]:
    place = output.fit.position if output.fit else output.channel
    port = place.port if place is not None else ""
    return port, output.number or output.about


def _channel(sheet: Sheet, sharing: Sequence[Output]) -> None:
    height = _ROW_MM * len(sharing)
    sheet.need(height + 1.0)
    top, middle = sheet.y_mm, sheet.y_mm + height / 2
    first = sharing[0]
    number = first.number or "____"
    _box(sheet, [text("channel {number}", number=number), _port_words(first)], sheet.left_mm, top, _PORT_MM,
         height - 1.0)  # fmt: skip
    from_mm, branch_mm = sheet.left_mm + _PORT_MM, sheet.left_mm + _PORT_MM + _BRANCH_MM
    servo_mm = sheet.right_mm - _SERVO_MM
    middle -= 0.5
    if len(sharing) > 1:
        sheet.line(from_mm, middle, branch_mm, middle, 1.2)
        sheet.line(branch_mm, top + (_ROW_MM - 1) / 2, branch_mm, top + height - (_ROW_MM + 1) / 2, 1.2)
        sheet.put("Y", from_mm + 2.0, middle - 2.8, SMALLEST_PT, bold=True)
    for place, output in enumerate(sharing):
        y_mm = top + place * _ROW_MM + (_ROW_MM - 1) / 2
        start_mm = branch_mm if len(sharing) > 1 else from_mm
        sheet.line(start_mm, y_mm, servo_mm, y_mm, 1.2)
        for line in wrapped(
            sheet.style.put(_lead_words(sheet, output)), BODY, SMALLEST_PT, servo_mm - branch_mm
        )[:1]:
            sheet.put(line, branch_mm + 1.5, y_mm - 0.8)
        _box(sheet, _servo_words(output), servo_mm, top + place * _ROW_MM, _SERVO_MM, _ROW_MM - 1.0)
    _plug(sheet, from_mm + 0.8, middle)
    sheet.y_mm = top + height


def _plug(sheet: Sheet, x_mm: float, middle_mm: float) -> None:
    """The plug in the port with its three pins in their order."""
    top = middle_mm - _PLUG_HIGH_MM / 2
    sheet.rect(x_mm, top, _PLUG_MM, _PLUG_HIGH_MM, line_pt=0.8, fill_gray=1.0)
    sheet.put(_PINS, x_mm + _PLUG_MM / 2, top + _PLUG_HIGH_MM - 1.0, SMALLEST_PT, align="middle")


def _port_words(output: Output) -> Arg:
    place = output.fit.position if output.fit else output.channel
    shared = output.channel is not None and output.channel.y_lead
    port = text("port {port}", port=place.port if place is not None else "____")
    return series([port, *([text("Y lead")] if shared else [])], ",")


def _lead_words(sheet: Sheet, output: Output) -> Text | str:
    """Length, gauge and plugged joints of the lead, blank where not on record; nothing for another device."""
    fit = output.fit
    if fit is None:
        return ""
    lead = fit.lead
    length = sheet.style.show(lead.length_mm if lead else None, "mm") or "____"
    gauge = lead.awg if lead and lead.awg is not None else "__"
    joints = lead.joints if lead and lead.joints is not None else "__"
    return text("{length}, {gauge} AWG, joints {joints}", length=length, gauge=gauge, joints=joints)


def _servo_words(output: Output) -> list[Arg]:
    fit = output.fit
    if fit is None:
        return [output.name]
    kind = fit.servo_type
    return [fit.position.name, tag_and_type(fit.tag, kind.code) if kind else (fit.tag or text("no servo"))]


def _box(
    sheet: Sheet, words: Sequence[Arg], x_mm: float, y_mm: float, width_mm: float, height_mm: float
) -> None:
    sheet.rect(x_mm, y_mm, width_mm, height_mm, line_pt=0.8, fill_gray=1.0)
    lines = [
        (line, number == 0)
        for number, word in enumerate(words)
        for line in wrapped(sheet.style.put(word), BOLD if number == 0 else BODY, SMALLEST_PT, width_mm - 2)[
            :1
        ]
    ]
    base = y_mm + (height_mm - len(lines) * sheet.line_mm()) / 2
    for number, (line, bold) in enumerate(lines, start=1):
        sheet.put(line, x_mm + 1.0, base + (number - 0.25) * sheet.line_mm(), bold=bold)
