"""What a bench check should read, stage by stage, from the survey."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Any

from hangar.base.figure import Figure
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
    return next(each for each in bench_stages() if each["code"] == code)


def expected_words(style: SheetStyle, case: SheetCase, code: str) -> str | None:
    """What stands beside the blank of a stage; ``-`` where nothing is computed, None when not known."""
    find = _EXPECTED.get(code)
    return find(style, case) if find else "-"


def _volts(style: SheetStyle, case: SheetCase) -> str | None:
    words = []
    supply = case.survey.supply
    for path in case.aircraft.radio_paths:
        rested = supply.path_rested_v.get(path.feed.code)
        words.append(f"{path.feed.code} at rest {style.sourced(rested) or '____'}")
        if path.regulator and path.regulator.set_v:
            words.append(f"{path.regulator.code} out {style.show(path.regulator.set_v, 'V')}, set")
    far = far_servo(case)
    if far:
        volts = far.working_v
        words.append(
            f"far servo {far.code} {style.figure(volts) or '____'}, drop "
            f"{style.sourced(far.lead_drop_v) or '____'}"
        )
    return "; ".join(words) or None


def far_servo(case: SheetCase) -> PositionSurvey | None:
    """The position with the longest recorded lead."""
    leads = [(fit.lead.length_mm, fit.code) for fit in case.aircraft.fits if fit.lead]
    return case.survey.positions[max(leads)[1]] if leads else None


def _within(style: SheetStyle, figure: Figure | None, percent: float) -> str | None:
    if figure is None:
        return None
    low, high = (figure.expected * (1 + sign * percent / 100) for sign in (-1, 1))
    return f"{style.sourced(figure)}; {style.show(low, 'A')} to {style.show(high, 'A')}"


def _idle(style: SheetStyle, case: SheetCase) -> str | None:
    idle = case.survey.scenarios.get(Scenario.IDLE)
    return _within(style, idle.total_a if idle else None, stage("B2")["within_pct"])


def _together(style: SheetStyle, case: SheetCase) -> str | None:
    peak = case.survey.scenarios.get(Scenario.PEAK)
    return style.sourced(peak.total_a) if peak else None


def _worst(style: SheetStyle, case: SheetCase) -> str | None:
    words = []
    for scenario, name in ((Scenario.PEAK, "all packs"), (Scenario.ONE_LOST, "one pack alone")):
        found = case.survey.scenarios.get(scenario)
        if found and found.bus_v:
            words.append(f"{name} {style.sourced(found.bus_v)}")
    reserve = stage("B5")["reserve_v"]
    least = [each.supply_min_v + reserve for each in case.aircraft.receivers if each.supply_min_v is not None]
    words.append(f"never below {style.show(max(least), 'V') if least else '____'}")
    return "; ".join(words)


def _heat(style: SheetStyle, _case: SheetCase) -> str:
    limits = stage("B10")
    return (
        f"servo at most {style.show(limits['servo_c'], 'C')}, "
        f"regulator at most {style.show(limits['regulator_c'], 'C')}"
    )


def _range(style: SheetStyle, case: SheetCase) -> str | None:
    checks = case.aircraft.range_checks
    if not checks or checks[-1].distance_m is None:
        return None
    return f"last time {style.show(checks[-1].distance_m, 'm')}, {checks[-1].checked_on}"


def _mass(style: SheetStyle, case: SheetCase) -> str | None:
    frame = case.aircraft.airframe
    fore, aft = style.show(frame.cg_fore_mm, "mm"), style.show(frame.cg_aft_mm, "mm")
    balance = f"balance {fore} to {aft}" if fore and aft else "balance ____"
    return f"mass {mass_words(style, frame.all_up_mass_g) or '____'}; {balance}"


_EXPECTED: dict[str, Callable[[SheetStyle, SheetCase], str | None]] = {
    "B1": _volts,
    "B2": _idle,
    "B4": _together,
    "B5": _worst,
    "B10": _heat,
    "B12": _range,
    "B13": _mass,
}
