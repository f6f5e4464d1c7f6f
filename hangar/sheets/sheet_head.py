"""Top and bottom of a sheet: whose it is, whether it may fly, and what always stands at the foot."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from hangar.base.class_words import CLASS_WORDS
from hangar.base.text import Arg, Text, series, text
from hangar.parts import Airframe
from hangar.parts.airframe import is_power_unknown
from hangar.parts.choices import PowerKind
from hangar.parts.sheet_boxes import digest
from hangar.rules import summary
from hangar.sheets.case import SheetCase, accepted, held_words, not_judged_words, not_released_words
from hangar.sheets.kit import Sheet
from hangar.sheets.page import Page, page_words
from hangar.sheets.qr_code import draw_qr
from hangar.sheets.style import MARGIN_MM, SheetStyle
from hangar.sheets.texts import cautions_for, footer
from hangar.sheets.wrapping import BODY, BOLD, SMALLEST_PT, width_of_mm, wrapped

_QR_MM = 21.0
_NAMED_MOST = 16
"""Aircraft whose revisions are named one by one; of more, one number stands for all."""
_WIDEST_COUNT = 88
_NAME_SIZES_PT = (17.0, 14.0, 12.0)


def head(sheet: Sheet, case: SheetCase, title: Text) -> None:
    """Name, code, class, mass, mark and the day the figures stand for, with a QR of code and revision."""
    frame, style, day = case.aircraft.airframe, sheet.style, case.conditions
    top = sheet.y_mm
    draw_qr(sheet, f"{frame.code} {case.revision}", sheet.right_mm - _QR_MM, top, _QR_MM)
    mark = [frame.registration or "______"]
    if frame.registration and frame.registration_place:
        mark.append(frame.registration_place)
    facts = [
        class_words(frame),
        text("all-up mass {mass}", mass=mass_words(style, frame.all_up_mass_g) or "______"),
        *([text("mark {mark}", mark=series(mark, ""))] if style.own_details else []),
        text("revision {revision} of {day}", revision=case.revision, day=day.today),
        text("air {air}, {altitude:g} m", air=style.show(day.air_c, "C"), altitude=day.altitude_m),
    ]
    _head_lines(
        sheet,
        title,
        f"{frame.name}  ({frame.code})",
        facts,
        sheet.width_mm - _QR_MM - 3,
    )
    sheet.y_mm = max(sheet.y_mm, top + _QR_MM) + 1.5


def running_head(case: SheetCase, sheet: Arg, state: Text | None = None) -> Text:
    """What every further page says: whose it is, of which records, whether it may fly."""
    frame = case.aircraft.airframe
    signs = {
        text("HELD"): held_words(case),
        text("NOT RELEASED"): not_released_words(case),
        text("NOT JUDGED"): not_judged_words(case),
    }
    states = [sign for sign, words in signs.items() if words]
    return text(
        "{name} ({code}), {sheet}, revision {revision}, {state}",
        name=frame.name,
        code=frame.code,
        sheet=sheet,
        revision=case.revision,
        state=state or (series(states, ",") if states else text("no open warnings")),
    )


def list_head(sheet: Sheet, title: Text, name: Arg, facts: Sequence[Arg]) -> None:
    """The top of a sheet over several aircraft."""
    _head_lines(sheet, title, name, list(facts), sheet.width_mm)
    sheet.y_mm += 1.5


def _head_lines(sheet: Sheet, title: Text, whose: Arg, facts: Sequence[Arg], room_mm: float) -> None:
    put, here = sheet.style.put, sheet.page

    def printed(pages: int) -> Text:
        return text("printed {day}, {page}", day=sheet.style.printed_on, page=page_words(here, pages))

    name = put(whose)
    sheet.y_mm += 4.2
    sheet.put_when_counted(printed, sheet.left_mm + room_mm, sheet.y_mm, align="right")
    title_room = room_mm - width_of_mm(put(printed(_WIDEST_COUNT)), BODY, 9) - 4
    for number, line in enumerate(wrapped(put(title), BOLD, 10.5, title_room)):
        sheet.y_mm += sheet.line_mm(10.5) if number else 0.0
        sheet.put(line, sheet.left_mm, sheet.y_mm, 10.5, bold=True)
    size_pt = next(
        (size for size in _NAME_SIZES_PT if len(wrapped(name, BOLD, size, room_mm)) == 1), _NAME_SIZES_PT[-1]
    )
    sheet.gap(1.4)
    for line in wrapped(name, BOLD, size_pt, room_mm):
        sheet.y_mm += sheet.line_mm(size_pt) * 0.95
        sheet.put(line, sheet.left_mm, sheet.y_mm - 0.6, size_pt, bold=True)
    sheet.gap(0.8)
    for line in _packed([put(fact) for fact in facts], room_mm):
        sheet.y_mm += sheet.line_mm()
        sheet.put(line, sheet.left_mm, sheet.y_mm - 0.8)


def _packed(facts: Sequence[str], room_mm: float) -> list[str]:
    """Facts in lines, none broken inside unless it is longer than a line."""
    lines: list[str] = []
    for fact in facts:
        longer = f"{lines[-1]} · {fact}" if lines else fact
        if lines and width_of_mm(longer, BODY, SMALLEST_PT) <= room_mm:
            lines[-1] = longer
        else:
            lines += wrapped(fact, BODY, SMALLEST_PT, room_mm)
    return lines


def class_words(frame: Airframe) -> Text:
    """Class and what drives it, said once: ``Fast sailplane, no motor``, ``Turbine jet``."""
    words = CLASS_WORDS[frame.aircraft_class] if frame.aircraft_class else "class not said"
    power = "no motor" if frame.power is PowerKind.NONE else str(frame.power)
    if is_power_unknown(frame):
        power = "motor not known"
    named = text(words)
    return named if power in words.lower() else series([named, text(power)], ",")


def mass_words(style: SheetStyle, mass_g: float | None) -> str | None:
    """A mass in both units of the trade: grams below a kilogram, kilograms above."""
    if mass_g is None or mass_g < 1000:
        return style.both(mass_g, "g")
    return style.both(mass_g / 1000, "kg")


def release_line(sheet: Sheet, case: SheetCase) -> None:
    """HELD, NOT RELEASED or NOT JUDGED in words across the page, or what the rules did not find."""
    signs = [find(case) for find in (held_words, not_released_words, not_judged_words)]
    for words in signs:
        if words:
            sheet.banner(words, dark=True)
    if not any(signs):
        sheet.banner(text("{summary:^}", summary=summary(case.findings)), dark=False)
    elif accepted(case.findings):
        sheet.write(text("{count} more accepted in writing.", count=len(accepted(case.findings))))


def release_lines(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """On a sheet over several aircraft: which are held, not released, not judged, in words."""
    several = len(cases) > 1
    for find in (held_words, not_released_words, not_judged_words):
        words_by_code = {case.aircraft.code: words for case in cases if (words := find(case))}
        if words_by_code:
            first = next(iter(words_by_code.values()))
            reasons = [
                text("{code} ({why})", code=code, why=words.args["why"]) if several else words.args["why"]
                for code, words in words_by_code.items()
            ]
            sheet.banner(first.with_args(why=series(reasons)), dark=True)


def revisions(cases: Sequence[SheetCase]) -> Text:
    """Which records a sheet over several aircraft was printed from: ``revision MARQ 02531c, ...``."""
    if len(cases) > _NAMED_MOST:
        words = "".join(f"{case.aircraft.code} {case.revision}" for case in cases)
        return text("revision of all {digest}", digest=digest(words))
    named = series((f"{case.aircraft.code} {case.revision}" for case in cases), ",")
    return text("revision {revisions}", revisions=named)


def foot_of(cases: Sequence[SheetCase], kind: str, *, cautions: bool = True) -> Callable[[Page], float]:
    """A function that draws the foot of each page and returns where it begins.

    The first page carries the cautions of every aircraft on the sheet, each once; with ``cautions`` off they
    stand before the steps that they are of.
    """
    sentences = dict.fromkeys(
        words for case in cases for words in cautions_for(case.aircraft, kind) if cautions
    )
    lines, last = [text(words) for words in sentences], text(footer())

    def foot(sheet: Page) -> float:
        texts = [*(lines if sheet.page <= 1 else []), last]
        blocks = [
            wrapped(sheet.style.put(other_text), BOLD if other_text is last else BODY, 9, sheet.width_mm)
            for other_text in texts
        ]
        height = sum(len(block) for block in blocks) * sheet.line_mm() + 1.5
        top = sheet.page_height_mm - MARGIN_MM - height
        sheet.line(sheet.left_mm, top, sheet.right_mm, top, 0.9)
        y_mm = top + 0.8
        for words, block in zip(texts, blocks, strict=True):
            for line in block:
                y_mm += sheet.line_mm()
                sheet.put(line, sheet.left_mm, y_mm - 0.9, bold=words is last)
        return top - 1.0

    return foot
