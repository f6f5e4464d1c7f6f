"""Which column of a keeper's own sheet means what, by its heading."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from hangar.base.errors import BadInput
from hangar.base.text import text
from hangar.base.units import parse_quantity
from hangar.store.cells import plain_text
from hangar.store.limits import NUMBER_TEXT_MOST
from hangar.store.tables_read import Sheet


class Role(StrEnum):
    """What a column of a wide sheet tells."""

    MODEL = "aircraft"
    CHANNEL = "channel"
    FUNCTION = "function"
    SERVO = "servo"
    TAG = "tag"
    DRIVE = "kind"
    TORQUE = "torque"
    SPEED = "speed"
    VOLTS = "volts"
    FITTED = "fitted"
    PACK = "pack"
    CELLS = "cells"
    CAPACITY = "capacity"
    LEAD = "lead"
    NOTES = "notes"


KIND_OF_ROLE = {
    Role.TORQUE: "torque",
    Role.SPEED: "servo speed",
    Role.VOLTS: "voltage",
    Role.CAPACITY: "charge",
    Role.LEAD: "length",
}

_SYNONYMS: dict[Role, tuple[str, ...]] = {
    Role.MODEL: (
        "model",
        "aircraft",
        "plane",
        "airplane",
        "aeroplane",
        "airframe",
        "ship",
        "craft",
        "modell",
        "flugzeug",
        "flugmodell",
    ),
    Role.CHANNEL: ("ch", "chan", "channel", "channel no", "ch no", "output", "port", "kanal", "ausgang"),
    Role.FUNCTION: (
        "function",
        "use",
        "used for",
        "job",
        "surface",
        "control",
        "purpose",
        "position",
        "funktion",
        "ruder",
    ),
    Role.SERVO: (
        "servo",
        "servo type",
        "servo name",
        "servo model",
        "servo make",
        "make and type",
        "servotyp",
    ),
    Role.TAG: ("tag", "servo tag", "servo no", "servo number", "label", "own number", "kennung", "nummer"),
    Role.DRIVE: ("type", "kind", "analog digital", "analog or digital", "drive", "sort", "typ", "art"),
    Role.TORQUE: (
        "torque",
        "servo torque",
        "stall torque",
        "pull",
        "strength",
        "drehmoment",
        "stellmoment",
        "stellkraft",
    ),
    Role.SPEED: (
        "speed",
        "servo speed",
        "transit",
        "transit time",
        "time",
        "stellzeit",
        "geschwindigkeit",
        "zeit",
    ),
    Role.VOLTS: ("volt", "volts", "voltage", "v", "rated volts", "rated at", "spannung", "nennspannung"),
    Role.FITTED: (
        "fitted",
        "date",
        "fitted on",
        "date fitted",
        "installed",
        "since",
        "in since",
        "eingebaut",
        "eingebaut am",
        "seit",
        "datum",
    ),
    Role.PACK: (
        "pack",
        "battery",
        "rx pack",
        "rx battery",
        "receiver pack",
        "receiver battery",
        "cells type",
        "akku",
        "empfängerakku",
    ),
    Role.CELLS: ("cells", "no of cells", "cell count", "number of cells", "zellen", "zellenzahl", "zellzahl"),
    Role.CAPACITY: ("mah", "capacity", "pack capacity", "size mah", "kapazität"),
    Role.LEAD: (
        "lead",
        "lead length",
        "extension",
        "wire",
        "cable",
        "leads",
        "kabel",
        "kabellänge",
        "leitung",
        "leitungslänge",
    ),
    Role.NOTES: (
        "notes",
        "note",
        "remarks",
        "remark",
        "comments",
        "comment",
        "misc",
        "notiz",
        "notizen",
        "bemerkung",
        "bemerkungen",
    ),
}
_BY_WORDS = {words: role for role, many in _SYNONYMS.items() for words in many}
HEADINGS_NEEDED = text(
    "a keeper's own sheet has the headings aircraft, servo type, and channel or function; it may have tag,"
    " kind, torque, speed, volts, fitted, pack, cells, capacity, lead and notes."
)
"""What a sheet of servos must and may tell, by the plainest of the headings understood."""
_HEADING_WITHIN = 10
"""Rows at the top that may hold a title before the headings."""


@dataclass(frozen=True, slots=True)
class Layout:
    """Where the headings stand, which column has which role, and the units that headings name."""

    heading_row: int
    columns: Mapping[Role, int]
    headers: Mapping[Role, str]
    units: Mapping[Role, str]
    unknown: Mapping[int, str]


def layout_of(sheet: Sheet) -> Layout | None:
    """How a keeper's sheet is laid out; None when its headings are not those of such a sheet."""
    for number, row in enumerate(sheet.rows[:_HEADING_WITHIN], start=1):
        found = _layout(number, [plain_text(cell) for cell in row])
        if found is not None:
            return found
    return None


def _layout(number: int, texts: list[str]) -> Layout | None:
    columns: dict[Role, int] = {}
    units: dict[Role, str] = {}
    unknown: dict[int, str] = {}
    for at, heading in enumerate(texts):
        role, unit = _role_of(heading)
        if role is None or role in columns:
            if heading:
                unknown[at] = heading
            continue
        columns[role] = at
        if unit:
            units[role] = unit
    if Role.SERVO not in columns and Role.DRIVE in columns:
        columns[Role.SERVO] = columns.pop(Role.DRIVE)
    needed = {Role.MODEL, Role.SERVO} <= columns.keys()
    if not needed or not {Role.CHANNEL, Role.FUNCTION} & columns.keys():
        return None
    headers = {role: texts[at] for role, at in columns.items()}
    return Layout(number, columns, headers, units, unknown)


def _role_of(heading: str) -> tuple[Role | None, str | None]:
    """The role of a heading, and the unit it names: ``Torque (oz-in)``, ``Speed s/60``."""
    if len(heading) > NUMBER_TEXT_MOST:
        return None, None
    bracket = re.fullmatch(r"(.+?)\s*[\[(](.+)[\])]\s*", heading)
    if bracket:
        role = _BY_WORDS.get(_plain(bracket[1]))
        return role, _unit(role, bracket[2])
    role = _BY_WORDS.get(_plain(heading))
    if role is not None:
        return role, None
    words = heading.split()
    for count in range(len(words) - 1, 0, -1):
        role = _BY_WORDS.get(_plain(" ".join(words[:count])))
        unit = _unit(role, " ".join(words[count:]))
        if unit:
            return role, unit
    return None, None


def _plain(words: str) -> str:
    return " ".join(re.sub(r"[^a-z0-9äöüß]+", " ", words.lower()).split())


def _unit(role: Role | None, words: str) -> str | None:
    if role not in KIND_OF_ROLE:
        return None
    try:
        return parse_quantity(f"1 {words}", KIND_OF_ROLE[role]).unit
    except BadInput:
        return None
