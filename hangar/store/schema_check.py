"""The tables of a fleet file beside those that its version is made with."""

from __future__ import annotations

import hashlib
import sqlite3
from collections.abc import Sequence
from contextlib import closing
from functools import cache

from hangar.base.text import Text, text
from hangar.store.linking import tables_of
from hangar.store.upgrades import Step, upgrade

_MADE_BY_SQLITE = "sqlite_"

Made = dict[tuple[str, str], str]

SUMS = {
    1: "88d3ca257c81056bb27e08f3702fda8092e16a85aefd2bf4ed50edf9c8643a62",
    2: "7e98210ae6dba33a0557089c6b8c7b66063497b7bf18b61f475cb868b24f06bc",
}
"""Check sum of each version's list of tables: a start need not make them only to compare."""


def schema_faults(link: sqlite3.Connection, steps: Sequence[Step], version: int) -> tuple[Text, ...]:
    """Where the schema differs from the one that these steps make; nothing for one as it should be.

    Only the list of tables is read. A trigger or a view runs when records are read or written, and
    what it does need not be what the keeper asked for: a file that has one is not opened at all.

    Args:
        link: an open file, not yet asked for anything else.
        steps: the steps to every version there is.
        version: what the file says it is of, no newer than these.
    Raises: sqlite3.Error when the list cannot be read.
    """
    if version < 1:
        return (text("it says that it is of version {version}", version=version),)
    objects = made(link)
    if sum_of(objects) == SUMS.get(version):
        return ()
    wanted = _wanted(tuple(steps[:version]))
    faults = [
        text("it has a {kind} {name}", kind=kind, name=repr(name))
        for kind, name in objects
        if kind not in ("table", "index")
    ]
    for kind, name in sorted(objects.keys() - wanted.keys()):
        if kind in ("table", "index"):
            faults.append(text("it has a {kind} {name}, which is none of ours", kind=kind, name=repr(name)))
    for kind, name in sorted(wanted.keys() - objects.keys()):
        faults.append(text("the {kind} {name} is missing", kind=kind, name=repr(name)))
    for (kind, name), words in sorted(objects.items()):
        if wanted.get((kind, name), words) != words:
            faults.append(text("the {kind} {name} was changed", kind=kind, name=repr(name)))
    return tuple(faults)


def sum_of(tables: Made) -> str:
    """Check sum of a list of tables, whatever order it is in."""
    return hashlib.sha256(repr(sorted(tables.items())).encode()).hexdigest()


def made(link: sqlite3.Connection) -> Made:
    """The list of tables, triggers and the like: by kind and name the words they were made with."""
    return {
        (str(kind), str(name)): f"{table}: {' '.join(str(sql).split())}"
        for kind, name, table, sql in tables_of(link)
        if sql is not None or not str(name).startswith(_MADE_BY_SQLITE)
    }


@cache
def _wanted(steps: tuple[Step, ...]) -> Made:
    with closing(sqlite3.connect(":memory:", isolation_level=None)) as link:
        upgrade(link, steps)
        return made(link)
