"""Copies of a server's fleet on this machine: whole, of one moment, kept by day, and put back."""

from __future__ import annotations

import threading
from collections.abc import Callable
from datetime import date, datetime, timedelta
from pathlib import Path

import pytest

from hangar.base.errors import BadInput, StoreFault
from hangar.base.places import demo_fleet_dir
from hangar.commands.running import main
from hangar.parts import Airframe, Attachment, Installation, PaperPlace, Servo
from hangar.store import Edit, Fleet, Owner, bring_in, check_file
from hangar.store.backups import backups_of
from hangar.store.server_copies import is_copy_due, keep_copy, place_of_copies
from hangar.store.server_restore import restore_server
from tests.store.conftest import put_trainer
from tests.store.server import emptied

DAY = date(2026, 3, 14)
NOW = datetime(2026, 3, 14, 9, 30)  # noqa: DTZ001


def call(name: str, code: str = "DUN") -> Callable[[Edit], None]:
    return lambda edit: edit.change(Airframe, (code,), name=name)


def test_a_copy_holds_records_papers_and_history_of_all_seats(server: str, tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_bytes(b"what the maker wrote")

    def keep(edit: Edit) -> None:
        edit.attach(letter, Owner(), on=DAY, place=PaperPlace.INSIDE)

    with Fleet.open(server, seat="A") as first, Fleet.open(server, seat="B") as second:
        first.edit("Build the trainer", put_trainer)
        second.changes_elsewhere()
        second.edit("Call it Dunlin", call("Dunlin"))
        first.changes_elsewhere()
        first.edit("Bin it", lambda edit: edit.change(Servo, ("0801",), bin="A1"))
        second.edit("Keep", keep)
        first.undo()
        second.undo()
        second.redo()
        copy = keep_copy(server, tmp_path / "copies", NOW)
        assert check_file(copy).sound
        with Fleet.open(copy, read_only=True) as near:
            assert near.whole_fleet(DAY) == first.whole_fleet(DAY)
            assert near.library() == first.library()
            assert near.history() == first.history()
            (paper,) = [
                attachment for attachment in near.records(Attachment) if attachment.name == "letter.txt"
            ]
            assert near.paper(paper.name) == letter.read_bytes()
            # What A took back at the server is nobody's to make again here.
            assert near.redo_label is None
        second.save_copy(tmp_path / "mine.hangar")
        assert check_file(tmp_path / "mine.hangar").sound


def test_a_copy_is_due_once_a_day_and_not_made_twice_of_the_same(server: str, tmp_path: Path) -> None:
    assert is_copy_due(server, tmp_path, NOW)
    with Fleet.open(server) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        first = keep_copy(server, tmp_path, NOW)
        assert not is_copy_due(server, tmp_path, NOW + timedelta(hours=23))
        tomorrow = NOW + timedelta(days=1)
        assert is_copy_due(server, tmp_path, tomorrow)
        assert keep_copy(server, tmp_path, tomorrow) == first
        fleet.edit("Call it Dunlin", call("Dunlin"))
        second = keep_copy(server, tmp_path, tomorrow)
    assert backups_of(place_of_copies(server, tmp_path)) == (first, second)
    assert "keeper" not in str(second)


def test_a_copy_belongs_to_one_moment_while_others_write(server: str, tmp_path: Path) -> None:
    with Fleet.open(server) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        is_over = threading.Event()

        def write() -> None:
            number = 0
            while not is_over.is_set():
                number += 1

                def both(edit: Edit, number: int = number) -> None:
                    edit.change(Airframe, ("DUN",), notes=str(number))
                    edit.change(Servo, ("0803",), bin=str(number))

                fleet.edit(f"Move {number}", both)

        writer = threading.Thread(target=write)
        writer.start()
        try:
            for number in range(4):
                copy = tmp_path / f"{number}.hangar"
                with Fleet.open(server, read_only=True) as beside:
                    beside.save_copy(copy)
                assert check_file(copy).sound
                with Fleet.open(copy, read_only=True) as near:
                    assert near.airframes()[0].notes == near.records(Servo, tag="0803")[0].bin
        finally:
            is_over.set()
            writer.join()


def test_an_empty_database_is_given_all_of_a_copy_and_goes_on(server: str, tmp_path: Path) -> None:
    with Fleet.open(server) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        fleet.edit("Call it Dunlin", call("Dunlin"))
        before, history = fleet.whole_fleet(DAY), fleet.history()
    keep_copy(server, tmp_path, NOW)
    emptied(server)
    sentence = restore_server(server, "newest", tmp_path, NOW)
    assert "with its history" in str(sentence)
    assert check_file(server).sound
    with Fleet.open(server) as fleet:
        assert fleet.whole_fleet(DAY) == before
        assert fleet.history() == history
        assert str(fleet.undo_label) == "Call it Dunlin"
        fleet.edit("Call it Plover", call("Plover"))
        assert fleet.undo() is not None
        fleet.undo()
        assert fleet.airframes()[0].name != "Dunlin"
    assert check_file(server).sound


def test_a_fleet_put_back_is_one_edit_that_others_are_told_of_and_can_be_undone(
    server: str, tmp_path: Path
) -> None:
    with Fleet.open(server) as fleet:
        bring_in(fleet, [demo_fleet_dir()], today=DAY)
        copy = keep_copy(server, tmp_path, NOW)
        wanted = fleet.whole_fleet(DAY)
        installation, other = [stay for stay in fleet.records(Installation) if stay.until_on is None][:2]

        def change_places(edit: Edit) -> None:
            edit.unfit_servo(installation.servo, DAY)
            edit.fit_servo(other.servo, installation.aircraft, installation.position, DAY)
            edit.fit_servo(installation.servo, other.aircraft, other.position, DAY)

        fleet.edit("Change places", change_places)
        fleet.edit("Call it Dunlin", call("Dunlin", wanted[0].code))
        fleet.edit("Drop one", lambda edit: edit.remove(Airframe, (wanted[1].code,)))
        fleet.edit("Rename", lambda edit: edit.rename(Airframe, (wanted[2].code,), ("DUX",)))
        spoiled, library = fleet.whole_fleet(DAY), fleet.library()
        with Fleet.open(server, seat="beside") as beside:
            sentence = restore_server(server, str(copy), tmp_path, NOW + timedelta(hours=1))
            assert "one edit that can be undone" in str(sentence)
            touched = beside.changes_elsewhere()
            assert touched is not None
            assert "airframe" in touched
            assert beside.whole_fleet(DAY) == wanted
            assert beside.undo_label is None
        assert check_file(server).sound
        assert str(fleet.undo_label) == f"Restore {copy.name}"
        fleet.undo()
        assert fleet.whole_fleet(DAY) == spoiled
        assert fleet.library() == library
    assert check_file(server).sound
    assert len(backups_of(place_of_copies(server, tmp_path))) == 2


def test_what_cannot_be_put_back_leaves_the_server_as_it_was(server: str, tmp_path: Path) -> None:
    with Fleet.open(server) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        before = fleet.history()
        with pytest.raises(BadInput, match="There is no sound copy"):
            restore_server(server, "newest", tmp_path, NOW)
        copy = keep_copy(server, tmp_path, NOW)
        copy.write_bytes(copy.read_bytes()[:-1] + b"x")
        with pytest.raises(StoreFault, match="was changed since it was written"):
            restore_server(server, str(copy), tmp_path, NOW)
        with pytest.raises(BadInput, match="There is no sound copy"):
            restore_server(server, "newest", tmp_path, NOW)
        assert fleet.history() == before


def command(*words: str | Path) -> int:
    return main([str(word) for word in words])


def test_the_command_keeps_a_copy_and_puts_it_back(
    server: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with Fleet.open(server) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        assert command("check-file", server, "--keep-copy", "--copies", tmp_path) == 0
        fleet.edit("Call it Dunlin", call("Dunlin"))
        assert command("check-file", server, "--restore", "newest", "--copies", tmp_path) == 0
        assert "restored from" in capsys.readouterr().out
        assert fleet.airframes()[0].name != "Dunlin"
    file = tmp_path / "own.hangar"
    with Fleet.create(file) as near:
        near.edit("Build the trainer", put_trainer)
    assert command("check-file", file, "--keep-copy") == 0
    assert len(backups_of(file)) == 2
