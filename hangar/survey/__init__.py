"""One aircraft computed: loads, volts, torque, supply, mass and balance."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hangar.base.on_demand import names_on_demand

if TYPE_CHECKING:
    from hangar.survey.due import DueItem, due_items
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

_HOMES = {
    "DueItem": "due",
    "due_items": "due",
    "AirframeSurvey": "model",
    "Conditions": "model",
    "PositionSurvey": "model",
    "Scenario": "model",
    "ScenarioSurvey": "model",
    "SupplySurvey": "model",
    "Survey": "model",
    "Comparison": "old_and_new",
    "compare": "old_and_new",
    "survey": "surveying",
}

if not TYPE_CHECKING:
    # The window must be on screen before all this is loaded.
    __getattr__ = names_on_demand(__name__, _HOMES)

__all__ = [
    "AirframeSurvey",
    "Comparison",
    "Conditions",
    "DueItem",
    "PositionSurvey",
    "Scenario",
    "ScenarioSurvey",
    "SupplySurvey",
    "Survey",
    "compare",
    "due_items",
    "survey",
]
