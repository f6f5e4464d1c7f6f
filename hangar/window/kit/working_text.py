"""The working of a computed number as text that a panel shows."""

from __future__ import annotations

from html import escape

from hangar.base.figure import Basis, Figure, Input
from hangar.base.text import Text
from hangar.base.units import UNITS, ShowsNumbers, symbol_of
from hangar.window.kit.field_text import figure_text
from hangar.window.kit.words import put, say, sentence_case

_BASIS = {
    Basis.MEASURED: "measured on this aircraft or part",
    Basis.RATED: "the maker's rating",
    Basis.COMPUTED: "worked out from other numbers",
    Basis.TYPICAL: "typical for the class, not known for this aircraft",
    Basis.LIMIT: "a limit of the check, as set in Workshop Rules",
}


def basis_words(basis: Basis) -> str:
    """Where a number comes from, in words."""
    return say(_BASIS[basis])


def working_html(figure: Figure, units: ShowsNumbers) -> str:
    """A figure with its band, basis, formula, inputs and source as rich text."""
    working = figure.working
    parts = [
        f"<h3>{escape(sentence_case(put(figure.name)))}</h3>",
        f"<p style='font-size:large'><b>{escape(units.show(figure.expected, figure.unit))}</b>"
        f"{_other(figure, units)}</p>",
        _band(figure, units),
        f"<p>{say('Basis')}: {escape(basis_words(figure.basis))}.</p>",
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
        f"<tr><td>{escape(put(one.name))}&nbsp;&nbsp;</td>"
        f"<td>{escape(input_value(one, units))}&nbsp;&nbsp;</td>"
        f"<td>{escape(say(str(one.basis)))}</td></tr>"
        for one in inputs
    )
    return f"<table cellpadding='3'><tr>{head}</tr>{rows}</table>"


def input_value(one: Input, units: ShowsNumbers) -> str:
    """An input's value in the units shown."""
    if isinstance(one.value, Text):
        return put(one.value)
    if one.unit in UNITS:
        return units.show(one.value, one.unit)
    return f"{one.value:.4g} {one.unit}".strip()


def figure_line(figure: Figure, units: ShowsNumbers) -> str:
    """One figure on one line: name, value, band, basis."""
    return f"{sentence_case(put(figure.name))}: {figure_text(figure, units)} ({say(str(figure.basis))})"


def unit_symbol(key: str) -> str:
    """A unit's symbol; the key itself where it is no unit of ours."""
    return symbol_of(key) if key in UNITS else key
