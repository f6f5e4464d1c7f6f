"""Draws one linkage at one servo travel; the same lines whatever the colours and the size."""

from __future__ import annotations

import math
from dataclasses import dataclass

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFontMetricsF, QPainter, QPainterPath, QPen, QPolygonF

from hangar.answers.linkages import LinkageStudy, Zone
from hangar.parts.choices import LinkageKind
from hangar.physics.link_position import LinkPosition
from hangar.window.kit.level_marks import draw_mark
from hangar.window.kit.looks import Look
from hangar.window.kit.words import decimal, put, say

LONGEST_ROD = 3.2
"""A rod longer than that many times the larger radius is drawn broken off."""
CROWDED_DEG = 15.0
"""Marks on the arc closer than that leave no room for a word at each."""
_SURFACE = 2.1
_ARC = 1.32
Point = tuple[float, float]


@dataclass(frozen=True)
class Frame:
    """Places millimetres on the widget; the horn's side is moved in when the rod is drawn broken off."""

    centre: QPointF
    scale: float
    moved_mm: float

    @classmethod
    def fitting(cls, study: LinkageStudy, room: QRectF, line_height: float) -> Frame:
        """The largest drawing that leaves room for words around it."""
        link = study.link
        assert link is not None
        arm, horn = link.arm_mm, link.horn_mm
        moved = max(0.0, link.rod_mm - LONGEST_ROD * max(arm, horn))
        hinge = (link.horn_pivot[0] - moved, link.horn_pivot[1])
        reach = arm * _ARC
        left, right = -reach, hinge[0] + horn * _SURFACE
        droop = horn * _SURFACE * _steepest(study)
        double = study.drive is not None and study.drive.kind is LinkageKind.PULL_PULL
        top = max(reach, hinge[1] + droop, hinge[1] + horn * 1.1)
        bottom = min(-arm * (1.15 if double else 0.5), hinge[1] - (horn * 1.1 if double else horn * 0.5))
        bottom = min(bottom, hinge[1] - droop)
        above = line_height * (2.0 + 1.25 * len(study.zones))
        inner = room.adjusted(line_height * 4.0, above, -line_height * 1.5, -line_height * 2.0)
        scale = max(0.1, min(inner.width() / (right - left), inner.height() / (top - bottom)))
        middle = QPointF((left + right) / 2, (top + bottom) / 2)
        where = QPointF(inner.center().x() - middle.x() * scale, inner.center().y() + middle.y() * scale)
        return cls(where, scale, moved)

    def at(self, point: Point) -> QPointF:
        """A place on the servo's side."""
        return self.centre + QPointF(point[0], -point[1]) * self.scale

    def beyond(self, point: Point) -> QPointF:
        """A place on the horn's side."""
        return self.at((point[0] - self.moved_mm, point[1]))


def _steepest(study: LinkageStudy) -> float:
    """Sine of the largest turn of the surface, at most 1."""
    if study.swept is None:
        return 0.0
    turns = (study.swept.low_deflection_deg, study.swept.high_deflection_deg)
    return math.sin(math.radians(min(90.0, max(abs(turn) for turn in turns))))


def draw_linkage(painter: QPainter, frame: Frame, study: LinkageStudy, travel_deg: float, look: Look) -> None:
    """Draw a linkage with its travel arc and, in words, the parts of the travel to keep out of."""
    link, there = study.link, study.at(travel_deg)
    if link is None or there is None:
        return
    hinge = (link.horn_pivot[0], link.horn_pivot[1])
    turned = there.horn_deg - link.horn_neutral_deg
    _draw_arc(painter, frame, study, look)
    _draw_surface(painter, frame, hinge, link.horn_mm, turned, look)
    _draw_servo(painter, frame, link.arm_mm, look)
    arm_end = (there.servo_end_mm[0], there.servo_end_mm[1])
    horn_end = (there.horn_end_mm[0], there.horn_end_mm[1])
    double = study.drive is not None and study.drive.kind is LinkageKind.PULL_PULL
    _draw_rod(painter, frame, arm_end, horn_end, look)
    if double:
        other = (2 * hinge[0] - horn_end[0], 2 * hinge[1] - horn_end[1])
        _draw_rod(painter, frame, (-arm_end[0], -arm_end[1]), other, look)
        _draw_bar(
            painter, frame.beyond(hinge), frame.beyond(other), link.horn_mm * frame.scale, look.soft, look
        )
        _draw_bar(
            painter, frame.at((0.0, 0.0)), frame.at((-arm_end[0], -arm_end[1])), link.arm_mm * frame.scale,
            look.accent, look,
        )  # fmt: skip
    _draw_bar(
        painter, frame.beyond(hinge), frame.beyond(horn_end), link.horn_mm * frame.scale, look.soft, look
    )
    _draw_bar(painter, frame.at((0.0, 0.0)), frame.at(arm_end), link.arm_mm * frame.scale, look.accent, look)
    _draw_ticks(painter, frame, study, look)
    _draw_words(painter, frame, study, there, turned, look)
    _draw_list(painter, study, look)


def _draw_arc(painter: QPainter, frame: Frame, study: LinkageStudy, look: Look) -> None:
    link = study.link
    assert link is not None
    neutral, radius = link.servo_neutral_deg, link.arm_mm * _ARC
    width = _arc_width(frame, link.arm_mm)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    _arc(
        painter, frame, radius, neutral - study.limit_deg, neutral + study.limit_deg, _flat(look.line, width)
    )
    for zone in study.zones:
        colours = look.levels[zone.level]
        _arc(
            painter,
            frame,
            radius,
            neutral + zone.low_deg - 0.5,
            neutral + zone.high_deg + 0.5,
            _flat(colours.edge, width + 4),
        )
        hatch = QPen(QColor(colours.fill), width + 1, Qt.PenStyle.CustomDashLine, Qt.PenCapStyle.FlatCap)
        hatch.setDashPattern([0.35, 0.2])
        _arc(painter, frame, radius, neutral + zone.low_deg, neutral + zone.high_deg, hatch)


def _arc_width(frame: Frame, arm_mm: float) -> float:
    return max(5.0, arm_mm * frame.scale * 0.10)


def _flat(colour: str, width: float) -> QPen:
    return QPen(QColor(colour), width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap)


def _arc(painter: QPainter, frame: Frame, radius: float, low_deg: float, high_deg: float, pen: QPen) -> None:
    path = QPainterPath()
    steps = max(2, round(high_deg - low_deg))
    for step in range(steps + 1):
        point = frame.at(_round_shaft(radius, low_deg + (high_deg - low_deg) * step / steps))
        if step:
            path.lineTo(point)
        else:
            path.moveTo(point)
    painter.setPen(pen)
    painter.drawPath(path)


def _round_shaft(radius: float, angle_deg: float) -> Point:
    angle = math.radians(angle_deg)
    return radius * math.cos(angle), radius * math.sin(angle)


def _draw_ticks(painter: QPainter, frame: Frame, study: LinkageStudy, look: Look) -> None:
    """Neutral, and where each wanted throw is reached."""
    link = study.link
    assert link is not None
    marks = [(throw.travel_deg, put(throw.name)) for throw in study.throws if throw.travel_deg]
    crowded = any(abs(travel) < CROWDED_DEG for travel, _name in marks)
    marks.append((0.0, "" if crowded else say("neutral")))
    radius = link.arm_mm * _ARC
    reach = _arc_width(frame, link.arm_mm) / frame.scale
    for travel, name in marks:
        painter.setPen(QPen(QColor(look.ink), 2.0))
        angle = link.servo_neutral_deg + travel
        painter.drawLine(
            frame.at(_round_shaft(radius - reach, angle)), frame.at(_round_shaft(radius + reach, angle))
        )
        _put_outside(painter, frame.at(_round_shaft(radius + reach * 1.4, angle)), angle, name, look.ink)
    for letter, zone in lettered(study.zones):
        middle = link.servo_neutral_deg + (zone.low_deg + zone.high_deg) / 2
        where = frame.at(_round_shaft(radius - reach * 1.6, middle))
        _put_outside(painter, where, middle + 180.0, letter, look.levels[zone.level].words)


def lettered(zones: tuple[Zone, ...]) -> list[tuple[str, Zone]]:
    """Each zone with the letter it carries on the arc and in the list."""
    return list(zip("abcdefgh", zones, strict=False))


def _draw_list(painter: QPainter, study: LinkageStudy, look: Look) -> None:
    """What the letters on the arc stand for."""
    metrics = QFontMetricsF(painter.font())
    top = 8.0
    for letter, zone in lettered(study.zones):
        draw_mark(painter, QRectF(8, top, metrics.height(), metrics.height()), zone.level, look)
        painter.setPen(QColor(look.ink))
        painter.drawText(
            QPointF(14 + metrics.height(), top + metrics.ascent()), f"{letter}  {put(zone.words)}"
        )
        top += metrics.height() * 1.25


def _put_outside(painter: QPainter, where: QPointF, angle_deg: float, text: str, colour: str) -> None:
    """Write a word next to a point, on the side that points away from the shaft."""
    metrics = QFontMetricsF(painter.font())
    across = math.cos(math.radians(angle_deg))
    width = metrics.horizontalAdvance(text)
    left = where.x() - width * (0.5 - 0.5 * max(-1.0, min(1.0, across * 2.0)))
    up = math.sin(math.radians(angle_deg))
    top = where.y() - metrics.height() * (0.5 + 0.5 * up)
    room = QRectF(painter.window())
    left = min(max(left, 4.0), room.width() - width - 4.0)
    # The rod may pass here; words on paper stay readable over it.
    painter.fillRect(QRectF(left - 2, top, width + 4, metrics.height()), painter.background())
    painter.setPen(QColor(colour))
    painter.drawText(QPointF(left, top + metrics.ascent()), text)


def _draw_servo(painter: QPainter, frame: Frame, arm_mm: float, look: Look) -> None:
    size = arm_mm * frame.scale
    centre = frame.at((0.0, 0.0))
    case = QRectF(centre.x() - size * 0.42, centre.y() - size * 0.34, size * 1.5, size * 0.68)
    painter.setPen(QPen(QColor(look.line), 1.4))
    painter.setBrush(QColor(look.raised))
    painter.drawRoundedRect(case, size * 0.08, size * 0.08)


def _draw_surface(
    painter: QPainter, frame: Frame, hinge: Point, horn_mm: float, turned_deg: float, look: Look
) -> None:
    """The fixed part in front of the hinge, the surface behind it, and the surface at neutral as dashes."""
    centre, size = frame.beyond(hinge), horn_mm * frame.scale
    thick = size * 0.17
    painter.setPen(QPen(QColor(look.line), 1.4))
    painter.setBrush(QColor(look.raised))
    front = QPainterPath(centre + QPointF(-thick * 0.7, -thick))
    front.lineTo(centre + QPointF(-size * 0.75, -thick * 1.25))
    front.lineTo(centre + QPointF(-size * 0.75, thick * 1.25))
    front.lineTo(centre + QPointF(-thick * 0.7, thick))
    painter.drawPath(front)
    tail = QPolygonF([QPointF(0, -thick), QPointF(size * (_SURFACE - 0.1), 0), QPointF(0, thick)])
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(QColor(look.line), 1.2, Qt.PenStyle.DashLine))
    painter.drawPolyline(tail.translated(centre))
    painter.save()
    painter.translate(centre)
    painter.rotate(-turned_deg)
    painter.setPen(QPen(QColor(look.ink), 1.6))
    painter.setBrush(QColor(look.outline))
    painter.drawPolygon(tail)
    painter.drawEllipse(QPointF(), thick, thick)
    painter.restore()


def _draw_rod(painter: QPainter, frame: Frame, arm_end: Point, horn_end: Point, look: Look) -> None:
    start, end = frame.at(arm_end), frame.beyond(horn_end)
    painter.setPen(QPen(QColor(look.ink), 3.0, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    if not frame.moved_mm:
        painter.drawLine(start, end)
        return
    middle, along = (start + end) / 2, end - start
    length = math.hypot(along.x(), along.y()) or 1.0
    along = along / length
    gap, square = along * 6.0, QPointF(along.y(), -along.x())
    painter.drawLine(start, middle - gap)
    painter.drawLine(middle + gap, end)
    painter.setPen(QPen(QColor(look.ink), 1.6))
    for side in (-1.0, 1.0):
        cut = middle + gap * side
        painter.drawLine(cut - square * 8.0 - along * 3.0, cut + square * 8.0 + along * 3.0)


def _draw_bar(
    painter: QPainter, start: QPointF, end: QPointF, length: float, colour: str, look: Look
) -> None:
    """An arm or horn with its pivot and its rod end."""
    width = max(6.0, length * 0.16)
    painter.setPen(QPen(QColor(look.ink), width + 2.5, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.drawLine(start, end)
    painter.setPen(QPen(QColor(colour), width, Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.drawLine(start, end)
    painter.setPen(QPen(QColor(look.ink), 1.4))
    painter.setBrush(QColor(look.paper))
    painter.drawEllipse(start, width * 0.62, width * 0.62)
    painter.drawEllipse(end, width * 0.32, width * 0.32)


def draw_dragged(painter: QPainter, pivot: QPointF, tip: QPointF, words: str, look: Look) -> None:
    """Where the tip of an arm or horn is dragged to, with its radius."""
    painter.setPen(QPen(QColor(look.accent), 2.0, Qt.PenStyle.DashLine))
    painter.setBrush(QColor(look.paper))
    painter.drawLine(pivot, tip)
    painter.setPen(QPen(QColor(look.accent), 2.0))
    painter.drawEllipse(tip, 6.0, 6.0)
    _put_outside(painter, tip + QPointF(12.0, 0.0), 0.0, words, look.ink)


def _draw_words(
    painter: QPainter, frame: Frame, study: LinkageStudy, there: LinkPosition, turned: float, look: Look
) -> None:
    """The angle of the surface beside it, and what the eye could be misled by."""
    link = study.link
    assert link is not None
    metrics = QFontMetricsF(painter.font())
    hinge = frame.beyond((link.horn_pivot[0], link.horn_pivot[1]))
    way = say("up") if turned >= 0.05 else say("down") if turned <= -0.05 else say("neutral")
    words = f"{decimal(f'{abs(turned):.1f}°')} {way}"
    size = link.horn_mm * frame.scale
    painter.setPen(QColor(look.ink))
    room = QRectF(painter.window())
    left = min(hinge.x() + size, room.width() - metrics.horizontalAdvance(words) - 6)
    where = QPointF(left, hinge.y() + (metrics.height() * 1.5 if turned >= 0 else -metrics.height()))
    painter.drawText(where, words)
    notes = [say("arm to rod {angle}", angle=f"{there.servo_transmission_deg:.0f}°")]
    notes.append(say("rod to horn {angle}", angle=f"{there.transmission_deg:.0f}°"))
    if frame.moved_mm:
        notes.append(say("rod drawn shortened"))
    painter.setPen(QColor(look.soft))
    below = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom | Qt.TextFlag.TextWordWrap
    painter.drawText(room.adjusted(10, 0, -6, -6), below, "  ·  ".join(notes))
