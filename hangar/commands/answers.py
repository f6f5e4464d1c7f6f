"""The commands that answer questions: inspect and survey."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from hangar.commands.opening import LOOK, NO_WARNING, Ground, chosen, fleet_at, print_json

if TYPE_CHECKING:
    from hangar.parts import Aircraft
    from hangar.rules.finding import Finding


def run_inspect(arguments: argparse.Namespace) -> int:
    from hangar.rules import findings_as_json
    from hangar.rules.finding import Level

    with fleet_at(arguments.fleet) as fleet:
        ground, aircraft = Ground.of(fleet), chosen(fleet, arguments.aircraft)
    judged = [(each, ground.judged(each, field_day=arguments.field_day)[1]) for each in aircraft]
    if arguments.json:
        print_json(findings_as_json([finding for _, findings in judged for finding in findings]))
    else:
        for each, findings in judged:
            _print_findings(each, findings)
    warning_open = any(
        finding.level is Level.WARNING and finding.is_open for _, findings in judged for finding in findings
    )
    return LOOK if warning_open else NO_WARNING


def _print_findings(aircraft: Aircraft, findings: Sequence[Finding]) -> None:
    from hangar.rules import summary
    from hangar.rules.releasing import unjudged_words

    unjudged = unjudged_words(aircraft)
    sign = f"NOT JUDGED, {unjudged}; " if unjudged else ""
    print(f"{aircraft.code}  {aircraft.airframe.name}: {sign}{summary(findings)}")
    for finding in findings:
        until = f" (accepted until {finding.accepted_until})" if finding.accepted_until else ""
        print(f"  {finding.level.upper():10} {finding.rule}: {finding.message}{until}")
        for line in (finding.detail, finding.remedy and f"To do: {finding.remedy}"):
            if line:
                print(f"             {line}")


def run_survey(arguments: argparse.Namespace) -> int:
    from hangar.survey.as_json import survey_json

    with fleet_at(arguments.fleet) as fleet:
        ground, aircraft = Ground.of(fleet), fleet.aircraft(arguments.aircraft)
    surveyed, units = ground.judged(aircraft)[0], ground.units
    if arguments.json:
        print_json(survey_json(surveyed))
        return NO_WARNING
    print(f"{surveyed.aircraft.code}  {surveyed.aircraft.airframe.name}")
    for name, figure in surveyed.figures():
        band = (
            f" ({units.show(figure.low, figure.unit)} to {units.show(figure.design, figure.unit)})"
            if figure.low is not None and figure.design is not None
            else ""
        )
        print(f"  {name}: {units.show(figure.expected, figure.unit)}{band}, {figure.basis}")
        print(f"      {figure.working.formula}; {figure.working.source}")
    return NO_WARNING
