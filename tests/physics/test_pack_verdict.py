"""Charged and healthy apart, over packs whose truth is known, and the trade's own anchors."""

from __future__ import annotations

import math
import random
from collections import Counter
from dataclasses import replace

import pytest

from hangar.base.errors import BadInput
from hangar.physics.pack import CELLS, Chemistry
from hangar.physics.pack_health import Light
from hangar.physics.pack_resistance import temperature_factor
from hangar.physics.pack_verdict import (
    ChargeAnswer,
    Healthy,
    PackTest,
    PackVerdict,
    expected_loaded_v,
    lines_v,
    pack_verdict,
)

NEW_OHM = 0.150
PACKS = 500


def _tested(draw: random.Random, *, times: float, two: bool, cell_v: float | None = None,
            cell_c: tuple[float, float] = (5.0, 30.0), minutes: tuple[float, float] = (5.0, 600.0),
            ) -> tuple[PackVerdict, float, bool]:  # fmt: skip
    """A five-cell pack drawn at random: verdict, its inner volts, whether the band holds."""
    ohm = NEW_OHM * times * math.exp(0.10 * draw.gauss(0, 1))
    warm, since = draw.uniform(*cell_c), draw.uniform(*minutes)
    inner = 5.0 * (draw.uniform(1.19, 1.40) if cell_v is None else cell_v)
    law = temperature_factor(Chemistry.NIMH, warm) * math.exp(
        0.6 * draw.gauss(0, 1) * (1000.0 / (warm + 273.15) - 1000.0 / 298.15)
    )
    left = 0.25 * math.exp(-since / 25.0) * draw.uniform(0.4, 1.6)
    lead, gain = 0.012 + 0.004 * draw.gauss(0, 1), 1.0 + 0.003 * draw.gauss(0, 1)

    def read(amps: float, more: float = 0.0) -> float:
        shown = gain * (inner + left * (1.0 + more) - amps * (ohm * law + lead))
        return round(shown + 0.006 * draw.gauss(0, 1), 2)

    loads = [(read(1.0), 1.0), *([(read(3.0), 3.0)] if two else [])]
    verdict = pack_verdict(
        PackTest(Chemistry.NIMH, 5, read(0.0, draw.uniform(0, 1)), loads, NEW_OHM * 1.1, 0.22, NEW_OHM, 0.10,
                 warm, minutes_since_charge=since)
    )  # fmt: skip
    low, _, high = verdict.pack_ohm
    return verdict, inner, low <= ohm <= high


@pytest.mark.parametrize("two", [True, False])
def test_over_packs_at_random_it_is_right_or_says_that_it_cannot_tell(two: bool) -> None:
    draw = random.Random(12)
    right = wrong = held = 0
    for _ in range(PACKS):
        verdict, inner_v, holds = _tested(draw, times=draw.uniform(0.9, 2.6), two=two)
        held += holds
        low, charged, _ = lines_v(Chemistry.NIMH, 5, NEW_OHM)
        truth = {
            ChargeAnswer.YES: inner_v > charged,
            ChargeAnswer.PART: inner_v > low,
            ChargeAnswer.NO: inner_v < low,
        }
        if verdict.charged is not ChargeAnswer.CANT_TELL:
            right += truth[verdict.charged]
            wrong += not truth[verdict.charged]
    assert right / PACKS >= 0.80
    assert wrong / PACKS <= 0.02
    assert 0.85 <= held / PACKS <= 0.99


def _healths(**drawn: object) -> Counter[Healthy]:
    draw = random.Random(3)
    return Counter(_tested(draw, **drawn)[0].healthy for _ in range(PACKS))  # type: ignore[arg-type]


@pytest.mark.parametrize("two", [True, False])
def test_a_healthy_cold_pack_is_not_worn_nor_to_be_retired(two: bool) -> None:
    cold = _healths(times=1.0, two=two, cell_c=(-5.0, 3.0))
    assert cold[Healthy.WORN] + cold[Healthy.RETIRE] <= 0.01 * PACKS


def test_a_pack_fresh_off_charge_is_not_worn() -> None:
    fresh = _healths(times=1.0, two=False, cell_v=1.37, minutes=(0.0, 5.0))
    assert fresh[Healthy.WORN] + fresh[Healthy.RETIRE] == 0


@pytest.mark.parametrize("two", [True, False])
def test_two_and_a_half_times_its_resistance_is_caught(two: bool) -> None:
    caught = _healths(times=2.5, two=two)
    assert (caught[Healthy.WORN] + caught[Healthy.RETIRE]) / PACKS >= 0.95
    assert caught[Healthy.YES] == 0


@pytest.mark.parametrize("load_a", [1.0, 3.0])
def test_two_and_a_half_times_its_resistance_is_caught_by_one_load_of(load_a: float) -> None:
    loaded = 6.75 - load_a * (2.5 * NEW_OHM + 0.012)
    test = PackTest(Chemistry.NIMH, 5, 6.76, [(loaded, load_a)], NEW_OHM, 0.22, NEW_OHM, 0.10,
                    minutes_since_charge=120.0)  # fmt: skip
    assert pack_verdict(test).healthy in (Healthy.WORN, Healthy.RETIRE)


@pytest.mark.parametrize("two", [True, False])
def test_a_worn_full_pack_and_a_healthy_empty_one_get_different_answers(two: bool) -> None:
    draw = random.Random(8)
    for _ in range(100):
        worn, _, _ = _tested(draw, times=2.6, two=two, cell_v=1.37)
        empty, _, _ = _tested(draw, times=1.0, two=two, cell_v=1.19)
        assert worn.charged is ChargeAnswer.YES
        assert worn.healthy is not Healthy.YES
        assert empty.charged is ChargeAnswer.NO
        assert empty.light is Light.RED
        assert empty.healthy in (Healthy.YES, Healthy.CANT_TELL)


def test_the_trades_anchor_a_good_six_volt_pack_shows_six_and_a_half_under_one_ampere() -> None:
    # Common practice, no source: five cells show about 6.5 V under 1 A when good.
    test = PackTest(Chemistry.NIMH, 5, 6.68, [(6.50, 1.0)], NEW_OHM, 0.22, NEW_OHM, 0.10)
    verdict = pack_verdict(test)
    assert (verdict.charged, verdict.healthy) == (ChargeAnswer.YES, Healthy.YES)
    low, high = expected_loaded_v(Chemistry.NIMH, 5, 1.0, NEW_OHM, 0.10)
    assert low <= 6.5 <= high
    cold_low, _ = expected_loaded_v(Chemistry.NIMH, 5, 1.0, NEW_OHM, 0.10, temperature_c=0.0)
    assert cold_low < low


def test_the_same_pack_read_cold_and_warm_shows_the_same_resistance_at_25_degrees() -> None:
    found = []
    for warm in (5.0, 25.0):
        ohm = NEW_OHM * temperature_factor(Chemistry.NIMH, warm) + 0.012
        loads = [(6.7 - amps * ohm, amps) for amps in (1.0, 3.0)]
        test = PackTest(Chemistry.NIMH, 5, 6.7, loads, NEW_OHM, 0.22, NEW_OHM, 0.10, warm,
                        minutes_since_charge=300.0)  # fmt: skip
        found.append(pack_verdict(test).pack_ohm[1])
    assert found[0] == pytest.approx(found[1], rel=0.05)


@pytest.mark.parametrize("chemistry", list(Chemistry))
def test_every_chemistry_full_and_new_is_charged_and_healthy(chemistry: Chemistry) -> None:
    cells = 5 if chemistry.is_nickel else 2
    inner = cells * CELLS[chemistry].rested_full_v
    loads = [(inner - amps * (NEW_OHM + 0.012), amps) for amps in (1.0, 3.0)]
    test = PackTest(chemistry, cells, inner, loads, NEW_OHM, 0.2, NEW_OHM, 0.10, minutes_since_charge=300.0)
    verdict = pack_verdict(test)
    assert (verdict.charged, verdict.healthy) == (ChargeAnswer.YES, Healthy.YES)
    empty = [(volts - cells * (CELLS[chemistry].rested_full_v - CELLS[chemistry].recharge_emf_v + 0.06), amps)
             for volts, amps in loads]  # fmt: skip
    rest = cells * (CELLS[chemistry].recharge_emf_v - 0.06)
    assert pack_verdict(replace(test, rest_v=rest, loads=empty)).charged is not ChargeAnswer.YES


def test_without_a_load_nothing_is_answered() -> None:
    test = PackTest(Chemistry.NIMH, 5, 6.68, [], NEW_OHM, 0.22, NEW_OHM, 0.10)
    with pytest.raises(BadInput, match="needs a load"):
        pack_verdict(test)
    with pytest.raises(BadInput, match="more than 0"):
        pack_verdict(replace(test, loads=[(6.5, 1.0)], pack_ohm=0.0))
