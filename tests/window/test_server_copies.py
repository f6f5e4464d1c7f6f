"""A fleet on a server, open in the window: a day's copy is put aside, and put back from the File menu."""

from __future__ import annotations

from datetime import date
from pathlib import Path

from pytestqt.qtbot import QtBot

from hangar.base.places import COPIES_OF_SERVERS
from hangar.parts import Airframe
from hangar.store import Fleet, check_file
from hangar.store.backups import backups_of
from hangar.store.server_copies import place_of_copies
from hangar.window.kit.desk import Desk
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.server_copies import ServerCopies
from hangar.window.start import application, open_window
from tests.store.conftest import put_trainer, server, server_address

__all__ = ["server", "server_address"]

DAY = date(2026, 3, 14)


def test_a_days_copy_is_put_aside_beside_the_event_loop(
    server: str, view: ViewSettings, qtbot: QtBot, tmp_path: Path
) -> None:
    with Fleet.open(server) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        desk = Desk(fleet, view)
        copies = ServerCopies(desk, server, tmp_path, first_ms=0)
        place = place_of_copies(server, tmp_path)
        qtbot.waitUntil(lambda: len(backups_of(place)) == 1 and copies.timer.isActive())
        # The next look is an hour away, and finds a copy of today.
        copies._ask()
        qtbot.waitUntil(copies.timer.isActive)
        (copy,) = backups_of(place)
        desk.stop()
        desk.deleteLater()
    assert check_file(copy).sound


def test_the_window_keeps_copies_and_puts_one_back(server: str, qtbot: QtBot, tmp_path: Path) -> None:
    with Fleet.open(server) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        before = fleet.whole_fleet(DAY)
        fleet.save_copy(tmp_path / "kept.hangar")
        fleet.edit("Call it", lambda edit: edit.change(Airframe, ("DUN",), name="Dunlin"))
        application()
        window = open_window(None, tmp_path, tmp_path)
        qtbot.addWidget(window)
        assert window.files.open_place(server)
        assert len(window.findChildren(ServerCopies)) == 1
        folder = tmp_path / COPIES_OF_SERVERS
        assert window.files.restore_server(server, tmp_path / "kept.hangar", folder)
        assert "restored from" in window.notice.sentence
        assert fleet.whole_fleet(DAY) == before
        assert window.desk is not None
        assert str(window.desk.fleet.undo_label) == "Restore kept.hangar"
        assert not window.files.restore_server(server, tmp_path / "gone.hangar", folder)
        assert "There is no file" in window.notice.sentence
        window.let_go()
