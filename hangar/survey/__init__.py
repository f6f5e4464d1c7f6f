"""One aircraft computed: loads, volts, torque, supply, mass and balance."""

from __future__ import annotations

from hangar.survey.due import DueItem, Duty, due_items
from hangar.survey.model import (
    AirframeSurvey,
    Conditions,
    PositionSurvey,
    Scenario,
    ScenarioSurvey,
    SupplySurvey,
    Survey,
)
from hangar.survey.old_and_new import Comparison, compare
from hangar.survey.surveying import survey

__all__ = [
    "AirframeSurvey",
    "Comparison",
    "Conditions",
    "DueItem",
    "Duty",
    "PositionSurvey",
    "Scenario",
    "ScenarioSurvey",
    "SupplySurvey",
    "Survey",
    "compare",
    "due_items",
    "survey",
]
