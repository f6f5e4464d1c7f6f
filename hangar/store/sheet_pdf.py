"""A filled PDF form as plain texts; a hostile or broken file is refused in a sentence."""

from __future__ import annotations

import logging
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.text import fixed, listed
from hangar.parts.sheet_boxes import READ_BACK, STAMP, Stamp
from hangar.store.limits import refuse_large_file

FIELDS_MOST = 20_000
_OURS = "Hangar"
_HINT = "write the sheet as fillable, fill its boxes and save it without flattening."


@dataclass(frozen=True, slots=True)
class FilledForm:
    """Every box of a PDF by its name, and the stamps of the sheets in it.

    A ticked box holds a text as well; one that was left alone holds an empty one.
    """

    file: str
    stamps: tuple[Stamp, ...]
    texts: Mapping[str, str]


def read_form(path: Path) -> FilledForm:
    """The boxes of a filled sheet.

    Raises: BadInput naming the file when it is empty, broken, locked, flattened or no sheet of ours.
    """
    try:
        return form_of(path)
    except BadInput as fault:
        raise BadInput("{file} {fault}", file=path.name, fault=fault.text) from fault


def form_of(path: Path) -> FilledForm:
    """The same for one who names the file himself: what is raised says only what it is."""
    refuse_large_file(path)
    if path.stat().st_size == 0:
        raise BadInput("is empty; {hint}", hint=_HINT)
    with _quiet():
        try:
            texts, ours = _texts(path)
        except (BadInput, OSError):
            raise
        except Exception as fault:
            # A broken file makes its reader fail in any way at all.
            words = str(fault).splitlines()[0][:160] if str(fault).strip() else type(fault).__name__
            raise BadInput("is no readable PDF: {cause}.", cause=words.rstrip(".")) from fault
    return FilledForm(path.name, _stamps(texts, ours), texts)


def _stamps(texts: Mapping[str, str], ours: bool) -> tuple[Stamp, ...]:
    names = [text for name, text in texts.items() if name.endswith(f" {STAMP}")]
    if not names:
        sheets = listed(map(fixed, READ_BACK.values()), joint=",", most=0)
        if not ours:
            raise BadInput(
                "is no sheet that Hangar wrote to be filled, or lacks its first page; read back are "
                "{sheets}.",
                sheets=sheets,
            )
        if texts:
            raise BadInput(
                "is a sheet of Hangar that is not read back; read back are {sheets}.", sheets=sheets
            )
        raise BadInput("has no boxes any more, or was written for paper: {hint}", hint=_HINT)
    try:
        return tuple(Stamp.from_text(text) for text in names)
    except BadInput as fault:
        raise BadInput("cannot be read back: {fault}", fault=fault.text) from fault


@contextmanager
def _quiet() -> Iterator[None]:
    """The reader writes to the log what it mends; the keeper is told in sentences."""
    logger = logging.getLogger("pypdf")
    before = logger.level
    logger.setLevel(logging.CRITICAL + 1)
    try:
        yield
    finally:
        logger.setLevel(before)


def _texts(path: Path) -> tuple[dict[str, str], bool]:
    """The text of every box, and whether the file names us as its maker."""
    # The reader takes a tenth of a second to load; a fleet is opened far more often than a form.
    from pypdf import PasswordType, PdfReader
    from pypdf.errors import DependencyError

    with path.open("rb") as stream:
        if not stream.read(1024).lstrip().startswith(b"%PDF"):
            raise BadInput("is no PDF, whatever its name says.")
        stream.seek(0)
        reader = PdfReader(stream)
        try:
            locked = reader.is_encrypted and reader.decrypt("") is PasswordType.NOT_DECRYPTED
        except DependencyError:
            locked = True
        if locked:
            raise BadInput("is encrypted; save it without a password.")
        fields = reader.get_fields() or _loose_boxes(reader)
        if len(fields) > FIELDS_MOST:
            raise BadInput("has {count} boxes; allowed are {most}.", count=len(fields), most=FIELDS_MOST)
        ticked = _ticked_by_look(reader)
        texts = {
            str(name): _text(field) or ("yes" if str(name) in ticked else "")
            for name, field in fields.items()
        }
        made = reader.metadata
        names = (made.get("/Creator"), made.get("/Author")) if made else ()
        return texts, _OURS in names


def _loose_boxes(reader: Any) -> dict[str, Any]:
    """The boxes on the pages themselves; a program that takes pages out may leave their list behind."""
    boxes = (link.get_object() for page in reader.pages for link in page.get("/Annots") or ())
    return {str(box["/T"]): box for box in boxes if box.get("/Subtype") == "/Widget" and "/T" in box}


def _ticked_by_look(reader: Any) -> set[str]:
    """Boxes that are drawn as ticked; some programs set the picture and not the value."""
    names = set()
    for page in reader.pages:
        for link in page.get("/Annots") or ():
            box = link.get_object()
            if box.get("/FT") == "/Btn" and str(box.get("/AS", "/Off")) != "/Off" and "/V" not in box:
                names.add(str(box.get("/T", "")))
    return names


def _text(field: Mapping[str, Any]) -> str:
    value = field.get("/V")
    if value is None:
        return ""
    if field.get("/FT") == "/Btn":
        return "" if str(value) in ("/Off", "Off", "", "/") else "yes"
    if hasattr(value, "get_data"):
        return str(value.get_data().decode("utf-8", "replace")).strip()
    return " ".join(str(value).split())
