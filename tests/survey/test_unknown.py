"""Unknown and odd data: never an exception, never a better figure, always a word about it."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from hangar.base.figure import Basis
from hangar.base.units import unit_named
from hangar.parts import Aircraft, Airframe, Position, ServoFit
from hangar.parts.choices import AircraftClass, Criticality, Function
from hangar.parts.fields import Record, specs
from hangar.survey import Conditions, Scenario, Survey, survey
from tests.all_cases import all_cases
from tests.survey.fleets import CONDITIONS, biplane, helicopter, trainer

MAKERS = {"trainer": trainer, "helicopter": helicopter, "biplane": biplane}


def test_an_empty_aircraft_gets_no_figure_and_says_what_it_lacks() -> None:
    empty = Aircraft(airframe=Airframe(code="E", name="Empty", aircraft_class=AircraftClass.SPORT))
    surveyed = survey(empty, CONDITIONS)
    assert list(surveyed.figures()) == []
    assert surveyed.scenarios == {}
    assert "aircraft E: power path" in map(str, surveyed.supply.missing)
    assert "aircraft E: wing area" in map(str, surveyed.airframe.missing)


@all_cases("function", list(Function))
def test_a_bare_flight_position_lacks_something_and_judges_nothing(function: Function) -> None:
    place = Position(aircraft="E", code="P", name="P", function=function)
    bare = Aircraft(
        airframe=Airframe(code="E", name="Empty", aircraft_class=AircraftClass.SPORT),
        fits=(ServoFit(position=place),),
    )
    position = survey(bare, CONDITIONS).positions["P"]
    assert position.load_nm is None
    assert position.reserve is None
    if Criticality.of(function) is Criticality.FLIGHT:
        assert "position P: servo" in map(str, position.missing)


def blankable(record: Any) -> Iterator[tuple[str, ...]]:
    """Paths of every field in a tree that may be unknown and is known."""
    for field in dataclasses.fields(record):
        value = getattr(record, field.name)
        if dataclasses.is_dataclass(value) and not isinstance(value, type):
            yield (field.name,)
            yield from ((field.name, *rest) for rest in blankable(value))
        elif isinstance(value, tuple):
            for number, item in enumerate(value):
                if dataclasses.is_dataclass(item):
                    yield from ((field.name, str(number), *rest) for rest in blankable(item))
        elif isinstance(record, Record) and value is not None and _optional(type(record), field.name):
            yield (field.name,)


def _optional(kind: type[Record], name: str) -> bool:
    return next(spec.optional for spec in specs(kind) if spec.name == name)


_NEEDED = {"airframe", "position", "pack", "pack_type", "feed"}


def blanked(record: Any, path: tuple[str, ...]) -> Any:
    """The tree with the field at a path unknown."""
    name, *rest = path
    value = getattr(record, name, None)
    if value is None:
        return record
    if not rest:
        return record if name in _NEEDED else replace(record, **{name: None})
    if isinstance(value, tuple):
        number, inner = int(rest[0]), tuple(rest[1:])
        items = tuple(blanked(item, inner) if at == number else item for at, item in enumerate(value))
        return replace(record, **{name: items})
    return replace(record, **{name: blanked(value, tuple(rest))})


PATHS = {name: list(blankable(make())) for name, make in MAKERS.items()}


@settings(max_examples=150)
@given(name=st.sampled_from(sorted(MAKERS)), data=st.data())
def test_whatever_is_unknown_the_survey_answers_and_every_figure_is_sound(
    name: str, data: st.DataObject
) -> None:
    aircraft = MAKERS[name]()
    for path in data.draw(st.lists(st.sampled_from(PATHS[name]), max_size=12)):
        aircraft = blanked(aircraft, path)
    sound(survey(aircraft, CONDITIONS))


def sound(surveyed: Survey) -> None:
    """Every figure is finite, in a known unit, with an ordered band, its basis no better than its inputs'."""
    for name, figure in surveyed.figures():
        assert math.isfinite(figure.expected), name
        assert unit_named(figure.unit).key == figure.unit, name
        assert figure.working.formula, name
        assert figure.working.source, name
        # What was measured is measured, though what was expected of it before weighs in.
        is_typical = any(item.basis is Basis.TYPICAL for item in figure.working.inputs)
        if is_typical and figure.basis is not Basis.MEASURED:
            assert figure.basis is Basis.TYPICAL, name
        if name.endswith(("load_nm", "moment_nm")):
            band = figure.band
            assert 0.0 <= band.low <= band.expected <= band.design, name
    for position in surveyed.positions.values():
        assert (position.reserve is not None) <= (position.load_nm is not None)


@all_cases("name", sorted(MAKERS))
def test_any_single_unknown_field_never_makes_a_margin_look_better_without_saying_typical(name: str) -> None:
    aircraft = MAKERS[name]()
    before = survey(aircraft, CONDITIONS)
    for path in PATHS[name]:
        after = survey(blanked(aircraft, path), CONDITIONS)
        for code, position in before.positions.items():
            now = after.positions[code]
            if position.reserve is None or now.reserve is None or now.reserve.low is None:
                continue
            assert position.reserve.low is not None
            if now.reserve.low > position.reserve.low * 1.001:
                is_explained = now.reserve.basis is Basis.TYPICAL or _is_a_part_less(path)
                assert is_explained, (path, code)


def _is_a_part_less(path: tuple[str, ...]) -> bool:
    """Whether what is gone is a servo, which then draws nothing, or the way through a gyro."""
    return path[-1] in {"servo_type", "through"}


@all_cases("make", list(MAKERS.values()))
def test_a_survey_is_the_same_each_time_and_leaves_the_aircraft_alone(make) -> None:  # type: ignore[no-untyped-def]
    aircraft = make()
    assert list(survey(aircraft, CONDITIONS).figures()) == list(survey(aircraft, CONDITIONS).figures())
    assert aircraft == make()


def test_one_pack_claimed_by_two_paths_is_worked_and_does_not_raise() -> None:
    aircraft = trainer()
    twin = replace(aircraft.paths[0], feed=replace(aircraft.paths[0].feed, code="RX2"))
    surveyed = survey(replace(aircraft, paths=(*aircraft.paths, twin)), CONDITIONS)
    assert set(surveyed.scenarios[Scenario.PEAK].path_a) == {"RX", "RX2"}


def test_a_dead_pack_leaves_servos_without_volts_but_an_answer() -> None:
    aircraft = trainer()
    fed = aircraft.paths[0].packs[0]
    dead = replace(fed, pack=replace(fed.pack, cell_mohm=1000.0))
    path = replace(aircraft.paths[0], packs=(dead,))
    surveyed = survey(replace(aircraft, paths=(path,)), Conditions(today=CONDITIONS.today, charge_pct=5))
    sound(surveyed)
    position = surveyed.positions["AIL"]
    assert position.reserve is None or (position.reserve.low or 0.0) < 1.0


def test_a_supply_that_collapses_says_so_in_words() -> None:
    aircraft = trainer()
    fed = aircraft.paths[0].packs[0]
    dead = replace(fed, pack=replace(fed.pack, cell_mohm=1000.0))
    many = tuple(
        replace(receiver, idle_ma=500.0, code=f"RX{n}") for n in range(6) for receiver in aircraft.receivers
    )
    surveyed = survey(
        replace(aircraft, receivers=many, paths=(replace(aircraft.paths[0], packs=(dead,)),)), CONDITIONS
    )
    case = surveyed.scenarios[Scenario.PEAK]
    assert case.collapse is not None
    assert "collapses" in str(case.collapse)
    assert case.bus_v is None
    assert any("collapses" in str(lack) for lack in surveyed.positions["AIL"].missing)
    assert surveyed.positions["AIL"].control == ()
