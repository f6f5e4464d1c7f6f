"""The same question gets the same answer, whatever the order of the library and of Python's sets."""

from __future__ import annotations

import dataclasses
import subprocess
import sys

from hangar.refit.ladder import best_for_budget, clear
from tests.refit.generator import small_case


def _run(code: str, seed: str = "0") -> str:
    return subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True,
        env={"PYTHONHASHSEED": seed, "PYTHONPATH": ":".join(sys.path)},
    ).stdout  # fmt: skip


def test_the_answer_is_the_same_with_any_hash_seed() -> None:
    code = (
        "import json\n"
        "from hangar.refit.answer_as_json import answer_as_json\n"
        "from hangar.refit.ladder import clear\n"
        "from tests.refit.generator import small_case\n"
        "for seed in (0, 3):\n"
        "    case = small_case(seed)\n"
        "    print(json.dumps(answer_as_json(clear(case.aircraft, case.library, case.limits))))"
    )
    assert _run(code, "1") == _run(code, "2") != ""


def test_the_order_of_the_library_changes_no_value() -> None:
    for seed in (1, 2, 4):
        case = small_case(seed)
        kinds = dict(reversed(list(case.library.servo_types.items())))
        turned = dataclasses.replace(case.library, servo_types=kinds)
        for ask in (clear, best_for_budget):
            own, its = (ask(case.aircraft, shelf, case.limits) for shelf in (case.library, turned))
            assert own.proved
            assert (own.left, own.gap) == (its.left, its.gap)


def test_the_solver_of_a_fleet_prints_nothing_and_is_loaded_only_there() -> None:
    code = (
        "import sys\n"
        "import hangar.refit.ladder, hangar.refit.stages, hangar.refit.fleet\n"
        "assert not any(name in sys.modules for name in ('numpy', 'highspy'))\n"
        "from hangar.refit.fleet_master import Column, solved\n"
        "solved([[Column(1.0, 0.0), Column(0.0, 5.0)]], 3.0, {}, whole=True)"
    )
    assert _run(code) == ""
