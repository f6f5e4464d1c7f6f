"""Proofs of a refit ticked off, and the aircraft released; every step is one undoable edit."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time
from typing import TYPE_CHECKING

from hangar.answers.judging import Judgement
from hangar.base.errors import BadInput
from hangar.parts import Airframe, BenchCheck, Plan, PlanProof, ServoFit
from hangar.parts.choices import AircraftState
from hangar.parts.fields import columns, key_of
from hangar.refit.board import (
    DIRECTIONS,
    blank_readings,
    last_done,
    left_open,
    refit_day,
    release_gaps,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import counted, put, say

if TYPE_CHECKING:
    from hangar.store import Edit


def tick_gate(desk: Desk, plan: Plan, gate: str, ticked: bool) -> None:
    """Tick a gate of the bench check today, or take the tick back.

    The proof of the directions is noted at every flight control with a servo, and taken back there too.

    Raises: BadInput where a direction is noted as wrong.
    """
    key = (plan.code, gate)
    before = desk.fleet.record(PlanProof, *key)
    controls = _flight_controls(desk, plan) if gate == DIRECTIONS else ()
    if ticked:
        wrong = [fit.code for fit in controls if _said_wrong(fit, last_done(plan))]
        if wrong:
            raise BadInput(
                say(
                    "The direction of {codes} is noted as wrong; put it right before {gate}.",
                    codes=", ".join(wrong),
                    gate=gate,
                )
            )
        made = PlanProof(plan=plan.code, proof=gate, ticked_on=desk.today)

        def tick(edit: Edit) -> None:
            edit.put(made)
            for fit in controls:
                _note_direction(edit, fit, desk.today)

        desk.change(say("Tick proof {gate}", gate=gate), tick)
    elif before is not None:
        day = before.ticked_on

        def untick(edit: Edit) -> None:
            edit.remove(PlanProof, key)
            for fit in controls:
                _forget_direction(edit, fit, day)

        desk.change(say("Untick proof {gate}", gate=gate), untick)


def _flight_controls(desk: Desk, plan: Plan) -> tuple[ServoFit, ...]:
    fits = desk.aircraft(plan.aircraft).fits
    return tuple(fit for fit in fits if fit.servo is not None and fit.function.is_flight)


def _said_wrong(fit: ServoFit, since: date | None) -> bool:
    """Whether the newest word on the direction since the work is that it is wrong."""
    noted = [
        one
        for one in fit.bench_checks
        if one.direction_ok is not None and (since is None or one.checked_at.date() >= since)
    ]
    newest = max(noted, key=lambda one: one.checked_at, default=None)
    return newest is not None and newest.direction_ok is False


def _note_direction(edit: Edit, fit: ServoFit, today: date) -> None:
    of_day = [one for one in fit.bench_checks if one.checked_at.date() == today]
    if of_day:
        newest = max(of_day, key=lambda one: one.checked_at)
        edit.change(BenchCheck, key_of(newest), direction_ok=True)
        return
    when = datetime.combine(today, time(12))
    place = fit.position
    edit.put(BenchCheck(aircraft=place.aircraft, position=place.code, checked_at=when, direction_ok=True))


def _forget_direction(edit: Edit, fit: ServoFit, day: date) -> None:
    """What was noted as right that day is not known again; a check that held nothing else goes."""
    for check in fit.bench_checks:
        if check.checked_at.date() == day and check.direction_ok is True:
            left = replace(check, direction_ok=None)
            if left == BenchCheck(aircraft=left.aircraft, position=left.position, checked_at=left.checked_at):
                edit.remove(BenchCheck, key_of(check))
            else:
                edit.put(left)


class StillOpen(BadInput):
    """An aircraft was to be released with something open; that is done only when it is confirmed.

    Attributes:
        reasons: what is open, in the keeper's language.
    """

    def __init__(self, reasons: tuple[str, ...]) -> None:
        super().__init__(" ".join(reasons))
        self.reasons = reasons


def open_points(plan: Plan, judgement: Judgement) -> tuple[str, ...]:
    """What is open before a release: warnings, snags that ground, readings left blank; in words."""
    told = [put(words) for words in left_open(judgement.aircraft, judgement.findings)]
    names = {spec.name: say(spec.label) for spec in columns(BenchCheck)}
    told += [
        say("Not read at {code}: {readings}.", code=code, readings=", ".join(names[name] for name in blank))
        for code, blank in blank_readings(plan, judgement.aircraft).items()
    ]
    return tuple(told)


def release(desk: Desk, plan: Plan, *, although: bool = False) -> None:
    """Put the aircraft back on the line; its refit is of the day of the last work.

    Args:
        although: release it also with something open; the history then says so.

    Raises:
        StillOpen: warnings, snags or blank readings are open, or it cannot be judged.
        BadInput: with everything that must not be missing.
    """
    aircraft = desk.aircraft(plan.aircraft)
    gaps = release_gaps(plan, aircraft)
    if gaps:
        raise BadInput(" ".join(map(put, gaps)))
    judgement = desk.judgement(plan.aircraft)
    reasons = (say("It could not be judged."),) if judgement is None else open_points(plan, judgement)
    if reasons and not although:
        raise StillOpen(reasons)
    label = say("Release {code} to the line", code=plan.aircraft)
    if reasons:
        label = counted(
            len(reasons),
            say("Release {code} to the line with {count} thing open"),
            say("Release {code} to the line with {count} things open"),
        ).replace("{code}", plan.aircraft)
    desk.change(
        label,
        lambda edit: edit.change(
            Airframe,
            (plan.aircraft,),
            state=AircraftState.ON_THE_LINE,
            refit_on=refit_day(plan, desk.today),
        ),
    )
