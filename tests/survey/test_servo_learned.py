"""A servo on the bench: its currents, its speed and its give count wherever the figures stand."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import datetime
from typing import Any

import numpy as np
import pytest

from hangar.base.figure import Basis
from hangar.parts import Aircraft, ServoBench, ServoFit, ServoTiming, SetAside
from hangar.parts.choices import Drive
from hangar.parts.readings import place_of
from hangar.rules import Finding, inspect
from hangar.rules import examples as ex
from hangar.survey import Scenario, survey
from hangar.survey.as_json import survey_json
from hangar.survey.servo_learned import servo_measured
from hangar.survey.servos import rating_of

CODE = "ELE"
WHEN = datetime(2026, 5, 1, 10)  # noqa: DTZ001


def fit_of(aircraft: Aircraft) -> ServoFit:
    servo_fit = aircraft.fit(CODE)
    assert servo_fit is not None
    return servo_fit


def having(*benches: ServoBench, timings: tuple[ServoTiming, ...] = (), **parts: Any) -> Aircraft:
    made = ex.trainer()
    fit = replace(fit_of(made), benches=benches, timings=timings, **parts)
    return replace(made, fits=tuple(fit if servo_fit.code == CODE else servo_fit for servo_fit in made.fits))


def bench(**values: Any) -> ServoBench:
    return ServoBench(servo=fit_of(ex.trainer()).tag or "", tested_at=WHEN, at_v=5.0, **values)


def figures(aircraft: Aircraft) -> dict[str, object]:
    found = survey(aircraft, ex.home_day())
    position, peak = found.positions[CODE], found.scenarios[Scenario.PEAK]
    return {
        "idle": position.idle_a.expected if position.idle_a else None,
        "transit": position.transit_s.expected if position.transit_s else None,
        "stall": position.stall_a.expected if position.stall_a else None,
        "mean": found.supply.mean_a.expected if found.supply.mean_a else None,
        "peak": peak.total_a.expected if peak.total_a else None,
        "json": str(survey_json(found)["supply"]),
    }


def test_currents_of_the_bench_reach_network_means_and_json_and_leave_them_to_the_bit() -> None:
    plain = figures(having())
    read = bench(idle_ma=30.0, moving_ma=400.0, stalled_ma=1500.0)
    informed = figures(having(read))
    assert informed["idle"] == pytest.approx(0.030)
    assert informed["peak"] > plain["peak"]  # type: ignore[operator]
    assert informed["mean"] > plain["mean"]  # type: ignore[operator]
    assert informed["json"] != plain["json"]
    kind, key = place_of(read)
    assert figures(having(read, set_aside=(SetAside(kind=kind, record=key, since_on=ex.DAY),))) == plain
    assert figures(having()) == plain


def test_a_stall_current_goes_with_the_volts_and_is_called_measured() -> None:
    aircraft = having(bench(stalled_ma=1500.0))
    figure = survey(aircraft, ex.home_day()).positions[CODE].stall_a
    assert figure is not None
    assert servo_measured(fit_of(aircraft)).stall_per_v == pytest.approx(0.3)


def test_the_newest_bench_governs() -> None:
    older = replace(bench(idle_ma=60.0), tested_at=datetime(2025, 5, 1, 10))  # noqa: DTZ001
    assert figures(having(bench(idle_ma=20.0), older))["idle"] == pytest.approx(0.020)
    idle = servo_measured(fit_of(having(bench(idle_ma=20.0), older))).idle_ma
    assert idle is not None
    assert idle.basis is Basis.MEASURED
    assert "2026-05-01" in str(idle.working.inputs[0].name)


def test_a_timed_servo_is_as_fast_as_it_was_timed() -> None:
    plain = figures(having())["transit"]
    rated = rating_of(fit_of(having()).servo_type)  # type: ignore[arg-type]
    assert rated is not None
    slow_s = 2.0 * math.radians(60.0) / rated.at(5.0).no_load_rad_s
    timing = ServoTiming(
        servo=fit_of(ex.trainer()).tag or "",
        timed_at=WHEN,
        at_v=5.0,
        sweep_s=slow_s,
        sweeps=5,
        pictures_hz=60.0,
    )
    assert figures(having(timings=(timing,)))["transit"] == pytest.approx(2.0 * plain, rel=1e-6)  # type: ignore[operator]


@pytest.mark.parametrize(
    ("drive", "grams"), [(Drive.ANALOG, (300.0, 600.0)), (Drive.DIGITAL, (800.0, 1800.0))]
)
def test_weights_on_the_arm_tell_the_loop_within_a_band_that_holds(
    drive: Drive, grams: tuple[float, float]
) -> None:
    draw = np.random.default_rng(17)
    base = fit_of(ex.trainer())
    assert base.servo_type is not None
    stall = 0.35 if drive is Drive.ANALOG else 1.6
    rows = tuple(replace(row, torque_nm=stall * row.rated_v / 5.0) for row in base.servo_type.ratings)
    kind = replace(base.servo_type, drive=drive, dead_band_us=5.0, ratings=rows)
    full_usual, spread, pointer = (25.0, 0.25, 0.25) if drive is Drive.ANALOG else (1.5, 0.4, 0.06)
    held, off, count = 0, [], 500
    for _ in range(count):
        start = 0.45 * math.exp(0.4 * draw.standard_normal())
        full = max(full_usual * math.exp(spread * draw.standard_normal()), start + 0.3)
        slope = (full - start) / rating_stall(kind)
        ways: dict[str, float] = {}
        for name, mass in zip(("first", "second"), grams, strict=True):
            torque = 9.80665 * mass / 1000.0 * 0.030
            error = 0.0
            for _ in range(20):  # the arm leans, so the weight hangs nearer to the middle
                error = start + slope * torque * math.cos(math.radians(error))
            error += pointer * draw.standard_normal()
            middle = draw.uniform(-3, 3)
            ways |= {
                f"{name}_mass_g": mass,
                f"{name}_one_deg": middle + error,
                f"{name}_other_deg": middle - error,
            }
        read = bench(radius_mm=30.0, **ways)
        figure = servo_measured(replace(base, servo_type=kind, benches=(read,))).half_torque_deg
        assert figure is not None
        assert figure.low is not None
        assert figure.design is not None
        truth = start + slope * 0.5 * rating_stall(kind)
        held += figure.low <= truth <= figure.design
        off.append(abs(figure.expected / truth - 1.0))
    assert 0.82 <= held / count <= 0.97
    assert float(np.median(off)) < 0.12


def rating_stall(kind: Any) -> float:
    rated = rating_of(kind)
    assert rated is not None
    return rated.at(5.0).stall_torque_nm


def test_weights_on_the_bench_soften_the_loop_wherever_it_is_asked() -> None:
    soft = bench(
        radius_mm=30.0, first_mass_g=300.0, first_one_deg=14.0, first_other_deg=-14.0, second_mass_g=600.0,
        second_one_deg=27.0, second_other_deg=-27.0,
    )  # fmt: skip
    plain = survey(having(), ex.home_day()).positions[CODE].deg_to_half_torque
    read = survey(having(soft), ex.home_day()).positions[CODE].deg_to_half_torque
    assert plain is not None
    assert read is not None
    assert read.expected > 1.3 * plain.expected
    assert survey(having(), ex.home_day()).positions[CODE].deg_to_half_torque == plain


def test_a_spoilt_current_moves_no_figure_until_another_agrees_and_has_its_finding() -> None:
    spoilt = bench(stalled_ma=9000.0)
    assert figures(having(spoilt)) == figures(having())
    assert len(told(having(spoilt))) == 1
    assert "stall current" in str(told(having(spoilt))[0].message)
    again = replace(spoilt, tested_at=datetime(2026, 5, 2, 10), stalled_ma=9100.0)  # noqa: DTZ001
    both = having(spoilt, again)
    assert figures(both) != figures(having())
    assert not told(both)


def told(aircraft: Aircraft) -> list[Finding]:
    findings = inspect(aircraft, survey(aircraft, ex.home_day()))
    every = (folded for finding in findings for folded in finding.with_folded())
    return [finding for finding in every if finding.rule == "does-not-fit"]
