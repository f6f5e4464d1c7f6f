"""A hundred field sheets as one PDF against the same drawing calls on a bare canvas."""

from __future__ import annotations

import io
from typing import Any

from reportlab.pdfgen.canvas import Canvas

from hangar.sheets import SHEETS, SheetStyle, draw_cases
from hangar.sheets.pdf_file import draw_pdf, open_canvas
from hangar.sheets.wrapping import register_fonts
from tests.benchmarks.measure import AT_LEAST, Row, paired, processor_s
from tests.sheets.cases import demo_cases

SHEETS_PRINTED, MOST_TIMES = 100, 2.5
STYLE = SheetStyle()


class Recorder:
    """Passes every call on to a canvas, or to a path of it, and keeps it for a replay."""

    def __init__(self, target: Any, calls: list[Any], owner: int | None = None) -> None:
        self.__dict__.update(_target=target, _calls=calls, _owner=owner)

    def __getattr__(self, name: str) -> Any:
        value = getattr(self._target, name)
        if not callable(value):
            return value

        def call(*words: Any, **more: Any) -> Any:
            plain = [word._target if isinstance(word, Recorder) else word for word in words]
            at = len(self._calls)
            kept = [("path", word._owner) if isinstance(word, Recorder) else word for word in words]
            self._calls.append((self._owner, name, kept, more))
            result = value(*plain, **more)
            return Recorder(result, self._calls, at) if name == "beginPath" else result

        return call


def replay(calls: list[Any]) -> None:
    """The recorded calls on a bare canvas."""
    canvas = Canvas(io.BytesIO(), pagesize=tuple(side * 72 / 25.4 for side in STYLE.size_mm))
    paths: dict[int, Any] = {}
    for at, (owner, name, words, more) in enumerate(calls):
        plain = [
            paths[word[1]] if isinstance(word, tuple) and word[:1] == ("path",) else word for word in words
        ]
        result = getattr(canvas if owner is None else paths[owner], name)(*plain, **more)
        if name == "beginPath":
            paths[at] = result


def printed(canvas: Any) -> None:
    cases = demo_cases()
    many = [cases[number % len(cases)] for number in range(SHEETS_PRINTED)]
    draw_pdf(canvas, STYLE, lambda sheet: draw_cases(sheet, SHEETS["field"].drawer, many))


def rows(rounds: int = AT_LEAST) -> list[Row]:
    """A hundred sheets and their bare drawing in turn."""
    register_fonts()
    calls: list[Any] = []
    printed(Recorder(open_canvas("Field", STYLE), calls))
    ours, _, ratios = paired(
        lambda: processor_s(lambda: printed(open_canvas("Field", STYLE))),
        lambda: processor_s(lambda: replay(calls)),
        rounds,
    )
    note = f"the same {len(calls)} calls"
    return [
        Row(f"{SHEETS_PRINTED} field sheets / bare canvas", ratios, most=MOST_TIMES, note=note),
        Row(f"{SHEETS_PRINTED} field sheets", tuple(1000 * our for our in ours), "ms"),
    ]
