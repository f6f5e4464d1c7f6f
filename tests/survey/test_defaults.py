"""Typical values come from one table, carry their source, and bow to the keeper."""

from __future__ import annotations

import dataclasses
import tomllib

import pytest

from hangar.base.errors import BadInput
from hangar.base.figure import Basis
from hangar.base.places import resources_dir
from hangar.base.units import unit_named
from hangar.parts.choices import AircraftClass, Chemistry, Drive, LinkageKind, SwitchKind
from hangar.parts.thresholds import shipped_thresholds
from hangar.survey import Conditions, survey
from hangar.survey.defaults import SHARES, Defaults, class_defaults, defaults_from, own_shares
from tests.all_cases import all_cases
from tests.survey.fleets import CONDITIONS, trainer


def test_every_typical_value_says_what_it_means_its_unit_and_its_source() -> None:
    for field in dataclasses.fields(Defaults):
        typical = getattr(class_defaults(), field.name)
        assert typical.meaning
        assert typical.source
        assert unit_named(typical.unit).key == typical.unit


@all_cases("name", ["dive_speed", "flight_time", "peak_share", "brisk_share"])
def test_what_depends_on_the_class_is_there_for_every_class(name: str) -> None:
    typical = getattr(class_defaults(), name)
    skipped = {kind for kind in AircraftClass if kind.is_helicopter} if name == "dive_speed" else set()
    for kind in set(AircraftClass) - skipped:
        assert typical.value(kind) > 0.0


def test_kinds_and_chemistries_are_all_covered() -> None:
    defaults = class_defaults()
    assert all(defaults.pack_life.value(chemistry) > 0.0 for chemistry in Chemistry)
    assert all(0.0 < defaults.linkage_efficiency.value(kind) <= 1.0 for kind in LinkageKind)
    assert all(defaults.switch_contact.value(kind) > 0.0 for kind in SwitchKind)
    assert all(defaults.dead_band.value(drive) > 0.0 for drive in Drive)


def test_no_class_flies_more_briskly_than_its_peak() -> None:
    defaults = class_defaults()
    for kind in AircraftClass:
        assert defaults.brisk_share.value(kind) <= defaults.peak_share.value(kind) <= 1.0


def test_the_keepers_value_replaces_the_one_that_travels_and_says_so() -> None:
    changed = class_defaults().changed({"peak_share.sport": 0.45, "contact": 20})
    assert changed.peak_share.value("sport") == 0.45
    assert changed.peak_share.value("giant") == class_defaults().peak_share.value("giant")
    assert changed.contact.value() == 20.0
    assert changed.peak_share.source == "set by the keeper"


@all_cases(
    "values, words",
    [
        ({"peak_shares.sport": 0.4}, "peak_shares"),
        ({"peak_share.balloon": 0.4}, "balloon"),
        ({"peak_share.sport": -1}, "0 or more"),
        ({"peak_share.sport": float("nan")}, "0 or more"),
    ],
)
def test_a_wrong_value_of_the_keepers_is_refused_by_name(values: dict[str, float], words: str) -> None:
    with pytest.raises(BadInput, match=words):
        class_defaults().changed(values)


def test_a_table_that_lacks_a_quantity_or_holds_an_unknown_one_is_refused() -> None:
    with (resources_dir() / "class_defaults.toml").open("rb") as file:
        table = tomllib.load(file)
    short = {name: entry for name, entry in table.items() if name != "contact"}
    with pytest.raises(BadInput, match="contact"):
        defaults_from(short)
    with pytest.raises(BadInput, match="moon_phase"):
        defaults_from(table | {"moon_phase": table["contact"]})


def test_a_typical_value_is_marked_as_typical_in_a_working() -> None:
    assert class_defaults().dive_speed.input("sport").basis is Basis.TYPICAL


def test_an_unknown_key_without_a_value_for_any_is_refused() -> None:
    with pytest.raises(BadInput, match="balloon"):
        class_defaults().dive_speed.value("balloon")


def test_the_points_of_flight_of_the_workshop_rules_are_those_of_the_survey() -> None:
    shipped = shipped_thresholds()
    for name in SHARES:
        typical = getattr(class_defaults(), name.replace("-", "_"))
        assert shipped[name].default == typical.by["any"]
        for key, value in typical.by.items():
            if key != "any":
                assert shipped[name].shipped(AircraftClass(key)) == value, (name, key)


def test_a_keepers_own_share_moves_the_point_at_which_a_surface_is_judged() -> None:
    own = own_shares({"full-throw-share": 0.5, "full-throw-share.sport": 0.9, "play": 1.0})
    assert own["full_throw_share.sport"] == 0.9
    assert own["full_throw_share.giant"] == 0.5
    day = Conditions(today=CONDITIONS.today, defaults=own)
    speeds = {round(control.speed_m_s, 3) for control in survey(trainer(), day).positions["AIL"].control}
    assert speeds == {27.0, 30.0}
