"""What a bench check should read, stage by stage, from the survey."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from hangar.base.figure import Figure
from hangar.base.text import Arg, series, text
from hangar.sheets.case import SheetCase
from hangar.sheets.sheet_head import mass_words
from hangar.sheets.style import SheetStyle
from hangar.sheets.texts import checklist_table
from hangar.survey import Scenario
from hangar.survey.model import PositionSurvey


def bench_stages() -> Sequence[Mapping[str, Any]]:
    """The stages of a bench check in the order of doing, with their limits."""
    return checklist_table("bench")


def stage(code: str) -> Mapping[str, Any]:
    """One stage by its code."""
    return next(bench_stage for bench_stage in bench_stages() if bench_stage["code"] == code)


def expected_words(style: SheetStyle, case: SheetCase, code: str) -> Arg:
    """What stands beside the blank of a stage; ``-`` where nothing is computed, None when not known."""
    find = _EXPECTED.get(code)
    return find(style, case) if find else "-"


def _volts(style: SheetStyle, case: SheetCase) -> Arg:
    words = []
    supply = case.survey.supply
    for path in case.aircraft.radio_paths:
        rested = supply.path_rested_v.get(path.feed.code)
        words.append(
            text("{code} at rest {volts}", code=path.feed.code, volts=style.sourced(rested) or "____")
        )
        if path.regulator and path.regulator.set_v:
            words.append(
                text(
                    "{code} out {volts}, set",
                    code=path.regulator.code,
                    volts=style.show(path.regulator.set_v, "V"),
                )
            )
    far = far_servo(case)
    if far:
        volts = far.working_v
        words.append(
            text(
                "far servo {code} {volts}, drop {drop}",
                code=far.code,
                volts=style.figure(volts) or "____",
                drop=style.sourced(far.lead_drop_v) or "____",
            )
        )
    return series(words) or None


def far_servo(case: SheetCase) -> PositionSurvey | None:
    """The position with the longest recorded lead."""
    leads = [(fit.lead.length_mm, fit.code) for fit in case.aircraft.fits if fit.lead]
    return case.survey.positions[max(leads)[1]] if leads else None


def _within(style: SheetStyle, figure: Figure | None, percent: float) -> Arg:
    if figure is None:
        return None
    low, high = (figure.expected * (1 + sign * percent / 100) for sign in (-1, 1))
    return text(
        "{value}; {low} to {high}",
        value=style.sourced(figure),
        low=style.show(low, "A"),
        high=style.show(high, "A"),
    )


def _idle(style: SheetStyle, case: SheetCase) -> Arg:
    idle = case.survey.scenarios.get(Scenario.IDLE)
    return _within(style, idle.total_a if idle else None, stage("B2")["within_pct"])


def _together(style: SheetStyle, case: SheetCase) -> Arg:
    peak = case.survey.scenarios.get(Scenario.PEAK)
    return style.sourced(peak.total_a) if peak else None


def _worst(style: SheetStyle, case: SheetCase) -> Arg:
    words = []
    for scenario, name in ((Scenario.PEAK, text("all packs")), (Scenario.ONE_LOST, text("one pack alone"))):
        survey = case.survey.scenarios.get(scenario)
        if survey and survey.bus_v:
            words.append(text("{packs} {value}", packs=name, value=style.sourced(survey.bus_v)))
    reserve = stage("B5")["reserve_v"]
    least = [
        receiver.supply_min_v + reserve
        for receiver in case.aircraft.receivers
        if receiver.supply_min_v is not None
    ]
    words.append(text("never below {volts}", volts=style.show(max(least), "V") if least else "____"))
    return series(words)


def _heat(style: SheetStyle, _case: SheetCase) -> Arg:
    limits = stage("B10")
    return text(
        "servo at most {servo}, regulator at most {regulator}",
        servo=style.show(limits["servo_c"], "C"),
        regulator=style.show(limits["regulator_c"], "C"),
    )


def _range(style: SheetStyle, case: SheetCase) -> Arg:
    checks = case.aircraft.range_checks
    if not checks or checks[-1].distance_m is None:
        return None
    return text(
        "last time {distance}, {checked_on}",
        distance=style.show(checks[-1].distance_m, "m"),
        checked_on=checks[-1].checked_on,
    )


def _mass(style: SheetStyle, case: SheetCase) -> Arg:
    frame = case.aircraft.airframe
    fore, aft = style.show(frame.cg_fore_mm, "mm"), style.show(frame.cg_aft_mm, "mm")
    balance = text("balance {low} to {high}", low=fore, high=aft) if fore and aft else text("balance ____")
    return text(
        "mass {mass}; {balance}",
        mass=mass_words(style, frame.all_up_mass_g) or "____",
        balance=balance,
    )


_EXPECTED: dict[str, Callable[[SheetStyle, SheetCase], Arg]] = {
    "B1": _volts,
    "B2": _idle,
    "B4": _together,
    "B5": _worst,
    "B10": _heat,
    "B12": _range,
    "B13": _mass,
}
