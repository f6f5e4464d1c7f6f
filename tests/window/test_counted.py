"""What is counted reads right for none, one and two; no hole is filled behind a text."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import hangar
from hangar.parts import Plan, PlanLine
from hangar.parts.choices import PlanAction
from hangar.window.kit.words import level_count, say_plural
from hangar.window.refit.plan_cards import cost_words
from tests.catalogue import wanted_words

HANGAR = Path(hangar.__file__).parent
SAYING = {"say", "text", "fixed", "put", "say_in", "text_in"}


@pytest.mark.parametrize(("count", "told"), [(0, "0 plans"), (1, "1 plan"), (2, "2 plans")])
def test_one_has_words_of_its_own(count: int, told: str) -> None:
    assert say_plural("{count} plan", "{count} plans", count=count) == told


@pytest.mark.parametrize(("count", "told"), [(0, "0 advisories"), (1, "1 advisory"), (2, "2 advisories")])
def test_findings_are_counted_by_level(count: int, told: str) -> None:
    assert level_count("advisory", count) == told


@pytest.mark.parametrize(("lines", "told"), [(1, "1 line without a price"), (2, "2 lines without a price")])
def test_lines_without_a_price_are_counted_in_words_that_fit(lines: int, told: str) -> None:
    plan_lines = [
        PlanLine(plan="P", number=number, action=PlanAction.FIT_SERVO, quantity=1)
        for number in range(1, lines + 1)
    ]
    assert cost_words(Plan(code="P", aircraft="LARK", title="Winter", lines=tuple(plan_lines)), "€").endswith(
        told
    )


def test_every_number_of_things_in_the_window_has_its_plural() -> None:
    shown = (word for word in wanted_words() if word.place.startswith("window/") and not word.many)
    counted = {
        word.key
        for word in shown
        if re.match(r"(?:Keep |Paste )?\{(?:count|n)\} (?:aircraft go|\w+s) ", word.key + " ")
    }
    assert counted == {
        "{count} tables were written to {folder}.",  # one for each kind of record
        "{count} times slower",  # the one is said as in real time
        "{count} days overdue",  # one is said as yesterday
        "{count} things overdue, first {what} {about}",  # one is named
    }


def nodes() -> Iterator[tuple[str, ast.AST]]:
    for path in sorted(HANGAR.rglob("*.py")):
        name = path.relative_to(HANGAR).as_posix()
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            yield f"{name}:{getattr(node, 'lineno', 0)}", node


def says(node: ast.AST) -> bool:
    """Whether it is a call that says something."""
    return isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id in SAYING


def counts_one(test: ast.expr) -> bool:
    """Whether a condition asks if something is one."""
    return (
        isinstance(test, ast.Compare)
        and isinstance(test.ops[0], ast.Eq | ast.NotEq)
        and isinstance(test.comparators[0], ast.Constant)
        and test.comparators[0].value == 1
        and type(test.comparators[0].value) is int
    )


def has_count(node: ast.AST) -> bool:
    literals = [other_ast.value for other_ast in ast.walk(node) if isinstance(other_ast, ast.Constant)]
    return any(isinstance(literal, str) and re.search(r"\{count|\{n\b", literal) for literal in literals)


def test_holes_are_filled_by_the_text_plurals_and_decimals_made_by_the_language() -> None:
    """A translation may have its holes in another order, more forms than two, and a decimal comma."""
    found = []
    for place, node in nodes():
        found += [f"{place} writes {hole} before its language is known" for hole in written_early(node)]
        if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
            filled_behind = node.func.attr == "format" and not place.startswith("window/kit/plain_words.py")
            # A class of another library may have a method of that name.
            filled_behind = filled_behind and ast.unparse(node.func.value) != "super()"
            is_replace = node.func.attr == "replace" and bool(node.args)
            hole = isinstance(first := node.args[0], ast.Constant) and str(first.value) if is_replace else ""
            if filled_behind or str(hole).startswith("{"):
                found.append(f"{place} fills a hole behind the text")
        if isinstance(node, ast.IfExp) and counts_one(node.test):
            made = says(node.body) and says(node.orelse)
            counted = has_count(node.body) and has_count(node.orelse)
            literals = all(
                isinstance(one, ast.Constant) and isinstance(one.value, str) and " " in one.value
                for one in (node.body, node.orelse)
            )
            if (made and counted) or literals:
                found.append(f"{place} makes a plural by hand")
    assert found == []


def written_early(node: ast.AST) -> Iterator[str]:
    """The arguments of a text that are numbers with decimals, written before its language is known.

    Such a number is a string already and keeps its point where the language writes a comma.
    """
    if not isinstance(node, ast.Call) or name_of(node.func) not in SAYING | {
        "plural",
        "say_plural",
        "BadInput",
    }:
        return
    for argument in node.keywords:
        parts = list(ast.walk(argument.value))
        calls = [part for part in parts if isinstance(part, ast.Call) and name_of(part.func) == "decimal"]
        translated = {id(part) for call in calls for part in ast.walk(call)}
        for part in parts:
            spec = part.format_spec if isinstance(part, ast.FormattedValue) else None
            if spec is not None and id(part) not in translated and re.search(r"\.[1-9]|g", ast.unparse(spec)):
                yield argument.arg or ""


def name_of(function: ast.expr) -> str:
    return str(getattr(function, "id", getattr(function, "attr", "")))
