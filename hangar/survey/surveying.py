"""The survey itself: everything physical about an aircraft, computed once."""

from __future__ import annotations

from dataclasses import replace

from hangar.base.errors import BadInput
from hangar.parts import Aircraft
from hangar.physics.air import Air
from hangar.survey.airframe import airframe_survey
from hangar.survey.currents_learned import currents_learned, with_learned
from hangar.survey.defaults import Defaults, defaults_with
from hangar.survey.energy import supply_survey
from hangar.survey.flown_readings import LearnedCurrents
from hangar.survey.model import Conditions, Survey
from hangar.survey.positions import Surroundings, position_survey
from hangar.survey.scenarios import LoadCases, load_cases
from hangar.survey.servo_lapses import counted
from hangar.survey.supply import SupplyModel, supply_model


def survey(aircraft: Aircraft, conditions: Conditions | None = None) -> Survey:
    """Compute every physical figure of an aircraft.

    A pure function: it reads no file, no clock but the conditions' day, and changes nothing.  Odd or
    missing data never raise; the figures they spoil are None and the reason is in ``missing``.

    Args:
        aircraft: the aircraft as a tree of parts.
        conditions: day, air, pack temperatures, charge left, and the keeper's own typical values.

    Returns:
        The survey: positions, load cases of the supply, supply and airframe as a whole.

    Raises:
        BadInput: impossible conditions (air or typical values), never the aircraft's data.
    """
    conditions = conditions or Conditions()
    defaults = _defaults(conditions)
    recorded, aircraft = aircraft, counted(aircraft, conditions.today)
    air = Air.at(conditions.altitude_m, conditions.air_c)
    model = supply_model(aircraft, conditions, defaults)
    cases = load_cases(model, aircraft.airframe.aircraft_class, conditions, defaults)
    learned = _currents(aircraft, model, cases, conditions, defaults)
    if learned is not None:
        changed = frozenset(fit.code for fit in aircraft.fits if fit.is_changed)
        model = with_learned(model, learned, changed)
        cases = load_cases(model, aircraft.airframe.aircraft_class, conditions, defaults)
    supply = supply_survey(aircraft, model, cases, defaults)
    around = Surroundings(aircraft, air, model, cases, supply.bus_full_v, defaults)
    return Survey(
        aircraft=recorded,
        conditions=conditions,
        positions={fit.code: position_survey(fit, around) for fit in aircraft.fits},
        scenarios=cases.cases,
        supply=supply,
        airframe=airframe_survey(aircraft),
        least=cases.least,
        currents=learned,
        leads={path.code: path.leads for path in model.paths if path.leads is not None},
    )


def _currents(
    aircraft: Aircraft, model: SupplyModel, cases: LoadCases, conditions: Conditions, defaults: Defaults
) -> LearnedCurrents | None:
    """What flights have told, held against the servos they were flown with; a plan may have others."""
    if not (aircraft.flights or aircraft.flight_logs):
        return None
    if any(fit.is_changed for fit in aircraft.fits):
        aircraft = replace(aircraft, fits=tuple(fit.as_flown for fit in aircraft.fits))
        model = supply_model(aircraft, conditions, defaults)
        cases = load_cases(model, aircraft.airframe.aircraft_class, conditions, defaults)
    return currents_learned(aircraft, model, cases, conditions.today)


def _defaults(conditions: Conditions) -> Defaults:
    if conditions.charge_pct is not None and not 5.0 <= conditions.charge_pct <= 100.0:
        raise BadInput("Charge left is {charge:g} %; 5 to 100 is allowed.", charge=conditions.charge_pct)
    return defaults_with(conditions.defaults)
