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


CLOSED_AT_ONCE = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from hangar.store import Fleet
from hangar.window import start
folder = Path(sys.argv[1])
place = folder / "small.hangar"
Fleet.create(place).close()
start.user_config_path = start.user_data_path = lambda *_, **__: folder
opened = start.open_window
def open_and_close(place):
    window = opened(place)
    (loader,) = window.findChildren(start.Loader)
    loader.begin()
    QTimer.singleShot(0, window.close)
    return window
start.open_window = open_and_close
code = start.run(place)
print(code, sorted(each.name for each in folder.iterdir() if each.suffix == ".lock"))
"""

NO_FLEET = """
import sys
from pathlib import Path
from PySide6.QtCore import QTimer
from hangar.window.start import application, open_window
app = application()
folder = Path(sys.argv[1])
place = folder / "no fleet.hangar"
place.write_text("nothing of the kind " * 40)
window = open_window(place, folder, folder)
def look():
    if window.notice.sentence:
        print(window.notice.sentence.replace(str(folder), ""))
        window.close()
timer = QTimer(window, interval=20)
timer.timeout.connect(look)
timer.start()
app.exec()
"""


def child(script: str, *words: str) -> subprocess.CompletedProcess[str]:
    """Run a script in a process of its own, without a screen."""
    return subprocess.run(
        [sys.executable, "-c", script, *words],
        env={**os.environ, "QT_QPA_PLATFORM": "offscreen"},
        cwd=Path(__file__).parents[2],
        capture_output=True,
        text=True,
        timeout=900,
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


def test_a_window_closed_while_its_fleet_is_loaded_lets_go_of_the_file(tmp_path: Path) -> None:
    done = child(CLOSED_AT_ONCE, str(tmp_path))
    assert (done.returncode, done.stdout.strip()) == (0, "0 []"), done.stderr
    assert "Traceback" not in done.stderr


def test_a_file_that_is_no_fleet_is_told_of_on_the_first_page(tmp_path: Path) -> None:
    done = child(NO_FLEET, str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert "no fleet.hangar" in done.stdout
