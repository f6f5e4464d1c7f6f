"""Names of the boxes of a filled sheet, and the stamp that says which sheet it is.

The sheet prints by these names, and what is written into its boxes comes back by them.
"""

from __future__ import annotations

import hashlib
import json
import re
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date
from typing import Any

from hangar.base.errors import BadInput
from hangar.parts.aircraft import Aircraft

FIELD, BENCH, CHARGING = "field", "bench", "charging"
READ_BACK = {FIELD: "field checklist", BENCH: "bench check", CHARGING: "charging card"}
"""The sheets whose boxes are read back, and what they are called in a sentence."""

LINE = "line"
"""What a box of the field checklist's plain lines is about."""

FLIGHTS_MOST = 6
"""Flights of a day for which a field card has a row."""

STAMP = "stamp"
LONGEST_NAME = 200
_NOT_PLAIN = re.compile(r"[^0-9A-Za-z_+ -]+")
_REVISION_DIGITS = 6


def plain_name(words: str) -> str:
    """Words as the name of a form field; a PDF form keeps full stops for its own tree.

    >>> plain_name("MARQ bench After, s")
    'MARQ bench After  s'
    """
    return _NOT_PLAIN.sub(" ", words).strip()[:LONGEST_NAME] or "field"


def answers_of(aircraft: str, sheet: str) -> str:
    """What the names of all boxes of an aircraft's sheet begin with.

    >>> answers_of("MARQ", BENCH)
    'MARQ bench'
    """
    if sheet == CHARGING:
        return "charge"
    return aircraft if sheet == FIELD else f"{aircraft} {sheet}"


def output_about(position: str | None, port: str, number: int | None) -> str:
    """What names an output in its boxes: its position, or its channel where no servo hangs on it.

    >>> output_about(None, "main", 4)
    'channel main 4'
    """
    return position if position is not None else f"channel {port} {number}"


def flight_about(number: int) -> str:
    """What the boxes of a flight of the day are about.

    >>> flight_about(2)
    'flight 2'
    """
    return f"flight {number}"


def is_flight(about: str) -> bool:
    """Whether a box stands in the row of one flight of the day.

    >>> is_flight("flight 6"), is_flight("flight 7")
    (True, False)
    """
    return any(about == flight_about(number) for number in range(1, FLIGHTS_MOST + 1))


def rotor_about(rotor: str) -> str:
    """What the boxes of a rotor are about.

    >>> rotor_about("main")
    'rotor main'
    """
    return f"rotor {rotor}"


_PATH = "path "


def path_about(feed: str) -> str:
    """What the boxes of a power path are about.

    >>> path_about("RX-1")
    'path RX-1'
    """
    return f"{_PATH}{feed}"


def path_of(about: str) -> str | None:
    """The power path that a box is about; None where it is about something else.

    >>> path_of("path RX-1"), path_of("B2")
    ('RX-1', None)
    """
    return about.removeprefix(_PATH) if about.startswith(_PATH) else None


def phase_complete(phase: str) -> str:
    """Which box of the plain lines is the call that ends a phase.

    >>> phase_complete("pits")
    'pits-complete'
    """
    return f"{phase}-complete"


def is_line_reading(what: str) -> bool:
    """Whether a box of the plain lines is a reading (``balance mm``) and no tick (``balance``).

    >>> is_line_reading("free-play deg"), is_line_reading("free-play")
    (True, False)
    """
    return " " in what


ROTOR_READINGS = {
    "Low deg": "pitch_low_deg",
    "Middle deg": "pitch_mid_deg",
    "High deg": "pitch_high_deg",
    **dict.fromkeys(("Swash low deg", "Swash middle deg", "Swash high deg"), "swash_off_deg"),
}
"""Readings of a rotor on a bench check, and the field of its record that keeps each."""

SUPPLY_READINGS = {"Idle A": "idle_a", "Peak A": "peak_a", "Lowest V": "lowest_v"}
"""Readings of the whole supply on a bench check, and the field of its record that keeps each."""

PATH_READINGS = {
    "Rest V": "rest_v",
    "Out V": "out_v",
    "Alone V": "alone_v",
    "Regulator C": "regulator_c",
}
"""Readings of one power path on a bench check, and the field of its record that keeps each."""

SERVO_READINGS = {
    "Neutral": "neutral_ma",
    "Moving": "moving_ma",
    "End A": "end_a_ma",
    "End B": "end_b_ma",
    "Low rate": "low_rate_ma",
    "Stalled V": "bus_v",
    "Case C": "case_c",
}
"""Readings at one servo on a bench check, and the field of its record that keeps each."""

THROW_READINGS = {"Up deg": "throw_up_deg", "Down deg": "throw_down_deg"}
"""Throws on a bench check, and the field of its record that keeps each."""

BENCH_UNITS = {
    **dict.fromkeys(("Neutral", "Moving", "End A", "End B", "Low rate"), "mA"),
    **dict.fromkeys(("Idle A", "Peak A"), "A"),
    **dict.fromkeys(("Lowest V", "Rest V", "Out V", "Alone V", "Stalled V"), "V"),
    **dict.fromkeys(("Regulator C", "Case C"), "C"),
}
"""Units of a bench check that the paper names itself, by reading."""

RANGE_M, MASS, BALANCE_MM = "Range m", "Mass", "Balance mm"
"""Readings of the whole aircraft on a bench check."""

_TICK_OF = {
    "Read": "Tested",
    **dict.fromkeys(("Neutral", "Moving", "End A", "End B", "Low rate"), "Currents"),
    **dict.fromkeys(("Up deg", "Up mm", "Down deg", "Down mm"), "Throws"),
    "Play": "Free play",
    **dict.fromkeys(ROTOR_READINGS, "Rotor"),
}
_STAGE_OF = {"Currents": "B3", "Throws": "B7", "Free play": "B8", "Rotor": "B7"}
_STAGE_READ = {
    **dict.fromkeys(("Rest V", "Out V", "Stalled V"), "B1"),
    "Idle A": "B2",
    "Peak A": "B4",
    **dict.fromkeys(("Lowest V", "Alone V"), "B5"),
    **dict.fromkeys(("Case C", "Regulator C"), "B10"),
    RANGE_M: "B12",
    **dict.fromkeys((MASS, BALANCE_MM), "B13"),
}
"""Stages of a bench check whose tick rests on a reading that has no tick of its own."""


def ticks_resting_on(about: str, what: str) -> tuple[tuple[str, str], ...]:
    """The boxes whose tick is no proof while a reading is out: of its own row, and of the stage it is of.

    >>> ticks_resting_on("AIL-L", "End A")
    (('AIL-L', 'Currents'), ('B3', 'Passed'))
    >>> ticks_resting_on(LINE, "balance mm")
    (('line', 'balance'),)
    >>> ticks_resting_on("path RX-1", "Rest V")
    (('B1', 'Passed'),)
    """
    if about == LINE:
        return ((LINE, what.partition(" ")[0]),)
    if what in _STAGE_READ:
        return ((_STAGE_READ[what], "Passed"),)
    tick = _TICK_OF.get(what)
    if tick is None:
        return ()
    stage = _STAGE_OF.get(tick)
    return ((about, tick), (stage, "Passed")) if stage else ((about, tick),)


def full_name(aircraft: str, sheet: str, about: str, what: str) -> str:
    """The name of one box.

    >>> full_name("MARQ", FIELD, "B021", "Read")
    'MARQ B021 Read'
    """
    return plain_name(" ".join(word for word in (answers_of(aircraft, sheet), about, what) if word))


def revision(aircraft: Aircraft) -> str:
    """Six digits that change when anything recorded of the aircraft changes.

    Two sheets of one revision were printed from the same records.
    """
    return digest(repr(replace(aircraft, read_on=date.min)))


def digest(words: str) -> str:
    """Six digits that change when the words do."""
    return hashlib.sha256(words.encode()).hexdigest()[:_REVISION_DIGITS]


@dataclass(frozen=True, slots=True)
class Stamp:
    """Which sheet a filled form is: kind, aircraft, revision, day, and what it was printed for.

    ``places`` holds everything that boxes are about: a position with the tag and the type of its
    servo, anything else with None. ``plan`` is the refit whose stages a bench check ticks.
    """

    sheet: str
    aircraft: str
    revision: str
    printed_on: date
    plan: str | None = None
    places: Mapping[str, tuple[str, str] | None] = field(default_factory=dict)

    def to_text(self) -> str:
        """The stamp as it lies in a hidden box of the form."""
        return json.dumps(
            {
                "hangar": 1,
                "sheet": self.sheet,
                "aircraft": self.aircraft,
                "revision": self.revision,
                "printed_on": self.printed_on.isoformat(),
                "plan": self.plan,
                "places": {name: servo and list(servo) for name, servo in self.places.items()},
            },
            separators=(",", ":"),
        )

    @classmethod
    def from_text(cls, text: str) -> Stamp:
        """The stamp out of its box.

        Raises: BadInput when the text is none.
        """
        try:
            read: dict[str, Any] = json.loads(text)
            return cls(
                sheet=str(read["sheet"]),
                aircraft=str(read["aircraft"]),
                revision=str(read["revision"]),
                printed_on=date.fromisoformat(read["printed_on"]),
                plan=None if read["plan"] is None else str(read["plan"]),
                places={str(name): _servo(servo) for name, servo in read["places"].items()},
            )
        except (AttributeError, KeyError, RecursionError, TypeError, ValueError) as fault:
            raise BadInput("its stamp, which says which sheet it is, was changed or cut short.") from fault


def _servo(read: Any) -> tuple[str, str] | None:
    if read is None:
        return None
    tag, kind = read
    return str(tag), str(kind)
