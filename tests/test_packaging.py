"""The desktop's files fit the program, the file ending and each other."""

from __future__ import annotations

import configparser
import shutil
import subprocess
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PySide6.QtGui import QImage

from hangar.base.places import resources_dir
from hangar.store.backups import SUFFIX
from hangar.window.start import NAME

PACKAGING = resources_dir() / "packaging"
ICON = resources_dir() / "icons" / "hangar.svg"
SPACE = "{http://www.freedesktop.org/standards/shared-mime-info}"


def desktop_entry() -> configparser.SectionProxy:
    read = configparser.ConfigParser(interpolation=None)
    read.optionxform = str  # type: ignore[assignment, method-assign]
    read.read(PACKAGING / "hangar.desktop", encoding="utf-8")
    return read["Desktop Entry"]


def test_the_desktop_entry_starts_the_program_with_a_file() -> None:
    entry = desktop_entry()
    assert entry["Exec"].split() == [NAME, "%f"]
    assert (entry["Type"], entry["Icon"]) == ("Application", ICON.stem)


def test_the_file_type_is_that_of_fleet_files_and_opens_with_the_program() -> None:
    kind = ElementTree.parse(PACKAGING / "hangar.xml").getroot().find(f"{SPACE}mime-type")
    assert kind is not None
    assert kind.get("type") in desktop_entry()["MimeType"].split(";")
    assert [glob.get("pattern") for glob in kind.iter(f"{SPACE}glob")] == [f"*{SUFFIX}"]


@pytest.mark.skipif(shutil.which("update-mime-database") is None, reason="shared-mime-info is not installed")
def test_the_desktop_takes_the_file_type_in(tmp_path: Path) -> None:
    (tmp_path / "packages").mkdir()
    shutil.copy(PACKAGING / "hangar.xml", tmp_path / "packages")
    subprocess.run(["update-mime-database", str(tmp_path)], check=True, capture_output=True)
    assert f"*{SUFFIX}" in (tmp_path / "globs").read_text(encoding="utf-8")


def test_the_icon_is_a_picture_that_qt_can_draw() -> None:
    picture = QImage(str(ICON))
    assert not picture.isNull()
    assert picture.width() == picture.height()


@pytest.mark.skipif(
    shutil.which("desktop-file-validate") is None, reason="desktop-file-utils is not installed"
)
def test_the_desktop_takes_the_entry_without_complaint() -> None:
    checked = subprocess.run(
        ["desktop-file-validate", str(PACKAGING / "hangar.desktop")],
        capture_output=True,
        text=True,
        check=False,
    )
    assert (checked.returncode, checked.stdout) == (0, "")


def test_the_desktop_entry_is_of_a_version_that_every_desktop_knows() -> None:
    assert tuple(map(int, desktop_entry()["Version"].split("."))) <= (1, 4)
