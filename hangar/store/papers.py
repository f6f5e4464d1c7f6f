"""Photos and papers: their bytes inside the fleet file or beside it, bounded in size."""

from __future__ import annotations

import hashlib
import mimetypes
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from sqlalchemy import delete, func
from sqlmodel import col, select

from hangar.base.errors import BadInput, StoreFault
from hangar.base.picture_head import MEDIA_TYPES, NoPicture, media_type_of, picture_head
from hangar.parts import Attachment, PaperPlace, Setting
from hangar.parts.papers import BESIDE_MOST_BYTES, INSIDE_MOST_BYTES
from hangar.store.backups import settle
from hangar.store.record_rows import AS_IT_STANDS, Rows
from hangar.store.tables import ROW_OF, PaperContent

FLEET_MOST_BYTES = 200_000_000
"""So many bytes of papers fit inside one fleet."""

PLACE_SETTING = "papers.place"
"""Setting with the keeper's choice where new papers go: inside or beside; inside without it."""

_SUFFIX_MOST = 12
_THIN_FROM_BYTES = 1_000_000


@dataclass(frozen=True, slots=True)
class Owner:
    """Whom a paper belongs to: one aircraft, servo or pack, or the whole fleet when none is given."""

    aircraft: str | None = None
    servo: str | None = None
    pack: str | None = None


def sha256_of(content: bytes) -> str:
    """Checksum by which a paper's bytes are found."""
    return hashlib.sha256(content).hexdigest()


def papers_folder(path: Path) -> Path:
    """Where the papers beside a fleet file lie."""
    return path.with_name(f"{path.stem} papers")


def read_source(source: Path, most_bytes: int = BESIDE_MOST_BYTES) -> bytes:
    """The bytes of a photo or paper.

    Raises: BadInput when it is not there, no file, empty or too large.
    """
    try:
        size = source.stat().st_size
        if not source.is_file():
            raise BadInput("{source} is no file; expected a photo or paper.", source=str(source))
        if size > most_bytes:
            raise BadInput(
                "{source} is {size} large; allowed is {most}, or keep it beside the fleet file."
                if most_bytes == INSIDE_MOST_BYTES
                else "{source} is {size} large; allowed is {most}.",
                source=str(source),
                size=_mb(size),
                most=_mb(most_bytes),
            )
        content = source.read_bytes()
    except OSError as fault:
        raise BadInput(
            "{source} cannot be read: {cause}.", source=str(source), cause=fault.strerror
        ) from fault
    if not content:
        raise BadInput("{source} is empty.", source=str(source))
    return content


def _mb(size: int) -> str:
    return f"{size / 1e6:.3g} MB"


@dataclass(frozen=True, slots=True)
class TakenPaper:
    """A paper as it will be kept: its name and bytes."""

    name: str
    content: bytes


def taken_paper(source: Path, place: PaperPlace) -> TakenPaper:
    """A photo or paper to be kept; a photo of many points is thinned where it goes inside the file.

    Raises: BadInput when it is not there, no file, empty or too large.
    """
    if place is PaperPlace.BESIDE:
        return TakenPaper(source.name, read_source(source))
    try:
        is_large = source.stat().st_size > _THIN_FROM_BYTES
    except OSError:
        is_large = False
    if is_large:
        thin = _thinned(source)
        if thin is not None:
            return TakenPaper(f"{source.stem}.jpg", thin)
    return TakenPaper(source.name, read_source(source, INSIDE_MOST_BYTES))


def _thinned(source: Path) -> bytes | None:
    """A large photo made smaller; None for what is no photo, or one that need not be smaller."""
    from hangar.base.pictures import THINNED_PX, thinned

    content = read_source(source)
    try:
        head = picture_head(content)
        if head.kind == "GIF" or (
            max(head.width, head.height) <= THINNED_PX and len(content) <= INSIDE_MOST_BYTES
        ):
            return None
        return thinned(content, INSIDE_MOST_BYTES)
    except NoPicture:
        return None


def chosen_place(stored: Rows, place: PaperPlace | None) -> PaperPlace:
    """The place asked for, else the keeper's choice, else inside."""
    if place is not None:
        return place
    setting = stored.record(Setting, (PLACE_SETTING,))
    if setting is None:
        return PaperPlace.INSIDE
    try:
        return PaperPlace(setting.value)
    except ValueError as fault:
        raise BadInput(
            "Setting {setting} is {value}; expected inside or beside.",
            setting=PLACE_SETTING,
            value=repr(setting.value),
        ) from fault


def new_attachment(
    stored: Rows, paper: TakenPaper, owner: Owner, place: PaperPlace, today: date
) -> Attachment:
    """The record of a paper that is being taken in, under a name that is still free."""
    name = _free_name(stored, paper.name)
    sha256 = sha256_of(paper.content)
    return Attachment(
        name=name,
        aircraft=owner.aircraft,
        servo=owner.servo,
        pack=owner.pack,
        media_type=_media_type(paper.name, paper.content),
        place=place,
        path=file_name(name, sha256) if place is PaperPlace.BESIDE else None,
        size_bytes=len(paper.content),
        sha256=sha256,
        added_on=today,
    )


def _media_type(name: str, content: bytes) -> str:
    """A picture is known by its content; the name tells what other papers are."""
    value = media_type_of(content)
    guessed = mimetypes.guess_type(name)[0]
    if value is None and guessed not in MEDIA_TYPES:
        value = guessed
    return value or "application/octet-stream"


def _free_name(stored: Rows, wanted: str) -> str:
    taken = {key[0] for key in stored.keys(Attachment)}
    if wanted not in taken:
        return wanted
    stem, dot, ending = wanted.rpartition(".")
    stem, ending = (stem, dot + ending) if dot and stem else (wanted, "")
    numbers = range(2, len(taken) + 3)
    return next(name for number in numbers if (name := f"{stem} ({number}){ending}") not in taken)


def file_name(name: str, sha256: str) -> str:
    """Name of a paper's file outside the fleet: safe on every system, and no two contents alike."""
    stem, dot, ending = name.rpartition(".")
    stem, ending = (stem, ending) if dot and stem and len(ending) < _SUFFIX_MOST else (name, "")
    words = re.sub(r"[^A-Za-z0-9_-]+", "_", stem)[:60].strip("_") or "paper"
    safe_ending = re.sub(r"[^A-Za-z0-9]", "", ending)
    return f"{words}-{re.sub(r'[^A-Za-z0-9]', '_', sha256)[:16]}" + (f".{safe_ending}" if safe_ending else "")


def keep_inside(stored: Rows, content: bytes, name: str) -> None:
    """Put the bytes of a paper into the file, once however often they are named.

    Raises: BadInput when the paper or all papers together are too large.
    """
    if len(content) > INSIDE_MOST_BYTES:
        raise BadInput(
            "paper {name} is {size} large; allowed inside the file is {most}, or keep it beside the "
            "fleet file.",
            name=name,
            size=_mb(len(content)),
            most=_mb(INSIDE_MOST_BYTES),
        )
    sha256 = sha256_of(content)
    if stored.session.exec(select(PaperContent.sha256).where(PaperContent.sha256 == sha256)).first():
        return
    held = inside_bytes(stored)
    if held + len(content) > FLEET_MOST_BYTES:
        raise BadInput(
            "paper {name} would bring the papers in this fleet to {size}; allowed is {most}, or keep "
            "it beside the fleet file.",
            name=name,
            size=_mb(held + len(content)),
            most=_mb(FLEET_MOST_BYTES),
        )
    stored.session.add(PaperContent(sha256=sha256, content=content))
    stored.write()


def inside_bytes(stored: Rows) -> int:
    """How many bytes of papers the file holds, those of removed papers included."""
    total = func.coalesce(func.sum(func.length(PaperContent.content)), 0)
    return int(stored.session.exec(select(total)).one())


def forget_unnamed(stored: Rows) -> None:
    """Let go of bytes that no paper names; a removed paper then cannot come back whole."""
    named = select(ROW_OF[Attachment].sha256)
    unnamed = delete(PaperContent).where(col(PaperContent.sha256).not_in(named))
    stored.session.exec(unnamed, execution_options=AS_IT_STANDS)


def read_inside(stored: Rows, sha256: str) -> bytes | None:
    """The bytes in the file with that checksum."""
    content = stored.session.exec(select(PaperContent.content).where(PaperContent.sha256 == sha256)).first()
    return None if content is None else bytes(content)


def keep_beside(path: Path | None, attachment: Attachment, content: bytes) -> None:
    """Write a paper into the folder beside the fleet file, whole or not at all.

    Raises: BadInput for a fleet that has no folder; StoreFault when it cannot be written.
    """
    place = place_beside(path, attachment)
    if place.exists() and sha256_of(place.read_bytes()) == attachment.sha256:
        return
    draft = place.with_name(place.name + ".part")
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        draft.write_bytes(content)
        settle(draft, place)
    except OSError as fault:
        raise StoreFault(
            "{place} cannot be written: {cause}.", place=str(place), cause=fault.strerror
        ) from fault
    finally:
        draft.unlink(missing_ok=True)


def place_beside(path: Path | None, attachment: Attachment) -> Path:
    """The file of a paper beside the fleet file; a path that leads out of its folder is refused."""
    if path is None:
        raise BadInput("A fleet that is in no file has no folder beside it; keep papers inside.")
    folder = papers_folder(path)
    place = folder / (attachment.path or "")
    if attachment.path is None or not place.resolve().is_relative_to(folder.resolve()):
        raise BadInput(
            "paper {name}: {path} leads out of {folder}.",
            name=attachment.name,
            path=attachment.path,
            folder=folder.name,
        )
    return place


def content_of(stored: Rows, path: Path | None, attachment: Attachment) -> bytes:
    """The bytes of a paper, checked.

    Raises: StoreFault when they are missing or were changed.
    """
    if attachment.place is PaperPlace.INSIDE:
        content = read_inside(stored, attachment.sha256)
        if content is None:
            raise StoreFault("The content of paper {name} is not in the file.", name=attachment.name)
    else:
        place = place_beside(path, attachment)
        try:
            content = place.read_bytes()
        except OSError as fault:
            raise StoreFault(
                "Paper {name} cannot be read: {place}: {cause}.",
                name=attachment.name,
                place=str(place),
                cause=fault.strerror,
            ) from fault
    if sha256_of(content) != attachment.sha256:
        raise StoreFault("Paper {name} was changed since it was taken in.", name=attachment.name)
    return content


def contents_of(stored: Rows, path: Path | None) -> Mapping[str, bytes]:
    """The bytes of every paper that can be read, by its name."""
    contents = {}
    for attachment in stored.records(Attachment):
        try:
            contents[attachment.name] = content_of(stored, path, attachment)
        except (BadInput, StoreFault):
            continue
    return contents
