"""Currents of every choice as whole microamperes, and the bus volts of a supply at a current."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

from hangar.base.errors import NoAnswer
from hangar.base.text import Text
from hangar.parts import Aircraft, ServoFit
from hangar.parts.choices import PlanAction
from hangar.physics.network_elements import CurrentLoad
from hangar.refit.choice import Choice
from hangar.refit.judge import Judge, Picks
from hangar.refit.request import RefitRequest
from hangar.refit.supplies import Supply
from hangar.rules.cures import Cure
from hangar.survey.defaults import defaults_with
from hangar.survey.leads import lead_ohm, start_node
from hangar.survey.operating import PathState, Tree, operating_point
from hangar.survey.paths import BUS, GROUND
from hangar.survey.supply import charge_pct, servo_draw, supply_model

PEAK, STALL, MEAN, BRISK = range(4)
QUANTITIES = (PEAK, STALL, MEAN, BRISK)
_MICRO = 1e6
_STEP_MICRO_A = 50_000
"""Steps of the current at which bus volts are asked for."""
Amps = tuple[int, int, int, int]
_NO_AMPS: Amps = (0, 0, 0, 0)
Row = tuple[int, int, float]
"""A summed current: one of the quantities, at the nominal bus volts in millivolts; of the peak at bus volts
that hold some servo fast these volts as well, else 0."""


@dataclass(frozen=True)
class Servo:
    """What one servo draws in the peak: idle and moving, its ohms when held fast, and those of its lead.

    ``drop_v`` is lost on the way to its lead whatever it draws.
    """

    idle_a: float
    running_a: float
    stall_ohm: float
    lead_ohm: float
    shares_lead: bool
    drop_v: float = 0.0

    def at_least_a(self, bus_v: float) -> float:
        """What it draws at bus volts; no more than that where others share its lead."""
        stalled_a = ((bus_v - self.drop_v) / self.stall_ohm + self.idle_a) / (
            1.0 + self.lead_ohm / self.stall_ohm
        )
        if stalled_a >= self.idle_a + self.running_a:
            return self.idle_a + self.running_a
        return 0.0 if self.shares_lead else max(0.0, stalled_a)


@dataclass(frozen=True)
class Drawn:
    """What a choice draws at nominal bus volts, and the bus volts below which one of its servos may stall."""

    amps: Amps
    stalls_at_v: float
    servos: tuple[Servo, ...] = ()

    def of(self, row: Row) -> int:
        """Its current in a row."""
        quantity, _, bus_v = row
        if not bus_v or bus_v >= self.stalls_at_v:
            return self.amps[quantity]
        return sum(round(_MICRO * servo.at_least_a(bus_v)) for servo in self.servos)


class Currents:
    """Currents of the choices of one aircraft; each is worked out when it is first asked for.

    While no servo is stalled by the volts, the peak current of a plan does not hang on its bus volts; so at
    one supply a plan with more of it has a lower bus, and one with less a higher one.
    """

    def __init__(self, judge: Judge, asking: RefitRequest) -> None:
        self.judge, self.asking = judge, asking
        self.aircraft: Aircraft = judge.aircraft
        self.defaults = defaults_with(asking.conditions.defaults)
        kind = self.aircraft.airframe.aircraft_class
        self.peak_share = self.defaults.peak_share.value(kind)
        self.brisk_share = self.defaults.brisk_share.value(kind)
        self.regulation_ohm = self.defaults.regulation.value() / 1000.0
        self.charge = charge_pct(asking.conditions, self.defaults)
        self.model = supply_model(self.aircraft, asking.conditions, self.defaults)
        starts = Counter(node for node in self.model.start.values() if node != BUS)
        self.shared = {code for code, node in self.model.start.items() if starts[node] > 1}
        self.before = self._before()
        self.drawn: dict[tuple[int, int, int], Drawn] = {}
        self.of_fits: dict[tuple[object, ...], Drawn] = {}
        self.fast: dict[int, float] = {}
        self.filled: dict[tuple[object, ...], tuple[ServoFit, ...]] = {}
        self.columns: dict[tuple[int, Row], tuple[int, ...]] = {}
        self.volts: dict[tuple[int, int], tuple[float, ...] | None] = {}

    def _before(self) -> dict[str, tuple[float, float]]:
        """Ohms between the bus and each servo's lead, and the volts that a steady current loses there."""
        ohms = {lead.b: lead.resistance_ohm for lead in self.model.tree.leads if lead.a == BUS}
        steady = Counter[str]()
        for load in self.model.tree.steady:
            steady[load.a] += load.current_a  # type: ignore[assignment]
        return {
            code: (ohms.get(node, 0.0), ohms.get(node, 0.0) * steady[node])
            for code, node in self.model.start.items()
            if node != BUS
        }

    def nominal_mv(self, supply: int) -> int:
        """Nominal bus volts of a supply in millivolts; 0 where they are not known."""
        return round(1000.0 * (self.judge.supplies[supply].nominal_v or 0.0))

    def of_choice(self, at: int, choice: int, nominal_mv: int) -> Drawn:
        """What the positions of a list draw with one of its choices."""
        key = (at, choice, nominal_mv)
        if key not in self.drawn:
            self.drawn[key] = self._drawn(self.judge.lists[at].choices[choice], at, nominal_mv)
        return self.drawn[key]

    def column(self, at: int, row: Row) -> tuple[int, ...]:
        """A row's current of every choice of a list."""
        key = (at, row)
        if key not in self.columns:
            count = len(self.judge.lists[at].choices)
            self.columns[key] = tuple(self.of_choice(at, choice, row[1]).of(row) for choice in range(count))
        return self.columns[key]

    def of_plan(self, picks: Picks, row: Row) -> int:
        """A row's current of a plan."""
        return sum(self.of_choice(at, choice, row[1]).of(row) for at, choice in enumerate(picks[:-1]))

    def is_known(self, picks: Picks, row: Row) -> bool:
        """Whether a row holds the very current that a plan draws, and not a lower one."""
        bus_v = row[2]
        return not bus_v or not any(
            servo.shares_lead and bus_v < drawn.stalls_at_v
            for drawn in (self.of_choice(at, choice, row[1]) for at, choice in enumerate(picks[:-1]))
            for servo in drawn.servos
        )

    def most_v(self, supply: int, micro_a: int) -> tuple[float, ...] | None:
        """Bus volts in each peak that no plan exceeds whose servos ask for a current or more.

        Those asked for are drawn while the volts hold no servo fast; so either the bus is no higher than with
        that current, or it is below the volts at which some servo is held fast.
        """
        idle = self.bus_v(supply, 0)
        low = micro_a // _STEP_MICRO_A * _STEP_MICRO_A
        if idle is None or low <= 0:
            return idle
        loaded = self.bus_v(supply, low) or (0.0,) * len(idle)
        fast_v = self.stalls_at_v(self.nominal_mv(supply))
        return tuple(min(first, max(second, fast_v)) for first, second in zip(idle, loaded, strict=True))

    def stalls_at_v(self, nominal_mv: int) -> float:
        """Bus volts below which some servo of some choice may be held fast."""
        if nominal_mv in self.fast:
            return self.fast[nominal_mv]
        most, shared_a = 0.0, 0.0
        for at, choice_list in enumerate(self.judge.lists):
            if Cure.SERVO not in choice_list.kinds:
                continue
            drawns = [self.of_choice(at, choice, nominal_mv) for choice in range(len(choice_list.choices))]
            most = max(most, max(drawn.stalls_at_v for drawn in drawns))
            if self.shared & set(choice_list.places):
                shared_a += max(drawn.amps[PEAK] for drawn in drawns) / _MICRO
        self.fast[nominal_mv] = most + shared_a * self._shared_ohm
        return self.fast[nominal_mv]

    @property
    def _shared_ohm(self) -> float:
        """The most that leads which several servos share put before a servo."""
        return max((lead.resistance_ohm for lead in self.model.tree.leads if lead.a == BUS), default=0.0)

    def bus_v(self, supply: int, micro_a: int) -> tuple[float, ...] | None:
        """Bus volts in each peak while the servos draw a current; None where nobody can tell."""
        key = (supply, micro_a)
        if key not in self.volts:
            self.volts[key] = self._bus_v(self.judge.supplies[supply], micro_a / _MICRO)
        return self.volts[key]

    def _bus_v(self, supply: Supply, amps: float) -> tuple[float, ...] | None:
        if not supply.models:
            return None
        conditions, bus_v = self.asking.conditions, []
        aged = self.defaults.aged_resistance.value()
        for temperature_c, times in (
            (conditions.pack_c, 0.0), (conditions.cold_pack_c, 0.0), (conditions.pack_c, aged),
        ):  # fmt: skip
            feedings = [
                PathState.of(path, path.pack_elements(self.charge, temperature_c, times))
                for path in supply.models
            ]
            load = CurrentLoad("servos", BUS, GROUND, amps + self.model.standing_a)
            try:
                point = operating_point(feedings, Tree((), ()), [load])
            except NoAnswer:
                return None
            if point is None:
                return None
            bus_v.append(point.node_v[BUS])
        return tuple(bus_v)

    def _drawn(self, choice: Choice, at: int, nominal_mv: int) -> Drawn:
        choice_list = self.judge.lists[at]
        if Cure.RECEIVER in choice.does:
            return Drawn(self._standing(choice), 0.0)
        if Cure.SERVO not in choice_list.kinds:
            return Drawn(_NO_AMPS, 0.0)
        new = {
            line.place: (line.part_type, line.from_stock)
            for line in choice.lines
            if line.action is PlanAction.FIT_SERVO
        }
        key = (at, nominal_mv, tuple(sorted(new.items(), key=str)))
        if key not in self.of_fits:
            self.of_fits[key] = self._of_fits(self._fits(at, choice), nominal_mv)
        return self.of_fits[key]

    def fits(self, at: int, choice: int) -> tuple[ServoFit, ...]:
        """The positions of a list with the servos of one of its choices; its leads and arms are today's."""
        return self._fits(at, self.judge.lists[at].choices[choice])

    def _fits(self, at: int, choice: Choice) -> tuple[ServoFit, ...]:
        lines = tuple(line for line in choice.lines if line.action is PlanAction.FIT_SERVO)
        key = (at, tuple((line.place, line.part_type, line.from_stock) for line in lines))
        if key not in self.filled:
            changed = self.judge.changed(lines) if lines else self.aircraft
            places = self.judge.lists[at].places
            self.filled[key] = tuple(
                fit for fit in changed.fits if fit.code in places and fit.servo_type is not None
            )
        return self.filled[key]

    def _of_fits(self, fits: Sequence[ServoFit], nominal_mv: int) -> Drawn:
        sums, stalls, servos = [0, 0, 0, 0], 0.0, []
        nominal = nominal_mv / 1000.0
        for fit in fits:
            draw = servo_draw(self.aircraft, fit, nominal or None, self.defaults, [])
            stall = draw.stall_a or 0.0
            brisk = draw.brisk_share(self.brisk_share, self.peak_share)
            peak = draw.idle_a + self.peak_share * stall
            for quantity, amps in enumerate((peak, stall, draw.average_a, draw.idle_a + brisk * stall)):
                sums[quantity] += round(_MICRO * amps)
            missing: list[Text] = []
            ohm = lead_ohm(fit, self.defaults, missing)
            own_ohm = ohm.expected if ohm is not None else 0.0
            more_ohm, drop_v = self.before.get(fit.code, (0.0, 0.0))
            shares = fit.code in self.shared
            way_ohm = own_ohm if shares else own_ohm + more_ohm
            stalls = max(stalls, self.peak_share * nominal + peak * way_ohm + drop_v)
            if draw.stall_ohm:
                running = self.peak_share * stall
                servos.append(Servo(draw.idle_a, running, draw.stall_ohm, way_ohm, shares, drop_v))
        return Drawn((sums[0], sums[1], sums[2], sums[3]), stalls, tuple(servos))

    def _standing(self, choice: Choice) -> Amps:
        """What another receiver draws all the time over today's."""
        changed = supply_model(self.judge.changed(choice.lines), self.asking.conditions, self.defaults)
        added = round(_MICRO * (changed.standing_a - self.model.standing_a))
        return added, 0, added, added


def joined_at(aircraft: Aircraft, judge: Judge) -> dict[int, frozenset[int]]:
    """For each list the others whose servos hang on the same gyro or Y lead, which lowers its volts."""
    from hangar.survey.leads import shared_outputs

    shared = shared_outputs(aircraft)
    nodes: dict[str, set[int]] = {}
    for fit in aircraft.fits:
        node = start_node(fit, shared)
        if node != BUS and fit.code in judge.group_of:
            nodes.setdefault(node, set()).add(judge.group_of[fit.code])
    return {
        at: frozenset(other for lists in nodes.values() if at in lists for other in lists) - {at}
        for at in range(len(judge.lists))
    }
