"""Where each box of the supply picture goes, and what is written on it at the room there is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass

from PySide6.QtCore import QRectF, QSizeF
from PySide6.QtGui import QFont, QFontMetricsF
from PySide6.QtWidgets import QApplication

from hangar.base.units import ShowsNumbers
from hangar.window.power.supply_plan import BUS, SERVO, SupplyBox, SupplyPlan

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
    found = Layout({}, False)
    for brief in (False, True):
        for in_two in (False, True):
            found = Layout(_places(plan, units, room, brief, in_two), brief)
            if _fits(found, room):
                return found
    low = _places(plan, units, room, True, True)
    wide = max((place.right() for place in low.values()), default=0.0)
    return found if wide + 2 * EDGE <= room.width() else Layout(_places(plan, units, room, True, False), True)


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
    words = [metrics.horizontalAdvance(units.show(one.expected, one.unit)) for one in currents]
    return max(words, default=0.0)
