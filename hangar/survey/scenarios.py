"""The load cases of the supply: what is drawn in each, and the volts and currents that follow."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from typing import TYPE_CHECKING

from hangar.base.errors import NoAnswer
from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import Text, as_text, fixed, text
from hangar.base.values import value_class
from hangar.parts.choices import AircraftClass
from hangar.physics.network_elements import CurrentLoad, MovingServo
from hangar.survey.defaults import Defaults, Typical
from hangar.survey.figures import basis_of, input_of
from hangar.survey.lazy_mapping import LazyMapping, LazyValues
from hangar.survey.leads import servo_node
from hangar.survey.model import Conditions, Scenario, ScenarioSurvey
from hangar.survey.operating import OperatingPoint, PathState, operating_point
from hangar.survey.paths import BUS, GROUND, PathModel, pack_name
from hangar.survey.supply import DRAW_OF, ServoDraw, SupplyModel, charge_pct, servo_name

if TYPE_CHECKING:
    from hangar.physics.network import RegulatorPoint

SOURCE = text("Kirchhoff's laws: nodal network of packs, leads, regulators and loads")
_CHARGING_A = 0.01
_WITHOUT_STALL: tuple[Scenario, ...] = (Scenario.IDLE, Scenario.CRUISE)
_PEAKS = (Scenario.PEAK, Scenario.COLD, Scenario.AGED)
_COMMON_PRACTICE = text("common practice, no source")
_STEADY = {
    Scenario.IDLE: text("idle current"),
    Scenario.CRUISE: text("average current for the servo's work"),
}
_PEAK_A = text(
    "idle current + share x stall current at the nominal bus volts, no more than what the volts at the "
    "servo drive through it stalled"
)
_BRISK_A = text("{formula}; the share is never less than the average current asks", formula=_PEAK_A)


@value_class
class Alone:
    """One path carrying everything: in the peak, and in brisk flying where a regulator gets hot."""

    peak: ScenarioSurvey
    brisk: ScenarioSurvey | None


@value_class
class LoadCases:
    """Every load case solved, with the volts at each servo and what each path does alone.

    ``least`` holds the peaks at the lowest estimates of the stall currents; none where no current is
    estimated.
    """

    cases: Mapping[Scenario, ScenarioSurvey]
    servo_v: Mapping[str, Mapping[Scenario, Figure]]
    alone: Mapping[str, Alone]
    least: Mapping[Scenario, ScenarioSurvey]


def load_cases(
    model: SupplyModel, kind: AircraftClass | None, conditions: Conditions, defaults: Defaults
) -> LoadCases:
    """Solve every load case of an aircraft's supply.

    Args:
        model: the supply.
        kind: the aircraft's class, for its shares of stall current.
        conditions: temperatures and charge.
        defaults: typical values.

    Returns:
        The cases, and what each path does alone, each solved when it is first asked for. Cases that need
        an unknown stall current or pack are left out.
    """
    if model.network is None:
        return LoadCases({}, {}, {}, {})
    # The solver knows none of these mappings: in a ring with them it would outlive its survey.
    solver = _Solver(model, kind, conditions, defaults)
    scenarios, by_path = _WITHOUT_STALL, {}
    if not model.unrated:
        scenarios += (Scenario.BRISK, *_PEAKS)
        if len(model.paths) > 1:
            by_path = {path.code: path for path in model.paths}
            scenarios += (Scenario.ONE_LOST,)
    alone = LazyValues(tuple(by_path), lambda code: solver.alone(by_path[code]))
    cases = LazyValues(
        scenarios,
        lambda scenario: (
            solver.one_lost(alone) if scenario is Scenario.ONE_LOST else solver.surveyed(scenario)
        ),
    )
    servo_v = LazyValues(tuple(model.draws), lambda code: LazyMapping(lambda: solver.servo_v(code, cases)))
    return LoadCases(cases, servo_v, alone, _least_peaks(model, kind, conditions, defaults))


def _least_peaks(
    model: SupplyModel, kind: AircraftClass | None, conditions: Conditions, defaults: Defaults
) -> Mapping[Scenario, ScenarioSurvey]:
    if model.unrated or not model.estimated:
        return {}

    def solve(scenario: Scenario) -> ScenarioSurvey:
        draws = {code: draw.at_least() for code, draw in model.draws.items()}
        return _Solver(replace(model, draws=draws), kind, conditions, defaults).surveyed(scenario)

    return LazyValues(_PEAKS, solve)


class _Solver:
    """Asks one supply for its load cases."""

    def __init__(
        self, model: SupplyModel, kind: AircraftClass | None, conditions: Conditions, defaults: Defaults
    ) -> None:
        self.model, self.kind, self.conditions, self.defaults = model, kind, conditions, defaults
        self.charge = charge_pct(conditions, defaults)
        self.common = (*model.standing, *model.inputs)
        self.stall_sum = model.stall_sum
        self.drawn: dict[Scenario, list[CurrentLoad | MovingServo]] = {}
        self.servo_workings: dict[Scenario, dict[str, tuple[Basis, Working]]] = {}
        self.usual_packs = [
            PathState.of(path, path.pack_elements(self.charge, conditions.pack_c)) for path in model.paths
        ]
        self.makers: dict[Scenario, _Maker] = {}

    def servo_v(self, code: str, cases: Mapping[Scenario, ScenarioSurvey]) -> dict[Scenario, Figure]:
        """Volts at a servo in every case that has an answer with all packs there."""
        if code not in self.model.lead_ohm:
            return {}
        node = servo_node(code)
        return {
            scenario: self.maker(scenario).figure("volts at the servo", case.node_v[node], "V", _SERVO_V)
            for scenario, case in cases.items()
            if scenario is not Scenario.ONE_LOST and case.collapse is None
        }

    def maker(self, scenario: Scenario) -> _Maker:
        """What makes the figures of a case."""
        if scenario not in self.makers:
            self.makers[scenario] = _Maker(scenario, self.inputs(scenario))
        return self.makers[scenario]

    def servos(self, scenario: Scenario) -> list[CurrentLoad | MovingServo]:
        """Every servo with what it draws in a case."""
        load = _load_of(scenario)
        if load not in self.drawn:
            self.drawn[load] = self.draw(load)
        return self.drawn[load]

    def draw(self, load: Scenario) -> list[CurrentLoad | MovingServo]:
        draws = self.model.draws.values()
        if load is Scenario.IDLE:
            return [draw.steady(draw.idle_a) for draw in draws]
        if load is Scenario.CRUISE:
            return [draw.steady(draw.average_a) for draw in draws]
        share = self.share(load)
        if load is Scenario.BRISK:
            most = self.share(Scenario.PEAK)
            return [draw.moving(draw.brisk_share(share, most)) for draw in draws]
        return [draw.moving(share) for draw in draws]

    def servo_a(self, scenario: Scenario, point: OperatingPoint) -> dict[str, Figure]:
        """What each servo draws at an operating point, by position."""
        load = _load_of(scenario)
        if load not in self.servo_workings:
            draws = self.model.draws
            self.servo_workings[load] = {code: self.draw_working(load, draws[code]) for code in draws}
        return {
            code: Figure(
                fixed("servo current"), point.branch_a[servo_name(code)], "A", basis=basis, working=working
            )
            for code, (basis, working) in self.servo_workings[load].items()
        }

    def draw_working(self, load: Scenario, draw: ServoDraw) -> tuple[Basis, Working]:
        """How a servo's current in a load comes about; the cases of the peak share it."""
        if load in _STEADY:
            inputs: tuple[Input, ...] = (draw.idle if load is Scenario.IDLE else input_of(draw.average),)
            return basis_of(inputs), Working(_STEADY[load], inputs, _COMMON_PRACTICE)
        share, learned = self.typical(load), self.model.learned
        inputs = (share.input(self.kind), draw.idle)
        if learned is not None:
            current = learned.mean if load is Scenario.BRISK else learned.peak
            inputs += () if current.figure is None else (input_of(current.figure),)
        if draw.stall_a is not None:
            stall = Input(
                fixed("stall current at the nominal bus volts"), draw.stall_a, "A", draw.stall_basis
            )
            inputs = (stall, *inputs)
        if load is Scenario.BRISK:
            inputs = (*inputs, input_of(draw.average))
        return basis_of(inputs), Working(_BRISK_A if load is Scenario.BRISK else _PEAK_A, inputs, SOURCE)

    def share(self, scenario: Scenario) -> float:
        """Share of stall current that each servo draws; a logger's highest currents may have raised it."""
        share = self.typical(scenario).value(self.kind)
        learned = self.model.learned
        return (
            share if learned is None or scenario is Scenario.BRISK else min(1.0, learned.peak.times * share)
        )

    def typical(self, scenario: Scenario) -> Typical:
        return self.defaults.brisk_share if scenario is Scenario.BRISK else self.defaults.peak_share

    def feedings(self, scenario: Scenario) -> list[PathState]:
        """Every path with its packs as they are in a case."""
        if scenario not in (Scenario.COLD, Scenario.AGED):
            return self.usual_packs
        cold = scenario is Scenario.COLD
        temperature_c = self.conditions.cold_pack_c if cold else self.conditions.pack_c
        aged = 0.0 if cold else self.defaults.aged_resistance.value()
        return [
            PathState.of(path, path.pack_elements(self.charge, temperature_c, aged))
            for path in self.model.paths
        ]

    def inputs(self, scenario: Scenario) -> tuple[Input, ...]:
        """What a case rests on besides the paths themselves."""
        basis = Basis.TYPICAL if self.conditions.charge_pct is None else Basis.MEASURED
        inputs = [Input(fixed("charge left in the packs"), self.charge, "%", basis)]
        cold = scenario is Scenario.COLD
        pack_c = self.conditions.cold_pack_c if cold else self.conditions.pack_c
        inputs.append(Input(fixed("pack temperature"), pack_c, "C"))
        if scenario is Scenario.AGED:
            aged = self.defaults.aged_resistance
            inputs.append(aged.input())
        if scenario is Scenario.CRUISE:
            averages = (input_of(draw.average) for draw in self.model.draws.values())
            inputs += {average.value: average for average in averages}.values()
        elif scenario is not Scenario.IDLE:
            share = self.typical(scenario)
            inputs.append(share.input(self.kind))
            inputs.append(self.stall_sum)
        return (*inputs, *self.common)

    def point(self, scenario: Scenario, gone: frozenset[str]) -> OperatingPoint:
        """Where the supply settles: straight from its shape, or by the general network.

        Raises:
            NoAnswer: the supply collapses.
        """
        servos = self.servos(scenario)
        feedings = self.feedings(scenario)
        there = [feeding for feeding in feedings if feeding.path.code not in gone] if gone else feedings
        point = operating_point(there, self.model.tree, servos)
        if point is not None:
            return point
        network = self.model.network
        assert network is not None
        packs = [pack for feeding in feedings for pack in feeding.packs]
        missing = _names(path for path in self.model.paths if path.code in gone)
        solved = network.with_elements(*packs, *servos).without(*missing).solve()
        return OperatingPoint(solved.node_v, solved.branch_a, solved.regulators)

    def surveyed(self, scenario: Scenario, gone: frozenset[str] = frozenset()) -> ScenarioSurvey:
        try:
            point = self.point(scenario, gone)
        except NoAnswer as fault:
            return ScenarioSurvey(scenario=scenario, collapse=fault.text)
        there = [path for path in self.model.paths if path.code not in gone]
        drawn_a = sum(point.branch_a[servo_name(code)] for code in self.model.draws)
        servo_a = LazyMapping(lambda: self.servo_a(scenario, point))
        return self.maker(scenario).survey(point, there, servo_a, drawn_a)

    def alone(self, path: PathModel) -> Alone:
        """A path carrying everything by itself: in the peak and, behind a regulator, in brisk flying."""
        others = frozenset(model.code for model in self.model.paths if model.code != path.code)
        peak = self.surveyed(Scenario.PEAK, gone=others)
        return Alone(peak, self.surveyed(Scenario.BRISK, gone=others) if path.regulated else None)

    def one_lost(self, alone: Mapping[str, Alone]) -> ScenarioSurvey:
        """The peak with the path gone that is missed most."""
        if len(alone) == 2:
            first, second = alone
            surveys = [replace(alone[second].peak, lost=first), replace(alone[first].peak, lost=second)]
        else:
            surveys = [
                replace(self.surveyed(Scenario.PEAK, gone=frozenset({path.code})), lost=path.code)
                for path in self.model.paths
            ]
        worst = min(surveys, key=lambda case: -1.0 if case.bus_v is None else case.bus_v.expected)
        return replace(worst, scenario=Scenario.ONE_LOST)


def _load_of(scenario: Scenario) -> Scenario:
    """The case whose draws a case shares."""
    return Scenario.PEAK if scenario in _PEAKS else scenario


_SERVO_V = text("bus volts less the drop in the servo's lead, from the network")


_PACK_V = text("resting volts less current x resistance of the pack, from the network")
_PACK_A = text("the pack's share of its path's current, from the network")
_SWITCH_V = text("volts of the packs less current x resistance of the switch")
_REGULATOR_V = text("volts of the packs less the drops of switch and lead")
_STEADY_A = text("sum of what receivers, gyros and devices draw all the time")


def _names(paths: Iterable[PathModel]) -> list[str]:
    names = []
    for path in paths:
        names += [pack_name(path.code, pack) for pack in path.packs]
        names += [name for name, *_ in path.resistors]
        names += [] if path.out is None else [path.out.name]
    return names


class _Maker:
    """Makes the figures of one case, which share their inputs."""

    def __init__(self, scenario: Scenario, inputs: tuple[Input, ...]) -> None:
        self.scenario, self.inputs, self.basis = scenario, inputs, basis_of(inputs)
        self.workings: dict[Text, Working] = {}

    def figure(self, name: Text | str, value: float, unit: str, formula: Text | str) -> Figure:
        formula = as_text(formula)
        if formula not in self.workings:
            sentence = text("{formula}; case: {case}", formula=formula, case=self.scenario)
            self.workings[formula] = Working(sentence, self.inputs, SOURCE)
        basis: Basis = self.basis
        return Figure(as_text(name), value, unit, basis=basis, working=self.workings[formula])

    def survey(
        self, solution: OperatingPoint, paths: list[PathModel], servo_a: Mapping[str, Figure], drawn_a: float
    ) -> ScenarioSurvey:
        """The case with its figures; ``drawn_a`` is what all servos draw."""
        bus_v = solution.node_v[BUS] - solution.node_v.get(GROUND, 0.0)
        steady = sum(amps for name, amps in solution.branch_a.items() if name.startswith(DRAW_OF))
        loads = steady + drawn_a
        path_a = {path.code: solution.branch_a[path.resistors[-1][0]] for path in paths}
        regulators = {
            path.code: solution.regulators[path.out.name]
            for path in paths
            if path.out is not None and path.out.name in solution.regulators
        }
        bus = self.figure(
            "bus volts", bus_v, "V", "volts and currents that fit together on the supply network"
        )
        inside = LazyMapping(lambda: self.inside(solution, paths))
        return ScenarioSurvey(
            scenario=self.scenario,
            bus_v=bus,
            receiver_v=self.figure("receiver volts", bus_v, "V", "the receiver sits on the bus"),
            total_a=self.figure("current drawn from the bus", loads, "A", "sum of everything on the bus"),
            steady_a=self.figure("current of receivers, gyros and devices", steady, "A", _STEADY_A),
            servo_a=servo_a,
            pack_v=LazyMapping(lambda: inside["pack_v"]),
            pack_a=LazyMapping(lambda: inside["pack_a"]),
            switch_v=LazyMapping(lambda: inside["switch_v"]),
            regulator_in_v=LazyMapping(lambda: inside["regulator_in_v"]),
            path_a={
                code: self.figure(
                    text("current of {path}", path=code), amps, "A", "current out of the path's packs"
                )
                for code, amps in path_a.items()
            },
            regulator_a=LazyMapping(lambda: inside["regulator_a"]),
            regulator_w=LazyMapping(lambda: inside["regulator_w"]),
            regulator_state={code: point.state for code, point in regulators.items()},
            node_v=solution.node_v,
            branch_a=solution.branch_a,
            remarks=_remarks(bus_v, path_a, regulators),
        )

    def inside(self, solution: OperatingPoint, paths: list[PathModel]) -> dict[str, dict[str, Figure]]:
        """Inside the paths: volts and current of each pack, volts behind the switch, and the regulator's."""
        node_v = solution.node_v
        names = ("pack_v", "pack_a", "switch_v", "regulator_in_v", "regulator_a", "regulator_w")
        figures: dict[str, dict[str, Figure]] = {name: {} for name in names}
        for path in paths:
            for pack, (above, below) in zip(path.packs, path.pack_nodes, strict=True):
                volts = node_v[above] - node_v.get(below, 0.0)
                amps = solution.branch_a[pack_name(path.code, pack)]
                key = f"{path.code} {pack.tag}"
                figures["pack_v"][key] = self.figure("volts of the pack under load", volts, "V", _PACK_V)
                figures["pack_a"][key] = self.figure("current of the pack", amps, "A", _PACK_A)
            if path.switched_node in node_v:
                volts = node_v[path.switched_node]
                figures["switch_v"][path.code] = self.figure("volts behind the switch", volts, "V", _SWITCH_V)
            if path.out is not None and path.out.name in solution.regulators:
                code, point = path.code, solution.regulators[path.out.name]
                figures["regulator_in_v"][code] = self.figure(
                    "volts into the regulator", point.input_v, "V", _REGULATOR_V
                )
                figures["regulator_a"][code] = self.figure(
                    text("regulator current of {path}", path=code),
                    point.output_a,
                    "A",
                    "current into the bus",
                )
                figures["regulator_w"][code] = self.figure(
                    text("regulator heat of {path}", path=code),
                    point.heat_w,
                    "W",
                    "volts x amps in less volts x amps out",
                )
        return figures


def _remarks(
    bus_v: float, path_a: Mapping[str, float], regulators: Mapping[str, RegulatorPoint]
) -> tuple[Text, ...]:
    """What is wrong at an operating point, in words."""
    sentences = []
    for code, point in regulators.items():
        if point.state == "limiting":
            sentences.append(
                text(
                    "the regulator of {path} limits its current; the bus falls to {volts:.2f} V",
                    path=code,
                    volts=bus_v,
                )
            )
        elif point.state == "drop-out":
            sentences.append(
                text(
                    "the regulator of {path} has too little above its output and follows its input down",
                    path=code,
                )
            )
    for code, amps in path_a.items():
        if amps < -_CHARGING_A:
            sentences.append(
                text(
                    "the packs of {path} are being charged with {current:.2f} A by the other path",
                    path=code,
                    current=-amps,
                )
            )
    return tuple(sentences)
