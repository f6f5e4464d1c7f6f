"""The current of an aircraft in flight: what its servos should draw, times what flights have told.

    learned = what a flight was measured to draw / what was worked out, of the servos' work alone

Currents at rest and stall currents are never changed by it. Until five readings by two methods agree it
lowers what was worked out to seven tenths at most; it may raise it freely.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import Text, fixed, text
from hangar.parts import Aircraft
from hangar.physics.estimating import Factor
from hangar.physics.factor_track import FactorReading, FactorTrack, FactorVerdict, factor_track
from hangar.physics.tracking import Fate
from hangar.survey.figures import OWN_ARITHMETIC, Facts
from hangar.survey.flown_readings import (
    FlownReading,
    FlownVerdict,
    LearnedCurrent,
    LearnedCurrents,
    flown_readings,
)
from hangar.survey.model import Scenario, ScenarioSurvey
from hangar.survey.scenarios import LoadCases
from hangar.survey.supply import ServoDraw, SupplyModel

SCATTER, SPREAD, PEAK_SCATTER = 0.17, 0.35, 0.25
"""From one flight to the next, from one aircraft to the next, and of the highest current; assumption."""
LEAST_TIMES = 0.7
_SURE_READINGS, _SURE_METHODS = 5, 2
_LEAST_WORK, _MOST_OWN_LN_SD = 0.1, 2.0
_MOST_WITHOUT = 12
_SOURCE = text("A. Gelman et al., Bayesian Data Analysis, 3rd ed. (2013), ch. 3; errors as told with each")


def currents_learned(
    aircraft: Aircraft, model: SupplyModel, cases: LoadCases, today: date
) -> LearnedCurrents | None:
    """What flights have told of the current; None where nothing was read.

    Args:
        aircraft: its flights, logs and charges.
        model: its supply as it is worked out without them.
        cases: the load cases of that.
        today: the day it holds for.
    """
    readings = flown_readings(aircraft, today)
    if not readings:
        return None
    means = [reading for reading in readings if not reading.is_peak]
    peaks = [reading for reading in readings if reading.is_peak]
    return LearnedCurrents(
        _learned(means, model, cases.cases.get(Scenario.CRUISE), today, SCATTER),
        _learned(peaks, model, cases.cases.get(Scenario.PEAK), today, PEAK_SCATTER, lowers=False),
    )


def _learned(
    readings: list[FlownReading], model: SupplyModel, case: ScenarioSurvey | None, today: date,
    scatter: float, *, lowers: bool = True,
) -> LearnedCurrent:  # fmt: skip
    if case is None or case.total_a is None or not case.path_a:
        return LearnedCurrent(tuple(FlownVerdict(reading) for reading in readings))
    total_a = case.total_a.expected
    packs_a = sum(figure.expected for figure in case.path_a.values())
    resting_a = model.standing_a + sum(draw.idle_a for draw in model.draws.values())
    work_a = total_a - resting_a
    if not (work_a > 0.0 and packs_a > 0.0):
        return LearnedCurrent(tuple(FlownVerdict(reading) for reading in readings))
    seen: dict[int, FactorReading] = {}
    for at, reading in enumerate(readings):
        if reading.counts:
            worked_a = max(reading.amps * total_a / packs_a - resting_a, _LEAST_WORK * work_a)
            reading_ln_sd = min(_MOST_OWN_LN_SD, reading.ln_sd * total_a / work_a)
            weight = scatter**2 / (scatter**2 + reading_ln_sd**2)
            seen[at] = FactorReading(reading.read_on.toordinal(), math.log(worked_a / work_a), weight)
    if not seen:
        return LearnedCurrent(tuple(FlownVerdict(reading, packs_a) for reading in readings))
    prior = Factor.begin(scatter, SPREAD)
    track = factor_track(prior, seen.values())
    by_reading = {id(judged.reading): judged for judged in track.judged}

    def expected_a(judged: FactorVerdict | None) -> float:
        times = 1.0 if judged is None else math.exp(judged.expected)
        return (resting_a + times * work_a) * packs_a / total_a

    rows = []
    for at, reading in enumerate(readings):
        judged = by_reading.get(id(seen[at])) if at in seen else None
        rows.append(FlownVerdict(reading, expected_a(judged), judged))
    times = _held(track, rows, lowers=lowers)
    return LearnedCurrent(tuple(rows), track, times, _figure(track, rows, times, prior, today))


def _held(track: FactorTrack, rows: list[FlownVerdict], *, lowers: bool) -> float:
    """The factor that is used: raised freely, lowered with care."""
    taken = [row for row in rows if row.judged is not None and row.judged.fate in (Fate.TAKEN, Fate.CHANGED)]
    methods = {row.reading.record.KIND for row in taken}
    sure = len(taken) >= _SURE_READINGS and len(methods) >= _SURE_METHODS
    if not lowers:
        return max(1.0, track.greater)
    return track.greater if sure else max(LEAST_TIMES, track.greater)


def _figure(track: FactorTrack, rows: list[FlownVerdict], times: float, prior: Factor, today: date) -> Figure:
    low, expected, high = track.band
    before_low, _, before_high = prior.band
    inputs = [
        Input(
            text("expected before any reading, nine times out of ten within"),
            text("{low:.2f} to {high:.2f}", low=before_low, high=before_high), "", Basis.TYPICAL,
        )
    ]  # fmt: skip
    inputs += [_input(row, rows, prior) for row in rows]
    inputs.append(Input(fixed("error that all readings share"), 100.0 * prior.shared_sd, "%", Basis.TYPICAL))
    inputs.append(
        Input(
            text("all of them together, nine times out of ten within"),
            text("{expected:.2f}, {low:.2f} to {high:.2f}", expected=expected, low=low, high=high), "",
            Basis.MEASURED,
        )
    )  # fmt: skip
    newest = max(row.reading.read_on for row in rows if row.judged is not None)
    age = text("{day}, {days} days ago", day=newest, days=(today - newest).days)
    inputs.append(Input(text("newest reading"), age, "", Basis.MEASURED))
    if not math.isclose(times, expected):
        inputs.append(Input(text("taken for loads, on the safe side"), times, "ratio", Basis.MEASURED))
    formula = text(
        "current measured / current worked out, of the servos' work; readings joined by their errors"
    )
    return Figure(
        text("current in flight, factor"), times, "ratio", min(low, times), max(high, times),
        Basis.MEASURED, Working(formula, tuple(inputs), _SOURCE), newest,
    )  # fmt: skip


def _input(row: FlownVerdict, rows: list[FlownVerdict], prior: Factor) -> Input:
    reading, judged = row.reading, row.judged
    return Input(_told(reading, judged, _without(row, rows, prior)), reading.amps, "A", Basis.MEASURED)


def _without(row: FlownVerdict, rows: list[FlownVerdict], prior: Factor) -> float | None:
    """What the factor would be without one reading; None where it has no part in it."""
    counted = [other.judged.reading for other in rows if other.judged is not None]
    if row.judged is None or len(counted) > _MOST_WITHOUT:
        return None
    other_readings = [reading for reading in counted if reading is not row.judged.reading]
    return math.exp(factor_track(prior, other_readings).state.mean)


def _told(reading: FlownReading, judged: FactorVerdict | None, without: float | None) -> Text:
    if reading.is_aside:
        return text("{reading}: set aside", reading=reading.name)
    if reading.lapsed is not None:
        return text("{reading}: counts no more, {why}", reading=reading.name, why=reading.lapsed)
    if judged is None:
        return reading.name
    if judged.fate is not Fate.TAKEN:
        return text(
            "{reading}: {off:+.1f} deviations off, {told}",
            reading=reading.name,
            off=judged.z,
            told=judged.fate,
        )
    share = f"{100.0 * judged.share:.0f}"
    if without is None:
        return text(
            "{reading}: {off:+.1f} deviations off, brings {share} %",
            reading=reading.name,
            off=judged.z,
            share=share,
        )
    return text(
        "{reading}: {off:+.1f} deviations off, brings {share} %; {without:.2f} without it",
        reading=reading.name, off=judged.z, share=share, without=without,
    )  # fmt: skip


def with_learned(
    model: SupplyModel, learned: LearnedCurrents, changed: frozenset[str] = frozenset()
) -> SupplyModel:
    """The supply with its servos drawing in flight what flights have told.

    Args:
        model: the supply as it is worked out.
        learned: what flights have told.
        changed: positions with a servo that nobody has flown there; their current is only raised.
    """
    mean, draws = learned.mean, model.draws
    if mean.figure is not None:
        draws = {
            code: _flown(draw, mean.figure, max(1.0, mean.times) if code in changed else mean.times)
            for code, draw in draws.items()
        }
    return replace(model, draws=draws, learned=learned)


def _flown(draw: ServoDraw, figure: Figure, times: float) -> ServoDraw:
    """A servo with the current of its work times the factor, and never above its stall current."""
    facts = Facts()
    facts.use(draw.average)
    facts.use(figure)
    amps = draw.idle_a + times * max(0.0, draw.average_a - draw.idle_a)
    if draw.stall_a is not None:
        amps = min(amps, draw.idle_a + draw.stall_a)
    inputs = tuple(facts.inputs)
    working = Working(
        text("idle current + current of its work x what flights have told"), inputs, OWN_ARITHMETIC
    )
    average = Figure(draw.average.name, amps, "A", basis=Basis.COMPUTED, working=working)
    return replace(draw, average=average, work_times=times)
