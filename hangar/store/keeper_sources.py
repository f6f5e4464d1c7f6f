"""The copies of keepers' sheets that a fleet remembers: their cells, and what the keeper said of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from datetime import date

from hangar.base.errors import BadInput
from hangar.parts import SheetSource
from hangar.store.edit import Edit
from hangar.store.intake.grid import Grid
from hangar.store.intake.kept import fingerprint, is_alike, packed, unpacked
from hangar.store.intake.mapping import answers_from, answers_text
from hangar.store.intake.reading import Answers, KnownFleet, Reading, read_file
from hangar.store.keeper_present import Records

_MOST = 30_000
"""Letters of a text field."""


@dataclass(slots=True)
class SheetBefore:
    """The copy of a sheet that was brought in before; without parts there was none."""

    code: str
    parts: list[SheetSource] = field(default_factory=list)
    answers: Answers = field(default_factory=Answers)
    """What the keeper said of it then."""

    @property
    def read_on(self) -> date | None:
        """When it was brought in last."""
        return self.parts[0].read_on if self.parts else None

    def reading(self, today: date, answers: Answers) -> Reading | None:
        """What it said, read with the answers that hold today; None where there was none."""
        grids = unpacked(part.content for part in self.parts)
        return read_file(grids, today, KnownFleet(), answers) if grids else None


def sheet_before(fleet: Records, reading: Reading) -> SheetBefore:
    """The sheet of which this one is a later copy, as it was then."""
    mine = fingerprint(reading)
    by_code: dict[str, list[SheetSource]] = {}
    for part in fleet.records(SheetSource):
        by_code.setdefault(part.code, []).append(part)
    for code, parts in by_code.items():
        parts.sort(key=lambda source: source.part)
        if is_alike(mine, parts[0].headings or ""):
            return SheetBefore(code, parts, _answers_of(parts[0]))
    number = len(by_code) + 1
    while f"sheet {number}" in by_code:
        number += 1
    return SheetBefore(f"sheet {number}")


def _answers_of(part: SheetSource) -> Answers:
    try:
        return answers_from(part.answers or "", part.file)
    except BadInput:
        # Written by a later program: the sheet is then read as if nothing had been said of it.
        return Answers()


def _kept_answers(answers: Answers) -> str | None:
    """The answers as text; of a sheet with a thousand aircraft without their classes, which the fleet has."""
    whole = answers_text(answers)
    return (whole if len(whole) <= _MOST else answers_text(replace(answers, classes={}))[:_MOST]) or None


def keep_source(
    edit: Edit, before: SheetBefore, grids: Sequence[Grid], today: date, reading: Reading
) -> None:
    """Keep a sheet with its answers, in the place of the copy before it."""
    pieces, answers = packed(grids), _kept_answers(reading.answers)
    if [part.content for part in before.parts] == pieces and before.parts[0].answers == answers:
        return
    for part in before.parts:
        edit.remove(SheetSource, (part.code, part.part))
    files = ", ".join(dict.fromkeys(grid.file for grid in grids))
    for number, piece in enumerate(pieces, start=1):
        first = number == 1
        edit.put(
            SheetSource(
                code=before.code, part=number, file=files[:1000], read_on=today,
                headings=fingerprint(reading)[:30_000] if first else None, content=piece,
                answers=answers if first else None,
            )
        )  # fmt: skip
