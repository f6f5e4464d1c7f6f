"""Opening the fleet a command names, and what is read from it once for all its aircraft."""

from __future__ import annotations

import json
import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import joined, series, text
from hangar.commands.speaking import say

if TYPE_CHECKING:
    from hangar.base.units import UnitChoice
    from hangar.parts import Aircraft, Library, Setting
    from hangar.refit.risk import RiskMeasure
    from hangar.rules import Thresholds
    from hangar.rules.finding import Finding
    from hangar.store import BringInReport, Fleet
    from hangar.store.intake.reading import Answers
    from hangar.survey import Survey

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
    from hangar.acts.files import NothingTaken, bring_in

    try:
        return bring_in(fleet, sources, answers=answers, answers_name=name, rehearse=rehearse)
    except NothingTaken as fault:
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


@dataclass(frozen=True)
class Ground:
    """What every aircraft of a fleet is judged by."""

    thresholds: Thresholds
    units: UnitChoice
    library: Library
    club: str
    settings: tuple[Setting, ...] = ()

    @classmethod
    def of(cls, fleet: Fleet) -> Ground:
        """Read it from a fleet's settings, types and parts bay."""
        from hangar.base.units import UnitChoice
        from hangar.parts import Setting
        from hangar.rules import Thresholds

        settings = fleet.records(Setting)
        named = {setting.name: setting.value for setting in settings}
        return cls(
            Thresholds.from_settings(settings),
            UnitChoice.from_settings(named),
            fleet.library(),
            named.get("club.name", ""),
            tuple(settings),
        )

    def risk(self) -> RiskMeasure:
        """How the keeper counts risk."""
        from hangar.refit.risk import RiskMeasure

        return RiskMeasure.from_settings(self.settings)

    def judged(self, aircraft: Aircraft, *, field_day: bool = False) -> tuple[Survey, tuple[Finding, ...]]:
        """An aircraft surveyed and judged for today."""
        from hangar.rules import inspect
        from hangar.survey import Conditions, survey
        from hangar.survey.defaults import own_shares

        own = own_shares(self.thresholds.own)
        surveyed = survey(aircraft, Conditions(today=date.today(), field_day=field_day, defaults=own))
        return surveyed, inspect(aircraft, surveyed, self.thresholds, self.library)


def print_json(thing: object) -> None:
    """Print a plain object for scripts."""
    print(json.dumps(thing, indent=2, ensure_ascii=False))
