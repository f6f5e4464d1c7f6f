"""The wheel carries all it needs and works outside the checkout."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent


@pytest.fixture(scope="module")
def installed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with nothing but the unpacked wheel; its libraries come from this environment."""
    folder = tmp_path_factory.mktemp("wheel")
    pip = [sys.executable, "-m", "pip", "-q", "--disable-pip-version-check"]
    subprocess.run(
        [*pip, "wheel", "--no-deps", "-w", str(folder), str(ROOT)], check=True, capture_output=True
    )
    (wheel,) = folder.glob("hangar-*.whl")
    target = folder / "site"
    subprocess.run([*pip, "install", "--no-deps", "--target", str(target), str(wheel)], check=True)
    return target


def run(installed: Path, *words: str) -> subprocess.CompletedProcess[str]:
    surroundings = {**os.environ, "PYTHONPATH": str(installed), "QT_QPA_PLATFORM": "offscreen"}
    return subprocess.run(
        [sys.executable, "-P", *words],
        cwd=installed.parent,
        env=surroundings,
        capture_output=True,
        text=True,
        check=False,
    )


@pytest.mark.slow
def test_the_installed_program_is_the_one_that_runs(installed: Path) -> None:
    done = run(installed, "-c", "import hangar; print(hangar.__file__)")
    assert Path(done.stdout.strip()).is_relative_to(installed)


@pytest.mark.slow
def test_every_page_of_the_guide_travels_in_the_wheel_in_both_languages(installed: Path) -> None:
    words = "from hangar.base.places import resources_dir as d; print(d() / 'guide')"
    place = Path(run(installed, "-c", words).stdout.strip())
    assert place.is_relative_to(installed)
    guide = ROOT / "resources" / "guide"
    written = {page.relative_to(guide) for page in guide.rglob("*.md")}
    assert {page.relative_to(place) for page in place.rglob("*.md")} == written
    assert Path("de/start.md") in written


@pytest.mark.slow
def test_the_demo_fleet_travels_in_the_wheel(installed: Path, tmp_path: Path) -> None:
    fleet = tmp_path / "demo.hangar"
    place = run(
        installed, "-c", "from hangar.base.places import demo_fleet_dir as d; print(d())"
    ).stdout.strip()
    assert Path(place).is_relative_to(installed)
    done = run(installed, "-m", "hangar", "bring-in", str(fleet), place)
    assert done.returncode == 0, done.stderr
    done = run(installed, "-m", "hangar", "inspect", str(fleet), "--json")
    assert done.returncode == 1, done.stderr
    assert len({finding["aircraft"] for finding in json.loads(done.stdout)}) == 7


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["field", "build"])
def test_sheets_find_their_fonts_and_texts_in_the_wheel(kind: str, installed: Path, tmp_path: Path) -> None:
    place = run(
        installed, "-c", "from hangar.base.places import demo_fleet_dir as d; print(d())"
    ).stdout.strip()
    out = tmp_path / "sheet.pdf"
    done = run(installed, "-m", "hangar", "sheet", kind, place, "--aircraft", "DUNN", "--out", str(out))
    assert done.returncode == 0, done.stderr
    assert out.read_bytes().startswith(b"%PDF")


@pytest.mark.slow
def test_the_window_opens_from_the_wheel(installed: Path, tmp_path: Path) -> None:
    script = (
        "import sys\n"
        "from pathlib import Path\n"
        "from PySide6.QtCore import QTimer\n"
        "from hangar.window.start import application, open_window\n"
        "app = application(); folder = Path(sys.argv[1]); window = open_window(None, folder, folder)\n"
        "QTimer.singleShot(300, app.quit); app.exec(); print(window.windowTitle())\n"
    )
    done = run(installed, "-c", script, str(tmp_path))
    assert done.returncode == 0, done.stderr
    assert "Hangar" in done.stdout
