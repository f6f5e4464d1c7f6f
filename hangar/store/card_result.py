"""What a phone gives back of a field checklist, as the filled boxes it stands for."""

from __future__ import annotations

import json
import re
import zlib
from pathlib import Path
from typing import Any

from hangar.base.errors import BadInput
from hangar.parts.sheet_boxes import FIELD, Stamp
from hangar.store.limits import ANSWER_MOST, refuse_large_file
from hangar.store.sheet_pdf import FIELDS_MOST, FilledForm

VERSION = 1
_CHECK = re.compile(r',"check":"([0-9a-f]{8})"\}\s*\Z')


def result_of(path: Path) -> FilledForm:
    """The boxes of the checklist that a phone filled.

    The sum at its end finds damage; it is no seal.
    Raises: BadInput saying what the file is, when it is no such result, damaged, or of a later version.
    """
    refuse_large_file(path)
    try:
        written = path.read_bytes().decode("utf-8-sig")
        read: Any = json.loads(written)
    except (UnicodeDecodeError, ValueError, RecursionError) as fault:
        raise BadInput("is no result of a field checklist: it is not whole.") from fault
    version = read.get("hangar_card_result") if isinstance(read, dict) else None
    if not isinstance(version, int):
        raise BadInput("is no result of a field checklist.")
    if version > VERSION:
        raise BadInput(
            "is a result of a later version of Hangar ({found}); this one reads {known}.",
            found=version,
            known=VERSION,
        )
    sealed = _CHECK.search(written)
    if sealed is None or _sum(written[: sealed.start()] + "}") != sealed.group(1):
        raise BadInput("was changed or damaged since the phone wrote it; save it there once more.")
    fields, stamp = read.get("fields"), read.get("stamp")
    if not isinstance(stamp, str) or not _are_texts(fields):
        raise BadInput("is no result of a field checklist: its boxes are missing.")
    made = Stamp.from_text(stamp)
    if made.sheet != FIELD:
        raise BadInput("is no result of a field checklist.")
    return FilledForm(path.name, (made,), dict(fields))


def _are_texts(fields: object) -> bool:
    return (
        isinstance(fields, dict)
        and len(fields) <= FIELDS_MOST
        and all(isinstance(name, str) and isinstance(field, str) for name, field in fields.items())
        and all(len(field) <= 10 * ANSWER_MOST for field in fields.values())
    )


def _sum(words: str) -> str:
    return f"{zlib.crc32(words.encode('utf-8')):08x}"
