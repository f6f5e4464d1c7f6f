"""Photos and papers of an aircraft or a part: what they are and where their bytes lie."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Annotated, ClassVar

from hangar.parts.fields import Label, Link, Record, Within

INSIDE_MOST_BYTES = 5_000_000
"""The largest photo or paper that is kept inside the fleet file."""

BESIDE_MOST_BYTES = 500_000_000
"""The largest photo or paper that is kept in the folder beside the fleet file."""


class PaperPlace(StrEnum):
    """Where the bytes of a photo or paper lie."""

    INSIDE = "inside"
    BESIDE = "beside"


@dataclass(frozen=True, kw_only=True)
class Attachment(Record):
    """A photo or paper of an aircraft, a servo or a pack, or of the whole fleet.

    The bytes lie inside the fleet file, or as a file in the folder beside it under ``path``;
    ``sha256`` tells whether they are still the ones that were taken in.
    """

    KIND: ClassVar[str] = "attachment"
    TITLE: ClassVar[str] = "paper"
    KEY: ClassVar[tuple[str, ...]] = ("name",)
    LINKS: ClassVar[tuple[Link, ...]] = (
        Link("airframe", ("aircraft",), goes_along=True),
        Link("servo", ("servo",), goes_along=True),
        Link("pack", ("pack",), goes_along=True),
    )
    RULES: ClassVar[tuple[tuple[str, str], ...]] = (
        ("(place = 'inside' AND path IS NULL) OR (place = 'beside' AND path IS NOT NULL)",
         "a paper beside the file has a path, one inside has none"),
        ("(aircraft IS NULL OR servo IS NULL) AND (aircraft IS NULL OR pack IS NULL)"
         " AND (servo IS NULL OR pack IS NULL)",
         "a paper belongs to one aircraft, one servo or one pack"),
    )  # fmt: skip

    name: str
    aircraft: str | None = None
    servo: str | None = None
    pack: str | None = None
    media_type: Annotated[str, Label("kind of file")] = "application/octet-stream"
    place: PaperPlace = PaperPlace.INSIDE
    path: Annotated[str | None, Label("path", "within the folder beside the fleet file")] = None
    size_bytes: Annotated[int, Within(0, BESIDE_MOST_BYTES), Label("size")]
    sha256: Annotated[str, Label("check sum", "tells whether the file is still the one that was taken in")]
    added_on: date | None = None
    notes: str | None = None
