"""Flight logs with known truth: cells simulated by PyBaMM 26.10 and ngspice-39, plus loggers and faults.

The logs, the truth of each, their fleet and the score with its tolerances lie in data/flight_logs.zip; its
README names the judges.
"""

from __future__ import annotations

import importlib.util
import json
from pathlib import Path
from types import ModuleType
from typing import Any
from zipfile import ZipFile

import pytest

from hangar.commands.running import main

LOGS = Path(__file__).parent / "data" / "flight_logs.zip"


@pytest.fixture(scope="module")
def logs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The unpacked logs."""
    folder = tmp_path_factory.mktemp("flight_logs")
    with ZipFile(LOGS) as archive:
        archive.extractall(folder)
    return folder


@pytest.fixture(scope="module")
def score(logs: Path) -> ModuleType:
    """The judge's own tolerances."""
    spec = importlib.util.spec_from_file_location("score", logs / "score.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def told(logs: Path, code: str, truth: dict[str, Any], capsys: pytest.CaptureFixture[str]) -> dict[str, Any]:
    """What the command tells of a log."""
    limit = str(truth["below"]["limit_v"])
    fleet, log = str(logs / "fleet"), str(logs / f"{code}.csv")
    end = main(["flight-record", fleet, log, "--aircraft", code, "--below", limit, "--json"])
    found = json.loads(capsys.readouterr().out)
    assert end == (1 if found["events"] or found["doubts"] else 0)
    return found  # type: ignore[no-any-return]


def test_every_log_is_told_within_the_tolerances(
    logs: Path, score: ModuleType, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong, covered = {}, []
    for path in sorted(logs.glob("L*.truth.json")):
        code = path.name.partition(".")[0]
        truth = json.loads(path.read_text())
        bad, held = score.score_one(code, told(logs, code, truth, capsys), truth)
        covered += held
        if bad:
            wrong[code] = bad
    assert not wrong
    assert len(covered) == 22
    assert sum(covered) >= 0.8 * len(covered)


def test_a_pack_that_was_lost_is_named_by_its_tag(logs: Path, capsys: pytest.CaptureFixture[str]) -> None:
    truth = json.loads((logs / "L06.truth.json").read_text())
    answer = told(logs, "L06", truth, capsys)
    lost = next(one for one in answer["events"] if one["kind"] == "pack_lost")
    assert lost["pack"] == "L06-B"
    assert lost["end_s"] is None
    assert [pack["name"] for pack in answer["packs"]] == ["L06-A", "L06-B"]
    assert answer["packs"][1]["used_mah"] == pytest.approx(truth["used_mah_each"][1], rel=0.04)
