"""What the supply picture shows: boxes from pack to servo, and the wires between them."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

from hangar.base.figure import Figure
from hangar.base.text import Text
from hangar.parts import Aircraft, FedPack, PowerPath, ServoFit
from hangar.survey.model import Scenario, ScenarioSurvey, Survey
from hangar.window.kit.words import say, word_of

PACK, SWITCH, REGULATOR, BUS, SERVO = range(5)


@dataclass(frozen=True)
class SupplyBox:
    """One box: its column, its title and note, and the numbers on it."""

    name: str
    column: int
    title: str
    note: str = ""
    values: tuple[tuple[str, Figure], ...] = ()


@dataclass(frozen=True)
class SupplyWire:
    """A wire from one box to another; into the bus with its current, elsewhere the boxes tell it."""

    start: str
    end: str
    current: Figure | None = None


@dataclass(frozen=True)
class SupplyPlan:
    """Everything on the picture; ``collapse`` says why there is no operating point."""

    boxes: tuple[SupplyBox, ...]
    wires: tuple[SupplyWire, ...]
    collapse: Text | None = None


def supply_plan(aircraft: Aircraft, survey: Survey, scenario: Scenario) -> SupplyPlan:
    """The picture of an aircraft's radio supply in one load case."""
    case = survey.scenarios.get(scenario, ScenarioSurvey(scenario=scenario))
    boxes: list[SupplyBox] = []
    wires: list[SupplyWire] = []
    for path in aircraft.radio_paths:
        _add_path(path, case, boxes, wires)
    boxes.append(_bus(aircraft, case))
    for fit in aircraft.fits:
        if fit.servo is not None:
            boxes.append(_servo(fit, survey, scenario))
            wires.append(SupplyWire("bus", f"servo {fit.code}"))
    return SupplyPlan(tuple(boxes), tuple(wires), case.collapse)


def _add_path(path: PowerPath, case: ScenarioSurvey, boxes: list[SupplyBox], wires: list[SupplyWire]) -> None:
    chain: list[SupplyBox] = []
    if path.switch is not None:
        chain.append(
            SupplyBox(
                f"switch {path.switch.code}",
                SWITCH,
                path.switch.code,
                path.switch.switch_type,
                _known(("", case.switch_v.get(path.feed.code)), ("", case.path_a.get(path.feed.code))),
            )
        )
    if path.regulator is not None:
        chain.append(_regulator(path, case))
    for held in chain:
        if all(box.name != held.name for box in boxes):
            boxes.append(held)
    ends = [*(box.name for box in chain), "bus"]
    for fed in path.packs:
        boxes.append(_pack(fed, path, case))
        alone = case.pack_a.get(f"{path.feed.code} {fed.pack.tag}") if not chain else None
        wires.append(SupplyWire(f"pack {fed.pack.tag}", ends[0], alone))
    given = case.regulator_a.get(path.feed.code) or case.path_a.get(path.feed.code)
    for start, end in pairwise(ends):
        wires.append(SupplyWire(start, end, given if end == "bus" else None))


def _known(*values: tuple[str, Figure | None]) -> tuple[tuple[str, Figure], ...]:
    return tuple((words, figure) for words, figure in values if figure is not None)


def _pack(fed: FedPack, path: PowerPath, case: ScenarioSurvey) -> SupplyBox:
    kind = fed.pack_type
    note = f"{kind.chemistry} {kind.series}S {kind.capacity_mah:g} mAh"
    title = f"{fed.pack.tag}  ({path.feed.code})"
    if case.lost == path.feed.code:
        title = say("{pack}: lost", pack=title)
    key = f"{path.feed.code} {fed.pack.tag}"
    values = _known(("", case.pack_v.get(key)), ("", case.pack_a.get(key)))
    return SupplyBox(f"pack {fed.pack.tag}", PACK, title, note, values)


def _regulator(path: PowerPath, case: ScenarioSurvey) -> SupplyBox:
    assert path.regulator is not None
    regulator = path.regulator
    set_v = say("not known") if regulator.set_v is None else f"{regulator.set_v:g} V"
    note = say("{type}, set {volts}", type=regulator.regulator_type, volts=set_v)
    state = case.regulator_state.get(path.feed.code)
    if state:
        note = f"{note}, {state}"
    fed_v, heat = case.regulator_in_v.get(path.feed.code), case.regulator_w.get(path.feed.code)
    values = _known((say("in"), fed_v), (say("in"), case.path_a.get(path.feed.code)), (say("heat"), heat))
    return SupplyBox(f"regulator {regulator.code}", REGULATOR, regulator.code, note, values)


def _bus(aircraft: Aircraft, case: ScenarioSurvey) -> SupplyBox:
    values = _known(
        (say("bus"), case.bus_v),
        (say("receiver"), case.receiver_v),
        (say("radio"), case.steady_a),
        (say("total"), case.total_a),
    )
    note = ", ".join(receiver.model_type or receiver.code for receiver in aircraft.receivers)
    return SupplyBox("bus", BUS, say("Bus"), note, values)


def _servo(fit: ServoFit, survey: Survey, scenario: Scenario) -> SupplyBox:
    position = survey.positions.get(fit.code)
    volts = position.servo_v.get(scenario) if position else None
    case = survey.scenarios.get(scenario)
    values = _known(("", volts), ("", case.servo_a.get(fit.code) if case else None))
    return SupplyBox(f"servo {fit.code}", SERVO, f"{fit.code}", word_of(fit.function), values)
