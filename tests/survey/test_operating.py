"""The straight way to the operating point against the general network, on supplies of every shape."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hangar.base.errors import NoAnswer
from hangar.physics.network import Network
from hangar.physics.network_elements import (
    CurrentLoad,
    Diode,
    Element,
    MovingServo,
    Pack,
    Regulator,
    Resistor,
)
from hangar.survey import Scenario, survey
from hangar.survey.defaults import class_defaults
from hangar.survey.operating import OperatingPoint, PathState, Tree, operating_point
from hangar.survey.paths import BUS, GROUND, PathModel, path_model
from hangar.survey.supply import supply_model
from tests.all_cases import all_cases
from tests.survey.fleets import CONDITIONS, biplane, helicopter, trainer


def _model(code: str, out: Regulator | Diode | Resistor | None, lead_ohm: float) -> PathModel:
    """A path of the trainer's shape with other electrics."""
    base, _ = path_model(trainer().paths[0], CONDITIONS.today, class_defaults())
    assert base is not None
    end = BUS if out is None else f"{code} lead end"
    feed = type(base.path.feed)(aircraft="A", code=code)
    path = type(base.path)(feed=feed, packs=base.path.packs)
    return replace(base, path=path, out=out, resistors=((f"lead {code}", f"{code} packs", end, lead_ohm),))


def _feeding(
    code: str, emf_v: float, pack_ohm: float, lead_ohm: float, out: Regulator | Diode | None
) -> PathState:
    return PathState.of(
        _model(code, out, lead_ohm), [Pack(f"{code} pack", f"{code} packs", GROUND, emf_v, pack_ohm)]
    )


def _out(code: str, kind: str, set_v: float) -> Regulator | Diode | None:
    if kind == "plain":
        return None
    if kind == "diode":
        return Diode(f"isolation {code}", f"{code} lead end", BUS, 0.3, 0.01)
    return Regulator(
        f"regulator {code}", f"{code} lead end", BUS, GROUND, kind == "switching", set_v, 0.6, 0.01, 0.01,
        20.0, 0.015, 0.85,
    )  # fmt: skip


def _elements(
    feedings: list[PathState], tree: Tree, servos: list[CurrentLoad | MovingServo]
) -> list[Element]:
    elements: list[Element] = []
    for feeding in feedings:
        elements += feeding.packs
        elements += [Resistor(*resistor) for resistor in feeding.path.resistors]
        elements += [] if feeding.path.out is None else [feeding.path.out]
    return [*elements, *tree.leads, *tree.steady, *servos]


def _balances(point: OperatingPoint, elements: list[Element]) -> None:
    """Each element's own law holds, and at every node the currents sum to nothing (Kirchhoff)."""
    left_over = dict.fromkeys(point.node_v, 0.0)
    for e in elements:
        v = point.node_v
        if isinstance(e, Regulator):
            input_v, output_v = v[e.input], v[e.output]
            output = e.output_state(input_v, output_v)
            drawn = e.input_state(input_v, output_v, output)[0]
            left_over[e.input] += drawn
            left_over[e.output] -= output[0]
            left_over[e.ground] += output[0] - drawn
            assert point.branch_a[e.name] == pytest.approx(output[0], abs=1e-6)
            continue
        first, second, sign = (e.positive, e.negative, -1.0) if isinstance(e, Pack) else (e.a, e.b, 1.0)
        amps = _law(e, v[first] - v[second])
        assert point.branch_a[e.name] == pytest.approx(amps, abs=1e-6)
        left_over[first] += sign * amps
        left_over[second] -= sign * amps
    assert max(map(abs, left_over.values())) < 1e-6


def _law(e: Element, volts: float) -> float:
    if isinstance(e, Pack):
        return (e.open_circuit_v - volts) / e.resistance_ohm
    if isinstance(e, Resistor):
        return volts / e.resistance_ohm
    if isinstance(e, CurrentLoad):
        return e.current_a
    assert isinstance(e, (MovingServo, Diode))
    return e.current_and_slope(volts, 1.0)[0]


def _general(
    feedings: list[PathState], tree: Tree, servos: list[CurrentLoad | MovingServo]
) -> OperatingPoint:
    solved = Network.of(_elements(feedings, tree, servos)).solve()
    return OperatingPoint(solved.node_v, solved.branch_a, solved.regulators)


def _same(one: OperatingPoint, other: OperatingPoint) -> None:
    assert one.node_v == pytest.approx(other.node_v, abs=1e-7)
    assert one.branch_a == pytest.approx(other.branch_a, abs=1e-6)
    assert one.regulators.keys() == other.regulators.keys()
    for name, point in one.regulators.items():
        assert point.state == other.regulators[name].state
        assert point.heat_w == pytest.approx(other.regulators[name].heat_w, abs=1e-5)


def _tree(servos: int, lead_ohm: float) -> Tree:
    leads = tuple(Resistor(f"lead to {k}", BUS, f"servo {k}", lead_ohm) for k in range(servos))
    return Tree(leads, (CurrentLoad("draw of receiver", BUS, GROUND, 0.1),))


paths = st.lists(
    st.tuples(
        st.sampled_from(["plain", "diode", "linear", "switching"]),
        st.floats(4.6, 9.0),
        st.floats(0.01, 0.25),
        st.floats(0.005, 0.1),
        st.floats(4.8, 7.4),
    ),
    min_size=1,
    max_size=3,
)


@given(paths=paths, amps=st.lists(st.floats(0.05, 2.5), min_size=1, max_size=6), lead=st.floats(0.02, 0.3))
@settings(max_examples=150)
def test_where_it_answers_it_answers_as_the_general_network_does(
    paths: list[tuple[str, float, float, float, float]], amps: list[float], lead: float
) -> None:
    feedings = [
        _feeding(f"P{k}", emf_v, pack_ohm, lead_ohm, _out(f"P{k}", kind, set_v))
        for k, (kind, emf_v, pack_ohm, lead_ohm, set_v) in enumerate(paths)
    ]
    tree = _tree(len(amps), lead)
    servos: list[CurrentLoad | MovingServo] = [
        MovingServo(f"servo {k} of it", f"servo {k}", GROUND, 2.0, running, 0.03)
        for k, running in enumerate(amps)
    ]
    straight = operating_point(feedings, tree, servos)
    if straight is None:
        return
    _balances(straight, _elements(feedings, tree, servos))
    try:
        general = _general(feedings, tree, servos)
    except NoAnswer:
        # A point that balances is there; the general way only did not find it.
        return
    _same(straight, general)


@all_cases("kind", ["plain", "diode", "linear", "switching"])
def test_the_usual_supply_is_answered_straight(kind: str) -> None:
    feedings = [_feeding("P", 7.6, 0.05, 0.02, _out("P", kind, 6.0))]
    assert (
        operating_point(feedings, _tree(1, 0.1), [CurrentLoad("servo", "servo 0", GROUND, 1.0)]) is not None
    )


def test_a_single_path_is_the_pack_less_its_drops() -> None:
    # Ohm's law by hand: 6 V, 0.1 + 0.02 ohm outside and 1.1 A; then 1 A through 0.1 ohm.
    point = operating_point(
        [_feeding("P", 6.0, 0.1, 0.02, None)], _tree(1, 0.1), [CurrentLoad("servo", "servo 0", GROUND, 1.0)]
    )
    assert point is not None
    assert point.node_v[BUS] == pytest.approx(6.0 - 1.1 * 0.12)
    assert point.node_v["servo 0"] == pytest.approx(6.0 - 1.1 * 0.12 - 0.1)


def test_a_starved_linear_regulator_is_followed_into_drop_out() -> None:
    feedings = [_feeding("P", 6.0, 0.05, 0.02, _out("P", "linear", 6.0))]
    servos: list[CurrentLoad | MovingServo] = [CurrentLoad("servo", "servo 0", GROUND, 1.0)]
    point = operating_point(feedings, _tree(1, 0.1), servos)
    assert point is not None
    assert point.regulators["regulator P"].state == "drop-out"
    _same(point, _general(feedings, _tree(1, 0.1), servos))


@all_cases("running_a", [4.0, 80.0])
def test_a_stalled_servo_draws_by_its_resistance(running_a: float) -> None:
    # Ohm's law by hand: 0.1 A for the receiver, and 6 V over lead, arm and stalled servo.
    servo = MovingServo("servo", "servo 0", GROUND, 1.3, running_a, 0.0)
    feedings = [_feeding("P", 6.0, 0.1, 0.05, None)]
    point = operating_point(feedings, _tree(1, 0.1), [servo])
    assert point is not None
    assert point.branch_a["servo"] == pytest.approx((6.0 - 0.1 * 0.15) / (0.15 + 0.1 + 1.3))
    _same(point, _general(feedings, _tree(1, 0.1), [servo]))


@all_cases("kind, steady_a", [("linear", 25.0), ("switching", 25.0), ("plain", 80.0)])
def test_a_limit_and_a_collapse_are_left_to_the_general_network(kind: str, steady_a: float) -> None:
    feedings = [_feeding("P", 7.6, 0.1, 0.05, _out("P", kind, 6.0))]
    assert (
        operating_point(feedings, _tree(1, 0.1), [CurrentLoad("servo", "servo 0", GROUND, steady_a)]) is None
    )


def test_a_survey_at_rest_stands_where_the_whole_network_stands() -> None:
    for aircraft in (trainer(), helicopter(), biplane(), biplane(isolated=False)):
        network = supply_model(aircraft, CONDITIONS, class_defaults()).network
        assert network is not None
        solved = network.solve()
        idle = survey(aircraft, CONDITIONS).scenarios[Scenario.IDLE]
        assert idle.node_v == pytest.approx(solved.node_v, abs=1e-8)
        assert idle.branch_a == pytest.approx(solved.branch_a, abs=1e-7)
