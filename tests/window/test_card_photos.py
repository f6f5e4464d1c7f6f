"""A card shows the aircraft's photo where there is one, and its outline where not."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtGui import QColor, QImage
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe, Attachment
from hangar.parts.choices import AircraftClass
from hangar.store import Edit, Owner
from hangar.window.flight_line.card_photos import MOST_PX, CardPhotos, small_picture
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from tests.window.conftest import CODE, TODAY

PINK = QColor(230, 40, 160)


def _photo(folder: Path, name: str = "side.png", wide: int = 1200, high: int = 800) -> Path:
    image = QImage(wide, high, QImage.Format.Format_RGB32)
    image.fill(PINK)
    path = folder / name
    assert image.save(str(path))
    return path


def _attach(desk: Desk, path: Path, code: str = CODE) -> None:
    def work(edit: Edit) -> None:
        edit.attach(path, Owner(aircraft=code), TODAY)

    desk.change("Keep a photo", work)


def _pink_pixels(widget: QWidget) -> int:
    seen = widget.grab().toImage()
    return sum(
        seen.pixelColor(x, y) == PINK for x in range(0, seen.width(), 4) for y in range(0, seen.height(), 4)
    )


@pytest.fixture
def line(desk: Desk, qtbot: QtBot) -> FlightLine:
    made = FlightLine(desk)
    qtbot.addWidget(made)
    made.resize(1000, 600)
    made.show()
    qtbot.waitExposed(made)
    return made


def test_the_photo_takes_the_outline_s_place_and_gives_it_back(
    line: FlightLine, desk: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    assert _pink_pixels(line) == 0
    _attach(desk, _photo(tmp_path))
    qtbot.waitUntil(lambda: _pink_pixels(line) > 50)
    desk.undo()
    qtbot.waitUntil(lambda: _pink_pixels(line) == 0)


def test_a_broken_photo_leaves_the_outline(
    line: FlightLine, desk: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    broken = tmp_path / "broken.png"
    broken.write_bytes(b"\x89PNG\r\n\x1a\n" + b"no picture" * 20)
    _attach(desk, broken)
    assert desk.records(Attachment)[0].media_type == "image/png"
    qtbot.waitUntil(lambda: line.photos.has_fetched(CODE))
    assert line.photos.photo(CODE) is None
    assert _pink_pixels(line) == 0


def test_the_first_paint_does_not_wait_for_a_photo(desk: Desk, tmp_path: Path, qtbot: QtBot) -> None:
    _attach(desk, _photo(tmp_path))
    photos = CardPhotos(desk)
    assert photos.photo(CODE) is None
    with qtbot.waitSignal(photos.ready):
        pass
    assert photos.photo(CODE) is None
    with qtbot.waitSignal(photos.ready) as fetched:
        pass
    assert fetched.args == [CODE]
    qimage = photos.photo(CODE)
    assert qimage is not None
    assert (qimage.width(), qimage.height()) == (MOST_PX, round(MOST_PX * 800 / 1200))
    photos.deleteLater()


def test_only_photos_of_cards_on_screen_are_fetched_in_a_large_fleet(
    line: FlightLine, desk: Desk, tmp_path: Path, qtbot: QtBot
) -> None:
    photo = _photo(tmp_path, wide=60, high=40)
    codes = [f"M{number:03}" for number in range(120)]

    def many(edit: Edit) -> None:
        for code in codes:
            edit.put(Airframe(code=code, name=code, aircraft_class=AircraftClass.SPORT))
            edit.attach(photo, Owner(aircraft=code), TODAY)

    desk.change("Enter a large fleet", many)
    qtbot.waitUntil(lambda: _pink_pixels(line) > 50)
    qtbot.wait(300)
    fetched = [code for code in codes if line.photos.has_fetched(code)]
    assert 0 < len(fetched) < 60
    assert fetched == sorted(fetched)
    line.cards.scrollToBottom()
    qtbot.waitUntil(lambda: line.photos.has_fetched(codes[-1]))


def test_a_large_picture_is_kept_small_in_its_own_shape(tmp_path: Path) -> None:
    small = small_picture(_photo(tmp_path, "tall.jpg", 300, 900).read_bytes())
    assert small is not None
    assert small.height() == MOST_PX
    assert small.width() == pytest.approx(MOST_PX / 3, abs=1)
    assert small_picture(b"no picture") is None
