"""Within which a reading of a sheet should lie: the figures that the sheet prints, as numbers."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from hangar.answers.airframe_beside import wanted_pitch_deg
from hangar.answers.bench_expected import around, least_bus_v
from hangar.answers.case import AircraftCase, Case, plan_in_the_making, planned_case
from hangar.answers.checklists import lines_for, stage, test_load_a
from hangar.answers.outputs import outputs_of
from hangar.base.errors import BadInput
from hangar.base.text import NOTHING, Amount, Span, Text, listed, text
from hangar.base.units import UnitChoice, convert, parse_quantity, unit_named
from hangar.parts import Rotor, ServoFit
from hangar.parts.choices import FailsafeAction, RotorKind
from hangar.parts.failsafe import action_named, action_text, expected_actions, has_time_limit
from hangar.parts.sheet_boxes import BALANCE_MM, BENCH, FIELD, LINE, ROTOR_READINGS, path_of, rotor_about
from hangar.physics.throws import throw_mm
from hangar.rules.bench_readings import end_limit
from hangar.survey import Scenario
from hangar.survey.packs import load_test_lines


@dataclass(frozen=True, slots=True)
class ReadingBand:
    """Least and greatest allowed reading; ``bare`` is the unit of a number without one, empty for none.

    A band with an ``action`` asks for its word instead; of several such bands one must hold.
    """

    unit: str = ""
    low: float | None = None
    high: float | None = None
    bare: str = ""
    action: FailsafeAction | None = None

    def holds(self, typed: str) -> bool:
        """Whether what was typed lies within.

        Raises: BadInput when it cannot be read as such a quantity.
        """
        if self.action is not None:
            return action_named(typed) is self.action
        read = parse_quantity(typed, unit_named(self.unit).kind, self.bare or None)
        return self.has(read.value, read.unit)

    def has(self, value: float, unit: str) -> bool:
        """Whether a value in that unit lies within."""
        value = convert(value, unit, self.unit)
        # What was typed is rounded; a reading on the limit itself is within.
        slack = 1e-9 * max(abs(value), 1.0)
        return (self.low is None or value >= self.low - slack) and (
            self.high is None or value <= self.high + slack
        )

    @property
    def text(self) -> Text:
        """The band in words: ``4.8 V or more``."""
        if self.action is not None:
            return text("{action}", action=action_text(self.action))
        if self.low is not None and self.high is not None:
            return text("{range}", range=Span(self.low, self.high, self.unit, 3))
        if self.low is not None:
            return text("{least} or more", least=Amount(self.low, self.unit, 3))
        return text("{most} or less", most=None if self.high is None else Amount(self.high, self.unit, 3))


def expected_case(kind: str, case: Case) -> Case:
    """The aircraft that a sheet's expected values are of: for a bench check as its plan leaves it."""
    plan = plan_in_the_making(case) if kind == BENCH else None
    if plan is None:
        return case
    try:
        return planned_case(case, plan)
    except BadInput:
        return case


def bands_of(
    kind: str, case: AircraftCase, units: UnitChoice, about: str, what: str
) -> tuple[ReadingBand, ...]:
    """The bands for one box, each for another kind of unit; none where nothing is printed to compare with."""
    if kind in (FIELD, BENCH) and what == "No signal":
        return _failsafe(case, about, what)
    if kind == FIELD:
        if about == LINE:
            return _line_bands(case, units, what)
        return _pack_bands(case, about) if what == "Read" else ()
    if kind != BENCH:
        return ()
    if what in _READINGS:
        return tuple(
            band if band.bare else replace(band, bare=units.unit_for(band.unit))
            for band in _READINGS[what](case)
        )
    feed = path_of(about)
    if feed is not None:
        return _path_bands(case, feed, what)
    if what in ROTOR_READINGS:
        return _rotor_bands(case, about, what)
    if what == "Play":
        return _play(case, units, about)
    fit = case.aircraft.fit(about)
    if what in ("It did", "After"):
        return _failsafe(case, about, what)
    return _servo_bands(case, fit, what) if fit is not None else ()


def _pack_bands(case: AircraftCase, tag: str) -> tuple[ReadingBand, ...]:
    for _, fed in case.tested_packs:
        if fed.pack.tag == tag:
            load_a = test_load_a(case.aircraft.airframe.aircraft_class, case.thresholds)
            lines = load_test_lines(fed, load_a, case.conditions)
            return (ReadingBand("V", low=lines.least_v, bare="V"),)
    return ()


def reading_name(line: str, unit: str) -> str:
    """What the box of a measured line of the field checklist is called: ``balance mm``."""
    return f"{line} {unit}"


def _line_bands(case: AircraftCase, units: UnitChoice, what: str) -> tuple[ReadingBand, ...]:
    """The limits of a line that is measured; none where no record holds one.

    A number without a unit is in the keeper's own, which the paper names behind the blank.
    """
    for line in lines_for(case.aircraft):
        if line.unit and reading_name(line.id, line.unit) == what and line.value in _LINES:
            return tuple(replace(band, bare=units.unit_for(line.unit)) for band in _LINES[line.value](case))
    return ()


def _free_play_line(case: AircraftCase) -> tuple[ReadingBand, ...]:
    return (ReadingBand("deg", high=case.threshold("play")),)


def _pitch_line(case: AircraftCase) -> tuple[ReadingBand, ...]:
    rotor = case.aircraft.rotor(RotorKind.MAIN)
    if rotor is None or rotor.pitch_deg is None:
        return ()
    within = stage("B7")["within_deg"]
    return (ReadingBand("deg", low=rotor.pitch_deg - within, high=rotor.pitch_deg + within),)


def _servo_bands(case: AircraftCase, fit: ServoFit, what: str) -> tuple[ReadingBand, ...]:
    figures = case.survey.positions[fit.code]
    if what == "Neutral" and figures.idle_a is not None:
        low, high = around(1000 * figures.idle_a.expected, stage("B2")["within_pct"])
        return (ReadingBand("mA", low=low, high=high, bare="mA"),)
    if what == "Stalled V" and figures.working_v is not None:
        low, _ = around(figures.working_v.expected, stage("B1")["within_pct"])
        needed = fit.servo_type.supply_min_v if fit.servo_type else None
        # Volts that this servo does not work with are no target.
        return (ReadingBand("V", low=max(low, needed or 0.0), bare="V"),)
    if what == "Case C":
        return (ReadingBand("C", high=stage("B10")["servo_c"], bare="C"),)
    if what in ("End A", "End B", "Low rate"):
        most_a = end_limit(fit, case.survey, case.threshold).most_a
        return () if most_a is None else (ReadingBand("mA", high=1000 * most_a, bare="mA"),)
    side, _, unit = what.partition(" ")
    if unit in ("deg", "mm") and fit.surface is not None:
        throw = fit.surface.throw_up_deg if side == "Up" else fit.surface.throw_down_deg
        if throw is None:
            return ()
        if unit == "deg":
            wanted, most = throw, stage("B7")["within_deg"]
        elif fit.surface.root_chord_mm is None:
            return ()
        else:
            wanted, most = throw_mm(throw, fit.surface.root_chord_mm), stage("B7")["within_mm"]
        return (ReadingBand(unit, low=max(0.0, wanted - most), high=wanted + most, bare=unit),)
    return ()


def _play(case: AircraftCase, units: UnitChoice, code: str) -> tuple[ReadingBand, ...]:
    surface = next((surface for surface in case.aircraft.surfaces if surface.code == code), None)
    if surface is None:
        return ()
    limit_deg = case.threshold("play")
    degrees = ReadingBand("deg", high=limit_deg)
    if surface.root_chord_mm is None:
        return (degrees,)
    limit_mm = math.radians(limit_deg) * surface.root_chord_mm
    return (ReadingBand("mm", high=limit_mm, bare=units.unit_for("mm")), degrees)


def rotor_named(case: AircraftCase, about: str) -> Rotor | None:
    """The rotor that a box of the bench check is about."""
    return next((rotor for rotor in case.aircraft.rotors if rotor_about(rotor.rotor) == about), None)


def _rotor_bands(case: AircraftCase, about: str, what: str) -> tuple[ReadingBand, ...]:
    """The ends of a rotor's pitch by its greatest, and how far the swashplate may be off level.

    The low end and the middle of a main rotor are the pilot's choice, so they have no limit; a tail rotor
    reaches its greatest pitch both ways.
    """
    rotor, limits = rotor_named(case, about), stage("B7")
    if rotor is None:
        return ()
    if what.startswith("Swash"):
        return (ReadingBand("deg", high=limits["swash_deg"], bare="deg"),)
    wanted_deg, within = wanted_pitch_deg(rotor, ROTOR_READINGS[what]), limits["within_deg"]
    if wanted_deg is None:
        return ()
    return (ReadingBand("deg", low=wanted_deg - within, high=wanted_deg + within, bare="deg"),)


def _failsafe(case: AircraftCase, about: str, what: str) -> tuple[ReadingBand, ...]:
    output = next((output for output in outputs_of(case.aircraft) if output.about == about), None)
    channel = output.channel if output else None
    if channel is None:
        return ()
    if what != "After":
        return tuple(ReadingBand(action=expected_action) for expected_action in expected_actions(channel))
    timed = has_time_limit(case.aircraft.airframe, channel)
    return (ReadingBand("s", high=case.threshold("turbine-stop"), bare="s"),) if timed else ()


def _idle(case: AircraftCase) -> tuple[ReadingBand, ...]:
    idle = case.survey.scenarios.get(Scenario.IDLE)
    if idle is None or idle.total_a is None:
        return ()
    low, high = around(idle.total_a.expected, stage("B2")["within_pct"])
    return (ReadingBand("A", low=low, high=high, bare="A"),)


def _together(case: AircraftCase) -> tuple[ReadingBand, ...]:
    peak = case.survey.scenarios.get(Scenario.PEAK)
    if peak is None or peak.total_a is None:
        return ()
    return (ReadingBand("A", high=peak.total_a.expected, bare="A"),)


def _worst(case: AircraftCase) -> tuple[ReadingBand, ...]:
    least = least_bus_v(case)
    return () if least is None else (ReadingBand("V", low=least, bare="V"),)


def _balance(case: AircraftCase) -> tuple[ReadingBand, ...]:
    frame = case.aircraft.airframe
    if frame.cg_fore_mm is None or frame.cg_aft_mm is None:
        return ()
    return (ReadingBand("mm", low=frame.cg_fore_mm, high=frame.cg_aft_mm),)


_READINGS: dict[str, Callable[[AircraftCase], tuple[ReadingBand, ...]]] = {
    "Idle A": _idle,
    "Peak A": _together,
    "Lowest V": _worst,
    BALANCE_MM: _balance,
}


def _path_bands(case: AircraftCase, feed: str, what: str) -> tuple[ReadingBand, ...]:
    """The limits of one power path; a regulator set too high is none to hold a reading to."""
    within = stage("B1")["within_pct"]
    if what == "Alone V":
        return _worst(case)
    if what == "Regulator C":
        return (ReadingBand("C", high=stage("B10")["regulator_c"], bare="C"),)
    if what == "Rest V":
        figure = case.survey.supply.path_rested_v.get(feed)
        if figure is None:
            return ()
        low, high = around(figure.expected, within)
        return (ReadingBand("V", low=low, high=high, bare="V"),)
    path = next((path for path in case.aircraft.paths if path.feed.code == feed), None)
    if what != "Out V" or path is None or path.regulator is None or not path.regulator.set_v:
        return ()
    return (set_band(case, path.regulator.set_v),)


def set_band(case: AircraftCase, set_v: float) -> ReadingBand:
    """Within which the volts of a regulator should lie: about what it is set to, never above what may be.

    One that is set above what the servos may have is no target.
    """
    low, high = around(set_v, stage("B1")["within_pct"])
    most = case.aircraft.most_bus_v
    if most is None or set_v <= most:
        return ReadingBand("V", low=low, high=high if most is None else min(high, most), bare="V")
    return ReadingBand("V", high=most, bare="V")


_LINES: dict[str, Callable[[AircraftCase], tuple[ReadingBand, ...]]] = {
    "balance": _balance,
    "free-play": _free_play_line,
    "pitch": _pitch_line,
}


@dataclass(frozen=True, slots=True)
class AllowedBands:
    """What one box may hold: one of its bands must be met, by what was typed."""

    bands: tuple[ReadingBand, ...]

    @property
    def text(self) -> Text:
        """What is allowed, in words."""
        return wanted(self.bands) or NOTHING

    def verdict(self, typed: str) -> bool | None:
        """Whether what was typed lies within; None where it cannot be read as such a quantity."""
        return self.verdict_and_fault(typed)[0]

    def verdict_and_fault(self, typed: str) -> tuple[bool | None, str]:
        """The same with what is wrong where it cannot be read."""
        fault, met = "", None
        for band in self.bands:
            try:
                met = band.holds(typed)
            except BadInput as unread:
                fault = fault or str(unread)
                continue
            if met:
                break
        return met, fault


def wanted(bands: tuple[ReadingBand, ...]) -> Text | None:
    """What is allowed, in words; None where no limit is known."""
    return text("{bands}", bands=listed((band.text for band in bands), joint="or")) if bands else None


def is_out(bands: tuple[ReadingBand, ...], value: float | None, unit: str) -> bool:
    """Whether a value that is known lies beyond its limit."""
    known = [band for band in bands if band.action is None]
    return value is not None and bool(known) and not any(band.has(value, unit) for band in known)
