"""Opening the fleet a command names, and what is read from it once for all its aircraft."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import joined, series, text
from hangar.commands.speaking import say

if TYPE_CHECKING:
    from hangar.answers.judging import JudgingBasis
    from hangar.parts import Aircraft
    from hangar.store import BringInReport, Fleet
    from hangar.store.intake.reading import Answers

# The store, physics and rules are loaded inside the functions: help and version need none of them.

NO_WARNING, LOOK, TROUBLE = 0, 1, 2
"""How a command ends: done; done, but something is there to be looked at; not done, and told why."""


MOST_NAMED = 10
"""Entries left out that a command names which only asks something of a spreadsheet."""


def fleet_at(place: str, *, writing: bool = False) -> Fleet:
    """The fleet at that place; a folder of tables or a spreadsheet is read into memory."""
    from hangar.store import Fleet

    if "://" in place:
        return Fleet.open(place, read_only=not writing)
    path = Path(place)
    if path.is_dir() or path.suffix.lower() in {".csv", ".xlsx"}:
        if writing:
            raise BadInput("{place} is not a fleet file; give a file that ends in .hangar.", place=place)
        fleet = Fleet.in_memory()
        _tell_refused(take(fleet, [path]), place)
        return fleet
    if not path.exists():
        raise StoreFault("{place} does not exist; give a fleet file or a folder of tables.", place=place)
    return Fleet.open(path, read_only=not writing)


def take(
    fleet: Fleet,
    sources: Sequence[Path],
    answers: Answers | None = None,
    name: str = "",
    rehearse: bool = False,
) -> BringInReport:
    """Bring tables, keepers' own or filled sheets in; nothing understood is a fault."""
    from hangar.acts.files import EmptyIntake, bring_in

    try:
        return bring_in(fleet, sources, answers=answers, answers_name=name, rehearse=rehearse)
    except EmptyIntake as fault:
        nothing = text("nothing was brought in from {sources}.", sources=series(map(str, sources), ","))
        reason = series(note.text for note in fault.report.refused[:1])
        raise BadInput(joined(nothing, reason)) from fault


def _tell_refused(report: BringInReport, place: str) -> None:
    """Name what an answer lacks, beside the answer."""
    refused = report.refused
    for cell_note in refused[:MOST_NAMED]:
        print(f"hangar: {say('left out: {what}', what=cell_note.text)}", file=sys.stderr)
    if len(refused) > MOST_NAMED:
        more = say(
            "and {count} more of {place}; hangar bring-in names them all.",
            count=len(refused) - MOST_NAMED,
            place=place,
        )
        print(f"hangar: {more}", file=sys.stderr)


def chosen(fleet: Fleet, code: str | None) -> tuple[Aircraft, ...]:
    """The aircraft of that code, or all of them."""
    return fleet.whole_fleet() if code is None else (fleet.aircraft(code),)


def basis_of(fleet: Fleet) -> JudgingBasis:
    """What every aircraft of a fleet is judged by today."""
    from hangar.answers.judging import JudgingBasis

    return JudgingBasis.of(fleet, date.today())


def print_json(thing: object) -> None:
    """Print a plain object for scripts."""
    print(json.dumps(thing, indent=2, ensure_ascii=False))
