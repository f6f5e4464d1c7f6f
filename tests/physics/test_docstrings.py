"""Every public function says what it does, where it holds, what it is drawn from, and shows one use.

Its numbers carry their units in their names, and a value that is no number is refused, never answered.
"""

from __future__ import annotations

import ast
import dataclasses
import doctest
import importlib
import inspect
import math
import pkgutil
import re
from collections.abc import Callable, Iterator
from types import FunctionType, ModuleType
from typing import Any

import numpy as np

import hangar.physics
from hangar.base.errors import HangarError
from tests.all_cases import all_cases

MODULES: list[ModuleType] = [
    importlib.import_module(f"hangar.physics.{iter_module.name}")
    for iter_module in pkgutil.iter_modules(hangar.physics.__path__)
]
FUNCTIONS: list[tuple[ModuleType, FunctionType]] = [
    (module, member)
    for module in MODULES
    for name, member in vars(module).items()
    if inspect.isfunction(member) and member.__module__ == module.__name__ and not name.startswith("_")
]

# Endings that are units; compound ones (nm_per_rad, kg_m3) end in one of these too.
UNITS = {
    "a", "ah", "c", "deg", "f", "g", "g_mm", "gpa", "h", "hz", "k", "kg", "kg_m2", "kg_m3", "m", "m2", "m3",
    "m_s", "min", "mm", "mm2", "mm4", "mpa", "n", "nm", "ohm", "pa", "rad", "rad_s", "rpm", "s", "s60", "us",
    "v", "w",
}  # fmt: skip
# Words that are a unit or a count themselves.
WORDS = {"volts", "minutes", "percent", "seconds_for_60_deg", "ohm_at_25_c"}
# Plain ratios, told as such in their docstrings.
RATIOS = {
    "aspect_ratio", "balance_factor", "bell_share", "bubble", "centre_fraction", "charge",
    "current_share", "cyclic_ratio", "differential", "efficiency", "end_constant", "flap_ratio", "gain",
    "gear_ratio", "health", "lever_ratio", "load_factor", "load_share", "mach", "moving_share",
    "nose_over_flap", "pivot_fraction", "ratio", "reduced_frequency", "relief", "reserve", "reynolds",
    "safety", "share", "thickness_over_flap", "thickness_ratio", "torque_ratio", "velocity_ratio",
    "washed_share", "work_share",
}  # fmt: skip
# Values of whatever the caller counts in, and groups whose members the docstring names.
OPEN = {
    "value", "values", "x", "limit", "ahead", "factor", "place", "chart", "items", "tests", "packs",
    "noise", "per_step", "places", "sources", "stations",
    "light", "heavy", "direction", "output", "ohm", "around_deg",
}  # fmt: skip
# Statistics in the terms of whatever is judged; mostly of logarithms.
STATISTICS = {
    "edge", "first", "freedom", "ln_ratio", "mean", "minutes_since_charge", "pack_ln_sd", "points",
    "reading_sd", "retire_share", "scatter", "second", "seen", "shared_sd", "slope", "spread", "start",
    "times_new", "variance", "weight", "worn_share", "year", "z",
}  # fmt: skip
# Algebra on vectors that were checked when they were made.
UNGUARDED = {"scaled", "plus", "read_chart", "between"}


def _id(one: object) -> str:
    return f"{one.__module__.rsplit('.', 1)[-1]}.{one.__name__}" if isinstance(one, FunctionType) else ""


def _raises_itself(function: FunctionType) -> bool:
    checks = {"above_zero", "zero_or_more", "finite"}
    return any(
        isinstance(node, ast.Raise) or (isinstance(node, ast.Call) and getattr(node.func, "id", "") in checks)
        for node in ast.walk(ast.parse(inspect.getsource(function)))
    )


@all_cases("module, function", FUNCTIONS)
def test_a_public_function_is_told_whole(module: ModuleType, function: FunctionType) -> None:
    words = inspect.getdoc(function) or ""
    assert len(words.splitlines()[0]) > 10
    assert ">>> " in words, "an example is wanted"
    assert "Source:" in words or "Source:" in (module.__doc__ or ""), "a source is wanted"
    if _raises_itself(function):
        assert "Raises" in words or "BadInput" in words, "what it refuses is wanted"


def _float_arguments() -> Iterator[tuple[str, str]]:
    for module in MODULES:
        for name, member in vars(module).items():
            if name.startswith("_") or getattr(member, "__module__", "") != module.__name__:
                continue
            callables: list[Callable[..., Any]] = [member] if inspect.isfunction(member) else []
            if inspect.isclass(member):
                plain = (getattr(var, "__func__", var) for var in vars(member).values())
                callables = [function_type for function_type in plain if inspect.isfunction(function_type)]
            for one in callables:
                if one.__name__.startswith("_"):
                    continue
                for argument in inspect.signature(one).parameters.values():
                    kind = str(argument.annotation)
                    if re.search(r"\bfloat\b", kind) and "Callable" not in kind:
                        yield f"{module.__name__}.{name}.{one.__name__}", argument.name


def _has_unit(name: str) -> bool:
    parts = name.split("_")
    return len(parts) > 1 and (parts[-1] in UNITS or "_".join(parts[-2:]) in UNITS)


def test_every_number_carries_its_unit_in_its_name_or_is_a_known_ratio() -> None:
    asked = sorted(set(_float_arguments()))
    assert len(asked) > 300
    nameless = [
        (where, name)
        for where, name in asked
        if not _has_unit(name) and name not in RATIOS | OPEN | WORDS | STATISTICS
    ]
    assert nameless == []


def test_no_name_is_let_through_that_is_not_in_use() -> None:
    used = {name for _, name in _float_arguments()}
    assert (RATIOS | OPEN | WORDS | STATISTICS) - used == set()


def _recorded_call(module: ModuleType, function: FunctionType) -> inspect.BoundArguments:
    """The arguments of the first call in the function's own example, with its defaults."""
    calls: list[inspect.BoundArguments] = []
    signature = inspect.signature(function)

    def recorder(*given: Any, **named: Any) -> Any:
        calls.append(signature.bind(*given, **named))
        return function(*given, **named)

    runner = doctest.DocTestRunner(verbose=False)
    for example in doctest.DocTestFinder(recurse=False).find(function, function.__name__, module):
        example.globs[function.__name__] = recorder
        runner.run(example, out=lambda _: None)
    assert calls, "the example does not call its function"
    calls[0].apply_defaults()
    return calls[0]


def _answer_or_refusal(function: FunctionType, call: inspect.BoundArguments) -> Any:
    try:
        return function(*call.args, **call.kwargs)
    except HangarError as refusal:
        return refusal


def _holds_nan(value: Any) -> bool:
    if isinstance(value, float):
        return math.isnan(value)
    if isinstance(value, np.ndarray):
        return bool(np.isnan(value).any())
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        return any(_holds_nan(getattr(value, field.name)) for field in dataclasses.fields(value))
    return isinstance(value, tuple | list) and any(map(_holds_nan, value))


@all_cases("module, function", [pair for pair in FUNCTIONS if pair[1].__name__ not in UNGUARDED])
def test_what_is_no_number_is_refused_and_never_answered(module: ModuleType, function: FunctionType) -> None:
    call = _recorded_call(module, function)
    for name, value in list(call.arguments.items()):
        kind = str(call.signature.parameters[name].annotation)
        if isinstance(value, bool) or not isinstance(value, int | float) or "float" not in kind:
            continue
        for wrong in (math.nan, math.inf, -math.inf):
            call.arguments[name] = wrong
            answer = _answer_or_refusal(function, call)
            if isinstance(answer, HangarError):
                assert "\n" not in str(answer)
                continue
            assert not math.isnan(wrong), f"{name} = nan was answered with {answer}"
            assert not _holds_nan(answer), f"{name} = {wrong} was answered with {answer}"
        call.arguments[name] = value
