"""An aircraft answers for its positions, rotors and the power that feeds its radio."""

from __future__ import annotations

from datetime import date

import pytest

from hangar.parts import (
    Aircraft,
    Airframe,
    Feed,
    Position,
    PowerPath,
    Regulator,
    Rotor,
    Servo,
    ServoFit,
)
from hangar.parts.choices import (
    AircraftClass,
    Chemistry,
    Criticality,
    FeedRole,
    Function,
    PowerKind,
    RotorKind,
)
from tests.all_cases import all_cases


def feed(code: str, role: FeedRole) -> Feed:
    return Feed(aircraft="NIM", code=code, role=role)


@pytest.fixture
def nimbrel() -> Aircraft:
    """A helicopter with two positions and four power paths."""
    regulator = Regulator(aircraft="NIM", code="BEC", regulator_type="SW8", set_v=8)
    return Aircraft(
        airframe=Airframe(code="NIM", name="Nimbrel", aircraft_class=AircraftClass.HELI_EL),
        rotors=(Rotor(aircraft="NIM", rotor=RotorKind.MAIN, blades=3),),
        fits=(
            ServoFit(
                position=Position(aircraft="NIM", code="CYC-1", name="cyclic", function=Function.CYCLIC),
                servo=Servo(tag="0601", servo_type="OF-D560"),
            ),
            ServoFit(
                position=Position(aircraft="NIM", code="LIGHT", name="lights", function=Function.LIGHTS)
            ),
        ),
        paths=(
            PowerPath(feed=feed("RX", FeedRole.RECEIVER)),
            PowerPath(feed=feed("MAIN", FeedRole.DRIVE), regulator=regulator),
            PowerPath(feed=feed("AUX", FeedRole.DRIVE)),
            PowerPath(feed=feed("IGN", FeedRole.IGNITION)),
        ),
    )


def test_a_position_is_found_by_its_code(nimbrel: Aircraft) -> None:
    fit = nimbrel.fit("CYC-1")
    assert fit is not None
    assert (fit.code, fit.tag, fit.function, fit.criticality) == (
        "CYC-1", "0601", Function.CYCLIC, Criticality.FLIGHT,
    )  # fmt: skip
    assert nimbrel.fit("RUD") is None


def test_an_empty_position_has_no_tag(nimbrel: Aircraft) -> None:
    fit = nimbrel.fit("LIGHT")
    assert fit is not None
    assert (fit.tag, fit.criticality) == (None, Criticality.COMFORT)


def test_only_paths_that_reach_the_radio_count_for_it(nimbrel: Aircraft) -> None:
    assert [path.feed.code for path in nimbrel.radio_paths] == ["RX", "MAIN"]


def test_a_rotor_is_found_by_its_kind(nimbrel: Aircraft) -> None:
    main = nimbrel.rotor(RotorKind.MAIN)
    assert main is not None
    assert main.blades == 3
    assert nimbrel.rotor(RotorKind.TAIL) is None


def test_an_aircraft_is_read_on_some_day(nimbrel: Aircraft) -> None:
    assert nimbrel.code == "NIM"
    assert nimbrel.read_on == date.today()


@all_cases("function", list(Function))
def test_every_function_has_one_criticality(function: Function) -> None:
    level = Criticality.of(function)
    assert (level is Criticality.FLIGHT) == function.is_flight


def test_a_surface_in_the_air_is_at_least_a_matter_of_safety() -> None:
    for function in Function:
        if function.is_surface:
            assert Criticality.of(function) is not Criticality.COMFORT


def test_classes_know_their_family() -> None:
    helicopters = {kind for kind in AircraftClass if kind.is_helicopter}
    sailplanes = {kind for kind in AircraftClass if kind.is_sailplane}
    assert helicopters == {AircraftClass.HELI_IC, AircraftClass.HELI_EL, AircraftClass.HELI_TURBINE}
    assert sailplanes == {AircraftClass.SAIL_FAST, AircraftClass.SAIL_THERMAL, AircraftClass.SAIL_SCALE}


def test_every_chemistry_is_either_nickel_or_lithium() -> None:
    assert {kind for kind in Chemistry if kind.is_nickel} == {
        Chemistry.NICD,
        Chemistry.NIMH,
        Chemistry.NIMH_LSD,
    }
    assert all(kind.is_nickel is not kind.is_lithium for kind in Chemistry)


def test_glow_and_petrol_are_the_piston_engines() -> None:
    assert {kind for kind in PowerKind if kind.is_piston} == {PowerKind.GLOW, PowerKind.PETROL}
