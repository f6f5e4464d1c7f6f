"""Nose balance: chart values, half credit, unporting and the overbalance flag."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hangar.base.errors import BadInput
from hangar.physics.hinge_balance import NO_BALANCE, Nose, balance_ratio, nose_balance
from tests.all_cases import all_cases


# USAF Stability and Control DATCOM, 6.1.3.2, nose shapes; read in a re-keyed form.
@all_cases(
    "nose, thickness, ratio, factor",
    [
        (Nose.ROUND, 0.09, 0.30, 0.31),
        (Nose.ROUND, 0.15, 0.40, 0.17),
        (Nose.ELLIPTIC, 0.09, 0.50, 0.20),
        (Nose.ELLIPTIC, 0.15, 0.185, 0.87),
        (Nose.ELLIPTIC, 0.12, 0.30, 0.68),
        (Nose.SHARP, 0.12, 0.185, 1.0),
        (Nose.SHARP, 0.12, 0.50, 0.5),
    ],
)
def test_the_factor_is_the_chart(nose: Nose, thickness: float, ratio: float, factor: float) -> None:
    assert nose_balance(ratio, nose, thickness_ratio=thickness).factor == pytest.approx(factor)


@given(st.sampled_from(Nose), st.floats(0.0, 1.0), st.floats(0.05, 0.25), st.floats(-50.0, 50.0))
def test_at_most_half_of_the_relief_is_credited(
    nose: Nose, ratio: float, thickness: float, deflection: float
) -> None:
    balance = nose_balance(ratio, nose, thickness_ratio=thickness)
    assert 0.5 <= balance.credited <= 1.0
    assert 1.0 - balance.credited <= 0.5 * (1.0 - balance.factor) + 1e-12
    assert balance.credited <= balance.credited_at(deflection) <= 1.0


@given(st.sampled_from(Nose), st.floats(0.0, 1.0), st.floats(0.0, 1.0))
def test_more_nose_never_means_less_relief(nose: Nose, one: float, other: float) -> None:
    small, large = sorted((one, other))
    assert nose_balance(large, nose).factor <= nose_balance(small, nose).factor


def test_the_credit_is_gone_where_the_nose_unports() -> None:
    balance = nose_balance(0.30, Nose.ELLIPTIC, thickness_ratio=0.09)
    assert balance.credited_at(15.0) == balance.credited == pytest.approx(0.83)
    assert balance.credited_at(-17.5) == pytest.approx(0.915)
    assert balance.credited_at(20.0) == 1.0


def test_too_much_nose_is_flagged() -> None:
    assert not nose_balance(0.30, Nose.ROUND).overbalance_risk
    assert nose_balance(0.40, Nose.ROUND, thickness_ratio=0.09).overbalance_risk
    assert nose_balance(0.60, Nose.ELLIPTIC, thickness_ratio=0.15).overbalance_risk


def test_no_nose_changes_nothing() -> None:
    assert nose_balance(0.0, Nose.ROUND) == NO_BALANCE


def test_balance_ratio_takes_half_the_hinge_thickness_off_in_squares() -> None:
    # By hand: 0.5^2 - 0.3^2 = 0.4^2.
    assert balance_ratio(0.5, 0.6) == pytest.approx(0.4)
    assert balance_ratio(0.1, 0.6) == 0.0


@all_cases("ratio", [-0.1, 1.1])
def test_a_nose_that_cannot_be_is_refused(ratio: float) -> None:
    with pytest.raises(BadInput, match="Balance ratio"):
        nose_balance(ratio, Nose.ROUND)
    with pytest.raises(BadInput, match="Nose over flap"):
        balance_ratio(ratio)
    with pytest.raises(BadInput, match="Thickness over chord"):
        nose_balance(0.2, Nose.ROUND, thickness_ratio=0.0)
