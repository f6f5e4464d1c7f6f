"""Mass, balance, ballast and cost of a plan, against cases worked by hand.

Source of the balance: the sum of the moments about the datum over the sum of the masses (statics).
"""

from __future__ import annotations

from dataclasses import replace

import pytest

from hangar.answers.outlook import Outlook, outlook_of, predictions
from hangar.base.units import SI_TRADE
from hangar.parts import Airframe, PackType, Plan, PlanLine, Position
from hangar.parts.choices import Chemistry, PlanAction
from hangar.store import Edit
from hangar.window.kit.desk import Desk
from hangar.window.refit.plan_cards import balance_words, cost_words, mass_words
from tests.window.conftest import CODE, servo_type

RUDDER_MM, THROTTLE_MM = 900.0, 20.0


@pytest.fixture
def weighed(desk: Desk) -> Desk:
    """2500 g balancing at 100 mm; a servo of 20 g 900 mm behind the datum; types of known mass."""

    def work(edit: Edit) -> None:
        edit.change(Airframe, (CODE,), cg_measured_mm=100.0)
        edit.change(Position, (CODE, "RUD"), balance_arm_mm=RUDDER_MM)
        edit.change(Position, (CODE, "THR"), balance_arm_mm=THROTTLE_MM)
        for code, torque_nm, mass_g, price in (("TS-WEAK", 0.02, 20.0, 5.0), ("TS-A", 0.9, 100.0, 60.0)):
            edit.put(replace(servo_type(code, torque_nm), mass_g=mass_g, price=price))
        edit.put(replace(servo_type("TS-NEAR", 0.5), mass_g=25.0, price=20.0))
        for code, mass_g in (("P-A", 150.0), ("P-B", 210.0)):
            edit.put(PackType(code=code, chemistry=Chemistry.NIMH, series=5, capacity_mah=2000, cell_mohm=20,
                              mass_g=mass_g, price=30.0))  # fmt: skip

    desk.change("Weigh", work)
    return desk


def outlook(desk: Desk, *lines: tuple[PlanAction, str, str, float | None]) -> Outlook:
    made = tuple(
        PlanLine(plan="P", number=number, action=action, place=place, part_type=kind, price=price)
        for number, (action, place, kind, price) in enumerate(lines, 1)
    )
    found = outlook_of(
        Plan(code="P", aircraft=CODE, title="P", lines=made), desk.aircraft(CODE), desk.basis()
    )
    assert found is not None
    return found


def test_balance_outside_its_range_asks_for_the_ballast_that_moments_give(weighed: Desk) -> None:
    found = outlook(weighed, (PlanAction.FIT_SERVO, "RUD", "TS-A", 60.0))
    mass_g = 2500.0 + 80.0
    balance_mm = (2500.0 * 100.0 + 80.0 * RUDDER_MM) / mass_g
    assert found.mass_g == 80.0
    assert found.balance is not None
    assert found.balance.expected == pytest.approx(balance_mm)
    ballast_g = mass_g * (balance_mm - 100.0) / (100.0 - THROTTLE_MM)
    with_ballast = (mass_g * balance_mm + ballast_g * THROTTLE_MM) / (mass_g + ballast_g)
    assert with_ballast == pytest.approx(100.0)
    words = balance_words(found, SI_TRADE)
    assert f"{SI_TRADE.show(ballast_g, 'g')} of ballast at 20 mm brings it to the middle" in words
    assert mass_words(found, SI_TRADE) == "+80 g"


def test_balance_within_its_range_needs_no_ballast(weighed: Desk) -> None:
    found = outlook(weighed, (PlanAction.FIT_SERVO, "RUD", "TS-NEAR", 20.0))
    assert found.balance is not None
    assert found.balance.expected == pytest.approx((250_000.0 + 5.0 * RUDDER_MM) / 2505.0)
    assert "no ballast needed" in balance_words(found, SI_TRADE)
    assert "not recorded" not in balance_words(found, SI_TRADE)


def test_a_pack_counts_in_the_mass_and_is_said_to_be_missing_in_the_balance(weighed: Desk) -> None:
    found = outlook(weighed, (PlanAction.FIT_PACK, "RX-A", "P-B", 30.0))
    assert found.mass_g == 60.0
    assert "without 60 g of supply whose place is not recorded" in balance_words(found, SI_TRADE)
    assert "balance_mm" not in predictions(found)
    assert predictions(found)["mass_g"] == 2560.0


def test_the_cost_is_the_sum_of_the_lines_and_says_what_has_no_price(weighed: Desk) -> None:
    found = outlook(
        weighed, (PlanAction.FIT_SERVO, "RUD", "TS-A", 60.0), (PlanAction.FIT_PACK, "RX-A", "P-B", None)
    )
    assert cost_words(found.plan, "EUR") == "60.00 EUR, 1 line without a price"
