"""A screen that cannot be used is told in one sentence, before Qt is started and would abort."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from hangar.base.places import resources_dir
from hangar.window.screen import missing_words, platforms, screen_trouble

pytestmark = pytest.mark.skipif(not sys.platform.startswith("linux"), reason="only Linux needs the question")
COMPILER = shutil.which("gcc")
ROOT = Path(__file__).parents[2]
HIDING = """
#include <stdint.h>
#include <string.h>
unsigned la_version(unsigned version) { return version; }
char *la_objsearch(const char *name, uintptr_t *cookie, unsigned flag) {
    return strstr(name, "libxcb-cursor") ? "/nowhere/libxcb-cursor.so.0" : (char *)name;
}
"""
"""Watches the loader and hides one library from the programs it is given to (see the page rtld-audit)."""


@pytest.fixture(scope="module")
def hidden_library(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """Surroundings of a program with a screen, in which libxcb-cursor is not installed."""
    if COMPILER is None:
        pytest.skip("gcc is not installed")
    folder = tmp_path_factory.mktemp("hiding")
    (folder / "hiding.c").write_text(HIDING)
    made = folder / "hiding.so"
    subprocess.run([COMPILER, "-shared", "-fPIC", "-o", str(made), str(folder / "hiding.c")], check=True)
    around = {name: value for name, value in os.environ.items() if name != "QT_QPA_PLATFORM"}
    return {**around, "DISPLAY": ":99", "LD_AUDIT": str(made), "XDG_SESSION_TYPE": "x11"}


def test_a_missing_library_is_told_by_hangar_itself(hidden_library: dict[str, str]) -> None:
    command = [sys.executable, "-m", "hangar", "demo_fleet"]
    ended = subprocess.run(command, cwd=ROOT, env=hidden_library, capture_output=True, text=True, check=False)
    assert ended.returncode == 2
    assert ended.stderr.splitlines() == [
        "hangar: the window cannot be opened, the system library libxcb-cursor is missing; "
        "on Debian or Ubuntu run: apt-get install libxcb-cursor0."
    ]


def test_the_script_asks_the_screen_that_will_be_used(hidden_library: dict[str, str], tmp_path: Path) -> None:
    asked = run_script(tmp_path, hidden_library)
    assert "libxcb-cursor0" in asked, "it tries to install what is missing"
    words = (tmp_path / "told").read_text()
    assert "the system library libxcb-cursor is missing" in words
    assert "exit 2" in words


def run_script(folder: Path, around: dict[str, str]) -> str:
    """Run a copy of the script with a package manager that has nothing; what that was asked for."""
    (folder / "resources").mkdir()
    shutil.copy(resources_dir() / "start.sh", folder / "resources")
    for name in ("pyproject.toml", "resources/tested-versions.txt"):
        (folder / name).touch()
    tools = folder / ".venv" / "bin"
    tools.mkdir(parents=True)
    script(tools / "python", f'PYTHONPATH="{ROOT}" exec "{sys.executable}" "$@"')
    (folder / ".venv" / "set-up-demo").touch()
    for name in ("apt-get", "apt-cache"):
        script(tools / name, f'echo "$@" >> "{folder}/asked"; exit 1')
    script(tools / "id", "echo 0")
    script(tools / "apt-get", f'echo "$@" >> "{folder}/asked"; [ "$1" = update ]')
    around = {**around, "PATH": f"{tools}{os.pathsep}{os.environ['PATH']}"}
    command = ["sh", str(folder / "resources" / "start.sh"), "demo"]
    ended = subprocess.run(command, env=around, capture_output=True, text=True, check=False)
    (folder / "told").write_text(f"{ended.stderr}exit {ended.returncode}")
    return (folder / "asked").read_text()


def script(place: Path, words: str) -> None:
    place.write_text(f"#!/bin/sh\n{words}\n")
    place.chmod(0o755)


def test_a_screen_that_is_not_there_is_told() -> None:
    if "is missing" in str(screen_trouble({})):
        pytest.skip("the system libraries of a real screen are not installed")
    assert "DISPLAY is not set" in str(screen_trouble({}))
    assert ":97 does not answer" in str(screen_trouble({"DISPLAY": ":97"}))
    assert "names 'nosuch'" in str(screen_trouble({"QT_QPA_PLATFORM": "nosuch"}))
    assert screen_trouble({"QT_QPA_PLATFORM": "offscreen"}) is None
    assert screen_trouble({"QT_QPA_PLATFORM": "nosuch;offscreen"}) is None, "Qt takes the next"


def test_the_platforms_are_asked_in_the_order_of_qt() -> None:
    assert platforms({"DISPLAY": ":0"}) == ("xcb",)
    assert platforms({"QT_QPA_PLATFORM": "offscreen:size=9x9"}) == ("offscreen",)


def test_a_library_without_a_known_package_is_named_all_the_same() -> None:
    fault = OSError("libnew.so.3: cannot open shared object file: No such file or directory")
    assert missing_words(fault).endswith("the system library libnew is missing; install it.")
    assert "bad magic" in missing_words(ImportError("bad magic"))
