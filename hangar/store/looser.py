"""Tables made anew in a file or on a server, their rows kept: a column may then hold more than it could."""

from __future__ import annotations

from collections.abc import Sequence

from sqlalchemy import Connection, MetaData, Table, inspect, text
from sqlalchemy.schema import AddConstraint, CreateColumn, CreateIndex, CreateTable


def make_anew(link: Connection, schema: MetaData, names: Sequence[str]) -> None:
    """Give tables the columns and checks that the schema declares today; their rows stay.

    What a column held must be allowed still; one that was not there yet holds nothing in the old rows.
    """
    for name in names:
        table = schema.tables[name]
        if link.dialect.name == "sqlite":
            _anew_in_file(link, table)
        else:
            _looser_on_server(link, table)


def _anew_in_file(link: Connection, table: Table) -> None:
    # A file's tables cannot be changed in place: the rows go over into a table of the new form. Links are
    # switched off meanwhile, and name the table by its name.
    made = str(CreateTable(table).compile(dialect=link.dialect)).strip()
    named = made.replace(f"CREATE TABLE {_quoted(table.name, made)}", f'CREATE TABLE "{table.name} new"', 1)
    there = {get_column["name"] for get_column in inspect(link).get_columns(table.name)}
    columns = ", ".join(f'"{column.name}"' for column in table.columns if column.name in there)
    for statement in (
        "PRAGMA legacy_alter_table = ON",
        named,
        f'INSERT INTO "{table.name} new" ({columns}) SELECT {columns} FROM "{table.name}"',  # noqa: S608
        f'DROP TABLE "{table.name}"',
        f'ALTER TABLE "{table.name} new" RENAME TO "{table.name}"',
        "PRAGMA legacy_alter_table = OFF",
    ):
        link.exec_driver_sql(statement)
    for index in sorted(table.indexes, key=lambda table_index: str(table_index.name)):
        link.execute(CreateIndex(index))


def _quoted(name: str, statement: str) -> str:
    return f'"{name}"' if f'CREATE TABLE "{name}"' in statement else name


def _looser_on_server(link: Connection, table: Table) -> None:
    there = {check_constraint["name"] for check_constraint in inspect(link).get_check_constraints(table.name)}
    new = _columns_on_server(link, table)
    every = [constraint for constraint in table.constraints if type(constraint).__name__ == "CheckConstraint"]
    checks = [constraint for constraint in every if constraint.name in there]
    # Isolated, a check would stay out of every table that is made later in this process, in a file as well.
    for check in checks:
        link.exec_driver_sql(f'ALTER TABLE "{table.name}" DROP CONSTRAINT "{check.name}"')
    for column in inspect(link).get_columns(table.name):
        wanted = table.c.get(column["name"])
        if wanted is None:
            continue
        changed = f'ALTER TABLE "{table.name}" ALTER COLUMN "{wanted.name}"'
        if wanted.nullable and not column["nullable"]:
            link.execute(text(f"{changed} DROP NOT NULL"))
        if str(column["type"]).upper() == "DATE" and not _is_date(wanted.type):
            link.execute(text(f"{changed} TYPE VARCHAR USING to_char(\"{wanted.name}\", 'YYYY-MM-DD')"))
    for check in checks:
        link.execute(AddConstraint(check, isolate_from_table=False))
    if new:
        for check in every:
            # What only a file's dialect checks has a type of its own on a server.
            if check.name not in there and not str(check.name).endswith("_yes_no"):
                link.execute(AddConstraint(check, isolate_from_table=False))


def _columns_on_server(link: Connection, table: Table) -> tuple[str, ...]:
    """Add the columns that a server's table has not yet; their names."""
    there = {get_column["name"] for get_column in inspect(link).get_columns(table.name)}
    new = [column for column in table.columns if column.name not in there]
    for column in new:
        made = str(CreateColumn(column).compile(dialect=link.dialect)).strip()
        link.exec_driver_sql(f'ALTER TABLE "{table.name}" ADD COLUMN {made}')
    return tuple(column.name for column in new)


def _is_date(kind: object) -> bool:
    return type(kind).__name__ in ("Date", "DATE")
