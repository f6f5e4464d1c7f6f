"""What pilots noticed at speed reaches load, control and findings, narrows a band and never lowers a load."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from hangar.answers.predicted import Fits
from hangar.answers.readings_beside import readings_beside
from hangar.base.figure import Basis
from hangar.parts import Aircraft, RemarkOnSpeed, SetAside
from hangar.parts.readings import place_of
from hangar.physics.estimating import Z90, censored
from hangar.rules import examples as ex
from hangar.rules import inspect
from hangar.survey import PositionSurvey, survey
from hangar.survey.as_json import survey_json
from hangar.survey.loads_learned import EDGE_LN
from hangar.survey.remarks import LN_SD

CODE, HISTORIES = "ELE", 2000


def remark(speed_m_s: float, *, runs_out: bool, days: int = 3, number: int = 1) -> RemarkOnSpeed:
    aircraft = ex.trainer()
    fit = aircraft.fit(CODE)
    assert fit is not None
    assert fit.surface is not None
    return RemarkOnSpeed(
        aircraft=aircraft.code, surface=fit.surface.code, noted_on=ex.DAY - timedelta(days=days),
        number=number, speed_m_s=speed_m_s, runs_out=runs_out,
    )  # fmt: skip


def weak() -> Aircraft:
    """A trainer whose elevator runs out within the speeds that are looked at."""
    made = ex.trainer()
    fit = made.fit(CODE)
    assert fit is not None
    assert fit.servo_type is not None
    kind = replace(fit.servo_type, ratings=ex.weaker(fit.servo_type, 0.25))
    return replace(
        made, fits=tuple(replace(fit, servo_type=kind) if fit.code == CODE else fit for fit in made.fits)
    )


def noticing(*remarks: RemarkOnSpeed, set_aside: tuple[SetAside, ...] = ()) -> Aircraft:
    return replace(weak(), remarks=remarks, set_aside=set_aside)


def elevator(aircraft: Aircraft) -> PositionSurvey:
    return survey(aircraft, ex.home_day()).positions[CODE]


def predicted_m_s() -> float:
    learned = elevator(noticing(remark(20.0, runs_out=False))).load_learned
    assert learned is not None
    return learned.predicted_m_s


def test_a_surface_that_runs_out_early_is_loaded_more_and_holds_less() -> None:
    plain = elevator(noticing())
    early = elevator(noticing(remark(0.7 * predicted_m_s(), runs_out=True)))
    assert plain.load_nm is not None
    assert early.load_nm is not None
    assert plain.control_left is not None
    assert early.control_left is not None
    assert early.load_times is not None
    assert early.load_nm.expected == pytest.approx(early.load_times.expected * plain.load_nm.expected)
    assert early.load_times.expected > 1.3
    assert early.control_left.expected < plain.control_left.expected
    assert early.load_times.basis is Basis.MEASURED
    assert early.load_times.read_on == ex.DAY - timedelta(days=3)
    full = early.full_to_m_s
    assert full is not None
    assert plain.full_to_m_s is not None
    assert full.expected < plain.full_to_m_s.expected
    informed = survey_json(survey(noticing(remark(0.7 * predicted_m_s(), runs_out=True)), ex.home_day()))
    assert informed["positions"][CODE]["load_times"]["basis"] == "measured"


def test_a_remark_set_aside_restores_every_figure_to_the_bit() -> None:
    read = remark(0.7 * predicted_m_s(), runs_out=True)
    kind, key = place_of(read)
    aside = (SetAside(kind=kind, record=key, since_on=ex.DAY),)
    assert elevator(noticing(read, set_aside=aside)).load_nm == elevator(noticing()).load_nm
    assert elevator(noticing(read, set_aside=aside)).control_left == elevator(noticing()).control_left


def test_holding_at_speed_narrows_the_upper_end_and_never_lowers_the_load() -> None:
    plain = elevator(noticing()).load_nm
    holds = elevator(
        noticing(*(remark(1.1 * predicted_m_s(), runs_out=False, number=n) for n in (1, 2)))
    ).load_nm
    assert plain is not None
    assert holds is not None
    assert holds.expected == pytest.approx(plain.expected)
    assert plain.design is not None
    assert holds.design is not None
    assert 0.7 * plain.design <= holds.design < plain.design


def test_a_remark_that_does_not_fit_waits_and_the_worse_side_counts() -> None:
    absurd = remark(0.2 * predicted_m_s(), runs_out=True)
    learned = elevator(noticing(absurd)).load_learned
    assert learned is not None
    assert learned.remarks[0].waits
    assert learned.mean == 0.0
    assert learned.times > 1.0
    surveyed = survey(noticing(absurd), ex.home_day())
    row = next(row for row in readings_beside(surveyed) if row.record == absurd)
    assert row.word is Fits.NOT
    assert row.look_for is not None
    findings = inspect(noticing(absurd), surveyed)
    every = (folded for finding in findings for folded in finding.with_folded())
    misfits = [finding for finding in every if finding.rule == "does-not-fit"]
    assert len(misfits) == 1


def test_a_remark_of_the_servo_before_counts_no_more() -> None:
    aircraft = noticing(remark(0.7 * predicted_m_s(), runs_out=True, days=30))
    fits = tuple(
        replace(fit, installation=replace(fit.installation, since_on=ex.DAY - timedelta(days=10)))
        if fit.installation is not None
        else fit
        for fit in aircraft.fits
    )
    assert elevator(replace(aircraft, fits=fits)).load_times is None


def test_another_servo_in_a_plan_meets_the_load_that_the_old_one_was_flown_with() -> None:
    aircraft = noticing(remark(0.7 * predicted_m_s(), runs_out=True))
    fits = []
    for fit in aircraft.fits:
        flown = replace(fit, flown_type=fit.servo_type)
        stronger = None if fit.servo_type is None else replace(fit.servo_type, code="strong")
        fits.append(replace(flown, servo=None, servo_type=stronger) if fit.code == CODE else flown)
    planned, now = elevator(replace(aircraft, fits=tuple(fits))).load_times, elevator(aircraft).load_times
    assert planned is not None
    assert now is not None
    assert planned.expected == now.expected


def test_the_bands_hold_over_simulated_histories() -> None:
    """Truth drawn from the prior; two remarks at speeds about those where the surface runs out."""
    draw = np.random.default_rng(88)
    held = []
    for _ in range(HISTORIES):
        truth, mean, variance = draw.normal(0.0, LN_SD), 0.0, LN_SD**2
        for _ in range(2):
            limit = draw.normal(0.0, 0.4)
            runs_out = bool(truth + draw.normal(0.0, EDGE_LN) > limit)
            mean, variance = censored(mean, variance, limit, above=runs_out, edge=EDGE_LN)
        held.append(abs(truth - mean) <= Z90 * math.sqrt(variance))
    assert 0.85 <= sum(held) / HISTORIES <= 0.95


def test_more_remarks_never_widen_the_band() -> None:
    draw = np.random.default_rng(3)
    for _ in range(200):
        mean, variance, truth = 0.0, LN_SD**2, draw.normal(0.0, LN_SD)
        for _ in range(8):
            limit = draw.normal(0.0, 0.5)
            after = censored(mean, variance, limit, above=bool(truth > limit), edge=EDGE_LN)
            assert after[1] <= variance + 1e-12
            mean, variance = after
