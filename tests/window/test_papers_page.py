"""The Papers page: files are taken in, looked at, saved out, removed and brought back."""

from __future__ import annotations

import dataclasses
from functools import partial
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent, QImage
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from hangar.base.errors import StoreFault
from hangar.parts import Attachment
from hangar.store import Edit, Owner
from hangar.window.airframe.papers_page import PapersPage, papers_of
from hangar.window.kit.desk import Desk
from tests.sheets.hostile_pictures import NESTED_SVG
from tests.window.conftest import CODE, TODAY

Strict = QAbstractItemModelTester.FailureReportingMode.Fatal


@pytest.fixture
def photo(tmp_path: Path) -> Path:
    path = tmp_path / "left wing.png"
    image = QImage(64, 48, QImage.Format.Format_RGB32)
    image.fill(Qt.GlobalColor.darkGreen)
    assert image.save(str(path))
    return path


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> PapersPage:
    made = PapersPage(desk)
    qtbot.addWidget(made)
    made.resize(900, 500)

    def show() -> None:
        judgement = desk.judgement(CODE)
        assert judgement is not None
        made.show_judgement(judgement)

    desk.touched.connect(lambda _touched: show())
    show()
    return made


def test_a_photo_is_kept_and_shown_and_undone(
    desk: Desk, page: PapersPage, photo: Path, qtbot: QtBot
) -> None:
    tester = QAbstractItemModelTester(page.table.rows_model, Strict)
    assert not page.photo.has_picture
    assert page.add_files([photo])
    (kept,) = desk.records(Attachment)
    assert (kept.name, kept.aircraft, kept.added_on) == ("left wing.png", CODE, TODAY)
    page.table.choose_row(kept.name)
    qtbot.waitUntil(lambda: page.photo.has_picture)
    green = page.photo.grab().toImage().pixelColor(page.photo.rect().center())
    assert green.green() > green.red()
    desk.undo()
    assert not desk.records(Attachment)
    assert not page.photo.has_picture
    assert tester is not None


def test_several_files_are_one_step_and_one_bad_file_keeps_all_out(
    desk: Desk, page: PapersPage, photo: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("dear sir")
    with qtbot.waitSignal(desk.trouble):
        assert not page.add_files([photo, tmp_path / "gone.png"])
    assert not desk.records(Attachment)
    assert page.add_files([photo, letter])
    assert len(desk.records(Attachment)) == 2
    page.table.choose_row("letter.txt")
    assert not page.photo.has_picture
    assert "save a copy" in page.photo.accessibleDescription()
    desk.undo()
    assert not desk.records(Attachment)


def test_papers_of_what_is_fitted_are_shown_too(desk: Desk, photo: Path) -> None:
    def attach(edit: Edit) -> None:
        for owner in (Owner(servo="S-001"), Owner(pack="B-01"), Owner(servo="S-003")):
            edit.attach(photo, owner, TODAY)

    desk.change("Keep", attach)
    owners = {paper.servo or paper.pack for paper in papers_of(desk, desk.aircraft(CODE))}
    assert owners == {"S-001", "B-01"}


def test_a_copy_is_the_same_bytes_and_a_bad_place_is_refused(
    desk: Desk, page: PapersPage, photo: Path, tmp_path: Path
) -> None:
    page.add_files([photo])
    (kept,) = desk.records(Attachment)
    page.save_copy(kept, tmp_path / "copy.png")
    assert (tmp_path / "copy.png").read_bytes() == photo.read_bytes()
    with pytest.raises(StoreFault, match="cannot be written"):
        page.save_copy(kept, tmp_path / "no folder" / "copy.png")


def test_removing_is_undone(desk: Desk, page: PapersPage, photo: Path) -> None:
    page.add_files([photo])
    page.table.choose_row("left wing.png")
    page.remove_button.click()
    assert not desk.records(Attachment)
    desk.undo()
    assert len(desk.records(Attachment)) == 1


def test_files_can_be_dropped_on_the_page(desk: Desk, page: PapersPage, photo: Path) -> None:
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(photo))])
    drop = QDropEvent(
        QPointF(40, 40),
        Qt.DropAction.CopyAction,
        mime,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    page.dropEvent(drop)
    assert [attachment.name for attachment in desk.records(Attachment)] == ["left wing.png"]


def test_a_file_called_a_picture_that_is_a_program_is_told_and_never_run(
    desk: Desk, page: PapersPage, tmp_path: Path, qtbot: QtBot
) -> None:
    for name in ("nested.svg", "nested.png"):
        (tmp_path / name).write_text(NESTED_SVG)
        assert page.add_files([tmp_path / name])
    for paper in desk.records(Attachment):
        # As an older file or a table may call it.
        called = dataclasses.replace(paper, media_type="image/png")
        desk.change("Call it so", partial(Edit.put, record=called))
        page.table.choose_row(paper.name)
        qtbot.waitUntil(lambda: "no PNG, JPEG, WebP or GIF" in page.photo.accessibleDescription())
        assert not page.photo.has_picture


def test_the_window_answers_while_a_picture_is_opened(
    desk: Desk, page: PapersPage, photo: Path, qtbot: QtBot
) -> None:
    page.add_files([photo])
    page.table.choose_row("left wing.png")
    assert not page.photo.has_picture
    assert "Opening left wing.png" in page.photo.accessibleDescription()
    qtbot.waitUntil(lambda: page.photo.has_picture)
