"""Blocks on a page: ruled tables, tick lists, lines and boxes to fill in."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hangar.base.text import Arg, Text, fixed, raised
from hangar.parts.sheet_boxes import STAMP, Stamp
from hangar.sheets.page import Page
from hangar.sheets.style import LEAST_LINE_PT, MM
from hangar.sheets.wrapping import BODY, BOLD, SMALLEST_PT, width_of_mm, wrapped

_PAD_MM = 0.9
_LEAST_PART_MM, _PAGE_ROOM_MM, _TICK_MM = 30.0, 180.0, 3.4
_LONGEST_WORD_MM = 34.0


@dataclass(frozen=True, slots=True)
class Box:
    """A cell that somebody fills in by hand; ``tick`` draws a small square instead of a field.

    ``about`` and ``what`` say of what and which reading (``B021``, ``Read``) where it is read back;
    ``value`` is what stands in it already, which paper shows as text.
    """

    tick: bool = False
    about: str = ""
    what: str = ""
    value: str = ""

    @property
    def name(self) -> str:
        """What the box is called within its sheet; empty where it is not read back."""
        return f"{self.about} {self.what}".strip()


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


class Sheet(Page):
    """Pages with tables and tick lists; ``y_mm`` is measured from the top edge."""

    def table(self, heads: Sequence[Arg], shares: Sequence[float], rows: Sequence[Sequence[Cell]],
              size_pt: float = SMALLEST_PT) -> None:  # fmt: skip
        """A ruled table; ``shares`` divide the width, heads come again on a fresh page."""
        head = [_Put(self._head_words(head)) for head in heads]
        drawn = [self._put_row(row, heads) for row in rows]
        widths = self._widths(shares, head, drawn, size_pt)
        head_mm = self._row_height(head, widths, size_pt, bold=True) if any(heads) else 0.0
        first_mm = self._row_height(drawn[0], widths, size_pt) if drawn else 0.0
        self.need(head_mm + min(first_mm, _LEAST_PART_MM))
        if head_mm:
            self._row(head, widths, size_pt, head=True)
        for row in drawn:
            for part in self._parts_of_row(row, widths, size_pt):
                height = self._row_height(part, widths, size_pt)
                if self.room_mm < height:
                    self.need(height)
                    if head_mm:
                        self._row(head, widths, size_pt, head=True)
                self._row(part, widths, size_pt)
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
                (
                    _longest_word_mm(cell.content, BOLD if row is head else BODY, size_pt)
                    for row in (head, *rows)
                    if isinstance((cell := row[place]).content, str)
                ),
                default=0.0,
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
        most = int(_PAGE_ROOM_MM / self.line_mm(size_pt))
        if self._row_height(row, widths, size_pt) < _PAGE_ROOM_MM:
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
        return most * self.line_mm(size_pt) + (0.6 if self.tight else 1.0)

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
                self.tick_box(x_mm + (width_mm - _TICK_MM) / 2, self.y_mm + (height_mm - _TICK_MM) / 2, name)
                return
            self.text_field(name, x_mm + 0.3, self.y_mm + 0.3, width_mm - 0.6, height_mm - 0.6, box.value)
            words = box.value if self.fields is None else ""
        assert isinstance(words, str)
        top = self.y_mm + (0.3 if self.tight else 0.5) - 0.28 * self.line_mm(size_pt)
        for number, line in enumerate(
            wrapped(words, BOLD if bold else BODY, size_pt, width_mm - 2 * _PAD_MM), start=1
        ):
            self.put(line, x_mm + _PAD_MM, top + number * self.line_mm(size_pt), size_pt, bold=bold)

    def text_field(self, name: str, x_mm: float, y_mm: float, width_mm: float, height_mm: float,
                   value: str = "") -> None:  # fmt: skip
        """A field to type into where the sheet is filled on a tablet; on paper the white stays white."""
        if self.fields is not None:
            bottom = self.page_height_mm - y_mm - height_mm
            self.fields.text(
                f"{self.answers} {name}", x_mm * MM, bottom * MM, width_mm * MM, height_mm * MM, value
            )

    def stamp(self, stamp: Stamp) -> None:
        """Say in a hidden field which sheet this is; paper says it in its head."""
        if self.fields is not None:
            place = self.left_mm * MM + 1, (self.page_height_mm - self.y_mm) * MM - 2
            self.fields.hidden(f"{self.answers} {STAMP}", *place, stamp.to_text())

    def tick_box(self, x_mm: float, y_mm: float, name: str = "tick", tip: str = "") -> None:
        """An empty square to tick."""
        if self.fields is not None:
            bottom = self.page_height_mm - y_mm - _TICK_MM
            self.fields.tick(f"{self.answers} {name}", x_mm * MM, bottom * MM, _TICK_MM * MM, tip)
        else:
            self.rect(x_mm, y_mm, _TICK_MM, _TICK_MM, line_pt=0.8)

    def ticks(self, items: Sequence[Arg], columns: int = 2, size_pt: float = SMALLEST_PT,
              boxes: Sequence[Box] = ()) -> None:  # fmt: skip
        """Lines with a square before each, column by column and level; ``boxes``: what the squares are."""
        gutter = 4.0
        width = (self.width_mm - gutter * (columns - 1)) / columns
        blocks = [wrapped(self.style.put(item), BODY, size_pt, width - 5.2) for item in items]
        heights = [max(len(block) * self.line_mm(size_pt), 3.6) + 0.7 for block in blocks]
        self.need(max(heights[:2], default=0.0))
        for column in _level_columns(heights, self.room_mm, columns):
            self.need(max(sum(heights[i] for i in part) for part in column) if any(column) else 0)
            top = self.y_mm
            for place, part in enumerate(column):
                y_mm = top
                for index in part:
                    name = boxes[index].name if boxes else str(items[index])
                    x_mm = self.left_mm + place * (width + gutter)
                    self._tick_item(blocks[index], x_mm, y_mm, size_pt, name)
                    y_mm += heights[index]
                self.y_mm = max(self.y_mm, y_mm)

    def _tick_item(self, lines: Sequence[str], x_mm: float, y_mm: float, size_pt: float, name: str) -> None:
        words = " ".join(lines)
        self.tick_box(x_mm, y_mm + 0.25, name, words)
        for number, line in enumerate(lines, start=1):
            self.put(
                line,
                x_mm + 5.0,
                y_mm + number * self.line_mm(size_pt) - 0.28 * self.line_mm(size_pt),
                size_pt,
            )

    def blanks(self, names: Sequence[Text], columns: int = 3) -> None:
        """Names with a line to write on."""
        width = self.width_mm / columns
        for start in range(0, len(names), columns):
            step = 6.5 if self.tight else 8.0
            self.need(step + 1)
            self.y_mm += step
            for place, name in enumerate(names[start : start + columns]):
                x_mm = self.left_mm + place * width
                words = self.style.put(name)
                self.put(words, x_mm, self.y_mm)
                from_mm = x_mm + width_of_mm(words, BODY, SMALLEST_PT) + 2
                self.line(from_mm, self.y_mm + 0.6, x_mm + width - 3, self.y_mm + 0.6)
                self.text_field(str(name), from_mm, self.y_mm - 4.4, x_mm + width - 3 - from_mm, 4.8)


def _longest_word_mm(words: str, font: str, size_pt: float) -> float:
    """Room for the longest word of a cell; what is too long for any column counts for nothing."""
    widths = (width_of_mm(word, font, size_pt) for word in words.split())
    return max((width for width in widths if width < _LONGEST_WORD_MM), default=0.0) + 2 * _PAD_MM + 0.05


def _level_columns(heights: Sequence[float], room_mm: float, columns: int) -> list[list[list[int]]]:
    """Item numbers by page part and column, so that the columns of a part end about level."""
    parts: list[list[list[int]]] = []
    rest = list(range(len(heights)))
    while rest:
        room = room_mm if not parts and room_mm > _LEAST_PART_MM else _PAGE_ROOM_MM
        count = len(rest)
        part = _share_out(rest[:count], heights, columns)
        while count > 1 and max(sum(heights[index] for index in column) for column in part) > room:
            count -= 1
            part = _share_out(rest[:count], heights, columns)
        parts.append(part)
        rest = rest[count:]
    return parts


def _share_out(items: Sequence[int], heights: Sequence[float], columns: int) -> list[list[int]]:
    level = sum(heights[index] for index in items) / columns
    shared: list[list[int]] = [[]]
    used = 0.0
    for index in items:
        if used and used + heights[index] / 2 > level and len(shared) < columns:
            shared.append([])
            used = 0.0
        shared[-1].append(index)
        used += heights[index]
    return shared
