"""Where records came from: keepers' own sheets as they were, and the cells behind doubted fields."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from hangar.parts.fields import KeptText, Label, Record, Within


@dataclass(frozen=True, kw_only=True)
class SheetSource(Record):
    """A part of a keeper's sheet as it was when it was brought in; its next copy is held against it."""

    KIND: ClassVar[str] = "sheet-source"
    TITLE: ClassVar[str] = "sheet brought in"
    KEY: ClassVar[tuple[str, ...]] = ("code", "part")

    code: str
    part: Annotated[int, Within(1, 10000)]
    file: Annotated[str, Label("file", "the names of the files it was read from")]
    read_on: Annotated[date, Label("brought in")]
    headings: Annotated[str | None, Label("headings", "by which its next copy is known")] = None
    content: Annotated[str, Label("cells", "packed")]
    answers: Annotated[str | None, Label("answers", "what the keeper said of it, for its next copy")] = None


@dataclass(frozen=True, kw_only=True)
class FieldOrigin(Record):
    """The cell of a keeper's sheet that a field came from, with what is doubted about it."""

    KIND: ClassVar[str] = "field-origin"
    TITLE: ClassVar[str] = "origin of a field"
    KEY: ClassVar[tuple[str, ...]] = ("kind", "record", "field")

    kind: Annotated[str, Label("kind of record")]
    record: Annotated[str, Label("record", "its key, parts joined by a stroke")]
    field: str
    file: str
    tab: str | None = None
    row: Annotated[int, Within(1, 10_000_000)]
    column: Annotated[int, Within(1, 100_000)]
    text: Annotated[str, Label("what the keeper wrote")]
    doubt: Annotated[str | None, KeptText(), Label("what is doubted")] = None
