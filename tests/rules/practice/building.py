"""Whole practice aircraft from a few figures: a wing's surfaces or a rotor, servos, supply."""

from __future__ import annotations

import dataclasses
import math
from typing import Any

from hangar.parts import Aircraft, PowerPath, Rotor, ServoFit, ServoType, Stabiliser
from hangar.parts.choices import (
    AircraftClass,
    FailsafeAction,
    Function,
    MaxMeans,
    PowerKind,
    RotorKind,
    Side,
    Swash,
)
from hangar.rules.changing import with_channel
from hangar.rules.example_parts import LEFT, MIDDLE, RIGHT, airframe, assembled, channel, fit, surface
from tests.rules.practice.parts import CASES, STANDARD

A, E, R, V, F, S = (
    Function.AILERON, Function.ELEVATOR, Function.RUDDER, Function.V_TAIL, Function.FLAP, Function.SPOILER
)  # fmt: skip
_PLAY = {
    AircraftClass.ELECTRIC_SMALL: 1.0, AircraftClass.SPORT: 0.6, AircraftClass.SCALE: 0.5,
    AircraftClass.JET_TURBINE: 0.1, AircraftClass.SAIL_FAST: 0.15, AircraftClass.JET_EDF: 0.2,
}  # fmt: skip
_TRAVEL = 45.0


@dataclasses.dataclass(frozen=True, kw_only=True)
class Moved:
    """A control: what it is, its servo, the surface's span, chord behind the hinge and whole chord in mm.

    ``throw`` is the way up or left and down or right in degrees; the arm follows from it, so that ``use``
    degrees of the servo are used, as builders do. ``two`` makes a left and a right one.
    """

    what: Function
    kind: ServoType
    size: tuple[float, float, float]
    throw: tuple[float, float]
    two: bool = False
    horn: float = 20.0
    use: float = 40.0
    lead: float = 300.0
    awg: int = 26
    name: str = ""
    more: dict[str, Any] = dataclasses.field(default_factory=dict)
    rod: dict[str, Any] = dataclasses.field(default_factory=dict)

    @property
    def code(self) -> str:
        """The position's code without its side."""
        return self.name or {A: "AIL", E: "ELE", R: "RUD", V: "VT", F: "FLAP", S: "SPO"}[self.what]


def _bay(kind: ServoType) -> dict[str, Any]:
    length, width, height = kind.case_length_mm, kind.case_width_mm, kind.case_height_mm
    return {
        "bay_length_mm": (length or 0) + 1.5, "bay_width_mm": (width or 0) + 1.0,
        "bay_height_mm": (height or 0) + 5.0, "bay_screw_mm": kind.screw_length_mm or 0,
    }  # fmt: skip


def _fitted(
    made: ServoFit, *, awg: int, lead_mm: float, linkage: dict[str, Any], moving_ma: float
) -> ServoFit:
    if made.linkage is None or made.lead is None or made.servo_type is None:
        raise ValueError(made.code)
    kind = made.servo_type
    return dataclasses.replace(
        made,
        position=dataclasses.replace(made.position, **_bay(kind)),
        lead=dataclasses.replace(made.lead, length_mm=lead_mm, awg=awg, joints=2 if lead_mm > 400 else 1),
        linkage=dataclasses.replace(made.linkage, **linkage),
        bench_checks=tuple(
            dataclasses.replace(bench_check, moving_ma=moving_ma) for bench_check in made.bench_checks
        ),
    )


def _moved(code: str, one: Moved, side: Side, number: int, play: float) -> ServoFit:
    letter = {LEFT: "-L", RIGHT: "-R", MIDDLE: ""}[side]
    word = {LEFT: "Left ", RIGHT: "Right ", MIDDLE: ""}[side]
    span, chord, whole = one.size
    label = f"{word}{one.what}"
    values: dict[str, Any] = {
        "throw_up_deg": one.throw[0], "throw_down_deg": one.throw[1], "play_deg": play, **one.more
    }  # fmt: skip
    moved = surface(code, one.code + letter, label, one.what, side, span_mm=span, chord_mm=chord,
                    whole_mm=whole, **values)  # fmt: skip
    made = fit(code, one.code + letter, label, one.what, number, one.kind, side=side, surface=moved)
    full = math.radians(max(one.throw))
    arm = one.horn * math.sin(min(full, math.radians(75))) / math.sin(math.radians(one.use))
    rod = {"arm_mm": round(arm, 1), "horn_mm": one.horn, "servo_travel_deg": max(_TRAVEL, one.use),
           "rod_diameter_mm": 4.0 if one.kind.case_length_mm == CASES["standard"][0] else 2.0,
           "rod_free_mm": 100.0 if one.kind.case_length_mm == CASES["standard"][0] else 50.0,
           "rod_length_mm": 150.0, **one.rod}  # fmt: skip
    return _fitted(
        made, awg=one.awg, lead_mm=one.lead, linkage=rod,
        moving_ma=100.0 * (one.kind.ratings[0].stall_a or 1.0) / 0.7 * 0.2,
    )  # fmt: skip


def plane(
    code: str,
    kind: AircraftClass,
    power: PowerKind,
    *controls: Moved,
    paths: tuple[PowerPath, ...],
    span: float,
    area: float,
    mass: float,
    dive: float | None,
    minutes: float,
    flights: int = 1,
    throttle: ServoType = STANDARD,
    **more: Any,
) -> Aircraft:
    """An aircraft with wings; span in mm, area in dm2, mass in g, dive speed in m/s.

    Throttles are moved by a servo where a piston engine drives it. Flaps and spoilers brake when the
    signal is lost where nothing drives it.
    """
    fits: list[ServoFit] = []
    numbers = iter([1, 2, 4, 5, 6, 7, 8, 9, 10, 11, 12])
    play = _PLAY.get(kind, 0.3)
    for control in controls:
        sides = (LEFT, RIGHT) if control.two else (MIDDLE,)
        fits += [_moved(code, control, side, next(numbers), play) for side in sides]
    if power.is_piston:
        moved = fit(code, "THR", "Throttle", Function.THROTTLE, 3, throttle)
        fits.append(_fitted(moved, awg=26, lead_mm=300.0, linkage={}, moving_ma=50.0))
    chord = area / span * 10_000.0
    frame = airframe(
        code, kind, power, span_mm=span, length_mm=span * 0.8, wing_area_dm2=area,
        mean_chord_mm=round(chord), empty_mass_g=mass * 0.85, all_up_mass_g=mass, dive_speed_m_s=dive,
        flight_min=minutes, flights_per_charge=flights, **_stops(power), **more,
    )  # fmt: skip
    made = assembled(frame, tuple(fits), paths=paths)
    if power in (PowerKind.ELECTRIC, PowerKind.TURBINE):
        made = _with_throttle(made)
    if power in (PowerKind.NONE, PowerKind.TOW):
        for servo_fit in fits:
            if servo_fit.function in (Function.FLAP, Function.SPOILER) and servo_fit.channel is not None:
                made = with_channel(
                    made, servo_fit.channel.number, failsafe=FailsafeAction.PRESET, failsafe_us=1900.0
                )
    return made


def _stops(power: PowerKind) -> dict[str, Any]:
    if power.is_piston:
        return {}
    if power is PowerKind.TURBINE:
        return {"turbine_stop_s": 1.2, "ignition_kill": None}
    return {"metal_propeller": None, "engine_stop": None, "ignition_kill": None}


def _with_throttle(made: Aircraft) -> Aircraft:
    off = dataclasses.replace(channel(made.code, 3, Function.THROTTLE), failsafe=FailsafeAction.OFF)
    return dataclasses.replace(made, channels=(*made.channels, off))


def heli(
    code: str,
    kind: AircraftClass,
    power: PowerKind,
    swash: tuple[ServoType, Swash],
    tail: ServoType,
    *,
    paths: tuple[PowerPath, ...],
    rotor: tuple[float, float, float, float, float],
    tail_rotor: tuple[float, float, float, float],
    flybar: bool,
    mass: float,
    minutes: float,
    flights: int = 1,
    arm: float = 14.0,
    awg: int = 22,
    throttle: ServoType = STANDARD,
    blades: int = 2,
    **more: Any,
) -> Aircraft:
    """A helicopter; ``rotor`` is blade length, chord in mm, blade mass in g, rpm, pitch in degrees.

    ``tail_rotor`` is blade length, chord in mm, blade mass in g, rpm.
    """
    cyclic, plate = swash
    length, chord, grams, rpm, pitch = rotor
    unit = _unit(code, tail, cyclic, flybar)
    names = ["CYC-1", "CYC-2", "CYC-3"] if plate is not Swash.MECHANICAL else ["ELE", "AIL", "PIT"]
    fits: list[ServoFit] = []
    for number, name in zip((1, 2, 6), names, strict=True):
        what = Function.COLLECTIVE if name == "PIT" else Function.CYCLIC
        made = fit(code, name, f"Swash {name}", what, number, cyclic)
        fits.append(_through(made, unit) if not flybar else made)
    fits.append(_through(fit(code, "TAIL", "Tail", Function.TAIL, 4, tail), unit))
    if power.is_piston:
        fits.append(fit(code, "THR", "Throttle", Function.THROTTLE, 3, throttle))
    links = {"arm_mm": arm, "horn_mm": arm * 1.4, "rod_free_mm": 60.0, "rod_length_mm": 80.0}
    fits = [
        _fitted(servo_fit, awg=awg, lead_mm=250.0, linkage=links, moving_ma=150.0) for servo_fit in fits
    ]  # fmt: skip
    tail_length, tail_chord, tail_grams, tail_rpm = tail_rotor
    flown: dict[str, Any] = {"damper_flights": 30, "blade_flights": 30, "spindle_flights": 30}
    rotors = (
        Rotor(
            aircraft=code, diameter_mm=2 * length * 1.09, blades=blades, blade_length_mm=length,
            blade_chord_mm=chord, blade_mass_g=grams, head_rpm=rpm, flybar=flybar, swash=plate,
            grip_arm_mm=max(12.0, length * 0.032), pitch_deg=pitch, **flown,
        ),
        Rotor(
            aircraft=code, rotor=RotorKind.TAIL, diameter_mm=2.4 * tail_length, blade_length_mm=tail_length,
            blade_chord_mm=tail_chord, blade_mass_g=tail_grams, head_rpm=tail_rpm,
            grip_arm_mm=max(8.0, tail_length * 0.14), pitch_deg=25.0, counterweights=False,
        ),
    )  # fmt: skip
    frame = airframe(
        code, kind, power, length_mm=length * 2.1, empty_mass_g=mass * 0.9, all_up_mass_g=mass,
        flight_min=minutes, flights_per_charge=flights, **_stops(power), **more,
    )  # fmt: skip
    whole = assembled(frame, tuple(fits), rotors=rotors, stabilisers=(unit,), paths=paths)
    return _with_throttle(whole) if power in (PowerKind.ELECTRIC, PowerKind.TURBINE) else whole


def _unit(code: str, tail: ServoType, cyclic: ServoType, flybar: bool) -> Stabiliser:
    cyclic_hz = None if flybar else min(200.0, cyclic.max_rate_hz or 50.0)
    return Stabiliser(
        aircraft=code, code="G", supply_min_v=3.6, supply_max_v=8.4, max_means=MaxMeans.ABSOLUTE,
        idle_ma=80.0, pulse_us=tail.pulse_us, rate_hz=tail.max_rate_hz,
        cyclic_pulse_us=None if flybar else 1520.0, cyclic_rate_hz=cyclic_hz,
    )  # fmt: skip


def _through(made: ServoFit, unit: Stabiliser) -> ServoFit:
    return dataclasses.replace(
        made, through=unit, position=dataclasses.replace(made.position, through=unit.code)
    )


def second_servo(made: Aircraft, at: str, kind: ServoType | None = None) -> Aircraft:
    """The aircraft with two servos on the surface of a position; ``kind`` where the second is another."""
    first = made.fit(at)
    if first is None or first.surface is None or first.servo_type is None:
        raise KeyError(at)
    other = fit(made.code, f"{at}-2", f"{first.position.name} second", first.function, 12,
                kind or first.servo_type, surface=first.surface)  # fmt: skip
    other = dataclasses.replace(
        other, position=dataclasses.replace(other.position, **_bay(kind or first.servo_type)),
        linkage=dataclasses.replace(first.linkage, position=other.code) if first.linkage else None,
        lead=dataclasses.replace(first.lead, position=other.code) if first.lead else None,
    )  # fmt: skip
    return dataclasses.replace(
        made, fits=(*made.fits, other), channels=(*made.channels, channel(made.code, 12, first.function))
    )
