"""Settings of version 1 that stood for records: proofs and predictions of plans, shopping ticks."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from datetime import date
from typing import Any

from hangar.base.text import text
from hangar.parts import KIND_BY_NAME, Plan, Record, Setting
from hangar.parts.fields import key_of
from hangar.store.codec import from_text
from hangar.store.edit import Edit
from hangar.store.own_tables import Intake

PROOF, PREDICTION, TICK = "plan-proof", "prediction", "shopping-tick"
_BEGINNINGS = {"gate.": PROOF, "predicted.": PREDICTION, "shopping.got.": TICK}

Values = Mapping[str, Any]
Place = tuple[str, ...]
"""A record: its kind, then its key."""


def place_of(name: str) -> Place | None:
    """The record that a setting of that name stood for; None for a setting that stays one."""
    for beginning, kind in _BEGINNINGS.items():
        if name.startswith(beginning):
            rest = name.removeprefix(beginning)
            plan, _, last = rest.rpartition(".")
            return (kind, rest) if kind == TICK else (kind, plan, last)
    return None


def values_of(place: Place, value: str) -> Values | None:
    """The record's values; None where the setting does not hold what it should."""
    kind, *key = place
    if not all(part.strip() for part in key):
        return None
    try:
        if kind == PROOF:
            return {"plan": key[0], "proof": key[1], "ticked_on": date.fromisoformat(value).isoformat()}
        number = float(value)
    except ValueError:
        return None
    if not math.isfinite(number):
        return None
    if kind == PREDICTION:
        return {"plan": key[0], "figure": key[1], "value": number}
    return {"what": key[0], "wanted": number} if 0 <= number <= 1_000_000 else None


def make_records(intake: Intake, edit: Edit) -> None:
    """Of settings in a table of version 1 make the records they stood for; one of no plan is left out."""
    for key, setting in list(intake.records.get(Setting, {}).items()):
        assert isinstance(setting, Setting)
        place = place_of(setting.name)
        if place is None:
            continue
        del intake.records[Setting][key]
        source = intake.places.pop((Setting, key))
        values = values_of(place, setting.value)
        if values is None or not _has_its_plan(place, intake, edit):
            reason = text("is of a plan that is not there, or holds no sound value; it was left out.")
            intake.stated.append(source.note(Setting.KEY, setting.name, reason))
            continue
        kind = KIND_BY_NAME[place[0]]
        record: Record = kind(**from_text(kind, json.dumps(values)))
        intake.add(record, key_of(record), source)


def _has_its_plan(place: Place, intake: Intake, edit: Edit) -> bool:
    if place[0] == TICK:
        return True
    return (place[1],) in intake.records.get(Plan, {}) or edit.record(Plan, place[1]) is not None
