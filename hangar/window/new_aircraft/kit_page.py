"""A new aircraft from its layout: questions on the left, the drawing to correct, and what will be entered."""

from __future__ import annotations

from dataclasses import replace

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QKeyEvent, QKeySequence, QResizeEvent, QShortcut
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QScrollArea, QSplitter, QVBoxLayout, QWidget

from hangar.acts.new_aircraft import enter_kit
from hangar.answers.kits import Kit, KitPlace
from hangar.base.errors import BadInput, HangarError
from hangar.base.outlines import load_outline
from hangar.base.units import ShowsNumbers
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say, say_plural, word_of
from hangar.window.new_aircraft.question_pane import QuestionPane
from hangar.window.positions.plan_view import PlanView
from hangar.window.positions.servo_dot import DotState
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

NARROW = 850
"""Below so many units of width the drawing gives way."""


class KitPage(QWidget):
    """Nothing is in the fleet before it is entered; then all of it is, by one edit.

    Signals: ``entered(code)``; ``left()``; ``copy_wanted()``; ``paste_wanted()``.
    """

    entered = Signal(str)
    left = Signal()
    copy_wanted = Signal()
    paste_wanted = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.kit: Kit | None = None
        self.questions = QuestionPane(desk)
        self.plan = PlanView()
        self.plan.setAccessibleName(say("Drawing of the new aircraft"))
        self._model: RowsModel[KitPlace] = RowsModel(desk, self._columns(), lambda place: place.code, self)
        self.table = RowsView(self._model, say("Channels and positions of the new aircraft"))
        self.count = PlainLabel(wordWrap=True)
        self.count.setObjectName("lead")
        self.message = PlainLabel(wordWrap=True)
        self.refusal = PlainLabel(wordWrap=True)
        self.refusal.setObjectName("refusal")
        self.enter_button = self._button(say("&Enter it"), self.enter, is_main=True)
        self.cancel_button = self._button(say("Cancel"), self.left.emit)
        self.copy_button = self._button(say("Copy &one I have…"), self.copy_wanted.emit)
        self.paste_button = self._button(say("&Paste a table…"), self.paste_wanted.emit)
        self._arrange()
        self.questions.answered.connect(self._made)
        self.questions.renamed.connect(self._tell)
        self.plan.position_chosen.connect(self.table.choose_row)
        self.plan.position_opened.connect(self._edit_channel)
        self.plan.dot_moved.connect(lambda code, across, along: self._correct(code, at=(across, along)))
        self.table.row_chosen.connect(lambda place: self.plan.choose(place.code) if place else None)
        QShortcut(QKeySequence("Ctrl+Return"), self, self.enter,
                  context=Qt.ShortcutContext.WidgetWithChildrenShortcut)  # fmt: skip
        desk.view.changed.connect(self._draw)
        self._made()

    def _button(self, words: str, act: object, *, is_main: bool = False) -> QPushButton:
        button = QPushButton(words)
        button.setAutoDefault(False)
        if is_main:
            button.setProperty("main", True)
        button.clicked.connect(act)
        return button

    def _columns(self) -> tuple[Column[KitPlace], ...]:
        def channel(place: KitPlace, _units: ShowsNumbers) -> str:
            return "?" if place.channel is None else str(place.channel)

        return (
            Column(
                say("Ch."),
                channel,
                raw=lambda place: place.channel or 99,
                write=self._write_channel,
                show_for_edit=channel,
                number=True,
                help=say("Channel"),
            ),
            Column(say("Position"), lambda place, _units: place.code),
            Column(say("Name"), lambda place, _units: put(place.name), widest=40),
            Column(say("Function"), lambda place, _units: word_of(place.function), gives_way=2),
            Column(
                say("Servo"),
                lambda place, _units: say("no servo") if place.is_bare else say("to be fitted"),
                gives_way=1,
            ),
        )

    def _arrange(self) -> None:
        asked = QWidget()
        column = QVBoxLayout(asked)
        column.setContentsMargins(12, 12, 12, 8)
        title = PlainLabel(say("New aircraft from its layout"))
        title.setObjectName("lead")
        column.addWidget(title)
        column.addWidget(self.questions, 1)
        others = QHBoxLayout()
        others.addWidget(self.copy_button)
        others.addWidget(self.paste_button)
        others.addStretch(1)
        column.addLayout(others)
        scroll = self._scroll = QScrollArea(widgetResizable=True)
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidget(asked)
        self._fit_scroll()
        right = QWidget()
        column = QVBoxLayout(right)
        column.setContentsMargins(8, 12, 12, 8)
        column.addWidget(self.count)
        column.addWidget(self.table, 1)
        halves = QSplitter(Qt.Orientation.Horizontal)
        halves.setChildrenCollapsible(False)
        for part in (scroll, self.plan, right):
            halves.addWidget(part)
        halves.setStretchFactor(1, 1)
        halves.setStretchFactor(2, 1)
        halves.setSizes([300, 430, 430])
        foot = QHBoxLayout()
        foot.setContentsMargins(12, 6, 12, 8)
        words = QVBoxLayout()
        words.addWidget(self.message)
        words.addWidget(self.refusal)
        foot.addLayout(words, 1)
        foot.addWidget(self.cancel_button)
        foot.addWidget(self.enter_button)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(halves, 1)
        whole.addLayout(foot)

    def _fit_scroll(self) -> None:
        inner = self._scroll.widget()
        if inner is not None:
            bar = self._scroll.verticalScrollBar().sizeHint().width()
            self._scroll.setMinimumWidth(inner.minimumSizeHint().width() + bar)

    def begin(self) -> None:
        """Ask anew; a draft that was begun and not entered stays."""
        self.questions.kind.setFocus()

    def _made(self) -> None:
        moved = {place.code: place for place in self.kit.places} if self.kit else {}
        same_class = self.kit is not None and self.kit.aircraft_class == self.questions.aircraft_class
        kit = self.questions.kit()
        if kit is not None and same_class:
            kit = _corrected_before(kit, moved)
        self.kit = kit
        self._draw()
        self._fit_scroll()

    def _draw(self) -> None:
        kit = self.kit
        look = self._desk.view.look
        if kit is None:
            self._model.show_rows(())
            self.plan.show_plan(load_outline("aeroplane"), (), look)
        else:
            self._model.show_rows(kit.places)
            states = tuple(
                DotState(
                    code=place.code,
                    channel=place.channel,
                    title=f"{place.code} {put(place.name)}, {say('no servo yet')}",
                    across=kit.place_on_drawing(place)[0],
                    along=kit.place_on_drawing(place)[1],
                    level=None,
                    empty=True,
                    head=place.code,
                    line=say("no servo yet"),
                )
                for place in kit.positions
            )
            self.plan.show_plan(load_outline(kit.outline), states, look)
        self._tell()

    def _tell(self) -> None:
        kit = self.kit
        self.refusal.hide()
        self.enter_button.setEnabled(kit is not None and not self._desk.read_only)
        if kit is None:
            self.count.setText(say("Nothing is drawn yet"))
            self.message.setText(
                say("Choose what it is; positions, channels and surfaces appear as a drawing.")
            )
            return
        self.count.setText(
            say(
                "{channels}, {positions}, {surfaces}, {paths}",
                channels=say_plural(
                    "{count} channel",
                    "{count} channels",
                    count=sum(place.channel is not None for place in kit.places),
                ),
                positions=say_plural("{count} position", "{count} positions", count=len(kit.positions)),
                surfaces=say_plural("{count} surface", "{count} surfaces", count=len(kit.surfaces)),
                paths=say_plural("{count} power path", "{count} power paths", count=len(kit.paths)),
            )
        )
        self.message.setText(
            say(
                "Correct it: drag a dot, type a channel in the table. Channels stand in a usual order, "
                "common practice, no source."
            )
        )

    def _edit_channel(self, code: str) -> None:
        cell = self.table.cell(code, say("Ch."))
        if cell.isValid():
            self.table.setFocus()
            self.table.setCurrentIndex(cell)
            self.table.edit(cell)

    def _write_channel(self, place: KitPlace, typed: str) -> None:
        words = typed.strip()
        if words and not words.isdigit():
            raise BadInput('Channel: found "{words}"; a number from 1 to 32 is wanted.', words=words)
        kit = self._corrected(place.code, channel=int(words) if words else None)
        self.kit = kit
        self._draw()

    def _corrected(self, code: str, **changes: object) -> Kit:
        assert self.kit is not None
        return self.kit.corrected(code, **changes)

    def _correct(self, code: str, **changes: object) -> None:
        try:
            self.kit = self._corrected(code, **changes)
        except HangarError as fault:
            self.refuse(put(fault))
        self._draw()

    def refuse(self, sentence: str) -> None:
        """Say beside the buttons what is wrong."""
        self.refusal.setText(sentence)
        self.refusal.setVisible(bool(sentence))
        self.enter_button.setAccessibleDescription(sentence)

    def enter(self) -> None:
        """Enter the draft, all of it by one edit."""
        kit, asked = self.kit, self.questions
        if kit is None or self._desk.read_only:
            return
        size = asked.rotor if kit.rotor is not None else asked.span
        try:
            kit = replace(kit, span_mm=size.read(), all_up_mass_g=asked.mass.read())
            code = asked.code_given
            self._desk.do(enter_kit, kit, code, asked.name.text(), put)
        except HangarError as fault:
            self.refuse(put(fault))
            (asked.code if not asked.code_given else asked.name).setFocus()
            return
        self.kit = None
        asked.clear()
        self.entered.emit(code)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() == Qt.Key.Key_Escape:
            self.left.emit()
        elif event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and self.kit is not None:
            self.enter()
        else:
            super().keyPressEvent(event)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.plan.setVisible(self.width() * 10 / self._desk.view.points >= NARROW)


def _corrected_before(kit: Kit, moved: dict[str, KitPlace]) -> Kit:
    """Another answer keeps what was corrected on the drawing."""
    for place in kit.places:
        was = moved.get(place.code)
        if was is not None and was.at is not None and was.at != place.at:
            kit = kit.corrected(place.code, at=was.at)
    return kit
