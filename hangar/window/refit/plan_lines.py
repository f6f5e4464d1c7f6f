"""The lines of a plan: a table to edit, and a strip that adds a line by choosing."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from hangar.acts import plans
from hangar.answers.plans import tags_for
from hangar.parts import Aircraft, Library, Plan, PlanLine
from hangar.parts.choices import LeadCare, PackJoin, PlanAction, RodWork
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say, word_of
from hangar.window.tables.all_columns import AllColumns
from hangar.window.tables.columns import Choice, Column, field_columns
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_FIELDS = ("number", "action", "place", "part_type", "from_stock", "from_aircraft", "set_v", "awg", "arm_mm",
           "horn_mm", "pulse_us", "rate_hz", "care", "rod", "rod_diameter_mm", "rod_bore_mm", "rod_material",
           "join", "quantity", "price", "hours_h", "done_on")  # fmt: skip
_GIVES_WAY = {
    name: place
    for place, name in enumerate(
        (
            *("from_aircraft", "rod_bore_mm", "join", "rod_material", "rod_diameter_mm", "rod", "rate_hz"),
            *("horn_mm", "pulse_us", "care", "hours_h", "quantity", "number", "done_on", "awg", "set_v"),
            "arm_mm",
        ),
        1,
    )
}
"""In which order columns are left out of a narrow window."""
_SUPPLY = (
    *(PlanAction.FIT_PACK, PlanAction.JOIN_PACKS, PlanAction.FIT_REGULATOR, PlanAction.SET_REGULATOR),
    PlanAction.FIT_SWITCH,
)
_AMOUNTS: dict[PlanAction, tuple[str, str, tuple[str, ...]]] = {
    PlanAction.CHANGE_LEAD: ("awg", "", ("22 AWG", "20 AWG")),
    PlanAction.SET_REGULATOR: ("set_v", "V", ("5 V", "6 V", "7.4 V")),
    PlanAction.FIT_REGULATOR: ("set_v", "V", ("5 V", "6 V", "7.4 V")),
    PlanAction.CHANGE_ARM: ("arm_mm", "mm", ("12 mm", "15 mm", "20 mm")),
    PlanAction.SET_HORN: ("horn_mm", "mm", ("12 mm", "15 mm", "20 mm")),
    PlanAction.SET_PULSE: ("pulse_us", "us", ("1520 µs", "760 µs")),
    PlanAction.SET_RATE: ("rate_hz", "Hz", ("50 Hz", "200 Hz", "333 Hz")),
}
"""The field an action writes an amount into, its unit, and what is often wanted."""
_KINDS: dict[PlanAction, tuple[str, tuple[LeadCare | RodWork | PackJoin, ...]]] = {
    PlanAction.PROTECT_LEAD: ("care", tuple(LeadCare)),
    PlanAction.CHANGE_ROD: ("rod", tuple(RodWork)),
    PlanAction.JOIN_PACKS: ("join", (PackJoin.SERIES, PackJoin.PLAIN_Y)),
}
"""The field an action writes a kind of work into, and the kinds there are."""


def places_for(action: PlanAction, aircraft: Aircraft) -> tuple[str, ...]:
    """Where an action can be done; a new place for a second pack with its switch, and for a board."""
    if action is PlanAction.FIT_RECEIVER:
        return tuple(receiver.code for receiver in aircraft.receivers)
    if action in _SUPPLY:
        from hangar.refit.new_places import board_place, further_path

        known = tuple(path.feed.code for path in aircraft.paths)
        if action in (PlanAction.FIT_PACK, PlanAction.FIT_SWITCH):
            return (*known, further_path(aircraft))
        return (*known, board_place(aircraft)) if action is PlanAction.FIT_REGULATOR else known
    return tuple(fit.code for fit in aircraft.fits)


def _shelf(action: PlanAction, library: Library) -> Mapping[str, object]:
    shelves: dict[PlanAction, Mapping[str, object]] = {
        PlanAction.FIT_SERVO: library.servo_types,
        PlanAction.FIT_PACK: library.pack_types,
        PlanAction.JOIN_PACKS: library.pack_types,
        PlanAction.FIT_REGULATOR: library.regulator_types,
        PlanAction.FIT_SWITCH: library.switch_types,
        PlanAction.FIT_RECEIVER: library.receivers,
        PlanAction.CHANGE_ARM: library.arms,
    }
    return shelves.get(action, {})


def types_for(action: PlanAction, library: Library) -> tuple[str, ...]:
    """Types that an action can take."""
    return tuple(sorted(_shelf(action, library)))


def price_of(action: PlanAction, part_type: str, library: Library) -> float | None:
    """What the library says a type costs."""
    price = getattr(_shelf(action, library).get(part_type), "price", None)
    return float(price) if price is not None else None


class PlanLines(QWidget):
    """The table of lines above, the strip below."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._plan: Plan | None = None
        self._model: RowsModel[PlanLine] = RowsModel(
            desk, self._columns(), lambda line: (line.plan, line.number), self
        )
        self.table = RowsView(self._model, say("Lines of the plan"))
        self.all_columns = AllColumns(self.table, self)
        self.action = _combo(say("What to do"))
        self.place = _combo(say("Where"))
        self.part_type = _combo(say("Type"))
        self.tag = _combo(say("Spare from Stores"))
        self.amount = _combo(say("How much, or how"))
        self.amount.setEditable(True)
        self.add_button = QPushButton(say("&Add line"))
        self.remove_button = QPushButton(say("&Remove line"))
        for action in PlanAction:
            self.action.addItem(word_of(action), action)
        self._arrange()
        self.action.currentIndexChanged.connect(self._fill)
        self.part_type.currentIndexChanged.connect(self._fill_tags)
        self.add_button.clicked.connect(self.add_line)
        self.remove_button.clicked.connect(self.remove_line)
        delete = QShortcut(QKeySequence.StandardKey.Delete, self.table)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self.remove_line)
        hand_focus(self, self.table)

    def _columns(self) -> tuple[Column[PlanLine], ...]:
        fields = dict(zip(_FIELDS, field_columns(self._desk, PlanLine, _FIELDS), strict=True))
        fields["place"] = replace(fields["place"], choices=self._place_choices)
        fields["part_type"] = replace(fields["part_type"], choices=self._type_choices)
        fields["from_stock"] = replace(fields["from_stock"], choices=self._tag_choices)
        fields["done_on"] = replace(fields["done_on"], write=None)
        return tuple(replace(column, gives_way=_GIVES_WAY.get(name, 0)) for name, column in fields.items())

    def _library(self) -> Library:
        return self._desk.basis().library

    def _place_choices(self, line: PlanLine) -> tuple[Choice, ...]:
        assert self._plan is not None
        return tuple(Choice(code, code) for code in places_for(line.action, self._aircraft()))

    def _type_choices(self, line: PlanLine) -> tuple[Choice, ...]:
        return tuple(Choice(code, code) for code in types_for(line.action, self._library()))

    def _tag_choices(self, line: PlanLine) -> tuple[Choice, ...]:
        tags = tags_for(line, self._library())
        return (Choice(say("none"), ""), *(Choice(tag, tag) for tag in tags))

    def _aircraft(self) -> Aircraft:
        assert self._plan is not None
        return self._desk.aircraft(self._plan.aircraft)

    def _arrange(self) -> None:
        strip = FlowRow(*(self._under_its_name(box) for box in self._boxes()))
        acts = QWidget()
        row = QHBoxLayout(acts)
        row.setContentsMargins(0, self.fontMetrics().height(), 0, 0)
        for button in (self.add_button, self.remove_button, self.all_columns):
            row.addWidget(button)
        strip.addWidget(acts)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addWidget(self.table, 1)
        column.addLayout(strip)

    def _boxes(self) -> tuple[QComboBox, ...]:
        return self.action, self.place, self.part_type, self.tag, self.amount

    def _under_its_name(self, box: QComboBox) -> QWidget:
        held = QWidget()
        label = PlainLabel(box.accessibleName())
        label.setObjectName("quiet")
        label.setBuddy(box)
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(label)
        column.addWidget(box)
        return held

    def show_plan(self, plan: Plan) -> None:
        """Show the lines of this plan."""
        other = self._plan is None or self._plan.code != plan.code
        self._plan = plan
        self._model.show_rows(plan.lines)
        for widget in (self.add_button, self.remove_button):
            widget.setEnabled(not self._desk.read_only)
        if other:
            self._fill()

    def _fill(self) -> None:
        if self._plan is None:
            return
        action = PlanAction(self.action.currentData())
        _refill(self.place, places_for(action, self._aircraft()))
        types = types_for(action, self._library())
        _refill(self.part_type, types)
        self.part_type.setEnabled(bool(types))
        _refill(self.amount, _AMOUNTS[action][2] if action in _AMOUNTS else ())
        for kind in _KINDS[action][1] if action in _KINDS else ():
            self.amount.addItem(word_of(kind), kind)
        self.amount.setEnabled(action in _AMOUNTS or action in _KINDS)
        self.amount.setEditable(action not in _KINDS)
        self._fill_tags()

    def _fill_tags(self) -> None:
        _refill(self.tag, ())
        self.tag.addItem(say("none, buy it"), "")
        for tag in tags_for(self._draft(), self._library()) if self._plan else ():
            self.tag.addItem(tag, tag)
        self.tag.setEnabled(self.tag.count() > 1)

    def _draft(self) -> PlanLine:
        action = PlanAction(self.action.currentData())
        part = str(self.part_type.currentText()) or None
        return PlanLine(
            plan="?", number=1, action=action, place=self.place.currentText() or None, part_type=part
        )

    def add_line(self) -> None:
        """Add the line that the strip shows."""
        plan = self._plan
        if plan is None:
            return

        def step() -> None:
            draft = self._draft()
            tag = str(self.tag.currentData() or "") or None
            price = 0.0 if tag else price_of(draft.action, draft.part_type or "", self._library())
            line = replace(draft, from_stock=tag, price=price, **self._amount(draft.action))
            self._desk.do(plans.add_line, plan, line)

        self._desk.attempt(step)

    def _amount(self, action: PlanAction) -> dict[str, Any]:
        text = self.amount.currentText().strip()
        if not self.amount.isEnabled() or not text:
            return {}
        if action in _KINDS:
            return {_KINDS[action][0]: self.amount.currentData()}
        name, unit, _often = _AMOUNTS[action]
        if not unit:
            return {name: int(self._desk.view.reader.parse(text.replace("AWG", "").strip(), ""))}
        return {name: self._desk.view.reader.parse(text, unit)}

    def remove_line(self) -> None:
        """Take the line under the cursor away."""
        line = self.table.current_row
        if line is not None and not self._desk.read_only:
            self._desk.attempt(lambda: self._desk.do(plans.remove_line, line))


def _combo(name: str) -> QComboBox:
    box = ListBox()
    box.setAccessibleName(name)
    box.setMinimumContentsLength(8)
    box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
    return box


def _refill(box: QComboBox, words: tuple[str, ...]) -> None:
    box.blockSignals(True)
    box.clear()
    box.addItems(list(words))
    box.blockSignals(False)
