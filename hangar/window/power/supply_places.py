"""Where each box of the supply picture goes, and what is written on it at the room there is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from PySide6.QtCore import QRectF, QSizeF
from PySide6.QtGui import QFont, QFontMetricsF
from PySide6.QtWidgets import QApplication

from hangar.base.figure import Figure
from hangar.base.text import Text
from hangar.base.units import ShowsNumbers
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


PAD, GAP_ROW = 6.0, 8.0
SERVO_PAD, SERVO_GAP = 3.0, 6.0
EDGE = 12.0
LEAST_GAP, MOST_GAP = 26.0, 92.0
"""Room between two columns of boxes, px; what a number on the wire needs comes on top of the least."""
MANY_SERVOS = 8
"""From so many on servos stand in two columns where one would be higher than the picture."""


@dataclass(frozen=True)
class Layout:
    """The boxes' places by name; ``brief`` where only short words have room."""

    places: dict[str, QRectF]
    brief: bool


def layout_of(plan: SupplyPlan, units: ShowsNumbers, room: QSizeF) -> Layout:
    """Columns from left to right, each centred on the same line.

    Where the room is too narrow, notes are broken into lines and servos lose theirs; where it is too low,
    servos stand in two columns, the second between the rows of the first so that its wires run free.
    """
    layout = Layout({}, False)
    for brief in (False, True):
        for in_two in (False, True):
            layout = Layout(_places(plan, units, room, brief, in_two), brief)
            if _fits(layout, room):
                return layout
    low = _places(plan, units, room, True, True)
    wide = max((place.right() for place in low.values()), default=0.0)
    return (
        layout if wide + 2 * EDGE <= room.width() else Layout(_places(plan, units, room, True, False), True)
    )


def _fits(layout: Layout, room: QSizeF) -> bool:
    places = layout.places.values()
    wide = max((place.right() for place in places), default=0.0)
    high = max((place.bottom() for place in places), default=0.0) - min(
        (place.top() for place in places), default=0.0
    )
    return wide + 2 * EDGE <= room.width() and high + 2 * EDGE <= room.height()


def font_of(bold: bool) -> QFont:
    """The program's font."""
    font = QApplication.font()
    font.setBold(bold)
    return font


def lines_of(box: SupplyBox, units: ShowsNumbers, brief: bool) -> tuple[tuple[str, bool], ...]:
    """The words of a box line by line, and whether they are bold."""
    if box.column == SERVO:
        return ((box.title if brief else f"{box.title}  {box.note}", True),)
    if not box.note:
        return ((box.title, True),)
    notes = _broken(box, units) if brief else [box.note]
    return ((box.title, True), *((note, False) for note in notes))


def value_words(box: SupplyBox, units: ShowsNumbers) -> list[str]:
    """The numbers of a box as they are written."""
    return [f"{words} {units.show(figure.expected, figure.unit)}".strip() for words, figure in box.values]


def _broken(box: SupplyBox, units: ShowsNumbers) -> list[str]:
    """A note in lines no wider than the rest of its box."""
    plain = QFontMetricsF(font_of(bold=False))
    values = map(plain.horizontalAdvance, value_words(box, units))
    most = max(
        QFontMetricsF(font_of(bold=True)).horizontalAdvance(box.title), *values, plain.averageCharWidth() * 11
    )
    lines = [""]
    for word in box.note.split():
        longer = f"{lines[-1]} {word}".strip()
        if lines[-1] and plain.horizontalAdvance(longer) > most:
            lines.append(word)
        else:
            lines[-1] = longer
    return lines


def _size(box: SupplyBox, units: ShowsNumbers, brief: bool) -> QSizeF:
    bold, plain = QFontMetricsF(font_of(bold=True)), QFontMetricsF(font_of(bold=False))
    lines = lines_of(box, units, brief)
    widths = [(bold if strong else plain).horizontalAdvance(text) for text, strong in lines]
    values = [plain.horizontalAdvance(words) + 4 for words in value_words(box, units)]
    if box.column == SERVO:
        beside = sum(value + plain.averageCharWidth() * 1.5 for value in values)
        return QSizeF(widths[0] + beside + 2 * PAD, plain.height() + 2 * SERVO_PAD)
    height = (plain.height() + 2) * (len(widths) + len(values))
    return QSizeF(max(widths + values) + 2 * PAD + 6, height + 2 * PAD)


def _places(
    plan: SupplyPlan, units: ShowsNumbers, room: QSizeF, brief: bool, in_two: bool
) -> dict[str, QRectF]:
    by_column: dict[int, list[SupplyBox]] = defaultdict(list)
    for box in plan.boxes:
        by_column[box.column].append(box)
    sizes = {box.name: _size(box, units, brief) for box in plan.boxes}
    wide = {at: max(sizes[box.name].width() for box in boxes) for at, boxes in by_column.items()}
    split = in_two and len(by_column.get(SERVO, ())) >= MANY_SERVOS
    spare = room.width() - sum(wide.values()) - 2 * EDGE - (wide[SERVO] + PAD if split else 0.0)
    gaps = _gaps(spare, sorted(by_column), _widest_current(plan, units))
    places: dict[str, QRectF] = {}
    left = 0.0
    for column in sorted(by_column):
        boxes = by_column[column]
        if column == SERVO and split:
            _place_in_two(boxes, QSizeF(wide[column], sizes[boxes[0].name].height()), left, places)
        else:
            between = SERVO_GAP if column == SERVO else GAP_ROW
            _place_column(
                [(box.name, sizes[box.name].height()) for box in boxes], left, wide[column], between, places
            )
        left += wide[column] + gaps[column]
    return places


def _place_column(
    boxes: list[tuple[str, float]], left: float, wide: float, between: float, places: dict[str, QRectF]
) -> None:
    top = -(sum(height for _, height in boxes) + between * (len(boxes) - 1)) / 2
    for name, height in boxes:
        places[name] = QRectF(left, top, wide, height)
        top += height + between


def _place_in_two(boxes: list[SupplyBox], size: QSizeF, left: float, places: dict[str, QRectF]) -> None:
    """One after the other to and fro, each half a row below the one before."""
    step = (size.height() + SERVO_GAP) / 2
    top = -(step * (len(boxes) - 1) + size.height()) / 2
    for at, box in enumerate(boxes):
        places[box.name] = QRectF(
            left + (at % 2) * (size.width() + PAD), top + at * step, size.width(), size.height()
        )


def _gaps(spare: float, columns: Sequence[int], into_bus: float) -> dict[int, float]:
    """Room behind each column: as much as is left, but enough for the number on a wire into the bus."""
    between = len(columns) - 1
    least = dict.fromkeys(columns[:-1], LEAST_GAP)
    before_bus = [at for at in columns[:-1] if at < BUS]
    if before_bus:
        least[before_bus[-1]] += into_bus
    if between < 1:
        return dict.fromkeys(columns, 0.0)
    even = (spare - into_bus) / between
    return {at: max(wide, min(MOST_GAP, even)) for at, wide in least.items()} | {columns[-1]: 0.0}


def _widest_current(plan: SupplyPlan, units: ShowsNumbers) -> float:
    metrics = QFontMetricsF(font_of(bold=False))
    currents = [wire.current for wire in plan.wires if wire.current is not None]
    words = [metrics.horizontalAdvance(units.show(current.expected, current.unit)) for current in currents]
    return max(words, default=0.0)
