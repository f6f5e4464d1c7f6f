"""Old against new as pairs of bars, each pair on its own scale."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt
from PySide6.QtGui import QBrush, QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget

from hangar.base.figure import Figure
from hangar.base.units import ShowsNumbers
from hangar.survey.brown_out import BrownOut
from hangar.survey.old_and_new import ComparedFigure, Comparison
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.looks import Look
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put, say, sentence_case

SAME_SHARE = 0.005
"""A change smaller than that share of the old figure counts as none."""
FEWER, MORE = "▼", "▲"


def compared_figures(comparison: Comparison) -> tuple[ComparedFigure, ...]:
    """Everything to show."""
    return comparison.figures


def change_share(compared: ComparedFigure) -> float | None:
    """The change as a share of the old figure; None where there is none to speak of."""
    if compared.old is None or compared.change is None or compared.old.expected == 0.0:
        return None
    return compared.change / abs(compared.old.expected)


def is_same(compared: ComparedFigure) -> bool:
    """Whether old and new are the same as far as anybody could tell."""
    share = change_share(compared)
    return compared.change == 0.0 or (share is not None and abs(share) < SAME_SHARE)


def verdict(compared: ComparedFigure) -> str:
    """Better, worse, the same, other, or not known."""
    if compared.change is None:
        return say("not known")
    if is_same(compared):
        return say("the same")
    if compared.more_is_better is None:
        return say("other")
    return say("better") if (compared.change > 0.0) is compared.more_is_better else say("worse")


def change_words(compared: ComparedFigure, units: ShowsNumbers) -> str:
    """The change with its sign and share: ``▲ 0.12 N·m (+14 %)``."""
    if compared.change is None:
        return UNKNOWN
    if is_same(compared):
        return "="
    share = change_share(compared)
    sign = MORE if compared.change > 0.0 else FEWER
    shown = units.show(abs(compared.change), compared.unit)
    percent = "" if share is None or abs(share) > 9.99 else f" ({share:+.0%})"
    return f"{sign} {shown}{percent}"


def value_words(figure: Figure | None, unit: str, units: ShowsNumbers) -> str:
    """One figure of the comparison."""
    return UNKNOWN if figure is None else units.show(figure.expected, unit)


def line_words(compared: ComparedFigure, units: ShowsNumbers) -> str:
    """One figure of the comparison as a sentence for a screen reader."""
    return say(
        "{name}: old {old}, new {new}, {verdict}",
        name=sentence_case(put(compared.name)),
        old=value_words(compared.old, compared.unit, units),
        new=value_words(compared.new, compared.unit, units),
        verdict=verdict(compared),
    )


def failing_words(comparison: Comparison, units: ShowsNumbers) -> str:
    """That the new servo must not be fitted, and why; empty where the bus holds with it."""
    brown_out = comparison.new_fails
    if brown_out is None:
        return ""
    words = _why(brown_out, units)
    if comparison.old_fails is not None:
        return say("The bus fails already as it is, and with this servo too: {why}", why=words)
    return say("Do not fit it: {why}", why=words)


def _why(brown_out: BrownOut, units: ShowsNumbers) -> str:
    if brown_out.bus_v is None or brown_out.device is None or brown_out.least_v is None:
        return say("the supply collapses at peak current: {why}.", why=put(brown_out.why))
    words = say(
        "at peak current the bus falls to {volts}; {device} works down to {least}.",
        volts=units.show(brown_out.bus_v.expected, "V"),
        device=f"{put(brown_out.device.TITLE)} {brown_out.device.code}",
        least=units.show(brown_out.least_v, "V"),
    )
    return f"{words} {sentence_case(put(brown_out.why))}." if brown_out.why else words


_ROW, _BAR = 3.6, 0.82
"""Height of a pair and of a bar, in lines of text."""


class ComparisonBars(QWidget):
    """A pair of bars for each figure: the old one hatched, the new one filled; numbers beside them."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._figures: tuple[ComparedFigure, ...] = ()
        self._names = ("", "")
        self.setAccessibleName(say("Old and new servo as bars"))
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        view.changed.connect(self._describe)

    @property
    def figures(self) -> tuple[ComparedFigure, ...]:
        """The figures that have bars."""
        return self._figures

    def show_figures(self, figures: tuple[ComparedFigure, ...], old_name: str, new_name: str) -> None:
        """Show those of the figures that a bar can show: known at least once, and not below nothing."""
        self._figures = tuple(figure for figure in figures if _values(figure) and min(_values(figure)) >= 0.0)
        self._names = (old_name, new_name)
        self._describe()
        self.updateGeometry()
        self.update()

    def _describe(self) -> None:
        units = self._view.units
        self.setAccessibleDescription("; ".join(line_words(figure, units) for figure in self._figures))
        self.update()

    def sizeHint(self) -> QSize:
        line = QFontMetricsF(self.font()).height()
        return QSize(round(line * 24), round(line * (2.2 + _ROW * len(self._figures))))

    def minimumSizeHint(self) -> QSize:
        return QSize(round(QFontMetricsF(self.font()).height() * 13), self.sizeHint().height())

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        look = self._view.look
        painter.fillRect(self.rect(), QColor(look.paper))
        line = QFontMetricsF(self.font()).height()
        self._draw_key(painter, line, look)
        for at, compared in enumerate(self._figures):
            room = QRectF(10, line * (2.0 + _ROW * at), self.width() - 20, line * _ROW)
            self._draw_pair(painter, room, compared, line, look)
        painter.end()

    def _draw_key(self, painter: QPainter, line: float, look: Look) -> None:
        metrics, half = QFontMetricsF(painter.font()), self.width() / 2 - 10
        for new, name in enumerate(self._names):
            left = 10.0 + new * half
            words = f"{say('new') if new else say('old')}: {name}"
            _draw_bar(painter, QRectF(left, line * 0.6, line * 1.6, line * _BAR), bool(new), look)
            painter.setPen(QColor(look.ink))
            room = QRectF(left + line * 2.0, line * 0.5, half - line * 2.2, line * 1.1)
            painter.drawText(room, 0, metrics.elidedText(words, Qt.TextElideMode.ElideRight, room.width()))

    def _draw_pair(
        self, painter: QPainter, room: QRectF, compared: ComparedFigure, line: float, look: Look
    ) -> None:
        bold = QFont(self.font())
        bold.setBold(True)
        words = verdict(compared)
        painter.save()
        painter.setFont(bold)
        painter.setPen(QColor(look.ink))
        metrics = QFontMetricsF(bold)
        bold_wide = metrics.horizontalAdvance(words)
        name = metrics.elidedText(
            sentence_case(put(compared.name)),
            Qt.TextElideMode.ElideRight,
            room.width() - bold_wide - line,
        )
        painter.drawText(room.topLeft() + _down(line), name)
        painter.setPen(QColor(_verdict_colour(words, look)))
        painter.drawText(room.topRight() + _down(line, -bold_wide), words)
        painter.restore()
        units, most = self._view.units, max(_values(compared))
        widest = max(
            QFontMetricsF(self.font()).horizontalAdvance(value_words(figure, compared.unit, units))
            for figure in (compared.old, compared.new)
        )
        full = room.width() - widest - 8
        for new, figure in enumerate((compared.old, compared.new)):
            top = room.top() + line * (1.3 + new * (_BAR + 0.12))
            share = 0.0 if figure is None or most == 0.0 else figure.expected / most
            width = max(2.0, full * share)
            _draw_bar(painter, QRectF(room.left(), top, width, line * _BAR), bool(new), look)
            painter.setPen(QColor(look.ink))
            place = QRectF(room.left() + width + 8, top - line * 0.1, widest + 4, line)
            painter.drawText(place, Qt.AlignmentFlag.AlignVCenter, value_words(figure, compared.unit, units))


def _values(compared: ComparedFigure) -> list[float]:
    return [figure.expected for figure in (compared.old, compared.new) if figure is not None]


def _down(line: float, across: float = 0.0) -> QPointF:
    return QPointF(across, line * 0.95)


def _verdict_colour(words: str, look: Look) -> str:
    if words == say("worse"):
        return look.levels["caution"].words
    return look.accent if words == say("better") else look.soft


def _draw_bar(painter: QPainter, box: QRectF, new: bool, look: Look) -> None:
    painter.setPen(QPen(QColor(look.accent if new else look.soft), 1.4))
    brush = QBrush(QColor(look.accent)) if new else QBrush(QColor(look.soft), Qt.BrushStyle.BDiagPattern)
    painter.setBrush(brush)
    painter.drawRect(box)
