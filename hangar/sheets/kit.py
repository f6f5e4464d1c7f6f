"""Blocks on a page: ruled tables, tick lists, lines and boxes to fill in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hangar.base.text import Arg, Text, fixed, raised
from hangar.sheets.boxes import Box
from hangar.sheets.page import PAGE_ROOM_MM
from hangar.sheets.step_rows import StepPage
from hangar.sheets.style import LEAST_LINE_PT
from hangar.sheets.wrapping import BODY, BOLD, SMALLEST_PT, width_of_mm, wrapped

_PAD_MM = 0.9
_LEAST_PART_MM = 30.0
_TICK_ROOM_MM = 0.8
_LONGEST_WORD_MM = 34.0


FILL, TICK = Box(), Box(tick=True)
Cell = Arg | Box
"""What a table cell holds; None is a value nobody knows and prints as a box to fill."""


def heads(*words: str) -> list[Text]:
    """The heads of a table by their English.

    >>> [str(each) for each in heads("Pack", "")]
    ['Pack', '']
    """
    return [fixed(word) for word in words]


@dataclass(frozen=True, slots=True)
class _Put:
    """A cell as it is drawn: its words or its box, and what its field is called where it has no name."""

    content: str | Box
    name: str = ""


def _kept_together(place: int, count: int, together: int) -> int:
    """How many rows of a table from this one on stay on a page; 0 where they may part.

    The last row does not stand alone on a page.
    """
    if together > 1:
        return together if place and place % together == 0 else 0
    return 2 if 1 < place == count - 2 else 0


class Sheet(StepPage):
    """Pages with tables and tick lists; ``y_mm`` is measured from the top edge."""

    _least_mm = 0.0

    def table(self, heads: Sequence[Arg], shares: Sequence[float], rows: Sequence[Sequence[Cell]],
              size_pt: float = SMALLEST_PT, least_mm: float = 0.0, together: int = 1) -> None:  # fmt: skip
        """A ruled table; ``shares`` divide the width, heads come again on a fresh page.

        ``least_mm`` is the least height of a row, for what is written in by hand; so many rows at a time stay
        ``together`` on a page. The last row takes the one before it along to a page of its own.
        """
        head = [_Put(self._head_words(head)) for head in heads]
        drawn = [self._put_row(row, heads) for row in rows]
        widths = self._widths(shares, head, drawn, size_pt)
        head_mm = self._row_height(head, widths, size_pt, bold=True) if any(heads) else 0.0
        first_mm = self._row_height(drawn[0], widths, size_pt) if drawn else 0.0
        self.need(head_mm + min(first_mm, _LEAST_PART_MM))
        if head_mm:
            self._row(head, widths, size_pt, head=True)

        def go_on(height_mm: float) -> None:
            """Begin a fresh page where that much has no room, and the heads again on it."""
            if self.room_mm < height_mm:
                self.need(height_mm)
                self._least_mm = 0.0
                if head_mm:
                    self._row(head, widths, size_pt, head=True)
                self._least_mm = least_mm

        self._least_mm = least_mm
        for place, row in enumerate(drawn):
            kept = _kept_together(place, len(drawn), together)
            if kept:
                height = sum(
                    self._row_height(kept_row, widths, size_pt) for kept_row in drawn[place : place + kept]
                )
                if height < PAGE_ROOM_MM:
                    go_on(height)
            for part in self._parts_of_row(row, widths, size_pt):
                go_on(self._row_height(part, widths, size_pt))
                self._row(part, widths, size_pt)
        self._least_mm = 0.0
        self.gap(0.5)

    def _head_words(self, head: Arg) -> str:
        """A head in the language of the sheet; what begins large in English begins large in any."""
        words = self.style.put(head)
        return raised(words) if isinstance(head, Text) and head.key[:1].isupper() else words

    def _widths(
        self, shares: Sequence[float], head: Sequence[_Put], rows: Sequence[Sequence[_Put]], size_pt: float
    ) -> list[float]:
        """The width divided by the shares; a column that would break a word takes from those with room."""
        unit = self.width_mm / sum(shares)
        widths = [share * unit for share in shares]
        wanted = [
            max(
                self._least_width_mm(row[place].content, BOLD if row is head else BODY, size_pt)
                for row in (head, *rows)
            )
            for place in range(len(widths))
        ]
        room = [
            width - least if head[place].content else min(0.0, width - least)
            for place, (width, least) in enumerate(zip(widths, wanted, strict=True))
        ]
        lacking, spare = -sum(value for value in room if value < 0), sum(value for value in room if value > 0)
        taken = min(1.0, lacking / spare) if spare else 0.0
        given = min(1.0, spare / lacking) if lacking else 0.0
        return [
            width - value * (taken if value > 0 else given) for width, value in zip(widths, room, strict=True)
        ]

    def _put_row(self, row: Sequence[Cell], heads: Sequence[Arg]) -> list[_Put]:
        """The cells in the language of the sheet; what their fields are called is of no language."""
        first = next((str(cell) for cell in row if cell and not isinstance(cell, Box)), "")
        return [
            _Put(FILL if cell is None else cell, f"{first} {head}")
            if cell is None or isinstance(cell, Box)
            else _Put(self.style.put(cell))
            for cell, head in zip(row, heads, strict=True)
        ]

    def _parts_of_row(
        self, row: Sequence[_Put], widths: Sequence[float], size_pt: float
    ) -> list[Sequence[_Put]]:
        """The row itself, or one that is taller than a page cut into several."""
        most = int(PAGE_ROOM_MM / self.line_mm(size_pt))
        if self._row_height(row, widths, size_pt) < PAGE_ROOM_MM:
            return [row]
        lines = [
            wrapped(cell.content, BODY, size_pt, width - 2 * _PAD_MM) if isinstance(cell.content, str) else ()
            for cell, width in zip(row, widths, strict=True)
        ]
        count = max(len(line) for line in lines)
        return [
            [
                _Put(" ".join(line[start : start + most])) if line else cell
                for line, cell in zip(lines, row, strict=True)
            ]
            for start in range(0, count, most)
        ]

    def _row_height(
        self, row: Sequence[_Put], widths: Sequence[float], size_pt: float, *, bold: bool = False
    ) -> float:
        font = BOLD if bold else BODY
        most = max(
            (
                len(wrapped(cell.content, font, size_pt, width - 2 * _PAD_MM))
                for cell, width in zip(row, widths, strict=True)
                if isinstance(cell.content, str)
            ),
            default=1,
        )
        height = most * self.line_mm(size_pt) + (0.6 if self.tight else 1.0)
        return max(height, self._least_mm, *(self._box_mm(cell.content) for cell in row))

    def _least_width_mm(self, content: str | Box, font: str, size_pt: float) -> float:
        if isinstance(content, str):
            return _longest_word_mm(content, font, size_pt) if content else 0.0
        return self._box_mm(content)

    def _box_mm(self, content: str | Box) -> float:
        """The least height and width of a cell: a box must be met by a pen, and a field by a finger."""
        if isinstance(content, str) or (not content.tick and self.fields is None):
            return 0.0
        return self.tick_mm + _TICK_ROOM_MM

    def _row(
        self, row: Sequence[_Put], widths: Sequence[float], size_pt: float, *, head: bool = False
    ) -> None:
        height = self._row_height(row, widths, size_pt, bold=head)
        x_mm = self.left_mm
        for cell, width in zip(row, widths, strict=True):
            self.rect(x_mm, self.y_mm, width, height, line_pt=LEAST_LINE_PT, fill_gray=0.88 if head else None)
            self._cell(cell, x_mm, width, height, size_pt, bold=head)
            x_mm += width
        self.y_mm += height

    def _cell(self, cell: _Put, x_mm: float, width_mm: float, height_mm: float, size_pt: float,
              *, bold: bool) -> None:  # fmt: skip
        words = box = cell.content
        if isinstance(box, Box):
            name = box.name or cell.name
            if box.tick:
                side = self.tick_mm
                self.tick_box(x_mm + (width_mm - side) / 2, self.y_mm + (height_mm - side) / 2, name)
                return
            self.text_field(name, x_mm + 0.3, self.y_mm + 0.3, width_mm - 0.6, height_mm - 0.6, box.value)
            words = box.value if self.fields is None else ""
        assert isinstance(words, str)
        top = self.y_mm + (0.3 if self.tight else 0.5) - 0.28 * self.line_mm(size_pt)
        for number, line in enumerate(
            wrapped(words, BOLD if bold else BODY, size_pt, width_mm - 2 * _PAD_MM), start=1
        ):
            self.put(line, x_mm + _PAD_MM, top + number * self.line_mm(size_pt), size_pt, bold=bold)

    def blanks(self, names: Sequence[Text], columns: int = 3) -> None:
        """Names with a line to write on."""
        width = self.width_mm / columns
        for start in range(0, len(names), columns):
            step, field_mm = (6.5 if self.tight else 8.0), 4.8
            if self.fields is not None:
                step, field_mm = self.tick_mm + 1.0, self.tick_mm
            self.need(step + 1)
            self.y_mm += step
            for place, name in enumerate(names[start : start + columns]):
                x_mm = self.left_mm + place * width
                words = self.style.put(name)
                self.put(words, x_mm, self.y_mm)
                from_mm = x_mm + width_of_mm(words, BODY, SMALLEST_PT) + 2
                self.line(from_mm, self.y_mm + 0.6, x_mm + width - 3, self.y_mm + 0.6)
                self.text_field(
                    str(name), from_mm, self.y_mm + 0.4 - field_mm, x_mm + width - 3 - from_mm, field_mm
                )


def _longest_word_mm(words: str, font: str, size_pt: float) -> float:
    """Room for the longest word of a cell; what is too long for any column counts for nothing."""
    widths = (width_of_mm(word, font, size_pt) for word in words.split())
    return max((width for width in widths if width < _LONGEST_WORD_MM), default=0.0) + 2 * _PAD_MM + 0.05
