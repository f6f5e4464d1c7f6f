"""What is asked of a new aircraft: its class, its layout, its name."""

from __future__ import annotations

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QFormLayout, QLineEdit, QVBoxLayout, QWidget

from hangar.answers.kits import DRIVE, Kit, KitQuestion, code_for, make_kit, questions_of
from hangar.base.class_words import CLASS_WORDS
from hangar.parts import Airframe, Rotor
from hangar.parts.choices import AircraftClass
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import put, say
from hangar.window.records.act_panel import field_of


class QuestionPane(QWidget):
    """Signals: ``answered()`` when the draft is another one; ``renamed()`` when code or name changed."""

    answered = Signal()
    renamed = Signal()

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.kind = ListBox()
        self.kind.setAccessibleName(say("What is it?"))
        self.kind.setPlaceholderText(say("choose first"))
        for kind in AircraftClass:
            self.kind.addItem(say(CLASS_WORDS[kind.value]), kind)
        self.kind.setCurrentIndex(-1)
        self.boxes: dict[str, ListBox] = {}
        self.ticks: dict[str, dict[str, QCheckBox]] = {}
        self.name = QLineEdit()
        self.name.setAccessibleName(say("Name"))
        self.code = QLineEdit()
        self.code.setAccessibleName(say("Code"))
        self.code.setMaxLength(6)
        self.span = field_of(desk, Airframe, "span_mm")
        self.rotor = field_of(desk, Rotor, "diameter_mm")
        self.mass = field_of(desk, Airframe, "all_up_mass_g")
        self._head = QFormLayout()
        self._layout_form = QFormLayout()
        self._foot = QFormLayout()
        for form in (self._head, self._layout_form, self._foot):
            form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.AllNonFixedFieldsGrow)
        self._head.addRow(say("What is it?"), self.kind)
        self._foot.addRow(say("Name"), self.name)
        self._foot.addRow(say("Code"), self.code)
        self._foot.addRow(say("Span"), self.span)
        self._foot.addRow(say("Rotor"), self.rotor)
        self._foot.addRow(say("All-up mass"), self.mass)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(self._head)
        column.addLayout(self._layout_form)
        column.addLayout(self._foot)
        usual = PlainLabel(
            say(
                "What is not chosen is taken as usual and stands on the drawing to be corrected; what nobody "
                "enters stays not known."
            ),
            wordWrap=True,
        )
        usual.setObjectName("quiet")
        column.addWidget(usual)
        column.addStretch(1)
        self.kind.activated.connect(self._chosen)
        self.name.textChanged.connect(self._named)
        self.code.textChanged.connect(self.renamed)
        self._fit_sizes()

    @property
    def aircraft_class(self) -> AircraftClass | None:
        """The class chosen."""
        kind = self.kind.currentData()
        return None if kind is None else AircraftClass(kind)

    def clear(self) -> None:
        """Ask everything anew."""
        self.kind.setCurrentIndex(-1)
        self.name.clear()
        self.code.clear()
        for editor in (self.span, self.rotor, self.mass):
            editor.show_value(None)
        self._chosen()

    def _chosen(self) -> None:
        while self._layout_form.rowCount():
            self._layout_form.removeRow(0)
        self.boxes, self.ticks = {}, {}
        kind = self.aircraft_class
        for question in questions_of(kind) if kind else ():
            if question.many:
                self._ask_ticks(question)
            else:
                self._ask_one(question)
        self._fit_sizes()
        self.answered.emit()

    def _ask_one(self, question: KitQuestion) -> None:
        box = ListBox()
        box.setAccessibleName(put(question.title))
        if question.ask == DRIVE:
            box.addItem(say("Not known"), "")
        for option in question.options:
            box.addItem(put(option.title), option.key)
        box.activated.connect(self.answered)
        self.boxes[question.ask] = box
        self._layout_form.addRow(put(question.title), box)

    def _ask_ticks(self, question: KitQuestion) -> None:
        self.ticks[question.ask] = {}
        for at, option in enumerate(question.options):
            tick = QCheckBox(put(option.title))
            tick.toggled.connect(self.answered)
            self.ticks[question.ask][option.key] = tick
            self._layout_form.addRow("" if at else put(question.title), tick)

    def _fit_sizes(self) -> None:
        kind = self.aircraft_class
        is_rotary = kind is not None and kind.is_helicopter
        self._foot.setRowVisible(self.span, kind is not None and not is_rotary)
        self._foot.setRowVisible(self.rotor, is_rotary)
        self._foot.setRowVisible(self.mass, kind is not None)

    def _named(self) -> None:
        self.code.setPlaceholderText(self.proposed_code)
        self.renamed.emit()

    @property
    def proposed_code(self) -> str:
        """The code that the name proposes."""
        name = self.name.text().strip()
        return code_for(name, self._desk.codes()) if name else ""

    @property
    def code_given(self) -> str:
        """The code typed, else the one proposed."""
        return self.code.text().strip() or self.proposed_code

    def kit(self) -> Kit | None:
        """The draft of what is chosen; None without a class."""
        kind = self.aircraft_class
        if kind is None:
            return None
        answers: dict[str, tuple[str, ...]] = {}
        for ask, box in self.boxes.items():
            key = str(box.currentData() or "")
            answers[ask] = (key,) if key else ()
        for ask, ticks in self.ticks.items():
            answers[ask] = tuple(key for key, tick in ticks.items() if tick.isChecked())
        return make_kit(kind, answers)
