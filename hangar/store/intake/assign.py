"""One thing to one place so that the whole is worth most: the assignment of roles to columns."""

from __future__ import annotations

from collections.abc import Sequence

_MOST_TOGETHER = 400
"""Above so many rows or columns the best whole would take minutes; each takes the best that is left then."""


def best_assignment(worth: Sequence[Sequence[float]]) -> list[int]:
    """For each row the column it gets, so that the sum of their worths is greatest; -1 for none.

    Rows and columns may differ in number; a worth of 0 or less is never taken. The method is that of
    H. W. Kuhn, "The Hungarian method for the assignment problem" (1955), in the form with potentials.

    >>> best_assignment([[9.0, 8.0], [9.0, 1.0], [-1.0, -2.0]])
    [1, 0, -1]
    """
    rows = len(worth)
    columns = len(worth[0]) if rows else 0
    size = max(rows, columns)
    if not size:
        return []
    if size > _MOST_TOGETHER:
        return _one_after_another(worth)
    cost = [[0.0] * (size + 1) for _ in range(size + 1)]
    for row in range(rows):
        for column in range(columns):
            cost[row + 1][column + 1] = -max(0.0, worth[row][column])
    matched = _matched(cost, size)
    column_of = [-1] * rows
    for column in range(1, columns + 1):
        row = matched[column] - 1
        if 0 <= row < rows and worth[row][column - 1] > 0:
            column_of[row] = column - 1
    return column_of


def _one_after_another(worth: Sequence[Sequence[float]]) -> list[int]:
    """The worthiest pair first, and so on: for more than any keeper's table holds, in bounded time."""
    pairs = [
        (-value, row, at) for row, values in enumerate(worth) for at, value in enumerate(values) if value > 0
    ]
    column_of, taken = [-1] * len(worth), set[int]()
    for _, row, at in sorted(pairs):
        if column_of[row] < 0 and at not in taken:
            column_of[row] = at
            taken.add(at)
    return column_of


def _matched(cost: list[list[float]], size: int) -> list[int]:
    u, v = [0.0] * (size + 1), [0.0] * (size + 1)
    matched, way = [0] * (size + 1), [0] * (size + 1)
    for row in range(1, size + 1):
        matched[0] = row
        at = _free_place(cost, size, u, v, matched, way)
        while at:
            before = way[at]
            matched[at] = matched[before]
            at = before
    return matched


def _free_place(
    cost: list[list[float]], size: int, u: list[float], v: list[float], matched: list[int], way: list[int]
) -> int:
    """The place at which the cheapest way from the row in hand ends; potentials are kept in step."""
    at = 0
    least = [float("inf")] * (size + 1)
    used = [False] * (size + 1)
    while True:
        used[at] = True
        here, delta, following = matched[at], float("inf"), 0
        for column in (number for number in range(1, size + 1) if not used[number]):
            current = cost[here][column] - u[here] - v[column]
            if current < least[column]:
                least[column], way[column] = current, at
            if least[column] < delta:
                delta, following = least[column], column
        for column in range(size + 1):
            if used[column]:
                u[matched[column]] += delta
                v[column] -= delta
            else:
                least[column] -= delta
        at = following
        if matched[at] == 0:
            return at
