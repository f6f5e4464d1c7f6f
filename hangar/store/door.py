"""One connection with its transactions begun and ended by hand, to a file or to a server."""

from __future__ import annotations

import re
import sqlite3

from sqlalchemy import Connection, Engine, create_engine, inspect
from sqlalchemy import text as sql
from sqlalchemy.engine import make_url
from sqlalchemy.exc import ArgumentError, DBAPIError, NoSuchModuleError
from sqlmodel import Session

from hangar.base.errors import StoreFault, words_of
from hangar.base.text import Text, listed, text
from hangar.store.constraints import prepare_for_server, whole_schema
from hangar.store.faults import cause_on_server, in_words
from hangar.store.file_engine import engine_of
from hangar.store.upgrades import VERSION, upgrade_server

_VERSION_TABLE = "hangar_version"

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
        self.hindrance: Text | None = None
        """Why a server lets this name look only, where it does."""

    def begin_writing(self) -> None:
        """Begin a transaction that nobody else can write beside.

        Raises: StoreFault when a newer program upgraded the fleet on the server meanwhile.
        """
        self.begin_turn()
        if self.file is None:
            _refuse_upgraded(self)

    def begin_turn(self) -> None:
        """Begin a transaction that nobody else can write beside, whatever version the fleet is of."""
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
            _refuse_upgraded(self)

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

    A name that the server lets look only is given a door with a ``hindrance``.

    Raises: StoreFault when the server cannot be reached, its fleet is newer than this program, or it
        lacks a table.
    """
    _refuse_port(address)
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
    except (ArgumentError, NoSuchModuleError, ImportError, ValueError) as fault:
        raise StoreFault("The server's address cannot be used: {fault}.", fault=words_of(fault)) from fault
    except DBAPIError as fault:
        raise StoreFault("The server cannot be reached: {cause}.", cause=cause_on_server(fault)) from fault
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


_PORT = re.compile(r"//(?:[^/@]*@)?[^/?]*:([^/?:\]]*)(?:[/?]|$)")
_PORT_MOST = 65535


def _refuse_port(address: str) -> None:
    named = _PORT.search(address)
    if named and not (named[1].isdecimal() and 0 < int(named[1]) <= _PORT_MOST):
        raise StoreFault(
            'The server\'s address names the port "{port}"; expected a number from 1 to {most}.',
            port=named[1],
            most=_PORT_MOST,
        )


def _settle(door: Door, read_only: bool) -> None:
    tables = set(inspect(door.link).get_table_names())
    if _VERSION_TABLE not in tables and read_only:
        raise StoreFault("The database {name} on the server holds no fleet.", name=door.name)
    if _VERSION_TABLE not in tables:
        _refuse_half(door, tables)
        _make_tables(door)
        return
    version = _version_of(door)
    if version > VERSION:
        raise StoreFault(
            "The fleet on the server is of version {version}, written by a newer Hangar; this one "
            "knows up to {most}.",
            version=version,
            most=VERSION,
        )
    if version < 1:
        raise StoreFault(
            "The database {name} says that its fleet is of version {version}; there is none before 1.",
            name=door.name,
            version=version,
        )
    if version == VERSION:
        _refuse_missing(door, tables)
    door.hindrance = None if read_only else _looks_only(door)
    if version < VERSION and (read_only or door.hindrance):
        raise StoreFault(
            "The fleet on the server is of version {version} and must be upgraded; open it for writing once.",
            version=version,
        )
    if version < VERSION:
        _upgrade(door)


def _refuse_missing(door: Door, tables: set[str]) -> None:
    missing = sorted(set(whole_schema().tables) - tables)
    if missing:
        raise StoreFault(
            "The fleet in the database {name} lacks {missing}; restore a copy into an empty database.",
            name=door.name,
            missing=listed(missing, joint=",", most=3),
        )


def _refuse_half(door: Door, tables: set[str]) -> None:
    """A database with tables of ours but no version is no empty one."""
    ours = sorted(tables & set(whole_schema().tables))
    if ours:
        raise StoreFault(
            "The database {name} has tables of a fleet, such as {table}, but does not say of which version; "
            "restore a copy into an empty database.",
            name=door.name,
            table=ours[0],
        )


def _looks_only(door: Door) -> Text | None:
    """Why this name may only look, asked of the server beforehand: not when the first edit is refused."""
    # A standby takes no writing from anybody, whatever rights a name has.
    stands_by, has_rights = door.link.execute(
        sql(
            "SELECT current_setting('default_transaction_read_only')::bool OR pg_is_in_recovery(), "
            "has_table_privilege('journal_edit', 'INSERT') "
            "AND has_table_privilege('journal_change', 'INSERT')"
        )
    ).one()
    if stands_by:
        return text("the server allows reading only")
    return None if has_rights else text("the server lets this name look only")


def _refuse_upgraded(door: Door) -> None:
    if _version_of(door) != VERSION:
        raise StoreFault("The fleet on the server was upgraded by a newer Hangar meanwhile.")


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
        door.begin_turn()
        # Another seat may have taken them while this one waited for its turn.
        version = _version_of(door)
        if version < VERSION:
            upgrade_server(door.link, version)
        door.commit()
    except DBAPIError as fault:
        raise StoreFault(
            "The fleet on the server could not be upgraded and is as it was: {cause}.",
            cause=cause_on_server(fault),
        ) from fault


def _make_tables(door: Door) -> None:
    door.begin_turn()
    # Another seat may have made them while this one waited for its turn.
    if not inspect(door.link).has_table(_VERSION_TABLE):
        prepare_for_server()
        whole_schema().create_all(door.link)
        door.link.execute(sql("CREATE TABLE hangar_version (version INTEGER NOT NULL)"))
        door.link.execute(sql("INSERT INTO hangar_version VALUES (:version)"), {"version": VERSION})
    door.commit()
