"""A connection cut at any statement costs at most the edit under way; the seat connects anew and goes on."""

from __future__ import annotations

import os
import re
import socket
import subprocess
import threading
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import create_engine, event, text
from sqlalchemy.engine import make_url

from hangar.base.errors import StoreFault
from hangar.parts import Airframe, Servo, Setting
from hangar.store import Edit, Fleet, Reach
from hangar.store import turns as turns_module
from tests.store.conftest import put_trainer
from tests.store.server import OWNER, programs, running_cluster, short_folder

DAY = date(2026, 3, 14)
LOST = r"Not (saved|read): the (connection to the server is lost|server is shutting down or just starting)\."


class Cutter:
    """Ends the server's side of a seat's connection just before a chosen statement of that seat."""

    def __init__(self, fleet: Fleet, address: str) -> None:
        place = make_url(address).set(drivername="postgresql+psycopg")
        self._killer = create_engine(place, isolation_level="AUTOCOMMIT")
        self._fleet = fleet
        self.statements: list[str] = []
        self.cut_before: int | None = None
        event.listen(fleet._door._engine, "before_cursor_execute", self._before)

    def _before(self, _link: Any, _cursor: Any, statement: str, *_rest: Any) -> None:
        if self.cut_before == len(self.statements):
            self.cut_before = None
            self.cut()
        self.statements.append(statement)

    def cut(self) -> None:
        pid = self._fleet._door.link.connection.dbapi_connection.info.backend_pid  # type: ignore[union-attr]
        with self._killer.connect() as link:
            link.execute(text("SELECT pg_terminate_backend(:pid)"), {"pid": pid})
            while link.execute(text("SELECT 1 FROM pg_stat_activity WHERE pid = :pid"), {"pid": pid}).first():
                time.sleep(0.005)

    @contextmanager
    def resting(self) -> Iterator[None]:
        """Statements inside are neither counted nor cut."""
        counted, armed = self.statements, self.cut_before
        self.arm(None)
        yield
        self.statements, self.cut_before = counted, armed

    def arm(self, number: int | None) -> None:
        self.statements, self.cut_before = [], number

    def close(self) -> None:
        event.remove(self._fleet._door._engine, "before_cursor_execute", self._before)
        self._killer.dispose()


@pytest.fixture
def fleet(server: str) -> Iterator[Fleet]:
    with Fleet.open(server) as made:
        made.edit("Build the trainer", put_trainer)
        yield made


@pytest.fixture
def cutter(fleet: Fleet, server: str) -> Iterator[Cutter]:
    made = Cutter(fleet, server)
    yield made
    made.close()


def move(number: int) -> Callable[[Edit], None]:
    def work(edit: Edit) -> None:
        edit.put(Setting(name="count", value=str(number)))
        edit.change(Airframe, ("DUN",), notes=str(number))
        edit.change(Servo, ("0803",), bin=str(number))

    return work


def count(fleet: Fleet) -> str | None:
    setting = fleet.record(Setting, "count")
    words = setting.value if setting else None
    assert fleet.airframes()[0].notes == words, "half an edit is there"
    assert fleet.records(Servo, tag="0803")[0].bin == words, "half an edit is there"
    return words


def through_every_cut(fleet: Fleet, cutter: Cutter, act: Callable[[int], object], wording: str) -> list[int]:
    """Cut before each statement of an act in turn; which of the cuts cost nothing."""
    act(0)
    cutter.arm(None)
    act(1)
    statements = len(cutter.statements)
    assert statements > 5
    free, refusals = [], []
    for number in range(statements):
        cutter.arm(number)
        try:
            act(2 + number)
            free.append(number)
        except StoreFault as fault:
            refusals.append(str(fault))
        assert cutter.cut_before is None, "the act had fewer statements this time"
    assert [words for words in refusals if not re.fullmatch(wording, words)] == []
    return free


def test_an_edit_cut_at_any_statement_is_saved_or_not_as_was_told(fleet: Fleet, cutter: Cutter) -> None:
    saved: list[int] = []

    def act(number: int) -> None:
        with cutter.resting():
            before = count(fleet)
        try:
            fleet.edit(f"Move {number}", move(number))
        except StoreFault:
            assert count(fleet) == before
            raise
        saved.append(number)
        with cutter.resting():
            assert count(fleet) == str(number)

    free = through_every_cut(fleet, cutter, act, LOST)
    # Nothing was under way yet when the connection was found lost: it was begun anew.
    assert free == [0]
    labels = {change.label for change in fleet.history()}
    assert labels == {"Build the trainer", *(f"Move {number}" for number in saved)}
    fleet.edit("Go on", lambda edit: edit.change(Servo, ("0803",), bin="Z"))
    assert str(fleet.undo_label) == "Go on"


@pytest.mark.parametrize("back", [True, False], ids=["undo", "redo"])
def test_an_undo_cut_at_any_statement_is_taken_or_not_as_was_told(
    fleet: Fleet, cutter: Cutter, back: bool
) -> None:
    fleet.edit("Move 1", move(1))

    def act(_number: int) -> None:
        with cutter.resting():
            if not back and fleet.redo_label is None:
                fleet.undo()
            if back and fleet.redo_label is not None:
                fleet.redo()
            assert (count(fleet) is None) == (not back)
        try:
            fleet.undo() if back else fleet.redo()
        except StoreFault:
            assert (count(fleet) is None) == (not back)
            raise
        with cutter.resting():
            assert (count(fleet) is None) == back

    free = through_every_cut(fleet, cutter, act, LOST)
    assert 0 in free


def test_reading_cut_at_any_statement_is_told_or_done_and_the_next_reading_works(
    fleet: Fleet, cutter: Cutter
) -> None:
    whole = fleet.whole_fleet(DAY)

    def act(_number: int) -> None:
        try:
            assert fleet.whole_fleet(DAY) == whole
        except StoreFault:
            assert fleet.whole_fleet(DAY) == whole
            raise

    free = through_every_cut(fleet, cutter, act, LOST)
    # Nothing was read yet, or everything was.
    assert free == [0, len(cutter.statements) - 1]


def test_what_others_did_meanwhile_is_read_again(fleet: Fleet, cutter: Cutter, server: str) -> None:
    cutter.cut()
    with Fleet.open(server, seat="somebody else") as other:
        other.edit("Bin it", lambda edit: edit.change(Servo, ("0801",), bin="A1"))
    touched = fleet.changes_elsewhere()
    assert touched is not None
    assert "servo" in touched
    assert fleet.records(Servo, tag="0801")[0].bin == "A1"


class Wire:
    """Passes a seat's words to the server and back; can be cut when a word goes by, its answer kept back."""

    def __init__(self, address: str) -> None:
        self._server = make_url(address)
        self._door = socket.create_server(("127.0.0.1", 0))
        self.address = self._server.set(
            host="127.0.0.1", port=self._door.getsockname()[1], drivername="postgresql"
        ).render_as_string(hide_password=False)
        self.cut_after: bytes | None = None
        self.is_down = False
        threading.Thread(target=self._listen, daemon=True).start()

    def _listen(self) -> None:
        while True:
            try:
                near, _ = self._door.accept()
            except OSError:
                return
            if self.is_down:
                near.close()
                continue
            far = socket.create_connection((self._server.host or "127.0.0.1", self._server.port or 5432))
            signal = threading.Event()
            threading.Thread(target=self._outwards, args=(near, far, signal), daemon=True).start()
            threading.Thread(target=self._back, args=(near, far, signal), daemon=True).start()

    def _outwards(self, near: socket.socket, far: socket.socket, signal: threading.Event) -> None:
        with suppress(OSError):
            while words := near.recv(65536):
                if self.cut_after is not None and self.cut_after in words:
                    self.cut_after = None
                    signal.set()
                far.sendall(words)
        self._end(near, far)

    def _back(self, near: socket.socket, far: socket.socket, signal: threading.Event) -> None:
        with suppress(OSError):
            while words := far.recv(65536):
                if signal.is_set():
                    break
                near.sendall(words)
        self._end(near, far)

    def _end(self, near: socket.socket, far: socket.socket) -> None:
        for one in (near, far):
            with suppress(OSError):
                one.shutdown(socket.SHUT_RDWR)
            one.close()

    def close(self) -> None:
        with suppress(OSError):
            self._door.shutdown(socket.SHUT_RDWR)
        self._door.close()


@pytest.fixture
def wire(server: str) -> Iterator[Wire]:
    made = Wire(server)
    yield made
    made.close()


def test_an_edit_whose_confirmation_was_lost_is_found_in_the_journal(wire: Wire) -> None:
    with Fleet.open(wire.address) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        wire.cut_after = b"COMMIT"
        touched = fleet.edit("Move 1", move(1))
        assert wire.cut_after is None
        assert isinstance(touched, Reach)
        assert count(fleet) == "1"
        assert fleet.changes_elsewhere() is None
        wire.cut_after = b"COMMIT"
        assert fleet.undo() is not None
        assert wire.cut_after is None
        assert count(fleet) is None
        assert str(fleet.redo_label) == "Move 1"


def test_where_the_server_stays_away_nobody_says_whether_the_edit_was_saved(
    wire: Wire, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(turns_module, "_WAITS_S", (0.0, 0.0))
    with Fleet.open(wire.address) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        commit = fleet._door.commit

        def commit_and_go() -> None:
            wire.is_down, wire.cut_after = True, b"COMMIT"
            commit()

        monkeypatch.setattr(fleet._door, "commit", commit_and_go)
        with pytest.raises(StoreFault, match='"Move 1" was being saved; whether it was saved cannot be told'):
            fleet.edit("Move 1", move(1))
        with pytest.raises(StoreFault, match="Not read: the"):
            fleet.records(Servo)
        monkeypatch.setattr(fleet._door, "commit", commit)
        wire.is_down = False
        # Here it was saved, and what nobody knew of is told like an edit of somebody else.
        assert fleet.changes_elsewhere() is not None
        assert count(fleet) == "1"
        assert fleet.history()[0].label == "Move 1"


@contextmanager
def own_cluster() -> Iterator[tuple[str, Callable[[str], None]]]:
    bin_folder = programs()
    if bin_folder is None:
        pytest.skip("PostgreSQL's initdb is not installed; on Debian: apt-get install postgresql")
    with short_folder() as folder, running_cluster(Path(folder)) as address:

        def order(word: str) -> None:
            user = OWNER if os.geteuid() == 0 else None
            command = [str(bin_folder / "pg_ctl"), "-D", f"{folder}/data", "-m", "immediate", "-w"]
            more = ["-l", f"{folder}/log"] if word == "restart" else []
            subprocess.run(
                [*command, *more, word], user=user, cwd=folder, check=True, capture_output=True, timeout=900
            )

        yield address, order


@pytest.mark.slow
def test_a_server_that_was_started_anew_is_gone_on_with() -> None:
    with own_cluster() as (address, order), Fleet.open(address) as fleet:
        fleet.edit("Build the trainer", put_trainer)
        order("restart")
        fleet.edit("Move 1", move(1))
        assert count(fleet) == "1"
        order("restart")
        assert str(fleet.undo_label) == "Move 1"
        assert next(change.label for change in fleet.history()) == "Move 1"
