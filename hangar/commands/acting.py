"""The commands that change records: fit, take-off, log and carry-out; each act is one edit."""

from __future__ import annotations

import argparse
from collections.abc import Callable
from typing import TYPE_CHECKING, Concatenate, ParamSpec

from hangar.base.errors import BadInput
from hangar.base.text import Text, listed, text
from hangar.commands.opening import NO_WARNING, fleet_at
from hangar.commands.speaking import reader

if TYPE_CHECKING:
    from hangar.acts.session import Session
    from hangar.parts import Plan, PlanLine, ServoFit
    from hangar.store import Edit

P = ParamSpec("P")


def do_and_tell(
    session: Session, act: Callable[Concatenate[Edit, P], Text], /, *args: P.args, **kwargs: P.kwargs
) -> None:
    """Do an act and print what it says it did."""
    sentences: list[Text] = []

    def noted(edit: Edit) -> Text:
        sentences.append(act(edit, *args, **kwargs))
        return sentences[0]

    session.do(noted)
    print(f"{reader().put(sentences[0])}.")


def run_fit(arguments: argparse.Namespace) -> int:
    from hangar.acts.fitting import fit_servo
    from hangar.acts.session import Session

    with fleet_at(arguments.fleet, writing=True) as fleet:
        session = Session(fleet)
        fit = _position(session, arguments.aircraft, arguments.position)
        do_and_tell(session, fit_servo, fit, arguments.servo, session.today)
    return NO_WARNING


def run_take_off(arguments: argparse.Namespace) -> int:
    from hangar.acts.fitting import take_off
    from hangar.acts.session import Session

    with fleet_at(arguments.fleet, writing=True) as fleet:
        session = Session(fleet)
        fit = _position(session, arguments.aircraft, arguments.position)
        do_and_tell(session, take_off, fit, session.today, to_bin=arguments.to_bin)
    return NO_WARNING


def run_log(arguments: argparse.Namespace) -> int:
    from hangar.acts.flights import MustNotFly, flight_today, log_flights
    from hangar.acts.hindrances import Hindrances
    from hangar.acts.session import Session
    from hangar.parts import Pack

    reason = arguments.although_held
    if reason is not None and not reason.strip():
        raise BadInput("log --although-held needs a reason; say why the flight is logged all the same.")
    with fleet_at(arguments.fleet, writing=True) as fleet:
        session = Session(fleet)
        code = session.aircraft(arguments.aircraft).code
        for tag in arguments.pack or ():
            if not session.records(Pack, tag=tag):
                raise BadInput('There is no pack "{tag}" in this fleet; give the tag of a pack.', tag=tag)
        remarks = " ".join(words for words in (arguments.remarks, reason) if words) or None
        packs = ", ".join(arguments.pack or ())
        flight = flight_today(session, code, packs, arguments.minutes, session.today, remarks)
        try:
            hindrances = Hindrances(session.fleet, session.today)
            do_and_tell(session, log_flights, [flight], hindrances, although=reason is not None)
        except MustNotFly as fault:
            raise BadInput(
                "{refusal} Give --although-held REASON to log it all the same.", refusal=fault.text
            ) from fault
    return NO_WARNING


def run_carry_out(arguments: argparse.Namespace) -> int:
    from hangar.acts.plans import carry_out
    from hangar.acts.session import Session
    from hangar.answers.plans import tags_offered

    with fleet_at(arguments.fleet, writing=True) as fleet:
        session = Session(fleet)
        plan = _plan(session, arguments.plan)
        for line in _lines(plan, arguments.line):
            library = session.library()
            tag = next(iter(tags_offered(session, line, library)), "")
            aircraft = session.aircraft(plan.aircraft)
            do_and_tell(session, carry_out, plan, line, aircraft, library, session.today, tag)
    return NO_WARNING


def _position(session: Session, aircraft: str, code: str) -> ServoFit:
    whole = session.aircraft(aircraft)
    fit = whole.fit(code)
    if fit is None:
        known = listed((fit.code for fit in whole.fits), joint=",", most=0) if whole.fits else text("none")
        raise BadInput(
            '{aircraft} has no position "{code}"; its positions: {known}.',
            aircraft=whole.code,
            code=code,
            known=known,
        )
    return fit


def _plan(session: Session, code: str) -> Plan:
    from hangar.answers.plans import plan_named, plans_of

    plan = plan_named(session, code)
    if plan is None:
        plans = plans_of(session)
        known = listed((plan.code for plan in plans), joint=",", most=0) if plans else text("none")
        raise BadInput('There is no plan "{code}"; the plans are: {known}.', code=code, known=known)
    return plan


def _lines(plan: Plan, numbers: list[int] | None) -> tuple[PlanLine, ...]:
    """The lines of these numbers, or all that are open."""
    from hangar.answers.board import open_lines

    if numbers is None:
        lines = open_lines(plan)
        if not lines:
            raise BadInput("Plan {code} has no open line.", code=plan.code)
        return tuple(lines)
    by_number = {line.number: line for line in plan.lines}
    missing = [number for number in numbers if number not in by_number]
    if missing:
        raise BadInput(
            "Plan {code} has no line {number}; its lines: {known}.",
            code=plan.code,
            number=missing[0],
            known=listed(by_number, joint=",", most=0) if by_number else text("none"),
        )
    return tuple(by_number[number] for number in dict.fromkeys(numbers))
