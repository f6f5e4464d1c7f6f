"""The start of the window: what it may load before it is on screen, and that Qt calls do not kill it."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

MANY_CALLS = """
from PySide6.QtWidgets import QLabel
from hangar.window.start import application
app = application()
label = QLabel()
for number in range(20_000):
    label.setText(str(number))
print(label.text())
"""

FIRST_PAINT = """
import sys
from pathlib import Path
from PySide6.QtTest import QTest
from hangar.window.start import application, open_window
app = application()
folder = Path(sys.argv[1])
window = open_window(None, folder, folder)
QTest.qWaitForWindowExposed(window)
heavy = {"numpy", "scipy", "reportlab", "openpyxl", "sqlmodel", "sqlalchemy"} & set(sys.modules)
print(sorted(heavy))
window.close()
"""

WHOLE_LIFE = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from hangar.window.start import application, open_window
app = application()
folder = Path(sys.argv[1])
window = open_window(None, folder, folder)
def later():
    assert window.files.open_demo()
    QTimer.singleShot(1500, window.close)
QTimer.singleShot(0, later)
code = app.exec()
print(code)
"""


def child(script: str, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a script in a process of its own, without a screen."""
    return subprocess.run(
        [sys.executable, "-c", script, *words],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def test_many_qt_calls_end_well() -> None:
    # PySide6 6.12.0 on Python 3.11 aborts after some 5,100 calls that return None.
    done = child(MANY_CALLS)
    assert (done.returncode, done.stdout.strip()) == (0, "19999"), done.stderr


def test_nothing_heavy_is_loaded_before_the_first_page_is_on_screen(tmp_path: Path) -> None:
    done = child(FIRST_PAINT, str(tmp_path))
    assert (done.returncode, done.stdout.strip()) == (0, "[]"), done.stderr


@pytest.mark.slow
def test_a_window_that_was_used_ends_with_code_zero_and_without_complaints(tmp_path: Path) -> None:
    done = child(WHOLE_LIFE, str(tmp_path))
    assert (done.returncode, done.stdout.strip()) == (0, "0"), done.stderr
    assert "Traceback" not in done.stderr
    assert "QThread" not in done.stderr


def test_importing_the_window_package_loads_no_qt() -> None:
    done = child("import sys, hangar.window; print([name for name in sys.modules if 'PySide6' in name])")
    assert (done.returncode, done.stdout.strip()) == (0, "[]"), done.stderr
