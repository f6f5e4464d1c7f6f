"""Sound set-ups of every size: what they draw is what the trade knows, and their supply is left alone.

Charges of a flight are common practice, no source; so are the set-ups.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from hangar.parts import Aircraft, FedPack, PackType, ServoType, Surface
from hangar.parts.choices import AircraftClass, Chemistry, Drive, Function, Gear, MaxMeans, PowerKind, Side
from hangar.rules import Finding, Level, inspect
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit, with_path, with_receiver
from hangar.rules.example_parts import airframe, assembled, fed, fit, path, servo_type, surface
from hangar.survey import Scenario, survey
from tests.all_cases import all_cases
from tests.rules.clean.fleet import CLEAN

SUPPLY_RULES = {
    "pack-too-small", "pack-below-one-hour", "discharge-rate-short", "switch-current", "connector-current",
    "regulator-current", "regulator-heat", "regulator-dropout", "receiver-bus-current", "lead-drop",
    "lead-gauge-small", "under-volts-receiver", "under-volts-servo", "twin-pack-one-fails",
}  # fmt: skip


def small(code: str, *rows: tuple[float, float, float, float], drive: Drive = Drive.ANALOG) -> ServoType:
    """A small servo whose sheet says nothing of its currents but the stall."""
    kind = servo_type(code, drive, rows, max_v=6.0, means=MaxMeans.NOMINAL, gear=Gear.COMPOSITE, teeth=21)
    return replace(kind, idle_ma=None, run_a=None, lead_awg=28)


INDOOR = small("PR-indoor", (3.7, 0.02, 0.10, 0.35), (4.2, 0.024, 0.09, 0.40))
DISCUS = small("PR-discus", (4.8, 0.11, 0.11, 0.60), (6.0, 0.14, 0.09, 0.75), drive=Drive.DIGITAL)
RACER = servo_type(
    "PR-racer", Drive.DIGITAL, ((4.8, 0.32, 0.10, 1.6), (6.0, 0.40, 0.08, 2.0)), max_v=6.0,
    means=MaxMeans.NOMINAL,
)  # fmt: skip
AEROBATIC = servo_type(
    "PR-aerobatic", Drive.DIGITAL,
    ((4.8, 1.45, 0.175, 3.1), (6.0, 1.8, 0.14, 3.9), (7.4, 2.2, 0.12, 4.8), (8.4, 2.5, 0.105, 5.4)),
    max_v=8.4,
)  # fmt: skip
HUGE = servo_type(
    "PR-huge", Drive.DIGITAL,
    ((4.8, 2.6, 0.21, 5.5), (6.0, 3.3, 0.17, 6.9), (7.4, 4.0, 0.14, 8.5), (8.4, 4.5, 0.125, 9.6)),
    max_v=8.4,
)  # fmt: skip


def cells(code: str, chemistry: Chemistry, series: int, mah: float, mohm: float) -> PackType:
    return PackType(
        code=code, chemistry=chemistry, series=series, capacity_mah=mah, continuous_a=20.0 * mah / 1000.0,
        burst_a=40.0 * mah / 1000.0, charge_c=1.0, cell_mohm=mohm, connector="small", lead_awg=22,
        mass_g=20.0, life_y=3.0, life_cycles=200,
    )  # fmt: skip


ONE_CELL = cells("PR-1 lithium", Chemistry.LIPO, 1, 160.0, 40.0)
DISCUS_PACK = cells("PR-1 discus", Chemistry.LIPO, 2, 350.0, 20.0)
RACER_PACK = replace(ex.NICKEL_4, code="PR-4 racer", capacity_mah=1000.0)
IRON = cells("PR-2 iron", Chemistry.LIFEPO4, 2, 2500.0, 10.0)


def moved(code: str, part: str, function: Function, side: Side, span: float, chord: float) -> Surface:
    return surface(code, part, part, function, side, span_mm=span, chord_mm=chord, whole_mm=4.0 * chord)


def charged(tag: str, kind: PackType) -> FedPack:
    return fed(tag, kind, rest_v=4.1 * kind.series, load_a=1.0, loaded_v=4.0 * kind.series)


def built(
    code: str, kind: AircraftClass, servo: ServoType, size: float, surfaces: str, *packs: PackType,
    throttle: bool = True, lead: dict[str, float] | None = None, **values: float,
) -> Aircraft:  # fmt: skip
    """An aircraft with the surfaces of a list of letters, all of one size, and one servo type."""
    names = {"A": Function.AILERON, "E": Function.ELEVATOR, "R": Function.RUDDER, "F": Function.FLAP}
    fits = []
    for number, letter in enumerate(surfaces, 1):
        side = Side.LEFT if letter.isupper() else Side.RIGHT
        function = names[letter.upper()]
        part = f"{letter.upper()}{number}"
        place = moved(code, part, function, side, 5.0 * size, size)
        fits.append(fit(code, part, part, function, number, servo, side=side, surface=place))
    if throttle:
        fits.append(fit(code, "THR", "Throttle", Function.THROTTLE, len(fits) + 1, servo))
    power = PowerKind.PETROL if throttle else PowerKind.NONE
    aircraft = assembled(
        airframe(code, kind, power, **values), tuple(fits),
        paths=tuple(path(code, f"P{n}", charged(f"{code}-{n}", pack)) for n, pack in enumerate(packs, 1)),
    )  # fmt: skip
    return with_fit(aircraft, lead=lead) if lead else aircraft


def indoor() -> Aircraft:
    """115 g: three tiny analog servos on the one drive cell."""
    aircraft = built(
        "PRI", AircraftClass.ELECTRIC_SMALL, INDOOR, 20.0, "ERA", ONE_CELL, throttle=False,
        all_up_mass_g=115.0, dive_speed_m_s=8.0, flight_min=6.0, flights_per_charge=1,
        lead={"length_mm": 60.0, "awg": 30},
    )  # fmt: skip
    feed = {"switch": None, "lead_awg": 26, "lead_length_mm": 60.0}
    aircraft = with_path(aircraft, feed=feed, switch=None, switch_type=None)
    return with_receiver(aircraft, supply_min_v=3.0, idle_ma=30.0)


def discus() -> Aircraft:
    """A hand-launched glider: four 6 g digital servos on two small cells, flown for hours."""
    aircraft = built(
        "PRD", AircraftClass.SAIL_THERMAL, replace(DISCUS, supply_max_v=8.4), 30.0, "AaER", DISCUS_PACK,
        throttle=False, all_up_mass_g=270.0, dive_speed_m_s=18.0, flight_min=15.0, flights_per_charge=2,
        lead={"length_mm": 300.0, "awg": 28},
    )  # fmt: skip
    return with_path(aircraft, switch=None, switch_type=None, feed={"switch": None})


def racer() -> Aircraft:
    """A club racer: three fast digital servos on a small four-cell pack."""
    return built(
        "PRR", AircraftClass.SPORT, RACER, 30.0, "AER", RACER_PACK, all_up_mass_g=2300.0, dive_speed_m_s=50.0,
        flight_min=8.0, flights_per_charge=3,
    )  # fmt: skip


def aerobatic() -> Aircraft:
    """A 50 cc aerobatic aircraft: six servos of 2.2 N m on two iron packs."""
    return built(
        "PRX", AircraftClass.AEROBATIC_3D, AEROBATIC, 90.0, "AaEeR", IRON, IRON, all_up_mass_g=7400.0,
        dive_speed_m_s=30.0, flight_min=10.0, flights_per_charge=3,
    )  # fmt: skip


def big_aerobatic() -> Aircraft:
    """A 150 cc aerobatic aircraft: nine servos of 4 N m on two packs."""
    return built(
        "PRB", AircraftClass.AEROBATIC_3D, HUGE, 110.0, "AaAaEeRR", ex.LITHIUM_2, ex.LITHIUM_2,
        all_up_mass_g=17500.0, dive_speed_m_s=32.0, flight_min=10.0, flights_per_charge=2,
    )  # fmt: skip


def digital_helicopter() -> Aircraft:
    """A 60-size helicopter with five digital servos on the usual volts of its day."""
    return ex.helicopter()


@dataclass(frozen=True)
class Sound:
    """A sound set-up with what a flight of ten minutes, or an hour for a glider, is known to take."""

    make: Callable[[], Aircraft]
    least_mah: float
    most_mah: float
    minutes: float = 10.0


SOUND = {
    "park model of 115 g": Sound(indoor, 10.0, 60.0),
    "hand-launched glider": Sound(discus, 100.0, 300.0, 60.0),
    "club racer": Sound(racer, 30.0, 120.0),
    "sport trainer": Sound(ex.trainer, 30.0, 60.0),
    "60-size helicopter": Sound(digital_helicopter, 150.0, 350.0),
    "50 cc aerobatic": Sound(aerobatic, 200.0, 400.0),
    "150 cc aerobatic": Sound(big_aerobatic, 400.0, 900.0),
    "giant": Sound(ex.giant, 150.0, 400.0),
    "turbine jet": Sound(CLEAN["turbine jet"], 150.0, 400.0),
    "electric helicopter": Sound(CLEAN["electric 3D helicopter"], 150.0, 500.0),
}


def warnings_of(aircraft: Aircraft) -> list[str]:
    lines: list[str] = []

    def note(findings: tuple[Finding, ...]) -> None:
        for finding in findings:
            if finding.rule in SUPPLY_RULES and finding.level in (Level.WARNING, Level.CAUTION):
                lines.append(f"{finding.level} {finding.rule}: {finding.message}")
            note(finding.folded)

    note(inspect(aircraft, survey(aircraft, ex.home_day())))
    return lines


@all_cases("name", SOUND)
def test_a_mean_never_exceeds_a_peak_and_a_flight_takes_what_is_known(name: str) -> None:
    case = SOUND[name]
    seen = survey(case.make(), ex.home_day())
    mean, peak = seen.supply.mean_a, seen.supply.peak_a
    assert mean is not None
    assert peak is not None
    brisk = seen.scenarios[Scenario.BRISK].total_a
    assert brisk is not None
    assert mean.expected < brisk.expected < peak.expected
    charge_mah = 1000.0 * mean.expected * case.minutes / 60.0
    assert case.least_mah <= charge_mah <= case.most_mah, charge_mah


@all_cases("name", [*SOUND, *CLEAN])
def test_the_supply_of_a_sound_aircraft_is_left_alone(name: str) -> None:
    make = SOUND[name].make if name in SOUND else CLEAN[name]
    assert warnings_of(make()) == []


@all_cases("times", [0.25, 0.5, 2.0, 3.0])
def test_a_mean_follows_the_servo_s_own_currents(times: float) -> None:
    def scaled(kind: ServoType) -> ServoType:
        rows = tuple(replace(row, stall_a=(row.stall_a or 0.0) * times) for row in kind.ratings)
        return replace(
            kind, ratings=rows, idle_ma=(kind.idle_ma or 0.0) * times, run_a=(kind.run_a or 0.0) * times
        )

    plain = ex.giant()
    fits = tuple(
        replace(servo_fit, servo_type=scaled(servo_fit.servo_type) if servo_fit.servo_type else None)
        for servo_fit in plain.fits
    )
    seen, other = survey(plain, ex.home_day()), survey(replace(plain, fits=fits), ex.home_day())
    for code, position in seen.positions.items():
        average = other.positions[code].average_a
        assert average is not None
        assert position.average_a is not None
        assert abs(average.expected - times * position.average_a.expected) < 1e-9


def test_a_mean_does_not_hang_on_the_volts_of_the_bus() -> None:
    five = survey(ex.five_cells(ex.trainer()), ex.home_day()).supply.mean_a
    four = survey(ex.trainer(), ex.home_day()).supply.mean_a
    assert five is not None
    assert four is not None
    assert five.expected == four.expected


def test_a_running_current_beyond_belief_leaves_the_mean_below_the_peak() -> None:
    seen = survey(with_fit(ex.trainer(), servo_type={"run_a": 30.0}), ex.home_day()).supply
    assert seen.mean_a is not None
    assert seen.peak_a is not None
    assert seen.mean_a.expected <= seen.peak_a.expected


def test_a_duty_that_the_keeper_sets_counts() -> None:
    day = ex.home_day()
    hard = replace(day, defaults={"work_share.any": 0.1, "moving_share.any": 0.5})
    plain, worked = survey(ex.trainer(), day).supply.mean_a, survey(ex.trainer(), hard).supply.mean_a
    assert plain is not None
    assert worked is not None
    assert worked.expected > 1.5 * plain.expected


def test_a_long_planned_day_is_still_told() -> None:
    short = with_airframe(discus(), flights_per_charge=20)
    assert any("pack-too-small" in warning for warning in warnings_of(short))
