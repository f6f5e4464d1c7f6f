"""On a screen that draws each point with two by two pixels, all pages fit, are named and are drawn fine."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

from tests.window.walk import SIZE


def test_every_page_fits_and_is_named_where_the_screen_is_twice_as_fine(
    small_file: Path, tmp_path: Path
) -> None:
    fleet = Path(shutil.copy(small_file, tmp_path / small_file.name))
    surroundings = {**os.environ, "QT_SCALE_FACTOR": "2", "QT_QPA_PLATFORM": "offscreen"}
    done = subprocess.run(
        [sys.executable, "-m", "tests.window.walk", str(fleet), str(tmp_path)],
        env=surroundings,
        capture_output=True,
        text=True,
        check=False,
        cwd=Path(__file__).resolve().parents[2],
    )
    assert done.returncode == 0, done.stderr
    walked = json.loads(done.stdout)
    assert len(walked["pages"]) >= 18, walked["pages"]
    assert walked["too large"] == []
    assert walked["unnamed"] == []
    assert walked["ratios"] == [2.0, 2 * SIZE[0], 2 * SIZE[1]]
