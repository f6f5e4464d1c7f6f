"""The boxes of a sheet in the order in which it prints them, each with the words printed beside it."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.text import Arg, Text, fixed, series, text
from hangar.parts.sheet_boxes import READ_BACK, Stamp
from hangar.sheets import SHEETS
from hangar.sheets.boxes import Box
from hangar.sheets.case import SheetCase
from hangar.sheets.dry_run import NoCanvas
from hangar.sheets.kit import Cell, Sheet
from hangar.sheets.step_rows import StepRow
from hangar.sheets.style import SheetStyle
from hangar.sheets.wrapping import SMALLEST_PT, register_fonts

_NOT_KNOWN = "____"


@dataclass(frozen=True, slots=True)
class ListedBox:
    """One box: what it is about, which reading, and the head of its column, in no language yet."""

    about: str
    what: str
    head: Arg
    tick: bool
    value: str


@dataclass(frozen=True, slots=True)
class ListedRow:
    """One printed row: its words under their heads, and its boxes."""

    words: tuple[tuple[Arg, Arg], ...]
    boxes: tuple[ListedBox, ...]


@dataclass(frozen=True, slots=True)
class ListedPart:
    """What stands under one heading of a sheet."""

    title: Arg
    rows: tuple[ListedRow, ...]


def listed_boxes(kind: str, case: SheetCase, style: SheetStyle) -> tuple[tuple[ListedPart, ...], Stamp]:
    """The boxes of an aircraft's sheet in printed order, part by part, and the sheet's stamp.

    The sheet itself is laid out for it, so that screen and paper cannot differ.
    Raises: BadInput for a sheet that is not read back.
    """
    if kind not in READ_BACK:
        raise BadInput(
            "'{kind}' is not read back; allowed is {kinds}.", kind=kind, kinds=series(READ_BACK, ",")
        )
    register_fonts()
    drawer = SHEETS[kind].drawer
    draw = drawer.load()
    listing = _BoxRecorder(style)
    draw(listing, [case] if drawer.whole_fleet else case)
    assert listing.stamped is not None
    return listing.parts(), listing.stamped


class _BoxRecorder(Sheet):
    """Takes down what a sheet prints instead of printing it."""

    def __init__(self, style: SheetStyle) -> None:
        super().__init__(NoCanvas(), style)
        self.fields = None
        self.stamped: Stamp | None = None
        self._found: list[tuple[Arg, list[ListedRow]]] = [("", [])]
        self._names: Counter[str] = Counter()

    def parts(self) -> tuple[ListedPart, ...]:
        return tuple(ListedPart(title, tuple(rows)) for title, rows in self._found if rows)

    def begin(
        self,
        bookmark: Arg,
        running_head: Arg,
        foot: Callable[[Any], float],
        *,
        tight: bool = False,
        answers: str = "",
    ) -> None:
        super().begin(bookmark, running_head, foot, tight=tight, answers=answers)
        self._found, self._names = [("", [])], Counter()

    def stamp(self, stamp: Stamp) -> None:
        self.stamped = stamp

    def heading(self, argument: Arg) -> None:
        self._found.append((argument, []))

    def table(
        self,
        heads: Sequence[Arg],
        shares: Sequence[float],  # noqa: ARG002 the widths of the printed one
        rows: Sequence[Sequence[Cell]],
        size_pt: float = SMALLEST_PT,  # noqa: ARG002
        least_mm: float = 0.0,  # noqa: ARG002
        together: int = 1,  # noqa: ARG002
    ) -> None:
        for row in rows:
            pairs = list(zip(heads, row, strict=True))
            words = tuple((head, _words(cell)) for head, cell in pairs if not _is_asked(cell))
            boxes = tuple(
                ListedBox(cell.about, cell.what, head, cell.tick, cell.value)
                for head, cell in pairs
                if isinstance(cell, Box) and cell.what
            )
            self._take(words, boxes)

    def phase(self, title: Arg, note: Arg, number: int, head: Arg) -> None:  # noqa: ARG002
        self.heading(text("{phase}: {note}", phase=title, note=note))

    def caution(self, argument: Arg) -> None:
        """The screen asks for readings; what the paper warns of stands on the paper."""

    def step(self, row: StepRow) -> None:
        words: list[tuple[Arg, Arg]] = [("", row.say)]
        words += [("", argument) for argument in (row.need, row.note) if argument]
        boxes = [
            ListedBox(box.about, box.what, fixed(box.what), tick=False, value=box.value) for box in row.known
        ]
        boxes += [
            ListedBox(blank.box.about, blank.box.what, blank.head, tick=False, value=blank.box.value)
            for blank in row.blanks
        ]
        tick = ListedBox(row.tick.about, row.tick.what, "", tick=True, value="")
        self._take(tuple(words), (*boxes, tick))

    def job(self, number: int, to_do: Arg, clears: Sequence[Arg]) -> None:  # noqa: ARG002
        self.heading(to_do)

    def signed(self, who: tuple[Text, str], when: tuple[Text, str], sentence: Text, tick: Box) -> None:
        """Who did it is signed on the paper; nothing of it has a record."""

    def complete(self, argument: Arg, tick: Box, names: tuple[str, str]) -> None:  # noqa: ARG002
        self._take((("", argument),), (ListedBox(tick.about, tick.what, "", tick=True, value=""),))

    def framed(self, title: Arg, note: Arg, blanks: Sequence[tuple[Text, str, float]]) -> None:  # noqa: ARG002
        for head, name, _ in blanks:
            self._take((), (ListedBox("", name, head, tick=False, value=""),))

    def blanks(self, names: Sequence[Text], columns: int = 3) -> None:  # noqa: ARG002
        for name in names:
            # The form tells a name that comes again from the first by its number.
            plain = str(name)
            self._names[plain] += 1
            what = plain if self._names[plain] == 1 else f"{plain} {self._names[plain]}"
            self._take((), (ListedBox("", what, name, tick=False, value=""),))

    def _take(self, words: tuple[tuple[Arg, Arg], ...], boxes: tuple[ListedBox, ...]) -> None:
        if boxes:
            self._found[-1][1].append(ListedRow(words, boxes))


def _is_asked(cell: Cell) -> bool:
    return isinstance(cell, Box) and bool(cell.what)


def _words(cell: Cell) -> Arg:
    return _NOT_KNOWN if cell is None or isinstance(cell, Box) else cell
