"""A fleet on a server: several seats, one fleet. Every test of the door runs there too when one is named."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from datetime import date

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.engine import make_url

from hangar.base.errors import StoreFault
from hangar.base.places import demo_fleet_dir
from hangar.parts import Servo, ServoType, Setting
from hangar.parts.choices import Drive
from hangar.store import Edit, Fleet, Reach, bring_in, check_file
from hangar.store.upgrades import VERSION
from tests.store.old_settings import made_old
from tests.store.test_version_2 import EDITS

DAY = date(2026, 3, 14)


def test_two_seats_see_the_same_fleet_and_each_others_edits(server: str) -> None:
    with Fleet.open(server) as first, Fleet.open(server) as second:
        first.edit("Put", lambda edit: edit.put(ServoType(code="TS-31", drive=Drive.ANALOG)))
        assert [kind.code for kind in second.records(ServoType)] == ["TS-31"]
        second.edit("Put", lambda edit: edit.put(Servo(tag="0801", servo_type="TS-31")))
        assert str(first.undo_label) == "Put"
        first.undo()
        assert second.records(Servo) == ()


def test_the_demo_fleet_reads_the_same_from_a_server_as_from_memory(server: str) -> None:
    with Fleet.open(server) as far, Fleet.in_memory() as near:
        for fleet in (far, near):
            bring_in(fleet, [demo_fleet_dir()], today=DAY)
        assert far.whole_fleet(DAY) == near.whole_fleet(DAY)
        assert far.library() == near.library()
        far.undo()
        assert far.whole_fleet(DAY) == ()


def ask(address: str, *statements: str) -> None:
    """Tell the server something past our door."""
    engine = create_engine(make_url(address).set(drivername="postgresql+psycopg"))
    with engine.begin() as link:
        for statement in statements:
            link.execute(text(statement))
    engine.dispose()


@pytest.mark.parametrize(
    ("statement", "words"),
    [
        ("UPDATE hangar_version SET version = 99", "is of version 99, written by a newer Hangar"),
        (
            "UPDATE hangar_version SET version = 0",
            "its fleet is of version 0; there is none before 1",
        ),
        ("DELETE FROM hangar_version", "says 0 times of which version its fleet is; expected once"),
        (f"INSERT INTO hangar_version VALUES ({VERSION})", "says 2 times of which version its fleet is"),
        ("DROP TABLE hangar_version", "has tables of a fleet, such as .*, but does not say of which version"),
        ("ALTER TABLE setting RENAME TO settled", "lacks setting; restore a copy into an empty database"),
        ("ALTER TABLE journal_change RENAME TO gone", "lacks journal_change; restore a copy"),
    ],
)
def test_a_database_that_is_no_whole_fleet_is_refused_in_a_sentence(
    server: str, statement: str, words: str
) -> None:
    try:
        ask(server, statement)
        for look in (Fleet.open, check_file):
            if "DROP TABLE" in statement and look is check_file:
                words = "holds no fleet"
            with pytest.raises(StoreFault, match=words) as fault:
                look(server)
            assert "\n" not in str(fault.value)
    finally:
        ask(
            server,
            "ALTER TABLE IF EXISTS settled RENAME TO setting",
            "ALTER TABLE IF EXISTS gone RENAME TO journal_change",
            "CREATE TABLE IF NOT EXISTS hangar_version (version INTEGER NOT NULL)",
            "DELETE FROM hangar_version",
            f"INSERT INTO hangar_version VALUES ({VERSION})",
        )


def test_a_table_that_goes_while_the_fleet_is_open_is_told(server: str) -> None:
    with Fleet.open(server) as fleet:
        ask(server, "ALTER TABLE setting RENAME TO settled", "ALTER TABLE servo RENAME bin TO box")
        try:
            with pytest.raises(StoreFault, match=r"^Not read: a table is missing in the database"):
                fleet.records(Setting)
            with pytest.raises(StoreFault, match=r"^Not read: a column is missing in a table"):
                fleet.records(Servo)
        finally:
            ask(server, "ALTER TABLE settled RENAME TO setting", "ALTER TABLE servo RENAME box TO bin")
        assert fleet.records(Servo) == ()


def test_a_seat_is_refused_once_a_newer_program_has_upgraded_the_fleet(server: str) -> None:
    with Fleet.open(server) as fleet:
        ask(server, f"UPDATE hangar_version SET version = {VERSION + 1}")
        with pytest.raises(StoreFault, match="was upgraded by a newer Hangar meanwhile"):
            fleet.edit("Set", lambda edit: edit.put(Setting(name="a", value="b")))
        ask(server, f"UPDATE hangar_version SET version = {VERSION}")
        fleet.edit("Set", lambda edit: edit.put(Setting(name="a", value="b")))
        assert len(fleet.history()) == 1


def test_seats_that_open_an_old_fleet_at_once_upgrade_it_once(server: str) -> None:
    engine = create_engine(make_url(server).set(drivername="postgresql+psycopg"))
    with engine.begin() as link:
        made_old(link, EDITS)
    engine.dispose()

    def open_it(number: int) -> int:
        with Fleet.open(server, seat=f"seat {number}") as fleet:
            fleet.edit(f"Set {number}", lambda edit: edit.put(Setting(name=f"n{number}", value="1")))
            return len(fleet.airframes())

    with ThreadPoolExecutor(4) as pool:
        counts = set(pool.map(open_it, range(4)))
    assert len(counts) == 1
    assert check_file(server).sound


@contextmanager
def role(server: str, *rights: str) -> Iterator[str]:
    """Address of the same database for another name, which has these rights."""
    name = "looker"
    ask(server, f"CREATE ROLE {name} LOGIN", *(f"{right} TO {name}" for right in rights))
    try:
        yield make_url(server).set(username=name).render_as_string(hide_password=False)
    finally:
        ask(server, f"DROP OWNED BY {name}", f"DROP ROLE {name}")


def put_setting(edit: Edit) -> None:
    edit.put(Setting(name="a", value="b"))


def test_a_name_that_may_look_only_is_seen_as_such_when_the_fleet_is_opened(server: str) -> None:
    with (
        Fleet.open(server) as writer,
        role(server, "GRANT SELECT ON ALL TABLES IN SCHEMA public") as address,
        Fleet.open(address) as looker,
    ):
        assert looker.read_only
        assert not writer.read_only
        assert str(looker.hindrance) == "the server lets this name look only"
        with pytest.raises(StoreFault, match="open for reading only: the server lets this name look only"):
            looker.edit("Set", put_setting)
        writer.edit("Set", put_setting)
        assert looker.changes_elsewhere() == Reach({"setting"})
        assert len(looker.records(Setting)) == 1
        assert check_file(address).sound


def test_a_server_that_takes_no_writing_from_anybody_is_seen_as_such(server: str) -> None:
    rights = ("GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public",)
    with role(server, *rights) as address:
        ask(server, "ALTER ROLE looker SET default_transaction_read_only = on")
        with Fleet.open(address) as looker:
            assert looker.read_only
            assert str(looker.hindrance) == "the server allows reading only"


def test_a_name_without_rights_is_refused_in_a_sentence(server: str) -> None:
    with role(server) as address:
        for read_only in (False, True):
            with pytest.raises(StoreFault, match=r"^Not opened: the server does not allow it to"):
                Fleet.open(address, read_only)


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("mysql://nobody@localhost/fleet", "use postgresql"),
        ("postgresql://nobody@127.0.0.1:1/fleet?connect_timeout=1", "The server cannot be reached"),
        ("odd://", "cannot be used|cannot be kept"),
        (
            "postgresql://nobody@127.0.0.1:abc/fleet",
            'port "abc"; expected a number from 1 to 65535',
        ),
        ("postgresql://nobody:a:b@127.0.0.1:65536/fleet", 'names the port "65536"; expected'),
        ("postgresql://nobody@[::1]:0/fleet", 'names the port "0"; expected'),
        ("postgresql://nobody@127.0.0.1:1/fleet?sense=none", "cannot be reached: .*sense"),
    ],
)
def test_an_address_that_leads_nowhere_is_told(address: str, words: str) -> None:
    with pytest.raises(StoreFault, match=words) as fault:
        Fleet.open(address)
    assert "\n" not in str(fault.value)


@pytest.mark.parametrize(
    ("wrong", "words"),
    [
        ({"database": "nothing"}, 'cannot be reached: .*database "nothing" does not exist'),
        (
            {"username": "stranger", "password": "secret"},
            'cannot be reached: .*"stranger" does not exist',
        ),
        ({"port": 1, "password": "secret"}, "cannot be reached: .*refused"),
    ],
)
def test_a_server_that_refuses_the_address_is_told_in_one_line(
    server: str, wrong: dict[str, str], words: str
) -> None:
    with pytest.raises(StoreFault, match=words) as fault:
        Fleet.open(make_url(server).set(**wrong).render_as_string(hide_password=False))  # type: ignore[arg-type]
    assert "\n" not in str(fault.value)
    assert "secret" not in str(fault.value)
