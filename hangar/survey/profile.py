"""Bus volts through a flight: ordinary flying, brisk flying and peaks, one after the other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hangar.base.errors import NoAnswer
from hangar.base.figure import Figure
from hangar.base.text import ItemList, fixed, text
from hangar.survey.defaults import Defaults, class_defaults
from hangar.survey.figures import Facts
from hangar.survey.model import Scenario, ScenarioSurvey, Survey
from hangar.survey.supply import charge_pct

if TYPE_CHECKING:
    from hangar.physics.flown_current import Steps
    from hangar.physics.pulse import PulseSupply

PEAK_S = 0.3
CYCLE_S = 15.0
SOURCE = text("closed solution of a pack with one slow resistance; currents of the load cases")
_CASES = (Scenario.IDLE, Scenario.CRUISE, Scenario.BRISK, Scenario.PEAK)


@dataclass(frozen=True, slots=True)
class FlightVolts:
    """Bus volts and current through a flight; ``time_s`` is the end of each step."""

    time_s: Steps
    bus_v: Steps
    current_a: Steps
    lowest_v: Figure
    lowest_at_s: float


def flight_volts(surveyed: Survey, *, minutes: float = 10.0, step_s: float = 0.1) -> FlightVolts:
    """Bus volts through a flight from charged packs.

    The supply is seen from the bus: its volts at rest and in the peak give one source and one
    resistance.  Without a regulator the source falls as the packs are emptied.

    Args:
        surveyed: the survey of the aircraft.
        minutes: length of the flight, above 0 to 600.
        step_s: length of a step, above 0.

    Returns:
        Volts, current and the lowest volts.

    Raises:
        NoAnswer: the load cases are not known or the supply collapses; the text says which.
    """
    from hangar.physics.flown_current import FlightStyle, flown_current_a
    from hangar.physics.pulse import flight_profile

    defaults = class_defaults().changed(surveyed.conditions.defaults)
    cases = {scenario: _known_case(surveyed, scenario) for scenario in _CASES}
    kind = surveyed.aircraft.airframe.aircraft_class
    amps = {scenario: _total(case) for scenario, case in cases.items()}
    flying = FlightStyle(
        amps[Scenario.CRUISE], amps[Scenario.BRISK], amps[Scenario.PEAK],
        defaults.brisk_time.value(kind), defaults.peak_time.value(kind), CYCLE_S, PEAK_S,
    )  # fmt: skip
    current = flown_current_a(flying, minutes=minutes, step_s=step_s)
    facts = Facts()
    supply = _seen_from_bus(surveyed, cases, defaults, facts)
    flown = flight_profile(current, step_s, supply, settled_at_a=amps[Scenario.IDLE])
    lowest = facts.figure(
        "lowest bus volts in the flight", flown.minimum_v, "V", "source less drop and sag", SOURCE
    )
    return FlightVolts(flown.time_s, flown.bus_v, current, lowest, flown.minimum_time_s)


def volts_at_current(
    surveyed: Survey, time_s: Sequence[float], currents_a: Sequence[Sequence[float]]
) -> tuple[float, ...]:
    """Bus volts that a current as it was logged should make, from charged packs.

    Args:
        surveyed: the survey of the aircraft.
        time_s: time of each row, rising.
        currents_a: the current of each pack by row; nan where it was not logged.

    Raises:
        NoAnswer: the load cases are not known or the supply collapses under this current.
    """
    from hangar.physics.flight_predicted import predicted_bus_v

    defaults = class_defaults().changed(surveyed.conditions.defaults)
    cases = {scenario: _known_case(surveyed, scenario) for scenario in _CASES}
    supply = _seen_from_bus(surveyed, cases, defaults, Facts())
    return tuple(predicted_bus_v(time_s, currents_a, supply).tolist())


def _known_case(surveyed: Survey, scenario: Scenario) -> ScenarioSurvey:
    case = surveyed.scenarios.get(scenario)
    if case is None:
        missing = surveyed.supply.missing
        lacking = ItemList(missing, ";") if missing else fixed("load cases")
        raise NoAnswer(
            "the flight of {aircraft} cannot be worked: not known is {missing}.",
            aircraft=surveyed.aircraft.code,
            missing=lacking,
        )
    if case.collapse is not None:
        raise NoAnswer(case.collapse)
    return case


def _total(case: ScenarioSurvey) -> float:
    return 0.0 if case.total_a is None else case.total_a.expected


def _seen_from_bus(
    surveyed: Survey, cases: dict[Scenario, ScenarioSurvey], defaults: Defaults, facts: Facts
) -> PulseSupply:
    """One source and one resistance from the bus volts at rest and in the peak."""
    from hangar.physics.pulse import PulseSupply

    idle, peak = cases[Scenario.IDLE], cases[Scenario.PEAK]
    if idle.bus_v is None or peak.bus_v is None:
        raise NoAnswer("the flight cannot be worked: the bus volts are not known.")
    at_rest, in_peak = facts.use(idle.bus_v), facts.use(peak.bus_v)
    step_a = _total(peak) - _total(idle)
    ohm = max(0.0, (at_rest - in_peak) / step_a) if step_a > 0.0 else 0.0
    source_v = at_rest + ohm * _total(idle)
    # A regulator answers at once; only packs straight on the bus sag with delay.
    slow = 0.0 if idle.regulator_a else facts.assume(defaults.slow_share) * ohm
    slow_s = facts.assume(defaults.slow_time, "nickel" if _is_nickel(surveyed) else "lithium")
    bulk = None
    risen = _charged_above_case(surveyed)
    if risen is not None:
        above_v, coulombs, fall_v = risen
        source_v += above_v
        facts.note("source volts, packs charged and rested", source_v, "V")
        bulk = coulombs / fall_v
    return PulseSupply(source_v, ohm - slow, slow, slow_s / slow if slow > 0.0 else 0.0, 0.0, bulk)


def _is_nickel(surveyed: Survey) -> bool:
    paths = surveyed.aircraft.radio_paths
    return any(fed.pack_type.chemistry.is_nickel for path in paths for fed in path.packs)


def _charged_above_case(surveyed: Survey) -> tuple[float, float, float] | None:
    """How much the charged packs stand above the load cases, their charge, and their fall over it.

    None when a regulator holds the bus, or nickel packs at the charge of the load cases stand no lower.
    """
    supply, idle = surveyed.supply, surveyed.scenarios[Scenario.IDLE]
    if idle.regulator_a or supply.rested_full_v is None:
        return None
    paths = [path for path in surveyed.aircraft.radio_paths if path.feed.code in supply.path_rested_v]
    # At rest next to nothing is lost inside the packs, so their node shows their resting volts.
    case_v = max((idle.node_v.get(f"{path.feed.code} packs", 0.0) for path in paths), default=0.0)
    above_v = supply.rested_full_v.expected - case_v
    used = 1.0 - _charge_share(surveyed)
    coulombs = 3.6 * sum(min(supply.pack_mah[fed.pack.tag].expected for fed in path.packs) for path in paths)
    if above_v <= 0.0 or used <= 0.0 or coulombs <= 0.0:
        return None
    return above_v, coulombs, above_v / used


def _charge_share(surveyed: Survey) -> float:
    conditions = surveyed.conditions
    defaults = class_defaults().changed(conditions.defaults)
    return charge_pct(conditions, defaults) / 100.0
