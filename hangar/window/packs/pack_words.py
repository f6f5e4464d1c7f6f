"""What is said of a pack: its two verdicts, how to charge and how to store it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from enum import Enum, auto
from functools import cache
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPen, QPixmap, QPolygonF
from PySide6.QtWidgets import QGridLayout, QWidget

from hangar.answers.packs import PackCase, health_of, verdict_of
from hangar.answers.predicted import fits
from hangar.base.figure import Figure
from hangar.base.text import fixed
from hangar.base.units import ShowsNumbers
from hangar.parts.choices import PackState
from hangar.parts.fields import key_of
from hangar.window.kit.desk import Desk
from hangar.window.kit.level_marks import mark_icon
from hangar.window.kit.looks import LOOKS, Look
from hangar.window.kit.plain_words import MarkupLabel, PlainLabel, markup
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import level_word, put, say, sentence_case
from hangar.window.tables.columns import Column

if TYPE_CHECKING:
    from hangar.physics.pack_health import HealthSign, Light
    from hangar.physics.pack_verdict import PackVerdict
    from hangar.survey.learned import LearnedPack, PackReading


class VerdictLine(QWidget):
    """Shows a :class:`Verdict` under a question."""

    def __init__(self, view: ViewSettings, question: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._question = question
        self.verdict: Verdict | None = None
        self._mark = PlainLabel()
        self._words = PlainLabel(wordWrap=True)
        self._basis = PlainLabel(wordWrap=True)
        self._basis.setObjectName("quiet")
        asked = MarkupLabel(markup("<b>{question}</b>", question=question))
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(2)
        grid.addWidget(asked, 0, 0, 1, 2)
        grid.addWidget(self._mark, 1, 0, Qt.AlignmentFlag.AlignTop)
        grid.addWidget(self._words, 1, 1)
        grid.addWidget(self._basis, 2, 1)
        grid.setColumnStretch(1, 1)
        view.changed.connect(self._show)

    def show_verdict(self, verdict: Verdict) -> None:
        """Show this one."""
        self.verdict = verdict
        self._show()

    def _show(self) -> None:
        if self.verdict is None:
            return
        size = round(self.fontMetrics().height() * 1.2)
        self._mark.setPixmap(verdict_icon(self.verdict.mark, self._view.look, size).pixmap(size, size))
        self._words.setText(self.verdict.words)
        self._basis.setText(self.verdict.basis)
        self._basis.setVisible(bool(self.verdict.basis))
        level = say("Fit") if self.verdict.mark == FIT else level_word(self.verdict.mark)
        self._mark.setAccessibleName(level)
        self.setAccessibleName(f"{self._question} {level}. {self.verdict.words}. {self.verdict.basis}")


_RATIO = 3


def draw_tick(painter: QPainter, box: QRectF, look: Look) -> None:
    """Draw the tick."""
    pen = QPen(QColor(look.accent), max(1.6, box.width() / 7))
    pen.setCapStyle(Qt.PenCapStyle.RoundCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(pen)
    corner = box.topLeft()
    places = ((0.15, 0.55), (0.40, 0.80), (0.88, 0.20))
    painter.drawPolyline(QPolygonF([corner + QPointF(x * box.width(), y * box.height()) for x, y in places]))
    painter.restore()


@cache
def _tick_icon(look_name: str, size: int) -> QIcon:
    picture = QPixmap(size * _RATIO, size * _RATIO)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    painter.scale(_RATIO, _RATIO)
    draw_tick(painter, QRectF(1, 1, size - 2, size - 2), LOOKS[look_name])
    painter.end()
    picture.setDevicePixelRatio(_RATIO)
    icon = QIcon(picture)
    icon.addPixmap(picture, QIcon.Mode.Selected)
    return icon


def verdict_icon(mark: str, look: Look, size: int = 20) -> QIcon:
    """The mark of a verdict as an icon."""
    return _tick_icon(look.name, size) if mark == FIT else mark_icon(mark, look, size)


FIT, LOOK, BAD, UNKNOWN = "fit", "caution", "warning", "cant-tell"
"""Marks of a verdict; the last three are those of the levels."""

_CHARGE_WORDS = {
    FIT: "Charged: fit for a full set of flights",
    LOOK: "Part charged: fit for part of a set of flights",
    BAD: "Not charged: charge it before it flies",
    UNKNOWN: "Can't tell: no load test to judge by",
}
_HEALTH_WORDS = {
    FIT: "No sign of wear in what was measured",
    LOOK: "Wearing: look at it more often",
    BAD: "Worn out or hurt: it must not carry flight controls",
    UNKNOWN: "Can't tell: nothing was measured",
}
_SIGN_UNITS = {"cell spread at rest": "V", "cell spread under load": "V"}


@dataclass(frozen=True)
class Verdict:
    """One answer: its mark, its words, and what it rests on."""

    mark: str
    words: str
    basis: str = ""


def mark_of(light: Light) -> str:
    """The mark of a light."""
    return {"GREEN": FIT, "AMBER": LOOK, "RED": BAD, "UNKNOWN": UNKNOWN}[light.name]


def charge_words(case: PackCase, today: date, units: ShowsNumbers) -> Verdict:
    """Is it charged? A load test counts for the day it is made on."""
    test = case.newest_test
    if test is None:
        return Verdict(UNKNOWN, say(_CHARGE_WORDS[UNKNOWN]))
    verdict = verdict_of(case, test, today)
    if verdict is None:
        return Verdict(UNKNOWN, say("Can't tell: the last load test cannot be judged"))
    basis = charge_basis(verdict, units)
    tested_on = test.tested_at.date()
    if tested_on == today:
        return Verdict(mark_of(verdict.light), say(_CHARGE_WORDS[mark_of(verdict.light)]), basis)
    then = say(_CHARGE_WORDS[mark_of(verdict.light)])
    words = say("Can't tell today: the last load test is of {day}", day=tested_on)
    return Verdict(UNKNOWN, words, say("Then: {words}. {basis}", words=then, basis=basis))


def charge_basis(verdict: PackVerdict, units: ShowsNumbers) -> str:
    """What the readings say of the volts inside, with their band, and the lines they were held against."""
    words = say(
        "Inside it has {inner}, give or take {sd}; charged from {ready}, to be charged below {red}.",
        inner=units.show(verdict.inner_v, "V", 3),
        sd=units.show(1.645 * verdict.inner_sd_v, "V", 2),
        ready=units.show(verdict.charged_from_v, "V", 3),
        red=units.show(verdict.low_v, "V", 3),
    )
    if verdict.healthy.value == "can't tell" and not verdict.two_loads:
        return f"{words} {say('Whether it is worn a second, heavier load would tell.')}"
    return words


def tested_words(verdict: PackVerdict | None, units: ShowsNumbers) -> Verdict:
    """Is it charged, by a reading taken just now, and does this reading alone speak of wear?"""
    if verdict is None:
        return Verdict(UNKNOWN, say("Can't tell: this reading cannot be judged"))
    mark = mark_of(verdict.light)
    healthy = say("By this test: {healthy}.", healthy=say(verdict.healthy.value))
    return Verdict(mark, say(_CHARGE_WORDS[mark]), f"{charge_basis(verdict, units)} {healthy}")


def health_words(case: PackCase, today: date, units: ShowsNumbers) -> Verdict:
    """Is it healthy? The worst sign counts."""
    verdict = health_of(case, today)
    mark = mark_of(verdict.light)
    signs = "; ".join(sign_words(sign, units) for sign in verdict.signs)
    return Verdict(mark, say(_HEALTH_WORDS[mark]), signs)


_SIGN_NAMES = {
    str(name): name
    for name in (
        fixed("resistance over baseline"), fixed("capacity over rated"), fixed("lost overnight"),
        fixed("cell spread at rest"), fixed("cell spread under load"),
    )
}  # fmt: skip


def sign_words(sign: HealthSign, units: ShowsNumbers) -> str:
    """One sign of health with its value."""
    if sign.name == "damaged":
        return say("swollen or crashed") if sign.value else say("not swollen, not crashed")
    if sign.name == "age in years":
        return say("{age} old", age=put(units.show(sign.value, "y", 2)))
    if sign.name in _SIGN_UNITS:
        return f"{put(_SIGN_NAMES[sign.name])} {units.show(sign.value, _SIGN_UNITS[sign.name], 2)}"
    return f"{put(_SIGN_NAMES[sign.name])} {100 * sign.value:.0f} %"


def never_charge_words(case: PackCase) -> str:
    """Why a pack is never charged; empty when nothing forbids it."""
    pack = case.pack
    reasons = [say(word) for word, true in (("swollen", pack.swollen), ("crashed", pack.crashed)) if true]
    if pack.state in (PackState.QUARANTINE, PackState.RETIRED):
        reasons.append(say(str(pack.state)))
    return ", ".join(reasons)


def charging_words(case: PackCase, units: ShowsNumbers) -> str:
    """How to charge it: mode and cells, greatest current, end volts."""
    from hangar.physics.pack import cell

    kind = case.pack_type
    if why := never_charge_words(case):
        return say("NEVER charge it: {why}.", why=why)
    volts = cell(kind.chemistry)
    end = units.show(kind.series * volts.charge_limit_v, "V", 3)
    ends = (
        say("ends at the peak, below {end}", end=end)
        if kind.chemistry.is_nickel
        else say("ends at {end}", end=end)
    )
    if kind.charge_c is None:
        rate = say(
            "the greatest rate is not known: take a tenth, {current}",
            current=units.show(kind.capacity_mah / 10000.0, "A", 2),
        )
    else:
        rate = say(
            "{current} at the most", current=units.show(kind.charge_c * kind.capacity_mah / 1000.0, "A", 2)
        )
    return say(
        "Charger set to {mode}, {cells} cells; {rate}; {ends}.",
        mode=kind.chemistry,
        cells=kind.series,
        rate=rate,
        ends=ends,
    )


def storage_words(case: PackCase, desk: Desk) -> Verdict:
    """How to leave it on the shelf, and whether it lies so.

    Cell volts: common practice, no source; the pack maker's sheet governs.
    """
    from hangar.physics.pack import cell

    units = desk.view.reader
    kind, volts = case.pack_type, cell(case.pack_type.chemistry)
    if volts.storage_low_v is None or volts.storage_high_v is None:
        return Verdict(FIT, say("Any charge will do; keep it dry and charge it before use"))
    low, high = kind.series * volts.storage_low_v, kind.series * volts.storage_high_v
    band = say("{low} to {high}", low=units.show(low, "V", 3), high=units.show(high, "V", 3))
    rest = case.pack.rest_v
    if kind.chemistry.is_nickel:
        mark = UNKNOWN if rest is None else FIT
        return Verdict(mark, say("Part charged, {band} at rest; refresh it now and then", band=band))
    if rest is None:
        return Verdict(UNKNOWN, say("Store at {band}; its resting volts are not known", band=band))
    shown = units.show(rest, "V", 3)
    if rest < kind.series * volts.never_below_v:
        words = say(
            "{rest} at rest is below what its cells bear; do not charge it, quarantine it", rest=shown
        )
        return Verdict(BAD, words)
    if rest > high + 1e-9:
        words = say(
            "{rest} at rest; bring it down to {band} if it does not fly within {days:g} days",
            rest=shown,
            band=band,
            days=_days_full(desk),
        )
        return Verdict(LOOK if _stands_full(case, desk) else FIT, words)
    if rest < low - 1e-9:
        return Verdict(LOOK, say("{rest} at rest is less than {band}; top it up", rest=shown, band=band))
    return Verdict(FIT, say("{rest} at rest lies within {band}", rest=shown, band=band))


class ToDo(Enum):
    """What to do with a pack, the most pressing first."""

    OUT = auto()
    STORE = auto()
    CHARGE = auto()
    WATCH = auto()
    MEASURE = auto()
    NOTHING = auto()


def to_do(case: PackCase, desk: Desk) -> ToDo:
    """The most pressing thing to do with a pack; to measure it comes before nothing to do."""
    units = desk.view.reader
    health, storage = health_words(case, desk.today, units).mark, storage_words(case, desk).mark
    charge = charge_words(case, desk.today, units).mark
    if BAD in (health, storage) or never_charge_words(case):
        return ToDo.OUT
    if storage == LOOK:
        return ToDo.STORE
    if charge in (LOOK, BAD):
        return ToDo.CHARGE
    if health == LOOK:
        return ToDo.WATCH
    return ToDo.MEASURE if UNKNOWN in (health, charge, storage) else ToDo.NOTHING


def todo_words(todo: ToDo) -> str:
    """What to do, as the head of a group."""
    return {
        ToDo.OUT: say("Take out of use"),
        ToDo.STORE: say("Bring to storage volts"),
        ToDo.CHARGE: say("Charge before flying"),
        ToDo.WATCH: say("Watch: a sign of wear"),
        ToDo.MEASURE: say("Can't tell: measure these"),
        ToDo.NOTHING: say("Nothing open on the data entered"),
    }[todo]


def _days_full(desk: Desk) -> float:
    """Days that a lithium pack may stand full, by the keeper's limits."""
    from hangar.parts.choices import AircraftClass

    limits = desk.basis().thresholds
    return limits.value("storage-full-days", AircraftClass.SPORT)


def _stands_full(case: PackCase, desk: Desk) -> bool:
    """Whether a full pack is put away, or has stood full for too long."""
    pack = case.pack
    since = max((day for day in (pack.charged_on, pack.rest_on) if day), default=None)
    return pack.state is PackState.STORAGE or since is None or (desk.today - since).days > _days_full(desk)


def title_words(case: PackCase) -> str:
    """Chemistry, cells and capacity."""
    return f"{case.pack_type.chemistry} {cells_words(case)}"


def cells_words(case: PackCase) -> str:
    """Cells and capacity."""
    kind = case.pack_type
    side = f"{kind.parallel}P" if kind.parallel > 1 else ""
    return f"{kind.series}S{side} {kind.capacity_mah:g} mAh"


def state_title(state: PackState) -> str:
    """A pack's state with its first letter raised."""
    return say(sentence_case(str(state)))


def reading_key(reading: PackReading) -> Any:
    """What a reading is found by."""
    return (reading.record.KIND, *key_of(reading.record))


def reading_columns(learned: Callable[[], LearnedPack | None]) -> tuple[Column[PackReading], ...]:
    """Day, reading, value at 25 °C, what was expected, the word for it and its share of what is known."""

    def together(_reading: PackReading) -> Figure | None:
        pack_learned = learned()
        return None if pack_learned is None else pack_learned.cell_mohm

    return (
        Column(say("Day"), lambda row, _units: str(row.read_on), raw=lambda row: row.read_on),
        Column(say("Reading"), lambda row, _units: put(row.name)),
        Column(
            say("A cell at 25 °C"),
            lambda row, units: units.show(row.cell_mohm, "mohm"),
            raw=lambda row: row.cell_mohm,
            figure=together,
            number=True,
            help=say("How? tells what all readings say together."),
            gives_way=3,
        ),
        Column(say("Beside what was expected"), _word, gives_way=2),
        Column(
            say("Brings"),
            lambda row, _units: "" if row.judged is None else f"{100.0 * row.judged.weight:.0f} %",
            number=True,
            help=say("Share of what is known of the resistance that this reading added."),
            gives_way=1,
        ),
    )


def _word(row: PackReading, _units: Any) -> str:
    if row.is_aside:
        return say("set aside")
    return "" if row.judged is None else say(fits(row.judged.z).value)
