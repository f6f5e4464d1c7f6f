"""Templates of sentences, read out of the source of the core."""

from __future__ import annotations

import ast
import itertools
import re
from collections.abc import Iterable
from pathlib import Path

import hangar
from hangar.base.sentence_patterns import HOLE
from tests.sentence_names import Given, has_text, in_force, note_added, note_assigned

HANGAR = Path(hangar.__file__).parent
_ERRORS_ONLY = ("physics/", "base/", "store/", "parts/", "sheets/")
"""Folders of which only the sentences of errors are read."""
_TELLING = (
    "physics/servo_rating.py",
    "physics/linkage_sweep.py",
    "physics/binding.py",
    "physics/pack_health.py",
    "base/picture_head.py",
    "base/unit_text.py",
    "store/broken.py",
    "store/claims.py",
    "store/faults.py",
    "store/own_tables.py",
    "store/papers_io.py",
    "store/report.py",
    "store/schema_check.py",
    "store/sheet_answers.py",
    "store/sheet_day.py",
    "store/sheet_intake.py",
    "store/sheet_packs.py",
    "store/sheet_pdf.py",
    "store/sheet_surfaces.py",
    "store/sheet_taking.py",
    "store/tables_io.py",
    "store/wide_aircraft.py",
    "store/wide_columns.py",
    "store/wide_match.py",
    "store/wide_packs.py",
    "store/wide_ratings.py",
    "store/wide_sheet.py",
    "store/wide_types.py",
    "store/wide_words.py",
)
"""Files of those folders that have words of their own besides."""
_LISTS = frozenset({"_SYNONYMS", "_FUNCTIONS", "_CHEMISTRIES", "_OF_AIRCRAFT", "_ALSO"})
"""Words of the keeper's that are understood, not said."""
_ERRORS = ("BadInput", "OutOfValidity", "Unreachable", "StoreFault", "BrokenFile", "NoAnswer", "NoPicture")
_MUTE_CALLS = frozenset({
    "limit", "field_missing", "startswith", "endswith", "removesuffix", "removeprefix", "partition",
    "rpartition", "split", "replace", "getattr", "hasattr", "TypeVar", "open", "strftime", "namedtuple",
    "sub", "search", "compile", "fullmatch", "match", "encode", "decode", "elevator", "trainer", "with_pack",
    "with_records", "isinstance", "pack_v", "count", "format", "connect", "get_logger", "dtype",
    "import_module", "lstrip", "rstrip", "strip", "signature", "pop", "index", "get",
})  # fmt: skip
"""Calls whose texts are names of fields and limits, never words."""
_NAMING = frozenset(
    {"read", "rated", "allowed", "worked", "note", "figure", "banded", "made", "Figure", "Input", "of_band"}
)
"""Calls whose first text names a figure or what went into it."""
_NUMBERS = frozenset({
    "show", "ample", "span", "len", "round", "format_quantity", "sum", "days_since", "years_since", "abs",
    "show_both", "int", "ceil", "floor",
})  # fmt: skip
_NUMBER_NAMES = re.compile(r"_(mm|g|v|a|nm|n|deg|c|mah|ah|s|y|pct|ohm|mohm|us|hz|ma|mv|w|teeth|cells|days)$")
_NAMES = frozenset(
    {
        "code",
        "tag",
        "title",
        "servo_type",
        "part_type",
        "from_stock",
        "plug",
        "regulator",
        "position",
        "aircraft",
        "symbol",
    }
)
_QUOTED = re.compile(r'"\{t(\d+)\}"')
"""What the readers of cells quote is the keeper's."""
_IDENTIFIER = re.compile(r"^[\w.:/-]*$")
_MANY_MOST = 24


def _label(kind: str, at: int) -> str:
    return f"{{{kind}{at}}}"


class _Reader(ast.NodeVisitor):
    """The templates of one module."""

    def __init__(self, path: Path, tree: ast.Module) -> None:
        self.path = path.relative_to(HANGAR).as_posix()
        self.found: dict[str, None] = {}
        self.consts = {
            target.id: statement.value
            for statement in tree.body
            if isinstance(statement, ast.Assign)
            for target in statement.targets
            if isinstance(target, ast.Name)
        }
        self.errors_only = self.path.startswith(_ERRORS_ONLY) and self.path not in _TELLING
        self.in_error = 0
        self._local: list[dict[str, list[Given]]] = []
        self._statement: ast.stmt = tree.body[0]

    def visit(self, node: ast.AST) -> None:
        if isinstance(node, ast.stmt):
            self._statement = node
        super().visit(node)

    # what is never words

    def visit_FunctionDef(self, node: ast.FunctionDef) -> None:
        local: dict[str, list[Given]] = {}
        for each in ast.walk(node):
            if isinstance(each, ast.Assign) and len(each.targets) == 1:
                note_assigned(local, each)
        for each in ast.walk(node):
            if isinstance(each, ast.AugAssign) and isinstance(each.target, ast.Name):
                note_added(local, each, each.target.id)
        self._local.append(local)
        for decorator in node.decorator_list:
            self.visit(decorator)
        for statement in node.body:
            if not _is_text(statement):
                self.visit(statement)
        self._local.pop()

    def visit_ClassDef(self, node: ast.ClassDef) -> None:
        for statement in node.body:
            if not _is_text(statement):
                self.visit(statement)

    def visit_Module(self, node: ast.Module) -> None:
        for statement in node.body:
            if not _is_text(statement):
                self.visit(statement)

    def visit_AnnAssign(self, node: ast.AnnAssign) -> None:
        is_list = isinstance(node.target, ast.Name) and node.target.id in _LISTS
        if node.value is not None and not is_list:
            self.visit(node.value)

    def visit_Assign(self, node: ast.Assign) -> None:
        names = {target.id for target in node.targets if isinstance(target, ast.Name)}
        if not names & {"__all__", "KEY", "KIND"}:
            self.visit(node.value)

    def visit_Compare(self, node: ast.Compare) -> None:
        for each in (node.left, *node.comparators):
            if not isinstance(each, ast.Constant | ast.Tuple | ast.Set | ast.List):
                self.visit(each)

    def visit_Subscript(self, node: ast.Subscript) -> None:
        self.visit(node.value)
        if not isinstance(node.slice, ast.Constant):
            self.visit(node.slice)

    def visit_Dict(self, node: ast.Dict) -> None:
        for key, value in zip(node.keys, node.values, strict=True):
            if key is not None and (not isinstance(key, ast.Constant) or " " in str(key.value)):
                self.visit(key)
            self.visit(value)

    def visit_Call(self, node: ast.Call) -> None:
        name = _called(node.func)
        if name in ("Share", "rule"):
            for word in node.keywords:
                if word.arg in ("told", "title"):
                    self.visit(word.value)
            return
        if name in _ERRORS:
            self.in_error += 1
            self.generic_visit(node)
            self.in_error -= 1
            return
        if isinstance(node.func, ast.Attribute):
            self.visit(node.func.value)
        if name == "counted":
            self._counted(node)
        arguments: list[ast.expr] = list(node.args)
        if name in _NAMING and arguments:
            self._name(arguments[0])
        if name in ("of_servo", "of_part"):
            at = 1 if name == "of_servo" else 2
            for subject_told in self._pieces(arguments[at]):
                self._enter([("hole", "t", ""), " ", *subject_told])
            arguments = [each for number, each in enumerate(arguments) if number not in (at, at - 1)]
        for argument in arguments:
            if name in _MUTE_CALLS and isinstance(argument, ast.Constant):
                continue
            self.visit(argument)
        for word in node.keywords:
            if word.arg not in ("kin", "caused_by", "rests_on", "rule", "name", "slugs", "flags", "passes"):
                self.visit(word.value)

    def visit_keyword(self, node: ast.keyword) -> None:
        self.visit(node.value)

    # words

    def visit_Constant(self, node: ast.Constant) -> None:
        if isinstance(node.value, str) and self._speaks():
            self._enter([node.value])

    def visit_JoinedStr(self, node: ast.JoinedStr) -> None:
        if self._speaks():
            for pieces in self._pieces(node):
                self._enter(pieces)
        self._within(node)

    def visit_BinOp(self, node: ast.BinOp) -> None:
        if isinstance(node.op, ast.Add) and has_text(node):
            if self._speaks():
                for pieces in self._pieces(node):
                    self._enter(pieces)
            for side in (node.left, node.right):
                self._within(side)
        else:
            self.generic_visit(node)

    def _within(self, node: ast.expr) -> None:
        """Calls and choices inside a text have words of their own."""
        if isinstance(node, ast.JoinedStr):
            for part in node.values:
                if isinstance(part, ast.FormattedValue):
                    self._within(part.value)
        elif isinstance(node, ast.BinOp) and has_text(node):
            self._within(node.left)
            self._within(node.right)
        elif isinstance(node, ast.IfExp):
            self._within(node.body)
            self._within(node.orelse)
        elif not isinstance(node, ast.Constant):
            self.visit(node)

    def _speaks(self) -> bool:
        return not self.errors_only or bool(self.in_error)

    def _name(self, node: ast.expr) -> None:
        """The name of a figure or input, a single word as well."""
        if isinstance(node, ast.Constant) and isinstance(node.value, str) and node.value.isalpha():
            self.found.setdefault(node.value)

    def _counted(self, node: ast.Call) -> None:
        words = [each.value for each in node.args[1:] if isinstance(each, ast.Constant)]
        if words:
            one = str(words[0])
            many = str(words[1]) if len(words) > 1 else f"{one}s"
            self._enter([f"one {one}"])
            self._enter([("hole", "n", ""), f" {many}"])

    def _pieces(self, node: ast.expr, deep: int = 0) -> list[list[object]]:
        """Every form a text can take, each as literals and holes."""
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            return [[node.value]]
        if isinstance(node, ast.JoinedStr):
            parts = [self._pieces(part, deep) for part in node.values]
            if _count(parts) > _MANY_MOST:
                parts = [part if len(part) == 1 else [[("hole", "t", "")]] for part in parts]
            return [list(itertools.chain(*form)) for form in itertools.product(*parts)]
        if isinstance(node, ast.FormattedValue):
            spec = node.format_spec
            if spec is not None and _ends_in_number(spec):
                return [[("hole", "n", "")]]
            return self._pieces(node.value, deep + 1)
        if isinstance(node, ast.IfExp):
            return [*self._pieces(node.body, deep), *self._pieces(node.orelse, deep)]
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Add) and has_text(node):
            left, right = self._pieces(node.left, deep), self._pieces(node.right, deep)
            return [[*one, *two] for one in left for two in right]
        if isinstance(node, ast.Name) and (known := self._known_as(node)):
            return [form for each in known for form in self._pieces(each, deep + 1)]
        return [[("hole", self._hole(node), "")]]

    def _known_as(self, node: ast.Name) -> list[ast.expr]:
        """The texts a name stands for, where all it is ever given are texts."""
        name = node.id
        for local in self._local[::-1]:
            if name in local:
                values = [each.value for each in in_force(local[name], self._statement)]
                return values if all(_all_text(value) for value in values) and len(values) < 6 else []
        value = self.consts.get(name)
        return [value] if value is not None and _all_text(value) else []

    def _hole(self, node: ast.expr) -> str:
        if isinstance(node, ast.Call):
            return "n" if _called(node.func) in _NUMBERS else "t"
        if isinstance(node, ast.Attribute):
            if node.attr == "text" and isinstance(node.value, ast.Name) and node.value.id == "snag":
                return "w"
            if node.attr == "title" and not (isinstance(node.value, ast.Name) and node.value.id == "plan"):
                return "t"
            return "w" if node.attr in _NAMES else "n" if _NUMBER_NAMES.search(node.attr) else "t"
        if isinstance(node, ast.Name):
            for local in self._local[::-1]:
                given = [each.value for each in local.get(node.id, [])]
                values = [value for value in given if not isinstance(value, ast.Name)]
                if values and all(self._hole(value) == "n" for value in values):
                    return "n"
            return "n" if _NUMBER_NAMES.search(node.id) else "t"
        if isinstance(node, ast.BoolOp):
            kinds = {self._hole(value) for value in node.values if not isinstance(value, ast.Constant)}
            return kinds.pop() if len(kinds) == 1 else "t"
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Sub | ast.Mult | ast.Div):
            return "n"
        return "t"

    def _enter(self, pieces: Iterable[object]) -> None:
        text, numbers = "", 0
        for piece in pieces:
            if isinstance(piece, tuple):
                numbers += 1
                text += _label(piece[1], numbers)
            else:
                text += str(piece).replace("{worst}", "")
        if self.path.startswith(("base/", "store/")):
            text = _QUOTED.sub(r'"{w\1}"', text)
        text = _counted_by_kind(re.sub(r"^[,;:] *|[,;:]$", "", text.strip()).removesuffix("."))
        if reads_like_words(text):
            self.found.setdefault(text)


def _count(parts: list[list[list[object]]]) -> int:
    total = 1
    for part in parts:
        total *= len(part)
    return total


def _counted_by_kind(text: str) -> str:
    """Holes numbered from one within each kind."""
    numbers: dict[str, int] = {}

    def numbered(found: re.Match[str]) -> str:
        kind = found[1]
        numbers[kind] = numbers.get(kind, 0) + 1
        return _label(kind, numbers[kind])

    return HOLE.sub(numbered, text)


def _is_text(statement: ast.stmt) -> bool:
    return isinstance(statement, ast.Expr) and isinstance(statement.value, ast.Constant)


def _all_text(node: ast.expr) -> bool:
    if isinstance(node, ast.IfExp):
        return _all_text(node.body) and _all_text(node.orelse)
    if isinstance(node, ast.BinOp):
        return _all_text(node.left) and _all_text(node.right)
    return isinstance(node, ast.JoinedStr) or (isinstance(node, ast.Constant) and isinstance(node.value, str))


def _ends_in_number(spec: ast.expr) -> bool:
    last = spec.values[-1] if isinstance(spec, ast.JoinedStr) and spec.values else spec
    return isinstance(last, ast.Constant) and str(last.value)[-1:] in "fgde%n"


def _called(function: ast.expr) -> str:
    if isinstance(function, ast.Name):
        return function.id
    return function.attr if isinstance(function, ast.Attribute) else ""


def reads_like_words(text: str) -> bool:
    """Whether a template has words of ours: more than a key, a unit, or holes alone.

    >>> reads_like_words("needs {n1}"), reads_like_words("arm_mm"), reads_like_words("{t1}: {t2}")
    (True, False, False)
    """
    fixed = HOLE.sub(" ", text)
    if not re.search(r"[A-Za-z]{2}", fixed) or not text.isprintable():
        return False
    return not _IDENTIFIER.match(HOLE.sub("", text))


def templates_of(path: Path) -> list[str]:
    """Every template of one file."""
    tree = ast.parse(path.read_text(encoding="utf-8"))
    reader = _Reader(path, tree)
    reader.visit(tree)
    return list(reader.found)
