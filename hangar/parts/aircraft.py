"""One aircraft as a frozen tree of parts: what survey, rules, planner, sheets and window read."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property

from hangar.parts.airframe import Airframe, Rotor
from hangar.parts.choices import Criticality, FeedRole, Function, RotorKind, SurfaceKind
from hangar.parts.controls import Lead, Linkage, Position, Surface
from hangar.parts.flight_logs import FlightLog, FlightLogPack
from hangar.parts.logbook import (
    Acceptance,
    BenchCheck,
    CapacityTest,
    CellReading,
    Charge,
    Flight,
    Inspection,
    LoadTest,
    PathCheck,
    PutOff,
    RangeCheck,
    Snag,
    SupplyCheck,
)
from hangar.parts.power import (
    Feed,
    Pack,
    PackFit,
    PackType,
    Regulator,
    RegulatorType,
    Switch,
    SwitchType,
)
from hangar.parts.radio import Accessory, Channel, Receiver, Stabiliser
from hangar.parts.readings import RemarkOnSpeed, ServoBench, ServoTiming, SetAside, Tester, is_aside
from hangar.parts.servos import Installation, Servo, ServoType
from hangar.parts.sources import FieldOrigin
from hangar.parts.workshop import Plan


@dataclass(frozen=True, kw_only=True)
class ServoFit:
    """A position with everything on it; what is not known or not fitted is None.

    ``elsewhere`` holds the open installations of the same servo at other places, ``set_aside`` the readings
    of it that count no more. ``flown_type`` and ``flown_since`` are the servo that is recorded here; a plan
    leaves them as they were.
    """

    position: Position
    channel: Channel | None = None
    through: Stabiliser | None = None
    surface: Surface | None = None
    linkage: Linkage | None = None
    lead: Lead | None = None
    installation: Installation | None = None
    servo: Servo | None = None
    servo_type: ServoType | None = None
    bench_checks: tuple[BenchCheck, ...] = ()
    benches: tuple[ServoBench, ...] = ()
    timings: tuple[ServoTiming, ...] = ()
    set_aside: tuple[SetAside, ...] = ()
    elsewhere: tuple[Installation, ...] = ()
    flown_type: ServoType | None = None
    flown_since: date | None = None

    @property
    def is_changed(self) -> bool:
        """Whether a plan puts another kind of servo here than the one that is flown."""
        return self.flown_type is not None and self.flown_type != self.servo_type

    @property
    def as_flown(self) -> ServoFit:
        """The position with the kind of servo that is flown."""
        return replace(self, servo=None, servo_type=self.flown_type) if self.is_changed else self

    @property
    def servo_since(self) -> date | None:
        """Since when the servo that is flown is here; None where that is not known."""
        if self.flown_type is not None:
            return self.flown_since
        return None if self.installation is None else self.installation.since_on

    @property
    def code(self) -> str:
        """The position's code."""
        return self.position.code

    @property
    def function(self) -> Function:
        """The position's function."""
        return self.position.function

    @property
    def turns_in_the_air(self) -> bool:
        """Whether the air turns its surface about a hinge; a plate that rises out of the wing has none."""
        plate = self.surface is not None and self.surface.carried is SurfaceKind.PLATE
        return self.function.is_surface and not plate

    @property
    def criticality(self) -> Criticality:
        """How much hangs on this position."""
        return Criticality.of(self.position.function)

    @property
    def tag(self) -> str | None:
        """Tag of the servo fitted here."""
        return self.servo.tag if self.servo else None


@dataclass(frozen=True, kw_only=True)
class FedPack:
    """A pack in a power path with its tests, oldest first.

    ``flights_today`` holds the flights of the day that name this pack, of any aircraft; ``testers`` what it
    was tested with, ``set_aside`` the readings that count no more. ``assumed_cell_mohm`` is the resistance
    that somebody tries out instead of what is known.
    """

    pack: Pack
    pack_type: PackType
    fit: PackFit | None = None
    load_tests: tuple[LoadTest, ...] = ()
    capacity_tests: tuple[CapacityTest, ...] = ()
    cells: tuple[CellReading, ...] = ()
    charges: tuple[Charge, ...] = ()
    flight_logs: tuple[FlightLogPack, ...] = ()
    flights_today: tuple[Flight, ...] = ()
    testers: tuple[Tester, ...] = ()
    set_aside: tuple[SetAside, ...] = ()
    assumed_cell_mohm: float | None = None

    @property
    def counted_tests(self) -> tuple[LoadTest, ...]:
        """The load tests that were not set aside."""
        if not self.set_aside:
            return self.load_tests
        return tuple(test for test in self.load_tests if not is_aside(test, self.set_aside))

    @property
    def newest_test(self) -> LoadTest | None:
        """The newest load test that counts."""
        return max(self.counted_tests, key=lambda test: test.tested_at, default=None)


@dataclass(frozen=True, kw_only=True)
class PowerPath:
    """A power path with its packs, switch and regulator.

    ``flown`` is what lies between packs and bus as it is recorded, which a plan leaves as it was;
    ``mended_on`` the last refit or repair of its aircraft.
    """

    feed: Feed
    packs: tuple[FedPack, ...] = ()
    switch: Switch | None = None
    switch_type: SwitchType | None = None
    regulator: Regulator | None = None
    regulator_type: RegulatorType | None = None
    checks: tuple[PathCheck, ...] = ()
    flown: tuple[object, ...] | None = None
    mended_on: date | None = None

    @property
    def between(self) -> tuple[object, ...]:
        """What lies between packs and bus: lead, switch, regulator."""
        feed = self.feed
        lead = (feed.lead_length_mm, feed.lead_awg, feed.joints, feed.parallel_leads)
        return (
            *lead,
            self.switch_type and self.switch_type.code,
            self.regulator_type and self.regulator_type.code,
        )

    @property
    def is_changed(self) -> bool:
        """Whether something lies there that is not flown yet."""
        return self.flown is not None and self.flown != self.between


@dataclass(frozen=True, kw_only=True)
class Aircraft:
    """One aircraft with all its parts and papers, as they stood when it was read."""

    airframe: Airframe
    rotors: tuple[Rotor, ...] = ()
    receivers: tuple[Receiver, ...] = ()
    stabilisers: tuple[Stabiliser, ...] = ()
    accessories: tuple[Accessory, ...] = ()
    channels: tuple[Channel, ...] = ()
    surfaces: tuple[Surface, ...] = ()
    fits: tuple[ServoFit, ...] = ()
    paths: tuple[PowerPath, ...] = ()
    plans: tuple[Plan, ...] = ()
    range_checks: tuple[RangeCheck, ...] = ()
    supply_checks: tuple[SupplyCheck, ...] = ()
    remarks: tuple[RemarkOnSpeed, ...] = ()
    set_aside: tuple[SetAside, ...] = ()
    flights: tuple[Flight, ...] = ()
    flight_logs: tuple[FlightLog, ...] = ()
    inspections: tuple[Inspection, ...] = ()
    snags: tuple[Snag, ...] = ()
    acceptances: tuple[Acceptance, ...] = ()
    put_off: tuple[PutOff, ...] = ()
    origins: tuple[FieldOrigin, ...] = ()
    """Fields of it and of its parts that come from a keeper's sheet and are not confirmed."""
    read_on: date = field(default_factory=date.today)

    @property
    def receivers_least_v(self) -> float | None:
        """Volts that every receiver needs to work [V]; None where none of them is said to need any."""
        needed_v = [unit.supply_min_v for unit in self.receivers if unit.supply_min_v is not None]
        return max(needed_v, default=None)

    @property
    def code(self) -> str:
        """The aircraft's code."""
        return self.airframe.code

    @cached_property
    def radio_paths(self) -> tuple[PowerPath, ...]:
        """The power paths that feed receiver and servos.

        A drive path feeds the radio when a regulator or speed-controller supply hangs on it.
        """
        return tuple(
            path
            for path in self.paths
            if path.feed.role is FeedRole.RECEIVER
            or (path.feed.role is FeedRole.DRIVE and path.regulator is not None)
        )

    @property
    def most_bus_v(self) -> float | None:
        """The highest volts that everything on the bus may have; None where none of it is known."""
        allowed = [fit.servo_type.supply_max_v for fit in self.fits if fit.servo_type is not None]
        allowed += [receiver.supply_max_v for receiver in self.receivers]
        allowed += [gyro.supply_max_v for gyro in self.stabilisers]
        return min((volts for volts in allowed if volts is not None), default=None)

    def rotor(self, kind: RotorKind) -> Rotor | None:
        """The main or tail rotor, if recorded."""
        return next((rotor for rotor in self.rotors if rotor.rotor is kind), None)

    def hours_since(self, day: date) -> float:
        """Hours flown after a day, by the flights on record."""
        return sum(flight.minutes_min for flight in self.flights if flight.flown_on > day) / 60.0

    def fit(self, code: str) -> ServoFit | None:
        """The position of that code."""
        return next((fit for fit in self.fits if fit.code == code), None)
