"""Proofs of a refit ticked off, and the aircraft released to the line."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, time

from hangar.answers.board import (
    DIRECTIONS,
    blank_readings,
    last_done,
    left_open,
    refit_day,
    release_gaps,
)
from hangar.answers.judging import Judgement
from hangar.base.errors import BadInput
from hangar.base.text import Text, as_text, fixed, joined, plural, series, text
from hangar.parts import Aircraft, Airframe, BenchCheck, Plan, PlanProof, ServoFit
from hangar.parts.choices import AircraftState
from hangar.parts.fields import columns, key_of
from hangar.store import Edit


def tick_gate(edit: Edit, plan: Plan, gate: str, ticked: bool, aircraft: Aircraft, today: date) -> Text:
    """Tick a gate of the bench check today, or take the tick back.

    The proof of the directions is noted at every flight control with a servo, and taken back there too.

    Raises: BadInput where a direction is noted as wrong.
    """
    before = edit.record(PlanProof, plan.code, gate)
    controls = _flight_controls(aircraft) if gate == DIRECTIONS else ()
    if ticked:
        wrong = [fit.code for fit in controls if _said_wrong(fit, last_done(plan))]
        if wrong:
            raise BadInput(
                "The direction of {codes} is noted as wrong; put it right before {gate}.",
                codes=series(wrong, ","),
                gate=gate,
            )
        edit.put(PlanProof(plan=plan.code, proof=gate, ticked_on=today))
        for fit in controls:
            _note_direction(edit, fit, today)
        return text("Tick proof {gate}", gate=gate)
    if before is not None:
        edit.remove(PlanProof, (plan.code, gate))
        for fit in controls:
            _forget_direction(edit, fit, before.ticked_on)
    return text("Untick proof {gate}", gate=gate)


def _flight_controls(aircraft: Aircraft) -> tuple[ServoFit, ...]:
    return tuple(fit for fit in aircraft.fits if fit.servo is not None and fit.function.is_flight)


def _said_wrong(fit: ServoFit, since: date | None) -> bool:
    """Whether the newest word on the direction since the work is that it is wrong."""
    noted = [
        bench_check
        for bench_check in fit.bench_checks
        if bench_check.direction_ok is not None and (since is None or bench_check.checked_at.date() >= since)
    ]
    newest = max(noted, key=lambda bench_check: bench_check.checked_at, default=None)
    return newest is not None and newest.direction_ok is False


def _note_direction(edit: Edit, fit: ServoFit, today: date) -> None:
    of_day = [bench_check for bench_check in fit.bench_checks if bench_check.checked_at.date() == today]
    if of_day:
        newest = max(of_day, key=lambda bench_check: bench_check.checked_at)
        edit.change(BenchCheck, key_of(newest), direction_ok=True)
        return
    when = datetime.combine(today, time(12))
    place = fit.position
    edit.put(BenchCheck(aircraft=place.aircraft, position=place.code, checked_at=when, direction_ok=True))


def _forget_direction(edit: Edit, fit: ServoFit, day: date) -> None:
    """What was noted as right that day is not known again; a check that held nothing else goes."""
    for check in fit.bench_checks:
        if check.checked_at.date() == day and check.direction_ok is True:
            blanked = replace(check, direction_ok=None)
            if blanked == BenchCheck(
                aircraft=blanked.aircraft, position=blanked.position, checked_at=blanked.checked_at
            ):
                edit.remove(BenchCheck, key_of(check))
            else:
                edit.put(blanked)


class OpenPoints(BadInput):
    """An aircraft was to be released with something open; that is done only when it is confirmed.

    Attributes:
        reasons: what is open.
    """

    def __init__(self, reasons: Iterable[Text]) -> None:
        self.reasons = tuple(reasons)
        super().__init__(joined(*self.reasons))


def open_points(plan: Plan, judgement: Judgement) -> tuple[Text, ...]:
    """What is open before a release: warnings, snags that ground, readings left blank."""
    names = {spec.name: fixed(spec.label) for spec in columns(BenchCheck)}
    return (
        *left_open(judgement.aircraft, judgement.findings),
        *(
            text(
                "Not read at {code}: {readings}.",
                code=code,
                readings=series((names[name] for name in blank), ","),
            )
            for code, blank in blank_readings(plan, judgement.aircraft).items()
        ),
    )


def release(
    edit: Edit,
    plan: Plan,
    aircraft: Aircraft,
    judgement: Judgement | None,
    today: date,
    *,
    although: bool = False,
) -> Text:
    """Put the aircraft back on the line; its refit is of the day of the last work.

    Args:
        edit: where it is done.
        plan: the plan whose work is proved.
        aircraft: as it stands.
        judgement: what is found of it; None where it could not be judged.
        today: the day of the release.
        although: release it also with something open; the history then says so.

    Raises:
        OpenPoints: warnings, snags or blank readings are open, or it cannot be judged.
        BadInput: with everything that must not be missing.
    """
    gaps = release_gaps(plan, aircraft)
    if gaps:
        raise BadInput(joined(*map(as_text, gaps)))
    reasons = (fixed("It could not be judged."),) if judgement is None else open_points(plan, judgement)
    if reasons and not although:
        raise OpenPoints(reasons)
    edit.change(Airframe, (aircraft.code,), state=AircraftState.ON_THE_LINE, refit_on=refit_day(plan, today))
    if reasons:
        return plural(
            "Release {code} to the line with {count} thing open",
            "Release {code} to the line with {count} things open",
            count=len(reasons),
            code=aircraft.code,
        )
    return text("Release {code} to the line", code=aircraft.code)
