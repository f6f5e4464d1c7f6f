"""The working of every figure: how it was made, from what, what that rests on, and its source."""

from __future__ import annotations

from collections.abc import Iterator

from hangar.base.errors import BadInput
from hangar.base.figure import Figure, Input
from hangar.sheets.case import SheetCase
from hangar.sheets.kit import Sheet
from hangar.sheets.sheet_head import foot_of, head
from hangar.sheets.style import BASIS_LEGEND, BASIS_WORDS, SheetStyle
from hangar.survey import Survey

_INDENT_MM = 4.0


def draw_working(sheet: Sheet, case: SheetCase) -> None:
    """Draw the figures of each position, each load case, the supply and the aircraft."""
    frame = case.aircraft.airframe
    sheet.begin(
        f"{frame.code} working",
        f"{frame.name} ({frame.code}), working",
        foot_of([case], "working"),
        answers=f"{frame.code} working",
    )
    head(sheet, case, "WORKING: how each figure was made")
    sheet.write(BASIS_LEGEND)
    for title, figures, missing in _groups(case.survey):
        sheet.heading(title)
        for figure in figures:
            _draw_figure(sheet, figure)
        if missing:
            sheet.write(f"Not known, so not computed: {'; '.join(missing)}.")
        if not figures and not missing:
            sheet.write("No figure could be computed.")


def _groups(survey: Survey) -> Iterator[tuple[str, list[Figure], list[str]]]:
    names = {fit.code: fit.position.name for fit in survey.aircraft.fits}
    for code, position in survey.positions.items():
        figures = [figure for _, figure in position.figures()]
        lacking = [each for words in position.missing_for.values() for each in words]
        missing = list(dict.fromkeys((*position.missing, *lacking)))
        yield f"{code}, {names.get(code, '')}", figures, missing
    yield "Supply", [figure for _, figure in survey.supply.figures()], list(survey.supply.missing)
    for scenario, case in survey.scenarios.items():
        collapse = [case.collapse] if case.collapse else []
        yield f"Supply, {scenario}", [figure for _, figure in case.figures()], collapse
    airframe = survey.airframe
    yield "Aircraft", [figure for _, figure in airframe.figures()], list(airframe.missing)


def _draw_figure(sheet: Sheet, figure: Figure) -> None:
    """Name and value in bold, then how it was made, from what, and the source."""
    style, working = sheet.style, figure.working
    name = f"{figure.name[:1].upper()}{figure.name[1:]}"
    sheet.need(3 * sheet.line_mm())
    sheet.write(f"{name}: {style.band(figure)}, {BASIS_WORDS[figure.basis]}", bold=True)
    sheet.write(f"{working.formula} ({working.source or 'no source given'})", indent_mm=_INDENT_MM)
    inputs = "; ".join(_input_words(style, each) for each in working.inputs)
    if inputs:
        sheet.write(f"From {inputs}.", indent_mm=_INDENT_MM)
    sheet.gap(0.8)


def _input_words(style: SheetStyle, given: Input) -> str:
    return f"{given.name} {_value_words(style, given)}, {BASIS_WORDS[given.basis]}"


def _value_words(style: SheetStyle, given: Input) -> str:
    if isinstance(given.value, str):
        return given.value
    try:
        return style.units.show(given.value, given.unit)
    except BadInput:
        # A figure of a method may carry a unit of its own that no keeper chooses, such as ohm per metre.
        return f"{given.value:g} {given.unit}".strip()
