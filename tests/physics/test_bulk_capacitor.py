"""A capacitor across the bus: worked dips, and agreement with the pulse solver where nothing else feeds."""

from __future__ import annotations

import pytest

from hangar.base.errors import BadInput
from hangar.physics.bulk_capacitor import dip_v
from hangar.physics.network import pulse_response
from tests.all_cases import all_cases


@all_cases("amps, seconds, farads, volts", [(5.0, 0.002, 4700e-6, 2.13), (5.0, 0.3, 1.0, 1.5)])
def test_dips_by_hand(amps: float, seconds: float, farads: float, volts: float) -> None:
    assert dip_v(amps, seconds, farads) == pytest.approx(volts, abs=5e-3)


def test_a_pulse_fed_by_the_capacitor_alone_dips_as_the_solver_says() -> None:
    case = {
        "voc": 8.0, "r0": 0.02, "i_idle": 0.0, "kind": "current", "di": 4.0, "t_on": 0.25, "T": 10.0,
        "t_delay": 0.0, "t_end": 1.0, "cbulk_f": 2.0,
    }  # fmt: skip
    assert pulse_response(case).minimum_v == pytest.approx(8.0 - dip_v(4.0, 0.25, 2.0, 0.02), abs=1e-12)


def test_a_capacitor_of_nothing_is_refused() -> None:
    with pytest.raises(BadInput, match="capacitance"):
        dip_v(5.0, 0.1, 0.0)
