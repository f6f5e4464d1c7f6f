"""One connection with its transactions begun and ended by hand, to a file or to a server."""

from __future__ import annotations

import sqlite3

from sqlalchemy import Connection, Engine, create_engine, inspect
from sqlalchemy import text as sql
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError
from sqlmodel import Session

from hangar.base.errors import StoreFault, words_of
from hangar.base.text import text
from hangar.store.constraints import prepare_for_server, whole_schema
from hangar.store.faults import in_words
from hangar.store.file_engine import engine_of
from hangar.store.upgrades import VERSION, upgrade_server

_SEATS = 0x48474152
"""Number of the server's lock that makes seats write one after the other."""

_PATIENCE = {
    "connect_timeout": "10",
    "keepalives_idle": "20",
    "keepalives_interval": "5",
    "keepalives_count": "4",
    "tcp_user_timeout": "40000",
}
"""So long, in seconds and at last in milliseconds, a server that says nothing is waited for.

An address may name others.
"""

_WAIT = "10s"
_ASLEEP = "60s"


class Door:
    """Begins and ends transactions on one connection.

    The driver commits every statement by itself unless a transaction was begun here: a change of
    the schema and one of the rows then stand or fall alike.

    ``session`` reads and writes rows within that transaction. It forgets all it held when the transaction
    ends, whatever became of it: the next one begins with a session as good as new.
    """

    def __init__(self, engine: Engine, file: sqlite3.Connection | None, name: str) -> None:
        self._engine = engine
        self.link: Connection = engine.connect()
        self.session = Session(self.link, autoflush=False, expire_on_commit=False)
        self.file = file
        self.name = name
        self.is_open = False

    def begin_writing(self) -> None:
        """Begin a transaction that nobody else can write beside."""
        self._begin("BEGIN IMMEDIATE" if self.file is not None else "BEGIN")
        if self.file is None:
            # Nobody waits for ever on a seat that fell asleep in the middle of an edit.
            self.link.execute(sql(f"SET LOCAL lock_timeout = '{_WAIT}'"))
            self.link.execute(sql(f"SET LOCAL idle_in_transaction_session_timeout = '{_ASLEEP}'"))
            self.link.execute(sql("SELECT pg_advisory_xact_lock(:seats)"), {"seats": _SEATS})

    def begin_reading(self) -> None:
        """Begin a transaction in which all that is read belongs to one moment."""
        self._begin("BEGIN" if self.file is not None else "BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY")

    def _begin(self, words: str) -> None:
        self._connect_again()
        try:
            self.link.exec_driver_sql(words)
        except DBAPIError:
            # A connection that was lost while nothing was asked is noticed only now, and costs nothing.
            if not self.is_lost:
                raise
            self._connect_again()
            self.link.exec_driver_sql(words)
        self.is_open = True

    @property
    def is_lost(self) -> bool:
        """Whether the connection to the server was lost, with the transaction that was open."""
        return self.link.invalidated

    def _connect_again(self) -> None:
        if self.is_lost:
            # The lost transaction is let go; the next question then connects anew.
            self.link.rollback()
            if _version_of(self) != VERSION:
                raise StoreFault("The fleet on the server was upgraded by a newer Hangar meanwhile.")

    def commit(self) -> None:
        """Make the transaction last."""
        self.link.exec_driver_sql("COMMIT")
        self.is_open = False
        self.session.close()

    def roll_back(self) -> None:
        """End the transaction, if one is open, without its changes."""
        try:
            if self.is_open:
                self.is_open = False
                self._roll_back()
        finally:
            self.session.close()

    def _roll_back(self) -> None:
        if self.is_lost:
            return
        # A full disk makes SQLite roll back by itself; a lost server has forgotten us anyway.
        if self.file is None or self.file.in_transaction:
            try:
                self.link.exec_driver_sql("ROLLBACK")
            except DBAPIError:
                if self.file is not None:
                    raise

    def close(self) -> None:
        """Let go of the connection."""
        self.session.close()
        self.link.close()
        self._engine.dispose()
        if self.file is not None:
            self.file.close()


def file_door(file: sqlite3.Connection) -> Door:
    """The door to an open fleet file."""
    return Door(engine_of(file), file, "fleet")


def server_door(address: str, read_only: bool = False) -> Door:
    """The door to a fleet on a server; an empty database becomes an empty fleet unless it is only read.

    Raises: StoreFault when the server cannot be reached or its fleet is newer than this program.
    """
    try:
        url = make_url(address)
        if url.drivername in ("postgresql", "postgres"):
            url = url.set(drivername="postgresql+psycopg")
        if url.get_backend_name() != "postgresql":
            raise StoreFault(
                "A fleet cannot be kept on {server}; use postgresql://...", server=url.get_backend_name()
            )
        wanted = {name: value for name, value in _PATIENCE.items() if name not in url.query}
        url = url.update_query_dict(wanted)
        door = Door(create_engine(url, isolation_level="AUTOCOMMIT"), None, url.database or "fleet")
    except (ArgumentError, NoSuchModuleError, ImportError) as fault:
        raise StoreFault("The server's address cannot be used: {fault}.", fault=words_of(fault)) from fault
    except DBAPIError as fault:
        raise StoreFault("The server cannot be reached: {cause}.", cause=str(fault.orig).strip()) from fault
    try:
        _settle(door, read_only)
    except DBAPIError as fault:
        door.roll_back()
        door.close()
        raise in_words(fault, done=text("opened")) from fault
    except BaseException:
        door.roll_back()
        door.close()
        raise
    return door


def _settle(door: Door, read_only: bool) -> None:
    has_tables = inspect(door.link).has_table("hangar_version")
    if not has_tables and read_only:
        raise StoreFault("The database {name} on the server holds no fleet.", name=door.name)
    if not has_tables:
        _make_tables(door)
    version = _version_of(door)
    if version > VERSION:
        raise StoreFault(
            "The fleet on the server is of version {version}, written by a newer Hangar; this one "
            "knows up to {most}.",
            version=version,
            most=VERSION,
        )
    if version < VERSION and read_only:
        raise StoreFault(
            "The fleet on the server is of version {version} and must be upgraded; open it for writing once.",
            version=version,
        )
    if version < VERSION:
        _upgrade(door)


def _version_of(door: Door) -> int:
    versions = door.link.execute(sql("SELECT version FROM hangar_version")).scalars().all()
    if len(versions) != 1:
        raise StoreFault(
            "The database {name} says {count} times of which version its fleet is; expected once.",
            name=door.name,
            count=len(versions),
        )
    return int(versions[0])


def _upgrade(door: Door) -> None:
    """All steps in one transaction, while no other seat can write."""
    try:
        door.begin_writing()
        # Another seat may have taken them while this one waited for its turn.
        version = _version_of(door)
        if version < VERSION:
            upgrade_server(door.link, version)
        door.commit()
    except DBAPIError as fault:
        raise StoreFault(
            "The fleet on the server could not be upgraded and is as it was: {cause}.",
            cause=str(fault.orig).strip(),
        ) from fault


def _make_tables(door: Door) -> None:
    door.begin_writing()
    # Another seat may have made them while this one waited for its turn.
    if not inspect(door.link).has_table("hangar_version"):
        prepare_for_server()
        whole_schema().create_all(door.link)
        door.link.execute(sql("CREATE TABLE hangar_version (version INTEGER NOT NULL)"))
        door.link.execute(sql("INSERT INTO hangar_version VALUES (:version)"), {"version": VERSION})
    door.commit()
