"""What a bench check should read, stage by stage, from the survey."""

from __future__ import annotations

from collections.abc import Callable

from hangar.answers.case import AircraftCase
from hangar.answers.checklists import stage
from hangar.base.figure import Figure, sourced
from hangar.base.text import Amount, Arg, Text, joined, series, text
from hangar.survey import Scenario
from hangar.survey.model import PositionSurvey

OUT = text("OUT")
"""Stands behind a value that lies beyond its limit."""
_BLANK = "____"
"""Stands for a number that is not known within a row of others that are."""


def expected_at(case: AircraftCase, code: str) -> Arg:
    """What stands beside the blank of a stage; ``-`` where nothing is computed, None when not known."""
    find = _EXPECTED.get(code)
    return find(case) if find else "-"


def around(expected: float, percent: float) -> tuple[float, float]:
    """The ends of what is allowed so many percent below and above."""
    return expected * (1 - percent / 100), expected * (1 + percent / 100)


def least_bus_v(case: AircraftCase) -> float | None:
    """Below which volts the bus must never fall: what its receivers need, and the reserve of the stage."""
    needed = [unit.supply_min_v for unit in case.aircraft.receivers if unit.supply_min_v is not None]
    return max(needed) + float(stage("B5")["reserve_v"]) if needed else None


def far_servo(case: AircraftCase) -> PositionSurvey | None:
    """The position with the longest recorded lead."""
    leads = [(fit.lead.length_mm, fit.code) for fit in case.aircraft.fits if fit.lead]
    return case.survey.positions[max(leads)[1]] if leads else None


def _known(figure: Figure | None) -> Arg:
    return _BLANK if figure is None else sourced(figure)


def _volts(case: AircraftCase) -> Arg:
    words = []
    supply = case.survey.supply
    for path in case.aircraft.radio_paths:
        code = path.feed.code
        words.append(text("{code} at rest {volts}", code=code, volts=_known(supply.path_rested_v.get(code))))
        if path.regulator and path.regulator.set_v:
            volts = Amount(path.regulator.set_v, "V")
            words.append(text("{code} out {volts}, set", code=path.regulator.code, volts=volts))
    far = far_servo(case)
    if far:
        volts_there = far.working_v
        words.append(
            text(
                "far servo {code} {volts}, drop {drop}",
                code=far.code,
                volts=_BLANK if volts_there is None else Amount(volts_there.expected, volts_there.unit),
                drop=_known(far.lead_drop_v),
            )
        )
    return series(words) or None


def _idle(case: AircraftCase) -> Arg:
    idle = case.survey.scenarios.get(Scenario.IDLE)
    if idle is None or idle.total_a is None:
        return None
    low, high = around(idle.total_a.expected, stage("B2")["within_pct"])
    return text(
        "{value}; {low} to {high}", value=sourced(idle.total_a), low=Amount(low, "A"), high=Amount(high, "A")
    )


def _together(case: AircraftCase) -> Arg:
    peak = case.survey.scenarios.get(Scenario.PEAK)
    return sourced(peak.total_a) if peak and peak.total_a else None


def _worst(case: AircraftCase) -> Arg:
    words, least = [], least_bus_v(case)
    for scenario, name in ((Scenario.PEAK, text("all packs")), (Scenario.ONE_LOST, text("one pack alone"))):
        survey = case.survey.scenarios.get(scenario)
        if survey and survey.bus_v:
            told = text("{packs} {value}", packs=name, value=sourced(survey.bus_v))
            is_out = least is not None and survey.bus_v.expected < least
            words.append(joined(told, OUT) if is_out else told)
    words.append(text("never below {volts}", volts=_BLANK if least is None else Amount(least, "V")))
    return series(words)


def _heat(_case: AircraftCase) -> Arg:
    limits = stage("B10")
    return text(
        "servo at most {servo}, regulator at most {regulator}",
        servo=Amount(limits["servo_c"], "C"),
        regulator=Amount(limits["regulator_c"], "C"),
    )


def _range(case: AircraftCase) -> Arg:
    checks = case.aircraft.range_checks
    if not checks or checks[-1].distance_m is None:
        return None
    return text(
        "last time {distance}, {checked_on}",
        distance=Amount(checks[-1].distance_m, "m"),
        checked_on=checks[-1].checked_on,
    )


def _balance(case: AircraftCase) -> Text:
    frame = case.aircraft.airframe
    if frame.cg_fore_mm is None or frame.cg_aft_mm is None:
        return text("balance ____")
    low, high = Amount(frame.cg_fore_mm, "mm"), Amount(frame.cg_aft_mm, "mm")
    return text("balance {low} to {high}", low=low, high=high)


_EXPECTED: dict[str, Callable[[AircraftCase], Arg]] = {
    "B1": _volts,
    "B2": _idle,
    "B4": _together,
    "B5": _worst,
    "B10": _heat,
    "B12": _range,
    "B13": _balance,
}
