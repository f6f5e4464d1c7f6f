"""A backup is put back from the File menu; the changes made to the fleet are shown."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe
from hangar.store import Fleet
from hangar.window.main_window import MainWindow
from hangar.window.records.changes_dialog import ChangesDialog
from hangar.window.start import application, open_window


@pytest.fixture
def window(qtbot: QtBot, tmp_path: Path) -> Iterator[MainWindow]:
    application()
    made = open_window(None, tmp_path, tmp_path)
    qtbot.addWidget(made)
    yield made
    made.let_go()


@pytest.fixture
def path(tmp_path: Path, demo_file: Path) -> Path:
    """A fleet with a sound backup from before its one change."""
    place = tmp_path / "club.hangar"
    place.write_bytes(demo_file.read_bytes())
    with Fleet.open(place) as fleet:
        fleet.edit("Note", lambda edit: edit.change(Airframe, ("DUNN",), notes="first"))
    return place


def newest_backup(path: Path) -> Path:
    with Fleet.open(path, read_only=True) as fleet:
        return fleet.backups[-1]


def note(window: MainWindow) -> str | None:
    assert window.desk is not None
    return window.desk.aircraft("DUNN").airframe.notes


def test_a_backup_takes_the_place_of_the_open_fleet(window: MainWindow, path: Path) -> None:
    backup = newest_backup(path)
    assert window.files.open_place(str(path))
    assert window.desk is not None
    window.desk.edit("Spoil", lambda edit: edit.change(Airframe, ("DUNN",), notes="spoilt"))
    assert note(window) == "spoilt"
    assert window.files.restore(path, backup)
    assert note(window) == "first"
    assert "was restored" in window.notice.sentence


def test_a_damaged_file_is_told_with_its_backup_and_restored(window: MainWindow, path: Path) -> None:
    backup = newest_backup(path)
    path.write_bytes(path.read_bytes()[:5000])
    assert not window.files.open_place(str(path))
    assert backup.name in window.notice.sentence
    assert window.files.restore(path, backup)
    assert note(window) == "first"


def test_what_is_no_backup_changes_nothing_and_is_told(
    window: MainWindow, path: Path, tmp_path: Path
) -> None:
    other = tmp_path / "letter.txt"
    other.write_text("Dear club,", encoding="utf-8")
    assert window.files.open_place(str(path))
    before = path.read_bytes()
    assert not window.files.restore(path, other)
    assert note(window) == "first"
    assert path.read_bytes() == before
    assert "letter.txt" in window.notice.sentence


def test_the_changes_of_the_fleet_are_shown_and_follow_edits(
    window: MainWindow, path: Path, qtbot: QtBot
) -> None:
    assert window.files.open_place(str(path))
    window.menus.actions["changes"].trigger()
    (dialog,) = window.findChildren(ChangesDialog)
    first = dialog.table.model().rowCount()
    assert window.desk is not None
    window.desk.edit("Spoil", lambda edit: edit.change(Airframe, ("DUNN",), notes="spoilt"))
    qtbot.waitUntil(lambda: dialog.table.model().rowCount() == first + 1)
    assert "Spoil" in dialog.table.cells_as_text()
    assert "first → spoilt" in dialog.table.cells_as_text()
    dialog.reject()
