"""A throw-away PostgreSQL cluster for the tests, where its programs are installed."""

from __future__ import annotations

import os
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import create_engine, inspect, text
from sqlalchemy.engine import make_url

from hangar.store.constraints import whole_schema
from hangar.store.door import server_door
from hangar.store.upgrades import VERSION

OWNER = "postgres"
"""The superuser may not run a server; Debian's package makes this user for it."""
TRIES = 3


def programs() -> Path | None:
    """Folder of initdb and pg_ctl: on the path, or where Debian puts them."""
    words = shutil.which("initdb")
    if words:
        return Path(words).resolve().parent
    folders = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda path: path.parent.name)
    return next((folder for folder in reversed(folders) if (folder / "initdb").is_file()), None)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def running_cluster(folder: Path) -> Iterator[str]:
    """Address of an empty database in a cluster of its own, which is gone afterwards."""
    bin_folder = programs()
    assert bin_folder is not None
    user = OWNER if hasattr(os, "geteuid") and os.geteuid() == 0 else None
    data, log = folder / "data", folder / "log"
    if user:
        shutil.chown(folder, user)

    def run(*command: str) -> None:
        done = subprocess.run(
            command, user=user, cwd=folder, capture_output=True, text=True, check=False, timeout=900
        )
        if done.returncode:
            logged = log.read_text(errors="replace") if log.exists() else ""
            raise RuntimeError(f"{command[0]} failed: {done.stdout}{done.stderr}{logged}")

    run(str(bin_folder / "initdb"), "-D", str(data), "-U", "keeper", "-A", "trust", "-E", "UTF8", "--no-sync")
    # Nothing here must outlive the tests, so nothing is forced onto the disk.
    settings = f"-h 127.0.0.1 -k {folder} -c fsync=off -c full_page_writes=off"
    pg_ctl = str(bin_folder / "pg_ctl")
    for tries_left in reversed(range(TRIES)):
        port = _free_port()
        try:
            run(
                pg_ctl,
                "-D",
                str(data),
                "-l",
                str(log),
                "-w",
                "-t",
                "60",
                "-o",
                f"-p {port} {settings}",
                "start",
            )
            break
        except RuntimeError:
            # Somebody else, such as another process of these tests, took the port first.
            if not tries_left:
                raise
    try:
        run(str(bin_folder / "createdb"), "-h", "127.0.0.1", "-p", str(port), "-U", "keeper", "fleet")
        yield f"postgresql+psycopg://keeper@127.0.0.1:{port}/fleet"
    finally:
        run(pg_ctl, "-D", str(data), "-m", "immediate", "-w", "stop")


@contextmanager
def database_beside(address: str, name: str) -> Iterator[str]:
    """Address of a database of that name on the same server, for this process alone; gone afterwards."""
    place = make_url(address).set(drivername="postgresql+psycopg")
    own = f"{place.database}_{name}"
    engine = create_engine(place, isolation_level="AUTOCOMMIT")

    def drop() -> None:
        with engine.connect() as link:
            link.execute(text(f'DROP DATABASE IF EXISTS "{own}" WITH (FORCE)'))

    drop()
    with engine.connect() as link:
        link.execute(text(f'CREATE DATABASE "{own}"'))
    try:
        yield make_url(address).set(database=own).render_as_string(hide_password=False)
    finally:
        drop()
        engine.dispose()


def short_folder() -> tempfile.TemporaryDirectory[str]:
    """A folder whose path is short enough to hold a server's socket."""
    made = tempfile.TemporaryDirectory(prefix="hangar-pg-", ignore_cleanup_errors=True)
    Path(made.name).chmod(0o755)
    return made


def emptied(address: str) -> str:
    """The address again, its database holding an empty fleet."""
    engine = create_engine(make_url(address).set(drivername="postgresql+psycopg"))
    with engine.begin() as link:
        if not inspect(link).has_table("hangar_version"):
            whole_schema().drop_all(link)
        else:
            names = ", ".join(f'"{table.name}"' for table in whole_schema().sorted_tables)
            link.execute(text(f"TRUNCATE {names} RESTART IDENTITY CASCADE"))
            link.execute(text("UPDATE hangar_version SET version = :version"), {"version": VERSION})
    engine.dispose()
    server_door(address).close()
    return address
