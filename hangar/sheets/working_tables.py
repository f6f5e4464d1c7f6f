"""Figures side by side with what went into them, and each formula once under its table."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure, Input
from hangar.base.text import NOTHING, Text, joined, series, text, text_in
from hangar.sheets.kit import Cell, Sheet, heads
from hangar.sheets.style import BASIS_LETTERS, SheetStyle
from hangar.sheets.working_blocks import Block, Formula, InputRow, given_in, value_key

_MOST_COLUMNS, _COLUMN_MM, _WIDEST_MM, _BASIS_MM = 10, 13.2, 19.0, 6.0
_LONGEST_CELL, _NO_END = 11, 1e5
_NO_SOURCE = text("no source given")
Elsewhere = Mapping[tuple[str, str], int]


def draw_list(sheet: Sheet, block: Block, elsewhere: Elsewhere) -> None:
    """The figures of one thing, a row each with value, formula, source and what went in."""
    style = sheet.style
    rows: list[list[Cell]] = []
    for formula in block.formulas:
        for line in formula.lines.values():
            figure = line.figures[block.columns[0]]
            given = "; ".join(
                f"{_input_name(style, given_input, block.columns[0], formula, elsewhere)} "
                f"{_value(style, given_input)} "
                f"{_letter(style, given_input.basis)}"
                for given_input in figure.working.inputs
            )
            rows.append(
                [
                    str(formula.number),
                    line.name,
                    f"{style.band(figure)} {_letter(style, figure.basis)}",
                    text(
                        "{formula} ({source})", formula=formula.formula, source=formula.source or _NO_SOURCE
                    ),
                    given or "-",
                ]
            )
    sheet.table(heads("", "Figure", "Value", "How", "From"), [8, 30, 24, 58, 68], rows)


def _letter(style: SheetStyle, basis: Basis) -> str:
    """The letter for what a number rests on."""
    return style.put(BASIS_LETTERS[basis])


def draw_matrix(sheet: Sheet, block: Block, elsewhere: Elsewhere) -> None:
    """The figures of several things side by side, what went in below them, then each formula once."""
    givens = given_in(block, elsewhere)
    alike = [given for given in givens if _is_alike(given, block)]
    listed = [given for given in givens if given not in alike]
    long = [given for given in listed if _is_long(sheet.style, given)]
    names = [given.name for given in givens]
    count = -(-len(block.columns) // _MOST_COLUMNS)
    step = -(-len(block.columns) // count)
    for start in range(0, len(block.columns), step):
        columns = block.columns[start : start + step]
        style = sheet.style
        rows = [row for formula in block.formulas for row in _figure_rows(style, block, formula, columns)]
        rows += [
            _given_row(style, given, columns, repeated=names.count(given.name) > 1)
            for given in listed
            if given not in long and any(column in given.values for column in columns)
        ]
        width = min(_WIDEST_MM, max(_COLUMN_MM, 124 / len(columns)))
        name_mm = sheet.width_mm - width * len(columns) - 2 * _BASIS_MM
        shares = [_BASIS_MM, name_mm, *([width] * len(columns)), _BASIS_MM]
        sheet.table(["", "", *columns, ""], shares, rows)
        sheet.gap(0.6)
    _alike_words(sheet, alike, repeated={name for name in names if names.count(name) > 1})
    for given in long:
        sheet.write(_long_words(sheet.style, given))
    for words in _formula_words(sheet.style, block, elsewhere):
        sheet.write(words)


def _figure_rows(
    style: SheetStyle, block: Block, formula: Formula, columns: Sequence[str]
) -> list[list[Cell]]:
    rows: list[list[Cell]] = []
    for line in formula.lines.values():
        held = {column: line.figures[column] for column in columns if column in line.figures}
        if not held and not any((column, formula.key) in block.unknown for column in columns):
            continue
        absent = {
            column: None if (column, formula.key) in block.unknown else "-"
            for column in columns
            if column not in held
        }
        shown = {column: style.show(figure.expected, figure.unit) or "" for column, figure in held.items()}
        bases = {column: figure.basis for column, figure in held.items()}
        rows.append(_row(style, str(formula.number), style.put(line.name), columns, shown, bases, absent))
        for name, at in ((text_in("of a band", "from"), 0), (text_in("of a band", "to"), -1)):
            ends = {column: _band_end(style, figure, at) for column, figure in held.items()}
            if any(ends.values()):
                shown = {column: end for column, end in ends.items() if end}
                rows.append(
                    _row(style, "", f"    {style.put(name)}", columns, shown, {}, dict.fromkeys(columns, "-"))
                )
    return rows


def _band_end(style: SheetStyle, figure: Figure, at: int) -> str | None:
    if figure.low is None or figure.design is None:
        return None
    end = sorted((figure.low, figure.design))[at]
    # A ratio over a load whose lower estimate is nothing is as good as without end.
    return style.say("no end") if figure.unit == "ratio" and end > _NO_END else style.show(end, figure.unit)


def _given_row(style: SheetStyle, given: InputRow, columns: Sequence[str], *, repeated: bool) -> list[Cell]:
    held = {column: given.values[column] for column in columns if column in given.values}
    shown = {column: _value(style, other_input) for column, other_input in held.items()}
    bases = {column: other_input.basis for column, other_input in held.items()}
    name = style.put(_given_name(given, repeated=repeated))
    return _row(style, "", name, columns, shown, bases, dict.fromkeys(columns, "-"))


def _row(
    style: SheetStyle, number: str, name: str, columns: Sequence[str], shown: Mapping[str, str],
    bases: Mapping[str, Basis], absent: Mapping[str, Cell],
) -> list[Cell]:  # fmt: skip
    """One row; the unit goes to the name and the basis to the last cell where all columns share them."""
    split = {column: _split(words) for column, words in shown.items()}
    units = {unit for _, unit in split.values()}
    unit = units.pop() if len(units) == 1 else None
    letters = {_letter(style, basis) for basis in bases.values()}
    cells: list[Cell] = []
    for column in columns:
        if column not in shown:
            cells.append(absent.get(column, "-"))
            continue
        words = split[column][0] if unit is not None else shown[column]
        cells.append(f"{words} {_letter(style, bases[column])}" if len(letters) > 1 else words)
    title = f"{name}, {unit}" if unit else name
    return [number, title, *cells, letters.pop() if len(letters) == 1 else ""]


def _split(words: str) -> tuple[str, str]:
    """A number and the unit behind it; words without a number have no unit."""
    match = re.fullmatch(r"([-+−]?[\d.,]+(?:e[-+]?\d+)?)(?:\s*([^\d\s-].*))?", words)
    return (match[1], match[2] or "") if match else (words, "")


def _is_alike(given: InputRow, block: Block) -> bool:
    """One value wherever it is used, in more than one column or in the only one."""
    values = {(other_input.value, other_input.basis) for other_input in given.values.values()}
    return len(values) == 1 and (len(given.values) > 1 or len(block.columns) == 1)


def _alike_words(sheet: Sheet, alike: Sequence[InputRow], repeated: set[Text]) -> None:
    style, words = sheet.style, []
    for given in alike:
        first = next(iter(given.values.values()))
        shown = f"{style.put(given.name)} {_value(style, first)} {_letter(style, first.basis)}"
        is_repeated = given.name in repeated
        words.append(
            text("{what} (for {numbers})", what=shown, numbers=_numbers(given)) if is_repeated else shown
        )
    if words:
        sheet.write(text("Same wherever used: {inputs}.", inputs=series(words)))


def _is_long(style: SheetStyle, given: InputRow) -> bool:
    return any(
        isinstance(other_input.value, str) and len(_value(style, other_input)) > _LONGEST_CELL
        for other_input in given.values.values()
    )


def _long_words(style: SheetStyle, given: InputRow) -> Text:
    by_value: dict[str, list[str]] = {}
    for column, given_input in given.values.items():
        by_value.setdefault(f"{_value(style, given_input)} {_letter(style, given_input.basis)}", []).append(
            column
        )
    values = series(
        text("{value} at {columns}", value=value, columns=series(columns, ","))
        for value, columns in by_value.items()
    )
    return text(
        "{what:^} (for {numbers}): {values}.", what=given.name, numbers=_numbers(given), values=values
    )


def _given_name(given: InputRow, *, repeated: bool) -> Text:
    """The name of an input, with the figures it is for where another has the same."""
    if not repeated:
        return given.name
    return text("{what} (for {numbers})", what=given.name, numbers=_numbers(given))


def _numbers(given: InputRow) -> str:
    return ", ".join(map(str, given.of))


def _formula_words(style: SheetStyle, block: Block, elsewhere: Elsewhere) -> list[Text]:
    """Each formula with its source and what went in, once for all figures made that way."""
    shared: dict[tuple[Text, Text, tuple[str, ...]], list[Formula]] = {}
    for formula in block.formulas:
        names = _input_names(style, formula, elsewhere)
        shared.setdefault((formula.formula, formula.source, names), []).append(formula)
    footnotes: dict[tuple[str, ...], int] = {}
    paragraphs = []
    for (how, source, names), formulas in shared.items():
        numbers = ", ".join(str(formula.number) for formula in formulas)
        title = series(dict.fromkeys(formula.name(style.put) for formula in formulas), ",")
        made = text("From {inputs}.", inputs=series(names, ",")) if names else NOTHING
        if len(names) > 1 and names in footnotes:
            made = text("From the same as {number}.", number=footnotes[names])
        footnotes.setdefault(names, formulas[0].number)
        figure = text(
            "{numbers}  {figures:^}: {formula} ({source}).",
            numbers=numbers,
            figures=title,
            formula=how,
            source=source or _NO_SOURCE,
        )
        paragraphs.append(joined(figure, made))
    return paragraphs


def _input_names(style: SheetStyle, formula: Formula, elsewhere: Elsewhere) -> tuple[str, ...]:
    names = dict.fromkeys(
        _input_name(style, other_input, column, formula, elsewhere)
        for line in formula.lines.values()
        for column, figure in line.figures.items()
        for other_input in figure.working.inputs
    )
    return tuple(names)


def _input_name(style: SheetStyle, given: Input, column: str, formula: Formula, elsewhere: Elsewhere) -> str:
    """The name of an input; one that is a figure of the sheet has its number before it."""
    number = elsewhere.get((column, value_key(given)), formula.number)
    name = style.put(given.name)
    return name if number == formula.number else f"{number} {name}"


def _value(style: SheetStyle, given: Input) -> str:
    if isinstance(given.value, Text):
        return style.put(given.value)
    try:
        return style.reader.show(given.value, given.unit)
    except BadInput:
        # A figure of a method may carry a unit of its own that no keeper chooses, such as ohm per metre.
        return f"{style.reader.number(f'{given.value:g}')} {given.unit}".strip()
