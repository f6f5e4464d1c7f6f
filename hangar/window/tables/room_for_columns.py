"""Which columns of a table there is room for, and how wide they are: the least telling give way."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from hangar.window.tables.columns import Column

_GOOD_LETTERS, _FEW_LETTERS, _LEAST_LETTERS = 20, 15, 9
"""Letters that columns of words keep while a lesser column can give way, while any can, and when none can."""
_TELLING = 9
"""From this order on a column gives way only for the few letters."""
_SENTENCE = 1.7
"""How many times the letters a column keeps whose sentences go on below."""


def fitting_widths(
    columns: Sequence[Column[Any]],
    wanted: Sequence[int],
    heads: Sequence[int],
    empty: Sequence[bool],
    room: int,
    letter: int,
) -> tuple[int, ...]:
    """The width of each column, 0 for one that is left out.

    Columns that give way are left out, in their order, until the rest fits with the words cut. Of equal
    ones the last goes first, and one in which nothing is entered goes before all others. Numbers are
    never cut, headings last.

    Args:
        wanted: the width that each column's words take, in pixels.
        heads: the width that its heading takes, in pixels.
        empty: whether nothing is entered in a column.
        room: the width of the table, in pixels.
        letter: the width of a usual letter, in pixels.
    """
    widths = dict(enumerate(wanted))
    going = sorted(
        (at for at, column in enumerate(columns) if column.gives_way),
        key=lambda at: (not empty[at], columns[at].gives_way, -at),
    )
    for at in going:
        letters = _FEW_LETTERS if columns[at].gives_way >= _TELLING else _GOOD_LETTERS
        kept = {each: max(heads[each], _width(columns[each], letters * letter)) for each in widths}
        spare = sum(max(0, widths[each] - kept[each]) for each in _words(columns, widths))
        if sum(widths.values()) - spare <= room:
            break
        del widths[at]
    over = sum(widths.values()) - room
    for letters in (_GOOD_LETTERS, _FEW_LETTERS, _LEAST_LETTERS):
        # The servo first: its type is on the plan's tips and in the findings as well.
        for at in reversed(_words(columns, widths)):
            least = _width(columns[at], letters * letter)
            if letters > _LEAST_LETTERS:
                least = max(least, heads[at])
            cut = max(0, min(over, widths[at] - least))
            widths[at] -= cut
            over -= cut
    return tuple(widths.get(at, 0) for at in range(len(columns)))


def _width(column: Column[Any], wide: int) -> int:
    return round(wide * _SENTENCE) if column.wraps else wide


def _words(columns: Sequence[Column[Any]], shown: dict[int, int]) -> list[int]:
    return [at for at in shown if not columns[at].number]
