"""The working of every figure: how it was made, from what, what that rests on, and its source."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from hangar.base.text import Arg, Text, joined, series, text
from hangar.sheets.case import SheetCase
from hangar.sheets.dry_run import laid_out
from hangar.sheets.kit import Cell, Sheet, heads
from hangar.sheets.sheet_head import foot_of, head, release_line, running_head
from hangar.sheets.style import BASIS_LEGEND
from hangar.sheets.working_blocks import Block, blocks_of, numbered
from hangar.sheets.working_tables import draw_list, draw_matrix
from hangar.survey import Survey

_UNKNOWN = text("Not known, so not computed")
_READING = text(
    "Each figure has a number; below its table stands how it was made: the formula, its source in brackets, "
    "and what went in, which stands in the table too, or under Same wherever used; a number before a name "
    "says which figure it is. From and to: the band of an estimate. M measured, R rated, C computed, T "
    "typical. A dash: there is no such thing there."
)


def draw_working(sheet: Sheet, case: SheetCase) -> None:
    """Draw the figures subject by subject, those of one formula side by side, with the pages at the top."""
    blocks = blocks_of(case.survey)
    places = laid_out(sheet.style, lambda dry: _draw(dry, case, blocks, None)).places
    _draw(sheet, case, blocks, places)


def _draw(
    sheet: Sheet, case: SheetCase, blocks: Sequence[Block], places: Sequence[tuple[Arg, int]] | None
) -> None:
    frame = case.aircraft.airframe
    sheet.begin(
        text("{code} working", code=frame.code),
        running_head(case, text("working")),
        foot_of([case], "working"),
        answers=f"{frame.code} working",
    )
    head(sheet, case, text("WORKING: how each figure was made"))
    release_line(sheet, case)
    sheet.gap(1.0)
    missing = _missing(case.survey)
    titles = [block.title for block in blocks] + ([_UNKNOWN] if missing else [])
    _contents(sheet, titles, {str(title): page for title, page in places or ()})
    sheet.gap(1.0)
    sheet.write(joined(BASIS_LEGEND, _READING, text("{conversions}", conversions=sheet.style.conversions)))
    elsewhere = numbered(blocks)
    for block in blocks:
        sheet.heading(block.title)
        (draw_list if block.is_list else draw_matrix)(sheet, block, elsewhere)
    if not blocks:
        sheet.write(text("No figure could be computed."))
    if missing:
        sheet.heading(_UNKNOWN)
        for words in missing:
            sheet.write(words)


def _contents(sheet: Sheet, titles: Sequence[Text], pages: Mapping[str, int]) -> None:
    """Subjects with the page each begins on."""
    if len(titles) < 2:
        return
    words: list[list[Cell]] = [
        [title, text("page {page}", page=pages.get(str(title), 1))] for title in titles
    ]
    words += [["", ""]] * (len(words) % 2)
    half = len(words) // 2
    rows: list[list[Cell]] = [[*left, *right] for left, right in zip(words[:half], words[half:], strict=True)]
    sheet.table(heads("", "", "", ""), [78, 16, 78, 16], rows)


def _missing(survey: Survey) -> list[Text]:
    """What each position, the supply and the aircraft would need, one paragraph each."""
    by_figure: dict[Text | str, list[Text]] = {}
    for code, position in survey.positions.items():
        lacking = [word for words in position.missing_for.values() for word in words]
        by_figure[code] = [*position.missing, *lacking]
    by_figure[text("Supply")] = list(survey.supply.missing)
    for scenario, case in survey.scenarios.items():
        by_figure[text("Supply, {scenario}", scenario=scenario)] = [case.collapse] if case.collapse else []
    by_figure[text("Aircraft")] = list(survey.airframe.missing)
    return [
        text("{what}: {missing}.", what=name, missing=series(dict.fromkeys(words)))
        for name, words in by_figure.items()
        if words
    ]
