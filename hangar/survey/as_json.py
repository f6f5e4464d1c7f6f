"""A survey as plain data for scripts: every figure with its band, basis and working."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from datetime import date
from typing import Any

from hangar.base.figure import Figure, Input
from hangar.base.text import Text
from hangar.survey.model import FigureSet, PositionSurvey, ScenarioSurvey, Survey


def survey_json(survey: Survey) -> dict[str, Any]:
    """Everything a survey holds as nested objects of numbers and text.

    A number that has no bound is null.  Keys are the names of the figures' fields; their unit stands
    beside the value.
    """
    conditions = survey.conditions
    today = conditions.today
    return {
        "aircraft": survey.aircraft.code,
        "conditions": {
            "today": conditions.today.isoformat(),
            "altitude_m": conditions.altitude_m,
            "air_c": conditions.air_c,
            "pack_c": conditions.pack_c,
            "cold_pack_c": conditions.cold_pack_c,
            "charge_pct": conditions.charge_pct,
            "field_day": conditions.field_day,
            "defaults": dict(conditions.defaults),
        },
        "positions": {code: _position(position, today) for code, position in survey.positions.items()},
        "scenarios": {str(scenario): _scenario(case, today) for scenario, case in survey.scenarios.items()},
        "supply": _figures(survey.supply, today) | {"missing": _words(survey.supply.missing)},
        "airframe": _figures(survey.airframe, today) | {"missing": _words(survey.airframe.missing)},
    }


def _position(position: PositionSurvey, today: date) -> dict[str, Any]:
    lacks = {name: _words(words) for name, words in position.missing_for.items()}
    late = {name: figure_json(figure, today) for name, figure in position.worked_when_asked().items()}
    return _figures(position, today) | late | {"missing": _words(position.missing), "missing_for": lacks}


def _scenario(case: ScenarioSurvey, today: date) -> dict[str, Any]:
    return _figures(case, today) | {
        "collapse": None if case.collapse is None else str(case.collapse),
        "lost": case.lost,
        "remarks": _words(case.remarks),
        "regulator_state": dict(case.regulator_state),
        "node_v": {node: _number(volts) for node, volts in case.node_v.items()},
        "branch_a": {branch: _number(amps) for branch, amps in case.branch_a.items()},
    }


def _figures(holder: FigureSet, today: date) -> dict[str, Any]:
    """Figure fields by name; a field that holds several becomes an object of them."""
    figures: dict[str, Any] = {}
    for name, value in vars(holder).items():
        if isinstance(value, Figure):
            figures[name] = figure_json(value, today)
        elif (
            isinstance(value, Mapping) and value and all(isinstance(item, Figure) for item in value.values())
        ):
            figures[name] = {str(key): figure_json(item, today) for key, item in value.items()}
    return figures


def figure_json(figure: Figure, today: date | None = None) -> dict[str, Any]:
    """One figure: value, unit, band, basis with the day of its newest reading, and how it was made."""
    return {
        "name": str(figure.name),
        "value": _number(figure.expected),
        "unit": figure.unit,
        "low": _number(figure.low),
        "design": _number(figure.design),
        "basis": str(figure.basis),
        "read_on": None if figure.read_on is None else figure.read_on.isoformat(),
        "age_days": None if figure.read_on is None or today is None else (today - figure.read_on).days,
        "working": {
            "formula": str(figure.working.formula),
            "source": str(figure.working.source),
            "inputs": [_input(item) for item in figure.working.inputs],
        },
    }


def _input(item: Input) -> dict[str, Any]:
    value = str(item.value) if isinstance(item.value, Text) else _number(item.value)
    return {"name": str(item.name), "value": value, "unit": item.unit, "basis": str(item.basis)}


def _words(texts: Iterable[Text]) -> list[str]:
    return [str(text) for text in texts]


def _number(value: float | None) -> float | None:
    return None if value is None or not math.isfinite(value) else value
