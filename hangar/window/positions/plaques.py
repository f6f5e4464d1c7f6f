"""The plaques beside the plan view: position, servo and one more line, each beside its dot."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from PySide6.QtCore import QPointF, QRect, QRectF, QSizeF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.looks import CAP, Look
from hangar.window.positions.servo_dot import DotState

WIDEST_EM = 11
"""The width of a plaque at most, in heights of its print; longer words are cut and stand whole in the tip."""
STEP = 6.0
"""By how many pixels a plaque is moved up or down until nothing lies under it."""
GAP = 5.0


def _small(font: QFont, *, is_bold: bool) -> QFont:
    small = QFont(font)
    small.setPointSizeF(font.pointSizeF() * CAP)
    small.setBold(is_bold)
    return small


def plaque_size(states: Iterable[DotState], font: QFont) -> QSizeF:
    """One size for all plaques: that of the longest, within reason."""
    bold = QFontMetricsF(_small(font, is_bold=True))
    high = bold.height()
    words = [line for state in states for line in (state.head, f"xx{state.line}")]
    wide = max((bold.horizontalAdvance(line) for line in words), default=0.0)
    return QSizeF(min(wide, high * WIDEST_EM) + high, high * 2 + 9)


def place_plaques(
    wanted: Mapping[str, QPointF],
    discs: Sequence[QPointF],
    radius: float,
    size: QSizeF,
    view: QRect,
) -> dict[str, QRectF]:
    """A box for each position at the side its dot is nearer to, as near its height as nothing lies under it.

    Args:
        wanted: the middle of the dot of each position that gets a plaque.
        discs: the middles of all dots; no plaque hides one.
        radius: of a dot.
        size: of a plaque.
        view: the room there is.
    """
    placed: dict[str, QRectF] = {}
    reach = radius * 1.25
    taken = [QRectF(disc.x() - reach, disc.y() - reach, 2 * reach, 2 * reach) for disc in discs]
    middle = view.center().x()
    for code, disc in sorted(wanted.items(), key=lambda item: item[1].y()):
        sides = (view.left() + GAP, view.right() - GAP - size.width())
        left = sides[0] if disc.x() < middle - 1 else sides[1]
        if abs(disc.x() - middle) <= radius:
            # On the middle line: the side that holds fewer so far.
            on_left = sum(box.left() < middle for box in placed.values())
            left = sides[0] if on_left * 2 < len(placed) else sides[1]
        box = _free(left, disc.y(), size, [*taken, *placed.values()], view)
        if box is not None:
            placed[code] = box
    return placed


def _free(left: float, around: float, size: QSizeF, taken: list[QRectF], view: QRect) -> QRectF | None:
    top = around - size.height() / 2
    for number in range(int(view.height() / STEP) * 2):
        shift = STEP * ((number + 1) // 2) * (1 if number % 2 else -1)
        box = QRectF(QPointF(left, top + shift), size)
        if box.top() < view.top() + GAP or box.bottom() > view.bottom() - GAP:
            continue
        if not any(box.adjusted(-2, -2, 2, 2).intersects(other) for other in taken):
            return box
    return None


def draw_plaque(painter: QPainter, box: QRectF, state: DotState, look: Look, *, is_chosen: bool) -> None:
    """One plaque: its edge in the colour of the gravest finding, dashed where no servo is fitted."""
    colours = look.levels[state.level] if state.level else None
    pen = QPen(QColor(colours.edge if colours else look.pen), 2.0 if is_chosen else 1.0)
    if state.empty:
        pen.setStyle(Qt.PenStyle.DashLine)
    painter.setPen(pen)
    painter.setBrush(QColor(look.chosen if is_chosen else look.paper))
    painter.drawRoundedRect(box, 4, 4)
    font = painter.font()
    painter.setFont(_small(font, is_bold=True))
    metrics = painter.fontMetrics()
    high = metrics.height()
    room = box.adjusted(high / 2, 3, -high / 3, -3)
    painter.setPen(QColor(look.ink))
    head = metrics.elidedText(state.head, Qt.TextElideMode.ElideRight, int(room.width()))
    painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop, head)
    below = QRectF(room.left(), room.top() + high, room.width(), high + 2)
    if state.level:
        draw_mark(painter, QRectF(below.left(), below.top() + 2, high - 2, high - 2), state.level, look)
        below.setLeft(below.left() + high + 2)
    painter.setFont(_small(font, is_bold=state.level is not None))
    painter.setPen(QColor(colours.words if colours else look.soft))
    line = painter.fontMetrics().elidedText(state.line, Qt.TextElideMode.ElideRight, int(below.width()))
    painter.drawText(below, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, line)
    painter.setFont(font)
