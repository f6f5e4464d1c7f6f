"""No test rests on time: not on a property's deadline, and on no wait shorter than a busy machine needs."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from pathlib import Path

from hypothesis import HealthCheck, settings
from pytestqt.qtbot import QtBot

from tests.conftest import PATIENCE_MS, PatientBot

TESTS = Path(__file__).parent
WAITS = {"waitUntil", "waitSignal", "waitSignals", "waitExposed", "waitActive"}
LEAST_S = 600


def calls() -> Iterator[tuple[str, ast.Call]]:
    for path in TESTS.rglob("*.py"):
        if path.name == "conftest.py" and path.parent == TESTS:
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call):
                yield f"{path.relative_to(TESTS)}:{node.lineno}", node


def named(call: ast.Call) -> str:
    return getattr(call.func, "attr", "") or getattr(call.func, "id", "")


def test_one_profile_without_a_deadline_holds_for_every_property() -> None:
    assert settings.default is not None
    assert settings.default.deadline is None
    assert HealthCheck.too_slow in settings.default.suppress_health_check
    own = [where for where, call in calls() if any(keyword.arg == "deadline" for keyword in call.keywords)]
    assert own == []


def test_every_wait_is_as_patient_as_the_others(qtbot: QtBot) -> None:
    assert isinstance(qtbot, PatientBot)
    assert PATIENCE_MS >= 1000 * LEAST_S
    own = [
        where
        for where, call in calls()
        if named(call) in WAITS and any(keyword.arg == "timeout" for keyword in call.keywords)
    ]
    assert own == []


def test_a_program_that_is_tried_is_given_time() -> None:
    short = [
        where
        for where, call in calls()
        if named(call) in {"run", "communicate", "check_output", "wait"}
        for given in call.keywords
        if given.arg == "timeout"
        and isinstance(given.value, ast.Constant)
        and int(str(given.value.value)) < LEAST_S
    ]
    assert short == []
