"""The supply as a drawing: packs, switch and regulator of each path into the bus, and what hangs on it."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.answers.field_steps import pack_words
from hangar.base.text import Arg, Text, plural, series, text
from hangar.parts import PowerPath
from hangar.parts.choices import RegulatorKind
from hangar.sheets.fit_words import tag_and_type
from hangar.sheets.kit import Sheet
from hangar.sheets.style import SheetStyle
from hangar.sheets.wrapping import BODY, SMALLEST_PT, wrapped
from hangar.survey import Scenario, Survey

_PAD_MM, _GAP_MM, _ROW_GAP_MM = 1.0, 6.0, 2.5
_COLUMNS = 4
_POLARITY = text(
    "+ red wire, - black wire; common practice, no source. Hold each plug against its counterpart with a "
    "meter before it is joined the first time."
)


def draw_supply(sheet: Sheet, surveyed: Survey) -> None:
    """Draw every path that feeds the bus as a row of boxes, then list the paths that stand alone."""
    feeding = surveyed.aircraft.radio_paths
    if not feeding:
        sheet.write(text("No power path to the receiver is recorded."))
        return
    rows = [[_put(sheet, box) for box in _row_words(sheet.style, surveyed, path)] for path in feeding]
    width = (sheet.width_mm - (_COLUMNS - 1) * _GAP_MM) / _COLUMNS
    heights = [_height(sheet, row, width) for row in rows]
    consumers = _put(sheet, _consumer_words(surveyed))
    total = sum(heights) + _ROW_GAP_MM * (len(rows) - 1)
    bus_mm = max(total, _height(sheet, [consumers], width))
    sheet.need(bus_mm + 3)
    top = sheet.y_mm + 1
    bus_x = sheet.left_mm + (_COLUMNS - 1) * (width + _GAP_MM) - _GAP_MM / 2
    y_mm = top
    for row, height in zip(rows, heights, strict=True):
        _draw_row(sheet, row, y_mm, width, height, bus_x)
        y_mm += height + _ROW_GAP_MM
    sheet.line(bus_x, top, bus_x, top + bus_mm, 2.2)
    middle = top + bus_mm / 2
    sheet.line(bus_x, middle, bus_x + _GAP_MM / 2, middle, 1.0)
    _box(sheet, consumers, bus_x + _GAP_MM / 2, top, width, bus_mm)
    sheet.y_mm = top + bus_mm + 2
    sheet.write(_POLARITY)
    alone = [path for path in surveyed.aircraft.paths if path not in feeding]
    for path in alone:
        packs = series(
            (text("{tag} ({kind})", tag=fed.pack.tag, kind=pack_words(fed.pack_type)) for fed in path.packs),
            ",",
        )
        sheet.write(
            text(
                "By itself: {code} feeds the {role} from {packs}.",
                code=path.feed.code,
                role=path.feed.role,
                packs=packs or text("no pack"),
            )
        )


def _draw_row(
    sheet: Sheet, row: Sequence[Sequence[str]], y_mm: float, width_mm: float, height_mm: float, bus_x: float
) -> None:
    middle = y_mm + height_mm / 2
    for sign, off_mm in (("+", -1.6), ("-", 1.6)):
        sheet.line(sheet.left_mm, middle + off_mm, bus_x, middle + off_mm, 1.0)
        for place in range(len(row)):
            x_mm = sheet.left_mm + (place + 1) * (width_mm + _GAP_MM) - _GAP_MM
            above = middle + off_mm - 0.7 if sign == "+" else middle + off_mm + 2.9
            if x_mm + _GAP_MM / 2 <= bus_x:
                sheet.put(sign, x_mm + 1.2, above, SMALLEST_PT, bold=True)
    for place, words in enumerate(row):
        _box(sheet, words, sheet.left_mm + place * (width_mm + _GAP_MM), y_mm, width_mm, height_mm)


def _put(sheet: Sheet, words: Sequence[Arg]) -> list[str]:
    return [sheet.style.put(word) for word in words]


def _row_words(style: SheetStyle, surveyed: Survey, path: PowerPath) -> list[list[Arg]]:
    packs: list[Arg] = [tag_and_type(fed.pack.tag, fed.pack_type.code) for fed in path.packs] or [
        text("pack ____")
    ]
    kinds = list(dict.fromkeys(pack_words(fed.pack_type) for fed in path.packs))
    full = surveyed.supply.path_full_v.get(path.feed.code)
    join = [path.feed.join] if len(path.packs) > 1 else []
    first: list[Arg] = [series([path.feed.code, *join], ","), *packs, *kinds]
    if full:
        first.append(text("full {volts}", volts=style.figure(full)))
    plugs = list(dict.fromkeys(fed.pack_type.connector or "____" for fed in path.packs))
    gauges = list(dict.fromkeys(str(fed.pack_type.lead_awg or "__") for fed in path.packs))
    first += [text("plug: {plug}", plug=plug) for plug in plugs]
    first += [text("its lead {gauge} AWG", gauge=gauge) for gauge in gauges]
    switch: list[Arg] = (
        [path.switch_type.code, _amps(style, path.switch_type.continuous_a)] if path.switch_type else []
    )
    lead: list[Arg] = [
        text(
            "lead {length}, {gauge} AWG",
            length=style.show(path.feed.lead_length_mm, "mm") or "____",
            gauge=path.feed.lead_awg or "__",
        ),
        text("joints {joints}", joints="__" if path.feed.joints is None else path.feed.joints),
        *(
            [text("{count} leads side by side", count=path.feed.parallel_leads)]
            if path.feed.parallel_leads > 1
            else []
        ),
    ]
    return [
        first,
        [*([text("switch"), *switch] if switch else [text("no switch")]), *lead],
        _regulator_words(style, path),
    ]


def _regulator_words(style: SheetStyle, path: PowerPath) -> list[Arg]:
    kind, fitted = path.regulator_type, path.regulator
    if kind is None:
        return [text("direct to the bus")]
    setting = style.show(fitted.set_v, "V") if fitted and fitted.set_v else None
    passes = kind.regulator is RegulatorKind.PASS
    return [
        text("{regulator}: {kind}", regulator=fitted.code if fitted else text("regulator"), kind=kind.code),
        kind.regulator,
        *([] if passes and not setting else [text("set {volts}", volts=setting or "____")]),
        _amps(style, kind.continuous_a),
    ]


def _amps(style: SheetStyle, current_a: float | None) -> Text:
    return text("{current} continuous", current=style.show(current_a, "A") or "____")


def _consumer_words(surveyed: Survey) -> list[Arg]:
    aircraft = surveyed.aircraft
    servos = sum(fit.servo_type is not None for fit in aircraft.fits)
    peak = surveyed.scenarios.get(Scenario.PEAK)
    names = [receiver.code for receiver in aircraft.receivers]
    names += [stabiliser.code for stabiliser in aircraft.stabilisers]
    names += [accessory.name for accessory in aircraft.accessories]
    words: list[Arg] = [plural("BUS: {count} servo", "BUS: {count} servos", count=servos), *names]
    if peak and peak.collapse:
        return [*words, text("peak: {why}", why=peak.collapse)]
    if peak and peak.bus_v and peak.total_a:
        words.append(
            text(
                "peak {volts:.2f} V, {current:.1f} A drawn",
                volts=peak.bus_v.expected,
                current=peak.total_a.expected,
            )
        )
    return words


def _lines(words: Sequence[str], width_mm: float) -> list[str]:
    return [line for word in words for line in wrapped(word, BODY, SMALLEST_PT, width_mm - 2 * _PAD_MM)]


def _height(sheet: Sheet, row: Sequence[Sequence[str]], width_mm: float) -> float:
    return max(len(_lines(words, width_mm)) for words in row) * sheet.line_mm() + 2 * _PAD_MM


def _box(
    sheet: Sheet, words: Sequence[str], x_mm: float, y_mm: float, width_mm: float, height_mm: float
) -> None:
    sheet.rect(x_mm, y_mm, width_mm, height_mm, line_pt=0.8, fill_gray=1.0)
    for number, line in enumerate(_lines(words, width_mm), start=1):
        sheet.put(line, x_mm + _PAD_MM, y_mm + 0.2 + number * sheet.line_mm())
