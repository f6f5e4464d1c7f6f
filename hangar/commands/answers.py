"""The commands that answer questions: inspect and survey."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from hangar.base.text import NOTHING, Arg, Text, fixed, text
from hangar.commands.opening import LOOK, NO_WARNING, basis_of, chosen, fleet_at, print_json
from hangar.commands.speaking import reader, units_of

if TYPE_CHECKING:
    from hangar.base.figure import Figure
    from hangar.base.reader import Reader
    from hangar.parts import Aircraft
    from hangar.rules.finding import Finding
    from hangar.survey.model import FigureSet, Survey


def run_inspect(arguments: argparse.Namespace) -> int:
    from hangar.answers.judging import judge_aircraft
    from hangar.rules import findings_as_json
    from hangar.rules.finding import Finding, Level

    with fleet_at(arguments.fleet) as fleet:
        basis, aircraft = basis_of(fleet), chosen(fleet, arguments.aircraft)
    warning_open, every = False, list[Finding]()
    for plane in aircraft:
        # One after the other: what was worked out for thousands of aircraft is too much to hold.
        findings = judge_aircraft(plane, basis, field_day=arguments.field_day).findings
        if arguments.json:
            every += findings
        else:
            _print_findings(plane, findings, reader(units_of(basis)))
        warning_open = warning_open or any(
            finding.level is Level.WARNING and finding.is_open for finding in findings
        )
    if arguments.json:
        print_json(findings_as_json(every))
    return LOOK if warning_open else NO_WARNING


def _print_findings(aircraft: Aircraft, findings: Sequence[Finding], reading: Reader) -> None:
    from hangar.rules import summary
    from hangar.rules.releasing import unjudged_words

    unjudged, verdict = unjudged_words(aircraft), summary(findings)
    if unjudged:
        verdict = text("NOT JUDGED, {why}; {summary}", why=unjudged, summary=verdict)
    print(f"{aircraft.code}  {aircraft.airframe.name}: {reading.put(verdict)}")
    for finding in findings:
        sentence, until = finding.sentence, finding.accepted_until
        if until:
            sentence = text("{finding} (accepted until {until})", finding=sentence, until=until)
        print(f"  {reading.put(finding.level).upper():10} {finding.rule}: {reading.put(sentence)}")
        to_do = text("To do: {remedy}", remedy=finding.remedy) if finding.remedy else NOTHING
        for line in (finding.detail, to_do):
            if line:
                print(f"             {reading.put(line)}")


def run_survey(arguments: argparse.Namespace) -> int:
    from hangar.survey import survey
    from hangar.survey.as_json import survey_json

    with fleet_at(arguments.fleet) as fleet:
        basis, aircraft = basis_of(fleet), fleet.aircraft(arguments.aircraft)
    surveyed, reading = survey(aircraft, basis.conditions()), reader(units_of(basis))
    if arguments.json:
        print_json(survey_json(surveyed))
        return NO_WARNING
    print(f"{surveyed.aircraft.code}  {surveyed.aircraft.airframe.name}")
    for words, figure in _named_figures(surveyed):
        shown = reading.show(figure.expected, figure.unit)
        if figure.low is not None and figure.design is not None:
            ends = [reading.show(end, figure.unit) for end in (figure.low, figure.design)]
            shown = reading.say("{value} ({low} to {high})", value=shown, low=ends[0], high=ends[1])
        print(f"  {reading.put(words)}: {shown}, {reading.put(figure.basis)}")
        print(f"      {reading.put(figure.working.formula)}; {reading.put(figure.working.source)}")
    return NO_WARNING


def _named_figures(surveyed: Survey) -> Iterator[tuple[Text, Figure]]:
    """Every figure with what it is of and what it is called, as the window has it."""
    from hangar.survey import Scenario

    scenarios = {str(scenario): scenario for scenario in Scenario}
    sets: list[tuple[Arg, FigureSet]] = [
        *surveyed.positions.items(),
        *surveyed.scenarios.items(),
        (fixed("supply"), surveyed.supply),
        (fixed("aircraft"), surveyed.airframe),
    ]
    for where, figures in sets:
        for name, figure in figures.figures():
            of = name.partition(" ")[2]
            if of:
                part = scenarios.get(of, of)
                yield text("{where}, {figure}, {part}", where=where, figure=figure.name, part=part), figure
            else:
                yield text("{where}, {figure}", where=where, figure=figure.name), figure
