"""What does not match on an aircraft, and what cannot be judged."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hangar.base.on_demand import names_on_demand

if TYPE_CHECKING:
    from hangar.parts.thresholds import Threshold, Thresholds, setting_name, shipped_thresholds
    from hangar.rules.accepting import acceptance_of
    from hangar.rules.as_json import finding_as_json, findings_as_json
    from hangar.rules.finding import Finding, Level
    from hangar.rules.inspecting import inspect, open_warnings, reminders
    from hangar.rules.looking import look
    from hangar.rules.registry import Rule, all_rules
    from hangar.rules.words import line, summary

_HOMES = {
    "acceptance_of": "accepting",
    "finding_as_json": "as_json",
    "findings_as_json": "as_json",
    "Finding": "finding",
    "Level": "finding",
    "inspect": "inspecting",
    "open_warnings": "inspecting",
    "reminders": "inspecting",
    "look": "looking",
    "Rule": "registry",
    "all_rules": "registry",
    "Threshold": "hangar.parts.thresholds",
    "Thresholds": "hangar.parts.thresholds",
    "setting_name": "hangar.parts.thresholds",
    "shipped_thresholds": "hangar.parts.thresholds",
    "line": "words",
    "summary": "words",
}

if not TYPE_CHECKING:
    # The window must be on screen before all this is loaded.
    __getattr__ = names_on_demand(__name__, _HOMES)

__all__ = [
    "Finding",
    "Level",
    "Rule",
    "Threshold",
    "Thresholds",
    "acceptance_of",
    "all_rules",
    "finding_as_json",
    "findings_as_json",
    "inspect",
    "line",
    "look",
    "open_warnings",
    "reminders",
    "setting_name",
    "shipped_thresholds",
    "summary",
]
