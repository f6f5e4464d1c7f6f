"""The table of limits and the keeper's own values."""

from __future__ import annotations

import pytest

from hangar.base.errors import BadInput
from hangar.base.units import unit_named
from hangar.parts import Setting
from hangar.parts.choices import AircraftClass
from hangar.rules import Thresholds, setting_name, shipped_thresholds
from hangar.rules.own_limits import changed_limit
from tests.all_cases import all_cases


def test_every_limit_says_what_it_limits_in_which_unit_and_where_it_is_from() -> None:
    for threshold in shipped_thresholds().values():
        assert threshold.words
        assert threshold.source
        if threshold.unit:
            unit_named(threshold.unit)


def test_the_giant_scale_minimum_torque_is_45_ounce_force_inches() -> None:
    # International Miniature Aircraft Association safety code; 1 ozf in = 0.0070616 N m (NIST SP 811).
    assert Thresholds().value("giant-torque", AircraftClass.GIANT) == pytest.approx(45 * 0.0070616, rel=1e-3)


def test_the_giant_scale_pack_table_is_in_whole_tens_of_pounds() -> None:
    # International Miniature Aircraft Association safety code: 20, 30 and 40 lb; 1 lb = 453.59237 g.
    bands = [Thresholds().value(f"giant-pack-mass-{band}", AircraftClass.GIANT) for band in (1, 2, 3)]
    assert bands == pytest.approx([20 * 453.59237, 30 * 453.59237, 40 * 453.59237], rel=1e-4)


def test_a_limit_differs_by_class_and_the_keepers_value_goes_before_both() -> None:
    shipped = Thresholds()
    assert shipped.value("torque-margin", AircraftClass.SPORT) == 1.25
    assert shipped.value("play", AircraftClass.SAIL_FAST) < shipped.value("play", AircraftClass.SPORT)
    own = Thresholds.from_settings(
        [
            Setting(name=setting_name("torque-margin"), value="1.7"),
            Setting(name=setting_name("torque-margin", AircraftClass.GIANT), value="1.9"),
            Setting(name="units.torque", value="ozf in"),
        ]
    )
    assert own.value("torque-margin", AircraftClass.SPORT) == 1.7
    assert own.value("torque-margin", AircraftClass.GIANT) == 1.9
    assert own.is_changed("torque-margin", AircraftClass.GIANT)
    assert not own.is_changed("play", AircraftClass.GIANT)


@all_cases(
    "name, value, said",
    [
        ("threshold.no-such", "1", "names no limit"),
        ("threshold.play.blimp", "1", "names no aircraft class"),
        ("threshold.play", "much", "expected a number"),
        ("threshold.play", "-1", "0 or more"),
    ],
)
def test_an_impossible_setting_is_refused_in_one_sentence(name: str, value: str, said: str) -> None:
    with pytest.raises(BadInput, match=said):
        Thresholds.from_settings([Setting(name=name, value=value)])


def test_a_limit_with_a_range_is_refused_outside_it() -> None:
    load = shipped_thresholds()["test-load"]
    assert (load.least, load.most, load.shipped(AircraftClass.ELECTRIC_SMALL)) == (0.05, 60, 0.3)
    assert (
        Thresholds.from_settings([Setting(name="threshold.test-load.giant", value="60")]).value(
            "test-load", AircraftClass.GIANT
        )
        == 60
    )
    with pytest.raises(BadInput, match=r"expected a number of 0\.05 to 60 A"):
        Thresholds.from_settings([Setting(name="threshold.test-load", value="0")])
    with pytest.raises(BadInput, match=r"a number of 0\.05 to 60 A is allowed"):
        changed_limit("test-load", 61.0)
