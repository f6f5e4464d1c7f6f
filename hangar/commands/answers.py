"""The commands that answer questions: inspect, survey and refit."""

from __future__ import annotations

import argparse
from collections.abc import Sequence
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.commands.opening import NO_WARNING, WARNING_OPEN, Ground, chosen, fleet_at, print_json

if TYPE_CHECKING:
    from hangar.parts import Aircraft
    from hangar.refit import Front, Point
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
    return WARNING_OPEN if warning_open else NO_WARNING


def _print_findings(aircraft: Aircraft, findings: Sequence[Finding]) -> None:
    from hangar.rules import summary

    print(f"{aircraft.code}  {aircraft.airframe.name}: {summary(findings)}")
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


def run_refit(arguments: argparse.Namespace) -> int:
    from hangar.refit import Limits, front_as_json, plan

    if arguments.whole_fleet == (arguments.aircraft is not None):
        raise BadInput("refit needs either --aircraft CODE or --whole-fleet; give one of them.")
    if arguments.whole_fleet:
        return _refit_fleet(arguments)
    with fleet_at(arguments.fleet) as fleet:
        ground, aircraft = Ground.of(fleet), fleet.aircraft(arguments.aircraft)
    limits = Limits(budget=arguments.budget, thresholds=ground.thresholds)
    front = plan(aircraft, ground.library, limits=limits)
    if arguments.json:
        print_json(front_as_json(front, explained=arguments.explain))
    else:
        _print_front(front)
    return NO_WARNING


def _refit_fleet(arguments: argparse.Namespace) -> int:
    from hangar.refit import Limits
    from hangar.refit.fleet_plan import FLEET_LEVEL_STEP_V, fleet_as_json, plan_fleet

    if arguments.budget is None:
        raise BadInput("refit --whole-fleet needs --budget MONEY; give 0 or more.")
    with fleet_at(arguments.fleet) as fleet:
        ground, aircraft = Ground.of(fleet), fleet.whole_fleet()
    limits = Limits(level_step_v=FLEET_LEVEL_STEP_V, thresholds=ground.thresholds)
    found = plan_fleet(aircraft, ground.library, arguments.budget, limits=limits)
    if arguments.json:
        print_json(fleet_as_json(found))
        return NO_WARNING
    print(
        f"price {found.price:g} of {found.budget:g}, risk {found.risk_before:.2f} -> {found.risk_after:.2f}"
    )
    for part in found.parts:
        _print_changes(part.point, f"{part.aircraft.code}  price {part.point.price:g}")
    print("\n".join(found.notes))
    return NO_WARNING


def _print_changes(point: Point, title: str) -> None:
    from hangar.refit.front import line_words

    print(title)
    for line in point.changes:
        print(f"      {line_words(line)}")
    if not point.changes:
        print("      as it is")


def _print_front(front: Front) -> None:
    print(
        f"{front.aircraft.code}  {front.aircraft.airframe.name}: {len(front.points)} refits that none beats"
    )
    for point in front.points:
        margin = "not known" if point.weakest_margin is None else f"{point.weakest_margin:.2f}"
        bus = "not known" if point.worst_bus_v is None else f"{point.worst_bus_v:.2f} V"
        figures = f"{point.mass_change_g:+.0f} g, weakest margin {margin}, peak bus {bus}"
        _print_changes(point, f"  price {point.price:g}, {figures}")
    for words in front.doubts:
        print(f"  {words}")
