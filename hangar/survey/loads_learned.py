"""What pilots noticed of a surface at speed: "runs out above 25 m/s", "still holds at 20 m/s".

A surface runs out where the air's moment, which goes with the square of the speed, reaches what its servos
hold. A remark therefore says that the true load over the one worked out lies above or below a limit. Remarks
raise a load freely; they never lower the expected one, and its upper end to seven tenths at most.
"""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import date

from hangar.base.errors import BadInput
from hangar.base.figure import Band, Basis, Figure, Input, Working
from hangar.base.text import Text, text
from hangar.physics.estimating import Z90, censored
from hangar.physics.tracking import DOES_NOT_FIT
from hangar.survey.holding import SurfaceHold, scarcest
from hangar.survey.load_question import LoadQuestion
from hangar.survey.loads import Load, PointLoad
from hangar.survey.remarks import LN_SD, LearnedLoad, RemarkVerdict
from hangar.survey.servo_types import rating_of
from hangar.survey.strength import loops_of
from hangar.survey.surface_air import Moments

EDGE_LN = 0.20
"""How soft it is where a surface runs out, of the logarithm; assumption."""
LEAST_TIMES = 0.7
_SOURCE = text(
    "C. E. Rasmussen and C. K. I. Williams, Gaussian Processes for Machine Learning, eq. 3.82 to 3.87"
)


def load_learned(question: LoadQuestion, load: Load) -> LearnedLoad | None:
    """The factor of a surface's load by its remarks; None where none counts or nothing was predicted."""
    predicted = runs_out_at_m_s(question, load)
    if not question.remarks or predicted is None:
        return None
    mean, variance = 0.0, LN_SD**2
    greater = mean
    judged = []
    for remark in sorted(question.remarks, key=lambda remark: (remark.noted_on, remark.number)):
        limit = -2.0 * math.log(remark.speed_m_s / predicted)
        wide = math.sqrt(variance + EDGE_LN**2)
        z = (limit - mean) / wide if remark.runs_out else (mean - limit) / wide
        after = censored(mean, variance, limit, above=remark.runs_out, edge=EDGE_LN)
        waits = z > DOES_NOT_FIT
        judged.append(RemarkVerdict(remark, z, waits))
        if waits:
            greater = max(greater, after[0])
            continue
        mean, variance = after
    times = max(1.0, math.exp(max(mean, greater)))
    figure = _figure(predicted, mean, variance, times, judged)
    return LearnedLoad(predicted, mean, variance, times, tuple(judged), figure)


def runs_out_at_m_s(question: LoadQuestion, load: Load) -> float | None:
    """Speed up to which the surface holds its throw with the servo it was flown with."""
    fit, volts = question.holder, question.holder_v
    rating = None if fit is None or fit.servo_type is None else rating_of(fit.servo_type)
    if fit is None or rating is None or volts is None or not load.points:
        return None
    loop, _ = loops_of(fit, rating.at(volts).stall_torque_nm, question.defaults)
    if loop is None:
        return None
    holding = SurfaceHold(question, load, loop, None, Basis.COMPUTED)
    worst = scarcest(holding.points())
    try:
        return None if worst is None else holding.full_to_m_s(worst)
    except BadInput:
        return None


def _figure(
    predicted: float, mean: float, variance: float, times: float, judged: list[RemarkVerdict]
) -> Figure:
    wide = math.exp(Z90 * LN_SD)
    before = text("{low:.2f} to {high:.2f}", low=1.0 / wide, high=wide)
    low, high = (math.exp(mean + side * Z90 * math.sqrt(variance)) for side in (-1.0, 1.0))
    inputs = [
        Input(text("expected before any reading, nine times out of ten within"), before, "", Basis.TYPICAL),
        Input(text("should run out at"), predicted, "m/s"),
    ]
    inputs += [Input(_words(row), row.remark.speed_m_s, "m/s", Basis.MEASURED) for row in judged]
    together = text("{expected:.2f}, {low:.2f} to {high:.2f}", expected=math.exp(mean), low=low, high=high)
    inputs.append(
        Input(text("all of them together, nine times out of ten within"), together, "", Basis.MEASURED)
    )
    newest: date = max(row.remark.noted_on for row in judged)
    return Figure(
        text("load in flight over what is worked out"), times, "ratio", min(low, times), max(high, times),
        Basis.MEASURED,
        Working(text("each remark says that the load lies above or below a limit"), tuple(inputs), _SOURCE),
        newest,
    )  # fmt: skip


def _words(row: RemarkVerdict) -> Text:
    remark = row.remark
    sentence = text("runs out") if remark.runs_out else text("still holds")
    if row.waits:
        return text("{day}: {said}; does not fit, waits for another", day=remark.noted_on, said=sentence)
    return text(
        "{day}: {said}, {off:+.1f} deviations against what was expected",
        day=remark.noted_on, said=sentence, off=row.z,
    )  # fmt: skip


def scaled(load: Load, learned: LearnedLoad) -> Load:
    """A load with its moments as pilots have told."""
    points = tuple(_point(point, learned) for point in load.points)
    worst = max(points, key=lambda point: point.needed_nm.expected)
    before = load.load_nm
    band = worst.needed_nm
    factor = Input(learned.figure.name, learned.times, "ratio", Basis.MEASURED)
    working = Working(before.working.formula, (*before.working.inputs, factor), before.working.source)
    figure = Figure(
        before.name, band.expected, before.unit, band.low, band.design, before.basis, working,
        learned.figure.read_on,
    )  # fmt: skip
    return replace(load, load_nm=figure, points=points, times=learned.times)


def scaled_band(band: Band, learned: LearnedLoad) -> Band:
    """Low, expected and high of a load as pilots have told: moved by the factor, narrowed about it."""
    if not band.expected > 0.0:
        return band
    expected = learned.times * band.expected
    shape = learned.narrowing
    high = expected * (max(band.design, band.expected) / band.expected) ** shape
    low = expected * (max(band.low, 1e-9) / band.expected) ** shape
    high = max(high, LEAST_TIMES * band.design, expected)
    return Band(min(low, expected), expected, high)


def _point(point: PointLoad, learned: LearnedLoad) -> PointLoad:
    table, shape = point.moments, learned.narrowing
    rows = [
        scaled_band(Band(table.low_share * expected, expected, high), learned)
        if expected > 0.0
        else Band(table.low_share * expected, learned.times * expected, learned.times * high)
        for expected, high in zip(table.expected, table.high, strict=True)
    ]
    low_share = table.low_share**shape if table.low_share > 0.0 else table.low_share
    moments = Moments(
        table.angles_deg, tuple(row.expected for row in rows), tuple(row.design for row in rows), low_share
    )
    needed, moment = scaled_band(point.needed_nm, learned), scaled_band(point.moment_nm, learned)
    return replace(point, moments=moments, needed_nm=needed, moment_nm=moment)
