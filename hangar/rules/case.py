"""What a rule is given: one aircraft, its survey, the limits in force, and look-ups on them."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from hangar.base.text import Amount, Arg, Text, fixed, text
from hangar.parts import (
    Aircraft,
    Airframe,
    FedPack,
    Library,
    PowerPath,
    Receiver,
    ServoFit,
    ServoType,
    Stabiliser,
)
from hangar.parts.choices import AircraftClass, FeedRole, Function, MaxMeans, PowerKind, RotorKind, Swash
from hangar.parts.thresholds import Thresholds
from hangar.physics.pack_verdict import PackVerdict
from hangar.rules.finding import Level
from hangar.rules.flag import Sameness
from hangar.rules.supply_volts import PathVolts, path_volts
from hangar.survey.brown_out import BrownOut, brown_out
from hangar.survey.defaults import defaults_with
from hangar.survey.figures import name_of
from hangar.survey.learned import LearnedPack, load_test_verdict, pack_learned
from hangar.survey.model import Conditions, PositionSurvey, Scenario, ScenarioSurvey, Survey

_DAYS_A_YEAR = 365.25


@dataclass(frozen=True)
class Case:
    """One aircraft as the rules see it."""

    aircraft: Aircraft
    survey: Survey
    thresholds: Thresholds = field(default_factory=Thresholds)
    library: Library | None = None

    @property
    def conditions(self) -> Conditions:
        """The day it is judged for."""
        return self.survey.conditions

    @property
    def today(self) -> date:
        """The day it is judged on."""
        return self.survey.conditions.today

    @property
    def airframe(self) -> Airframe:
        """The airframe record."""
        return self.aircraft.airframe

    @property
    def kind(self) -> AircraftClass | None:
        """The aircraft's class; None where it is not said."""
        return self.aircraft.airframe.aircraft_class

    def limit(self, name: str) -> float:
        """The threshold of that name for this aircraft's class."""
        return self._limits[name]

    @cached_property
    def _limits(self) -> Mapping[str, float]:
        return self.thresholds.of_class(self.aircraft.airframe.aircraft_class)

    def lacks(self, what: str) -> Text:
        """The words that ask for something the aircraft as a whole lacks."""
        return text("{record}: {field}", record=name_of(self.airframe), field=fixed(what))

    def ample(self, value: float, unit: str) -> Amount:
        """A stored value rounded up to two digits: what is enough."""
        step = 10.0 ** (math.floor(math.log10(value)) - 1) if value > 0 else 1.0
        return Amount(math.ceil(value / step - 1e-9) * step, unit)

    def of_servo(
        self,
        fit: ServoFit,
        sentence: Text,
        noun: str = "servo",
        *,
        group: str | None = None,
        number: Arg = "",
    ) -> Sameness:
        """How a flag on one servo is told with others: those of its function, or all of ``group``."""
        if group is not None:
            return Sameness(noun=noun, name=fit.code, sentence=sentence, group=group, number=number)
        function = fit.function
        alike = sum(fit.position.function is function for fit in self.aircraft.fits)
        word = function.replace("v-tail", "V-tail")
        return Sameness(
            noun=noun, name=fit.code, sentence=sentence, group=function, word=word, count=alike, number=number
        )  # fmt: skip

    def switch_mohm(self, path: PowerPath) -> float:
        """Resistance that the switch of a path should have."""
        usual = defaults_with(self.conditions.defaults).switch_contact
        kind = path.switch_type
        if kind is None:
            return usual.value("slide")
        return usual.value(kind.switch) if kind.contact_mohm is None else kind.contact_mohm

    @property
    def plug_mohm(self) -> float:
        """Resistance that one plug should have."""
        return defaults_with(self.conditions.defaults).contact.value()

    # days

    def days_since(self, day: date) -> int:
        """Days from that day to the day of the case."""
        return (self.today - day).days

    def years_since(self, day: date) -> float:
        """Years from that day to the day of the case."""
        return (self.today - day).days / _DAYS_A_YEAR

    # survey

    def at(self, fit: ServoFit) -> PositionSurvey:
        """The computed figures of a position."""
        return self.survey.positions.get(fit.code) or PositionSurvey(code=fit.code)

    def scenario(self, scenario: Scenario) -> ScenarioSurvey:
        """The supply in one load case."""
        return self.survey.scenarios.get(scenario) or ScenarioSurvey(scenario=scenario)

    @property
    def peak(self) -> ScenarioSurvey:
        """The supply at peak current."""
        return self.scenario(Scenario.PEAK)

    @cached_property
    def brown_out(self) -> BrownOut | None:
        """How the bus fails at peak current; None where it holds or nobody knows."""
        return brown_out(self.survey)

    def least_servo_v(self, fit: ServoFit) -> float | None:
        """Volts down to which a servo works; None when not known."""
        return None if fit.servo_type is None else works_from_v(fit.servo_type, self.limit)

    # servos

    @cached_property
    def servos(self) -> tuple[ServoFit, ...]:
        """Positions whose servo and type are known."""
        return tuple(fit for fit in self.aircraft.fits if fit.servo_type is not None)

    @cached_property
    def swash(self) -> tuple[ServoFit, ...]:
        """The servos that carry the swashplate together; none for a mechanical mixer."""
        rotor = self.aircraft.rotor(RotorKind.MAIN)
        mixed = rotor is None or rotor.swash is not Swash.MECHANICAL
        wanted = {Function.CYCLIC, Function.COLLECTIVE} if mixed else set()
        group = tuple(fit for fit in self.servos if fit.function in wanted)
        return group if len(group) > 1 else ()

    @cached_property
    def ganged(self) -> tuple[tuple[ServoFit, ...], ...]:
        """Groups of two and more servos that drive one rigid surface."""
        groups: dict[str, list[ServoFit]] = {}
        for fit in self.servos:
            if fit.surface is not None:
                groups.setdefault(fit.surface.code, []).append(fit)
        return tuple(tuple(group) for group in groups.values() if len(group) > 1)

    @cached_property
    def pairs(self) -> tuple[tuple[ServoFit, ServoFit], ...]:
        """Left and right servos of the same function, one of each side."""
        return tuple(_pairs_of(self.servos))

    def through_tail_gyro(self, fit: ServoFit) -> Stabiliser | None:
        """The gyro whose tail output this servo hangs on."""
        return fit.through if fit.function is Function.TAIL else None

    def receiver_of(self, fit: ServoFit) -> Receiver | None:
        """The receiver a servo hangs on: that of its port's name, else the first."""
        receivers = self.aircraft.receivers
        named = (receiver for receiver in receivers if receiver.code == fit.position.port)
        return next(named, receivers[0] if receivers else None)

    # supply

    @cached_property
    def radio(self) -> tuple[PathVolts, ...]:
        """The power paths of receiver and servos with their volts."""
        return tuple(path_volts(path) for path in self.aircraft.radio_paths)

    @cached_property
    def packs(self) -> tuple[FedPack, ...]:
        """Every pack of the aircraft."""
        return tuple(fed for path in self.aircraft.paths for fed in path.packs)

    def learned(self, fed: FedPack) -> LearnedPack:
        """What every reading of a pack says of its resistance."""
        return pack_learned(fed, self.today, defaults_with(self.conditions.defaults))

    def load_verdict(self, fed: FedPack) -> PackVerdict | None:
        """Charged and healthy by the newest load test of a pack."""
        test = fed.newest_test
        if test is None:
            return None
        return load_test_verdict(fed, test, self.today, defaults_with(self.conditions.defaults))

    @cached_property
    def radio_packs(self) -> tuple[FedPack, ...]:
        """The packs that feed receiver and servos."""
        return tuple(fed for path in self.aircraft.radio_paths for fed in path.packs)

    @cached_property
    def tested_packs(self) -> tuple[FedPack, ...]:
        """The packs that are load-tested on a flying day: all but those that only drive."""
        radio = {path.feed.code for path in self.aircraft.radio_paths}
        return tuple(
            fed
            for path in self.aircraft.paths
            if path.feed.role is not FeedRole.DRIVE or path.feed.code in radio
            for fed in path.packs
        )

    @cached_property
    def light_drive_packs(self) -> frozenset[str]:
        """Tags of the drive packs of a light electric aircraft: its motor is their load test."""
        light = self.mass_g is not None and self.mass_g <= self.limit("second-supply-notice")
        if not light or self.airframe.power is not PowerKind.ELECTRIC:
            return frozenset()
        return frozenset(fed.pack.tag for path in self.paths_of(FeedRole.DRIVE) for fed in path.packs)

    def paths_of(self, role: FeedRole) -> tuple[PowerPath, ...]:
        """The power paths with that role."""
        return tuple(path for path in self.aircraft.paths if path.feed.role is role)

    # aircraft

    @property
    def has_engine(self) -> bool:
        """Whether something drives it by itself."""
        return self.airframe.power not in (PowerKind.NONE, PowerKind.TOW)

    @property
    def has_flybar(self) -> bool:
        """Whether a flybar takes the blades' loads and shocks off the swashplate."""
        rotor = self.aircraft.rotor(RotorKind.MAIN)
        return rotor is not None and rotor.flybar is True

    @property
    def is_turbine(self) -> bool:
        """Whether a turbine drives it."""
        return self.airframe.power is PowerKind.TURBINE

    @cached_property
    def mass_g(self) -> float | None:
        """All-up mass."""
        return self.airframe.all_up_mass_g


def due_before_flying(case: Case) -> Level:
    """The level of a proof that is out of date or was never made: at home nothing can come of it yet."""
    return Level.CAUTION if case.conditions.field_day else Level.ADVISORY


def works_from_v(kind: ServoType, limit: Callable[[str], float]) -> float | None:
    """Volts down to which a type works; None when not known.

    A lower limit that is not absolute names a nickel pack, whose volts fall under load. Without a limit the
    lowest rated volts are taken for one.
    """
    least = kind.supply_min_v
    if least is not None and kind.max_means is MaxMeans.ABSOLUTE:
        return least
    least = least if least is not None else min((row.rated_v for row in kind.ratings), default=None)
    return None if least is None else least * (1.0 - limit("nominal-minimum-share") / 100.0)


def _pairs_of(servos: tuple[ServoFit, ...]) -> Iterator[tuple[ServoFit, ServoFit]]:
    sides: dict[tuple[Function, str], list[ServoFit]] = {}
    for fit in servos:
        if fit.function.is_surface and fit.position.side not in (None, "middle"):
            sides.setdefault((fit.function, str(fit.position.side)), []).append(fit)
    for (function, side), left in sides.items():
        right = sides.get((function, "right"), [])
        if side == "left" and right:
            yield from zip(left, right, strict=False)
