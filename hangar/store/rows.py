"""The tables as SQLModel classes, for scripts that would rather ask for objects than for columns.

Hangar itself reads and writes columns; loading this costs as much as opening a fleet.
"""

from __future__ import annotations

import types
from functools import cache
from typing import Any

from sqlmodel import Field, SQLModel

from hangar.parts import KIND_BY_NAME
from hangar.parts.fields import columns
from hangar.store.constraints import whole_schema
from hangar.store.tables import TABLES


@cache
def row_class(kind_name: str) -> type[SQLModel]:
    """The SQLModel class of a record kind, mapped onto its table.

    Args:
        kind_name: such as "airframe"; see ``KIND_BY_NAME``.
    """
    whole_schema()
    kind = KIND_BY_NAME[kind_name]
    table = TABLES[kind]

    def fill(namespace: dict[str, Any]) -> None:
        namespace["__module__"] = __name__
        namespace["__doc__"] = kind.__doc__
        namespace["__table__"] = table
        namespace["__annotations__"] = {"id": int | None, **{spec.name: Any for spec in columns(kind)}}
        namespace["model_config"] = {"defer_build": True}
        namespace.update({column.name: Field(default=None, sa_column=column) for column in table.columns})

    return types.new_class(f"{kind.__name__}Row", (SQLModel,), {"table": True}, fill)
