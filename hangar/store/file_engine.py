"""One open SQLite file as SQLAlchemy sees it, its transactions begun and ended by hand."""

from __future__ import annotations

import sqlite3

from sqlalchemy import Engine, create_engine
from sqlalchemy.pool import StaticPool


def engine_of(file: sqlite3.Connection) -> Engine:
    """The engine on this one connection; whoever opened the file closes it."""
    return create_engine(
        "sqlite://", creator=lambda: file, poolclass=StaticPool, isolation_level="AUTOCOMMIT"
    )
