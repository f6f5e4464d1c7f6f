"""Photos and papers on the way out and in: files in a folder beside the tables."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import text
from hangar.parts import Attachment, PaperPlace
from hangar.parts.papers import INSIDE_MOST_BYTES
from hangar.store.backups import settle
from hangar.store.edit import Edit
from hangar.store.fleet import Fleet
from hangar.store.own_tables import Intake
from hangar.store.papers import file_name, read_source, sha256_of

FOLDER = "attachment"
"""Name of the folder of papers beside the tables."""


def write_papers(fleet: Fleet, folder: Path) -> tuple[Path, ...]:
    """Write every paper that can be read as a file; one that is missing is left to the report of a check."""
    written = []
    for attachment in fleet.records(Attachment):
        try:
            content = fleet.paper(attachment.name)
        except (BadInput, StoreFault):
            continue
        place = folder / FOLDER / file_name(attachment.name, attachment.sha256)
        place.parent.mkdir(exist_ok=True)
        draft = place.with_name(place.name + ".part")
        try:
            draft.write_bytes(content)
            settle(draft, place)
        finally:
            draft.unlink(missing_ok=True)
        written.append(place)
    return tuple(written)


def gather_papers(intake: Intake, files: Iterable[Path]) -> dict[str, Path]:
    """The file of each paper among the records read; doubts and refusals go into the intake."""
    folders = list(dict.fromkeys(path.parent / FOLDER for path in files))
    papers: dict[str, Path] = {}
    for key, record in intake.records.get(Attachment, {}).items():
        if not isinstance(record, Attachment):
            continue
        wanted = file_name(record.name, record.sha256)
        place = next((path for folder in folders if (path := folder / wanted).is_file()), None)
        if place is None:
            continue
        try:
            most = INSIDE_MOST_BYTES if record.place is PaperPlace.INSIDE else record.size_bytes
            content = read_source(place, max(most, 1))
            if sha256_of(content) != record.sha256:
                raise BadInput(
                    "{folder}/{wanted} is not the file that its row tells of: its check sum differs.",
                    folder=FOLDER,
                    wanted=wanted,
                )
            papers[record.name] = place
        except BadInput as fault:
            note = intake.places[Attachment, key].note(("name",), record.name, fault.text)
            intake.refused.append(note)
    return papers


def take_papers(intake: Intake, papers: dict[str, Path], edit: Edit, dry_run: bool) -> None:
    """Put the bytes of the papers where their records say they lie."""
    for key, record in intake.records.get(Attachment, {}).items():
        if not isinstance(record, Attachment):
            continue
        place = papers.get(record.name)
        try:
            if place is not None:
                edit.keep_paper(record, place.read_bytes(), dry_run=dry_run)
            elif not edit.has_paper(record):
                reason = text(
                    "has no file in the folder {folder} beside the tables; only its entry is taken.",
                    folder=FOLDER,
                )
                note = intake.places[Attachment, key].note(("name",), record.name, reason)
                intake.doubtful.append(note)
        except BadInput as fault:
            intake.refused.append(intake.places[Attachment, key].note(("name",), record.name, fault.text))
