"""Checklists and cautions name only classes, powers, functions and chemistries that there are."""

from __future__ import annotations

import tomllib
from functools import cache
from itertools import product
from typing import Any

from hangar.answers.checklists import PHASES
from hangar.answers.field_steps import LISTED, known_values
from hangar.base.places import resources_dir
from hangar.parts.choices import AircraftClass, Chemistry, Function, PowerKind
from tests.all_cases import all_cases

SHEETS = {"field", "bench", "build", "charging", "cuts", "passport", "fleet"}


@cache
def _table(name: str) -> dict[str, Any]:
    return tomllib.loads((resources_dir() / f"{name}.toml").read_text(encoding="utf-8"))


def _field_ids(aircraft_class: AircraftClass, power: PowerKind) -> set[str]:
    lists = _table("checklists")
    kind = next(name for name, classes in lists["kinds"].items() if aircraft_class in classes)
    letter = lists["powers"][power]
    return {
        line["id"]
        for line in lists["field"]
        if (powers := line["kinds"].get(kind)) and (powers == "X" or letter in powers)
    }


def test_every_aircraft_class_belongs_to_one_kind_and_every_power_has_a_letter() -> None:
    lists = _table("checklists")
    named = [name for classes in lists["kinds"].values() for name in classes]
    assert sorted(named) == sorted(AircraftClass)
    assert set(lists["powers"]) == set(PowerKind)


def test_field_lines_name_known_kinds_letters_functions_and_figures() -> None:
    lists = _table("checklists")
    for line in lists["field"]:
        assert set(line["kinds"]) <= set(lists["kinds"])
        assert all(power == "X" or set(power) <= set("EIT0") for power in line["kinds"].values())
        assert set(line.get("fitted", ())) <= set(Function)
        assert line.get("value", "site") in known_values()
        assert line.get("parts", "packs") in ("packs", *LISTED)
        assert line.get("only", "flybar") in ("flybar", "no flybar")
        assert line["phase"] in {phase for phase, _, _ in PHASES}
        assert line["source"]


@all_cases("part", ["field", "bench", "build"])
def test_every_line_has_a_name_of_its_own_and_words(part: str) -> None:
    lines = _table("checklists")[part]
    names = [line.get("id") or line["code"] for line in lines]
    assert len(set(names)) == len(names)
    assert all(line.get("text") or (line["say"] and line["need"] if part == "field" else line["title"])
               for line in lines)  # fmt: skip


@all_cases("aircraft_class, power", product(AircraftClass, PowerKind))
def test_every_aircraft_is_told_to_test_packs_controls_failsafe_and_range(
    aircraft_class: AircraftClass, power: PowerKind
) -> None:
    assert {"load-test", "controls", "failsafe", "range", "balance"} <= _field_ids(aircraft_class, power)


def test_lines_follow_class_and_power() -> None:
    assert "turbine" in _field_ids(AircraftClass.JET_TURBINE, PowerKind.TURBINE)
    assert "turbine" not in _field_ids(AircraftClass.JET_EDF, PowerKind.ELECTRIC)
    assert "arm-last" in _field_ids(AircraftClass.SAIL_THERMAL, PowerKind.ELECTRIC)
    assert "arm-last" not in _field_ids(AircraftClass.SPORT, PowerKind.GLOW)
    assert "restrained" not in _field_ids(AircraftClass.SAIL_SCALE, PowerKind.TOW)
    assert "swash" not in _field_ids(AircraftClass.SPORT, PowerKind.GLOW)


def test_cautions_name_known_classes_powers_and_chemistries() -> None:
    cautions = _table("cautions")
    assert (
        cautions["footer"] == "The maker's manual, the club's rules and the law govern. This sheet is an aid."
    )
    codes = [caution["code"] for caution in cautions["caution"]]
    assert len(set(codes)) == len(codes)
    for caution in cautions["caution"]:
        assert set(caution.get("kinds", ())) <= set(_table("checklists")["kinds"])
        assert set(caution.get("powers", ())) <= set(PowerKind)
        assert set(caution.get("chemistries", ())) <= set(Chemistry)
        assert set(caution["sheets"]) <= SHEETS
        assert caution["text"].endswith(".")
        assert caution["source"]
        phases = {phase for phase, _, _ in PHASES}
        if "field" in caution["sheets"]:
            assert caution["before"] in phases | {line["id"] for line in _table("checklists")["field"]}


def test_every_chemistry_has_a_caution() -> None:
    covered = {name for caution in _table("cautions")["caution"] for name in caution.get("chemistries", ())}
    assert covered == set(Chemistry)


def test_nothing_printed_promises_safety() -> None:
    for name in ("checklists", "cautions"):
        text = (resources_dir() / f"{name}.toml").read_text(encoding="utf-8").lower()
        assert "safe to fly" not in text
        assert "flutter free" not in text
