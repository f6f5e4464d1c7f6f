"""Turn stored values into what the keeper sees, and what the keeper types into stored values."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from enum import StrEnum
from html import escape
from typing import Any

from PySide6.QtWidgets import QDockWidget, QTextBrowser, QWidget

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure, Input
from hangar.base.kept_text import read_kept
from hangar.base.part_day import UNKNOWN_DAY
from hangar.base.text import Text
from hangar.base.units import UNITS, ShowsNumbers, convert, symbol_of
from hangar.parts.fields import FieldSpec
from hangar.window.kit.desk import Desk
from hangar.window.kit.typed_day import is_either_way, typed_day, typed_moment
from hangar.window.kit.words import decimal, put, say, sentence_case, word_of, yes_no


class WorkingPanel(QDockWidget):
    """Opens beside the screens when the keeper asks how a number was made."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setObjectName("working")
        self.setWindowTitle(say("How?"))
        self._desk = desk
        self._figure: Figure | None = None
        self.page = QTextBrowser()
        self.page.setAccessibleName(say("Working of the chosen number"))
        self.page.document().setDocumentMargin(14)
        self.setWidget(self.page)
        self._make_room()
        self.hide()
        desk.how_asked.connect(self.explain)
        desk.view.changed.connect(self._write)
        desk.view.changed.connect(self._make_room)

    def explain(self, figure: Figure) -> None:
        """Show how a number was made."""
        self._figure = figure
        self._write()
        self.show()

    def _make_room(self) -> None:
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 40)

    def _write(self) -> None:
        if self._figure is not None:
            self.page.setHtml(working_html(self._figure, self._desk.view.reader))


_BASIS = {
    Basis.MEASURED: "measured on this aircraft or part",
    Basis.RATED: "the maker's rating",
    Basis.COMPUTED: "worked out from other numbers",
    Basis.TYPICAL: "typical for the class, not known for this aircraft",
    Basis.LIMIT: "a limit of the check, as set among the limits",
}


def basis_words(basis: Basis) -> str:
    """Where a number comes from, in words."""
    return say(_BASIS[basis])


def _basis_of(figure: Figure) -> str:
    if figure.read_on is None:
        return basis_words(figure.basis)
    return say("{basis}, last read {day}", basis=basis_words(figure.basis), day=figure.read_on)


def dated_basis(figure: Figure) -> str:
    """Where a number comes from in one word, with the day of its newest reading."""
    if figure.read_on is None:
        return say(str(figure.basis))
    return say("{basis} {day}", basis=say(str(figure.basis)), day=figure.read_on)


def working_html(figure: Figure, units: ShowsNumbers) -> str:
    """A figure with its band, basis, formula, inputs and source as rich text."""
    working = figure.working
    parts = [
        f"<h3>{escape(sentence_case(put(figure.name)))}</h3>",
        f"<p style='font-size:large'><b>{escape(units.show(figure.expected, figure.unit))}</b>"
        f"{_other(figure, units)}</p>",
        _band(figure, units),
        f"<p>{say('Basis')}: {escape(_basis_of(figure))}.</p>",
        f"<h4>{say('How it was worked out')}</h4><p>{escape(put(working.formula))}</p>",
        _inputs(working.inputs, units),
    ]
    if working.source:
        parts.append(f"<h4>{say('Source')}</h4><p>{escape(put(working.source))}</p>")
    if figure.low is not None or figure.design is not None:
        parts.append(f"<p><i>{say('A computed load is an estimate; the band shows how sure it is.')}</i></p>")
    return "".join(part for part in parts if part)


def _other(figure: Figure, units: ShowsNumbers) -> str:
    other = units.other(figure.expected, figure.unit)
    return f" &nbsp;({escape(other)})" if other else ""


def _band(figure: Figure, units: ShowsNumbers) -> str:
    if figure.low is None and figure.design is None:
        return ""
    rows = ((say("at least"), figure.band.low), (say("to size parts on"), figure.band.design))
    cells = "".join(
        f"<tr><td>{escape(words)}&nbsp;&nbsp;</td><td align='right'>"
        f"{escape(units.show(value, figure.unit))}</td></tr>"
        for words, value in rows
    )
    return f"<table cellpadding='2'>{cells}</table>"


def _inputs(inputs: tuple[Input, ...], units: ShowsNumbers) -> str:
    if not inputs:
        return ""
    head = "".join(
        f"<th align='left'>{say(word)}&nbsp;&nbsp;</th>" for word in ("What went in", "Value", "Basis")
    )
    rows = "".join(
        f"<tr><td>{escape(put(other_input.name))}&nbsp;&nbsp;</td>"
        f"<td>{escape(input_value(other_input, units))}&nbsp;&nbsp;</td>"
        f"<td>{escape(say(str(other_input.basis)))}</td></tr>"
        for other_input in inputs
    )
    return f"<table cellpadding='3'><tr>{head}</tr>{rows}</table>"


def input_value(given_input: Input, units: ShowsNumbers) -> str:
    """An input's value in the units shown."""
    if isinstance(given_input.value, Text):
        return put(given_input.value)
    if given_input.unit in UNITS:
        return units.show(given_input.value, given_input.unit)
    return decimal(f"{given_input.value:.4g} {given_input.unit}".strip())


def figure_line(figure: Figure, units: ShowsNumbers) -> str:
    """One figure on one line: name, value, band, basis."""
    return f"{sentence_case(put(figure.name))}: {figure_text(figure, units)} ({dated_basis(figure)})"


def unit_symbol(key: str) -> str:
    """A unit's symbol; the key itself where it is no unit of ours."""
    return symbol_of(key) if key in UNITS else key


UNKNOWN = "—"
"""What a table shows where a value is not known."""
LONGEST_LINE, LONGEST_HEAD = 22, 11
"""Letters of a label that stay on one line: beside a field, and over a column."""


def heading_of(spec: FieldSpec) -> str:
    """A field's label for a form or a table head, first letter raised."""
    return say(sentence_case(spec.label))


def folded(heading: str, longest: int = LONGEST_LINE) -> str:
    """A heading on two lines where it has more letters than ``longest``.

    >>> folded("Engine stop from the transmitter")
    'Engine stop from\\nthe transmitter'
    """
    breaks = [at for at, letter in enumerate(heading) if letter == " "]
    if len(heading) <= longest or not breaks:
        return heading
    at = min(breaks, key=lambda number: abs(number - len(heading) / 2))
    return f"{heading[:at]}\n{heading[at + 1 :]}"


def shown_unit(spec: FieldSpec, units: ShowsNumbers) -> str:
    """The symbol of the unit in which a field is shown; empty when it has none."""
    unit = spec.unit
    return symbol_of(units.unit_for(unit)) if unit else ""


def field_text(spec: FieldSpec, value: Any, units: ShowsNumbers) -> str:
    """A field's value with its unit; UNKNOWN for None."""
    if value is None:
        return UNKNOWN
    unit = spec.unit
    if unit and unit != "AWG":
        return units.show(float(value), unit)
    return put(read_kept(value)) if spec.is_said and isinstance(value, str) else plain_text(value)


def edit_text(spec: FieldSpec, value: Any, units: ShowsNumbers) -> str:
    """A field's value as it is put into an editor; empty for None."""
    return "" if value is None else field_text(spec, value, units)


def plain_text(value: Any) -> str:
    """A value that has no unit."""
    if value is None:
        return UNKNOWN
    if isinstance(value, bool):
        return yes_no(value)
    if isinstance(value, StrEnum):
        return word_of(value)
    if isinstance(value, datetime):
        return value.strftime("%Y-%m-%d %H:%M")
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return f"{value:.10g}"
    return str(value)


def figure_text(figure: Figure | None, units: ShowsNumbers) -> str:
    """A computed number; with its band in brackets where it has one."""
    if figure is None:
        return UNKNOWN
    shown = units.show(figure.expected, figure.unit)
    if figure.low is None and figure.design is None:
        return shown
    low, high = sorted((figure.band.low, figure.band.design))
    if low == high == figure.expected:
        return shown
    if low == high:
        least = say("at least {value}", value=units.show(low, figure.unit, 2))
        return f"{shown} ({least})"
    shown_ends = (units.show(low, figure.unit, 2), units.show(high, figure.unit, 2))
    (bare, symbol), *ends = (_number_and_symbol(words) for words in (shown, *shown_ends))
    if any(unit_symbol != symbol for _, unit_symbol in ends):
        return f"{shown} ({'–'.join(shown_ends)})"
    return f"{bare} ({'–'.join(number for number, _ in ends)}) {symbol}".rstrip()


def _number_and_symbol(shown: str) -> tuple[str, str]:
    number, space, symbol = shown.partition(" ")
    return (number, symbol) if space else (shown.rstrip("°%"), shown[len(shown.rstrip("°%")) :])


def in_unit(figure: Figure | None, unit: str) -> Figure | None:
    """A computed number in another unit of its kind, such as a current beside readings in milliamperes."""
    if figure is None or figure.unit == unit:
        return figure
    low, design = (
        None if value is None else convert(value, figure.unit, unit) for value in (figure.low, figure.design)
    )
    expected = convert(figure.expected, figure.unit, unit)
    return replace(figure, expected=expected, low=low, design=design, unit=unit)


def read_field(
    spec: FieldSpec, text: str, units: ShowsNumbers, today: date | None = None, *, is_pasted: bool = False
) -> Any:
    """What the keeper typed, as the value to store; an empty text means "not known".

    Args:
        spec: the field.
        text: what was typed.
        units: those of a bare number.
        today: the day that "today" stands for; None asks the clock.
        is_pasted: whether it comes from a table, where nobody sees at once how 3/4/31 was read: it is
            refused there.

    Raises:
        BadInput: a sentence that says what was found and what is allowed.
    """
    text = text.strip()
    if not text or text == UNKNOWN:
        # A day that must be there may be one of which nothing is known.
        return UNKNOWN_DAY if spec.is_inexact and not spec.optional else spec.check(None)
    if spec.type in (float, int):
        return _read_number(spec, text, units)
    return spec.check(_read_word(spec, text, today or date.today(), is_pasted=is_pasted))


def _read_word(spec: FieldSpec, text: str, now: date, *, is_pasted: bool) -> Any:
    if spec.type is bool:
        return _read_bool(spec, text)
    if issubclass(spec.type, StrEnum):
        return _read_choice(spec, text)
    if issubclass(spec.type, date) and is_pasted and is_either_way(text):
        return _read_moment(spec, text, date.fromisoformat, "2031-05-20")
    if spec.type is datetime:
        return _read_moment(spec, text, lambda typed: typed_moment(typed, now), "2031-05-20 09:30")
    if spec.type is date and spec.is_inexact:
        vague = "2031-05-20, 2031-05, 2031"
        return _read_moment(spec, text, lambda typed: typed_day(typed, now, is_whole=False), vague)
    if spec.type is date:
        return _read_moment(spec, text, lambda typed: typed_day(typed, now), "2031-05-20")
    return text


def _read_number(spec: FieldSpec, text: str, units: ShowsNumbers) -> float | int:
    unit = spec.unit
    value = units.parse(text, unit) if unit else _bare_number(spec, text)
    low, high = spec.within.low, spec.within.high
    if unit and ((low is not None and value < low) or (high is not None and value > high)):
        allowed = range_words(spec, units)
        raise BadInput(
            "{label} is {found}; allowed is {allowed}.",
            label=heading_of(spec),
            found=units.show(value, unit),
            allowed=allowed,
        )
    checked: float | int = spec.check(value)
    return checked


def _bare_number(spec: FieldSpec, text: str) -> float:
    try:
        return float(text.replace(",", "."))
    except ValueError:
        raise BadInput(
            '{label}: "{text}" is not a number; a number such as 4 is wanted.',
            label=heading_of(spec),
            text=text,
        ) from None


def range_words(spec: FieldSpec, units: ShowsNumbers) -> str:
    """The hard range of a number field in the units shown; empty when anything is allowed."""
    unit = spec.unit

    def show(value: float) -> str:
        return units.show(value, unit) if unit else f"{value:g}"

    low, high = spec.within.low, spec.within.high
    if low is not None and high is not None:
        return say("{low} to {high}", low=show(low), high=show(high))
    if low is not None:
        return say("{low} or more", low=show(low))
    return say("{high} or less", high=show(high)) if high is not None else ""


def _read_bool(spec: FieldSpec, text: str) -> bool | None:
    words = {say("yes").lower(): True, say("no").lower(): False, say("not known").lower(): None}
    if text.lower() not in words:
        raise BadInput(
            '{label}: "{text}" is not understood; allowed is yes, no or not known.',
            label=heading_of(spec),
            text=text,
        )
    return words[text.lower()]


def _read_choice(spec: FieldSpec, text: str) -> StrEnum:
    for choice in spec.type:  # type: ignore[attr-defined]
        if text.lower() in (choice.value.lower(), word_of(choice).lower()):
            return choice  # type: ignore[no-any-return]
    allowed = ", ".join(word_of(choice) for choice in spec.type)  # type: ignore[attr-defined]
    raise BadInput(
        '{label}: "{text}" is not in the list; allowed is {allowed}.',
        label=heading_of(spec),
        text=text,
        allowed=allowed,
    )


def _read_moment(spec: FieldSpec, text: str, read: Any, example: str) -> Any:
    try:
        return read(text)
    except ValueError:
        raise BadInput(
            '{label}: "{text}" is not a date; a date such as {example} is wanted.',
            label=heading_of(spec),
            text=text,
            example=example,
        ) from None
