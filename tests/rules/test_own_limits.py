"""The keeper changes limits and field rules as settings, and takes them back."""

from __future__ import annotations

import dataclasses
from datetime import date

import pytest

from hangar.base.errors import BadInput
from hangar.base.units import SI_TRADE
from hangar.parts import Setting
from hangar.parts.choices import AircraftClass
from hangar.rules import Thresholds, shipped_thresholds
from hangar.rules.field_rules import (
    FieldRule,
    bodies_of,
    changed_field_rule,
    field_rule_rows,
    field_rules,
    hidden_field_rule,
    leaving_out,
    restored_field_rules,
    shipped_field_rules,
)
from hangar.rules.own_limits import changed_limit, limit_rows, restored_limits
from hangar.store import Fleet
from tests.all_cases import all_cases

SPORT, GIANT = AircraftClass.SPORT, AircraftClass.GIANT


def _row(name: str, thresholds: Thresholds, kind: AircraftClass | None = None) -> tuple[float, float, bool]:
    row = next(limit_row for limit_row in limit_rows(thresholds, kind) if limit_row.name == name)
    return row.value, row.shipped, row.is_changed


def test_every_limit_stands_in_the_table_with_its_words_unit_and_source() -> None:
    rows = limit_rows()
    assert [row.name for row in rows] == list(shipped_thresholds())
    assert all(row.words and row.source and not row.is_changed for row in rows)


def test_a_changed_limit_is_in_force_for_its_class_and_a_restored_one_as_shipped() -> None:
    settings = [changed_limit("torque-margin", 1.8), changed_limit("torque-margin", 2.2, GIANT)]
    own = Thresholds.from_settings(settings)
    assert _row("torque-margin", own, SPORT) == (1.8, 1.25, True)
    assert _row("torque-margin", own, GIANT) == (2.2, 1.25, True)
    assert own.value("torque-margin", GIANT) == 2.2
    left = [
        setting for setting in settings if setting not in restored_limits(settings, "torque-margin", GIANT)
    ]
    assert _row("torque-margin", Thresholds.from_settings(left), GIANT) == (1.8, 1.25, True)
    left = [setting for setting in settings if setting not in restored_limits(settings, "torque-margin")]
    assert _row("torque-margin", Thresholds.from_settings(left), SPORT) == (1.25, 1.25, False)


def test_restoring_all_leaves_other_settings_alone() -> None:
    settings = [changed_limit("play", 1.0), Setting(name="unit.torque", value="ozf in")]
    assert restored_limits(settings) == (settings[0],)
    assert restored_field_rules(settings) == ()


@all_cases("value", [-1.0, float("nan"), float("inf")])
def test_an_impossible_limit_is_refused(value: float) -> None:
    with pytest.raises(BadInput, match="0 or more"):
        changed_limit("play", value)


def test_a_limit_keeps_its_value_through_the_fleet_file() -> None:
    with Fleet.in_memory() as fleet:
        fleet.edit("limit", lambda edit: edit.put(changed_limit("play", 1.25)))
        assert Thresholds.from_settings(fleet.records(Setting)).value("play", SPORT) == 1.25
        fleet.undo()
        assert Thresholds.from_settings(fleet.records(Setting)).value("play", SPORT) == 2.0


def test_field_rules_are_changed_added_hidden_and_restored() -> None:
    first = shipped_field_rules()[0]
    other = dataclasses.replace(first, shown="900 g", source="law of 2031", as_of=date(2031, 1, 1))
    further = FieldRule(item="quiet hours", shown="13 to 15 h", where="Sallow Down", source="club rules")
    settings = [changed_field_rule(other, first.key), changed_field_rule(further)]
    table = field_rules(settings)
    assert table[0] == other
    assert table[-1] == further
    assert len(table) == len(shipped_field_rules()) + 1
    assert first not in field_rules([hidden_field_rule(first.key)])
    left = [setting for setting in settings if setting not in restored_field_rules(settings, first.key)]
    assert field_rules(left)[0] == first
    assert field_rules([]) == shipped_field_rules()


def test_every_shipped_row_has_a_key_of_its_own_and_no_country_is_preset() -> None:
    keys = [figure.key for figure in shipped_field_rules()]
    assert len(set(keys)) == len(keys)
    assert len({figure.where for figure in shipped_field_rules()}) > 3


@all_cases("text", ["", "{", "[1]", '{"item": "x"}', '{"as_of": "soon"}'])
def test_a_row_that_cannot_be_read_is_refused_in_one_sentence(text: str) -> None:
    with pytest.raises(BadInput, match="cannot be read as a field rule"):
        field_rules([Setting(name="field-rule.x", value=text)])


def test_a_row_without_a_source_is_refused() -> None:
    with pytest.raises(BadInput, match="the source is empty"):
        changed_field_rule(FieldRule(item="x", shown="1", where="y", source=" "))


def test_a_row_that_cannot_be_read_stands_in_the_table_with_its_reason() -> None:
    first = shipped_field_rules()[0]
    row = field_rule_rows([Setting(name=f"field-rule.{first.key}", value="{")])[0]
    assert (row.rule, row.is_changed) == (first, False)
    assert "restore the shipped row" in row.fault


def test_figures_of_a_body_that_is_left_out_are_hidden_with_all_its_rows() -> None:
    out = leaving_out(["FAI contests"])
    assert {field_rule.where for field_rule in field_rules()} - {
        field_rule.where for field_rule in field_rules([out])
    } == {"FAI contests"}
    assert ("FAI contests", False) in bodies_of([out])
    assert len(bodies_of([out])) == len(bodies_of())
    assert all(row.is_hidden == (row.rule.where == "FAI contests") for row in field_rule_rows([out]))


def test_every_limit_that_a_figure_sets_is_one_of_the_checks_and_reads_the_same_somewhere() -> None:
    for name in {figure.limit for figure in shipped_field_rules()} - {""}:
        limit = shipped_thresholds()[name]
        figures = [field_rule.shown for field_rule in shipped_field_rules() if field_rule.limit == name]
        assert limit.default in [SI_TRADE.parse(shown, limit.unit) for shown in figures]
