"""One sheet on disk: whole or not at all, and never in the place of something that is no such sheet."""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

from hangar.base.errors import BadInput, StoreFault


class FileKind(NamedTuple):
    """What a sheet is written as: its name, the ending of the file, and how such a file begins."""

    name: str
    ending: str
    begins: bytes


PDF = FileKind("PDF", ".pdf", b"%PDF")
WEB_PAGE = FileKind("HTML", ".html", b"<!doctype html>")


def write_whole(content: bytes, out: Path, kind: FileKind = PDF) -> None:
    """Put a finished sheet in its place; what lay there stays until all of it is on the disk.

    Raises: BadInput when something lies there that is no such sheet; StoreFault when nothing can be written.
    """
    try:
        place = out.resolve()
        refuse_other_content(place, out, kind)
        part = place.with_name(f".{os.getpid()}-{os.urandom(4).hex()}.part")
        try:
            with part.open("xb") as stream:
                stream.write(content)
                stream.flush()
                os.fsync(stream.fileno())
            part.replace(place)
        finally:
            part.unlink(missing_ok=True)
    except (OSError, RuntimeError) as fault:
        # A link that leads to itself is a RuntimeError on some versions.
        why = fault.strerror if isinstance(fault, OSError) else None
        raise StoreFault("{file} cannot be written: {why}.", file=str(out), why=str(why or fault)) from fault


def refuse_other_content(place: Path, out: Path, kind: FileKind = PDF) -> None:
    """Raise BadInput when there is a folder, a device or a file of another kind: a fleet is lost by one slip.

    Args:
        place: where it really lies, links followed.
        out: what the keeper called it.
    """
    if place.is_dir():
        raise BadInput(
            "{file} is a folder; name a file in it, ending in {ending}.", file=str(out), ending=kind.ending
        )
    if not place.exists():
        return
    if not place.is_file():
        raise BadInput("{file} is no file that can be written over; choose another name.", file=str(out))
    with place.open("rb") as stream:
        first = stream.read(1024)
    if first and not first.lstrip().startswith(kind.begins):
        raise BadInput(
            "{file} holds something that is no {kind} and stays; choose another name.",
            file=str(out),
            kind=kind.name,
        )
