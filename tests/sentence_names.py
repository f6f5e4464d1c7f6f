"""What the names of a function may hold, by where they are given it."""

from __future__ import annotations

import ast
from dataclasses import dataclass


@dataclass(frozen=True)
class Given:
    """A value given to a name, and where the statement stands."""

    value: ast.expr
    line: int
    column: int


def note_assigned(local: dict[str, list[Given]], statement: ast.Assign) -> None:
    """What a statement gives to names."""
    target, value = statement.targets[0], statement.value
    pairs = [(target, value)]
    if isinstance(target, ast.Tuple):
        values = value.elts if isinstance(value, ast.Tuple) else [value] * len(target.elts)
        pairs = list(zip(target.elts, values, strict=False))
    for one, given in pairs:
        if isinstance(one, ast.Name):
            local.setdefault(one.id, []).append(Given(given, statement.lineno, statement.col_offset))


def note_added(local: dict[str, list[Given]], statement: ast.AugAssign, name: str) -> None:
    """A text that is made longer: with what is added, and where that stands in a branch without it too."""
    before = [each for each in local.get(name, []) if each.line < statement.lineno]
    if not before or not has_text(statement.value):
        return
    longer = [
        Given(
            ast.BinOp(left=each.value, op=ast.Add(), right=statement.value),
            statement.lineno,
            max(statement.col_offset, each.column),
        )
        for each in in_force(before, statement)
    ]
    local[name] += longer


def in_force(given: list[Given], use: ast.stmt) -> list[Given]:
    """What a name may hold where it is used: the last outright giving before it, and later branches."""
    before = [each for each in given if each.line < use.lineno]
    outright = [at for at, each in enumerate(before) if each.column <= use.col_offset]
    return before[outright[-1] :] if outright else before


def has_text(node: ast.expr) -> bool:
    """Whether a text is part of an expression, or one of its choices."""
    if isinstance(node, ast.BinOp):
        return has_text(node.left) or has_text(node.right)
    if isinstance(node, ast.IfExp):
        return has_text(node.body) or has_text(node.orelse)
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))
