"""Law and codes: the table of figures, which the keeper edits, adds to, thins out and restores."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QGroupBox,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from hangar.base.errors import BadInput, HangarError
from hangar.base.text import Text, fixed, text
from hangar.base.units import ShowsNumbers
from hangar.parts import Setting
from hangar.parts.thresholds import Thresholds, setting_name, shipped_thresholds
from hangar.rules.field_rules import (
    LEFT_OUT,
    FieldRuleRow,
    bodies_of,
    changed_field_rule,
    field_rule_rows,
    hidden_field_rule,
    leaving_out,
    restored_field_rules,
)
from hangar.rules.own_limits import changed_limit
from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say, sentence_case
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView
from hangar.window.workshop.law_form import EMPTY, LawForm

if TYPE_CHECKING:
    from hangar.store import Edit


class LawPage(QWidget):
    """The rows above; below them the row under the cursor in a form, and the countries and bodies."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._limits: dict[str, float] = {}
        self._is_new = False
        self._beside: str | None = None
        self._model: RowsModel[FieldRuleRow] = RowsModel(desk, self._columns(), lambda row: row.key, self)
        self.table = RowsView(self._model, say("Law and codes"))
        self.table.choose_whole_rows()
        self.form = LawForm()
        self.bodies = QListWidget()
        self.bodies.setAccessibleName(say("Countries and bodies shown"))
        self.hidden_too = QCheckBox(say("Show hi&dden rows too"))
        self.add_button = QPushButton(say("New &row"))
        self.keep_button = QPushButton(say("&Keep the new row"))
        self.hide_button = QPushButton(say("Hide th&is row"))
        self.restore_button = QPushButton(say("Res&tore what was shipped"))
        self.restore_all_button = QPushButton(say("Restore the whole ta&ble"))
        self.use_button = QPushButton(say("&Use in the checks"))
        self.use_button.setToolTip(say("Makes this figure the limit that the checks of the fleet use."))
        self.message = PlainLabel(wordWrap=True)
        self.message.setObjectName("quiet")
        self._arrange()
        self._connect()
        self.read_again()

    def _columns(self) -> tuple[Column[FieldRuleRow], ...]:
        return (
            Column(say("State"), lambda row, _u: state_words(row), tip=lambda row: put(row.fault)),
            Column(say("About"), lambda row, _u: sentence_case(put(row.rule.item)),
                   tip=lambda row: put(row.rule.item), wraps=True),
            Column(say("Figure"), lambda row, _u: put(row.rule.shown), wraps=True),
            Column(say("Where"), lambda row, _u: put(row.rule.where), gives_way=5, wraps=True),
            Column(say("The checks use"), self._used, tip=lambda row: row.rule.limit, widest=30, gives_way=4),
            Column(say("As of"), lambda row, _u: row.rule.as_of.isoformat() if row.rule.as_of else "—",
                   gives_way=3),
            Column(say("Source"), lambda row, _u: put(row.rule.source),
                   tip=lambda row: put(row.rule.source), wraps=True, gives_way=2),
            Column(say("Note"), lambda row, _u: put(row.fault or row.rule.note),
                   tip=lambda row: put(row.fault or row.rule.note), wraps=True, gives_way=1),
        )  # fmt: skip

    def _used(self, row: FieldRuleRow, units: ShowsNumbers) -> str:
        limit = shipped_thresholds().get(row.rule.limit)
        if limit is None:
            return ""
        value = self._limits.get(limit.name, limit.default)
        return units.show(value, limit.unit) if limit.unit else f"{value:g}"

    def _arrange(self) -> None:
        self.left_out = LeftOut(self.table, self)
        above = QHBoxLayout()
        above.addWidget(self.message, 1)
        above.addLayout(FlowRow(self.hidden_too, self.restore_all_button))
        below = QWidget()
        both = QHBoxLayout(below)
        both.setContentsMargins(0, 0, 0, 0)
        both.addWidget(self._row_box(), 3)
        both.addWidget(self._body_box(), 1)
        whole = QSplitter(Qt.Orientation.Vertical)
        whole.addWidget(self.table)
        whole.addWidget(below)
        whole.setStretchFactor(0, 1)
        whole.setSizes([360, 330])
        whole.setChildrenCollapsible(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        column.addLayout(above)
        column.addWidget(self.left_out)
        column.addWidget(whole, 1)
        hand_focus(self, self.table)

    def _row_box(self) -> QGroupBox:
        self.box = QGroupBox(say("This row"))
        column = QVBoxLayout(self.box)
        scroll = QScrollArea()
        scroll.setWidgetResizable(True)
        scroll.setAccessibleName(say("Fields"))
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setWidget(self.form)
        column.addWidget(scroll, 1)
        scroll.viewport().setAutoFillBackground(False)
        self.form.setAutoFillBackground(False)
        for buttons in (
            (self.add_button, self.keep_button, self.hide_button),
            (self.restore_button, self.use_button),
        ):
            column.addLayout(FlowRow(*buttons))
        return self.box

    def _body_box(self) -> QGroupBox:
        self.bodies.setWordWrap(True)
        self.bodies.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        box = QGroupBox(say("Countries and bodies"))
        QVBoxLayout(box).addWidget(self.bodies)
        return box

    def _connect(self) -> None:
        self.table.row_chosen.connect(self._choose_row)
        self.form.entered.connect(self._enter)
        self.bodies.itemChanged.connect(lambda _item: self._choose_bodies())
        self.hidden_too.toggled.connect(lambda _on: self.read_again())
        self.add_button.clicked.connect(self.begin_row)
        self.keep_button.clicked.connect(self.keep_row)
        self.hide_button.clicked.connect(self.hide_row)
        self.restore_button.clicked.connect(self.restore_row)
        self.restore_all_button.clicked.connect(self.restore_all)
        self.use_button.clicked.connect(self.use_in_checks)
        self._desk.touched.connect(lambda touched: self.read_again() if Setting.KIND in touched else None)

    @property
    def row(self) -> FieldRuleRow | None:
        """The row under the cursor; None while a new one is written."""
        chosen = None if self._is_new else self.table.current_row
        return chosen if isinstance(chosen, FieldRuleRow) else None

    def read_again(self) -> None:
        """Read the table with the keeper's rows."""
        settings: tuple[Setting, ...] = self._desk.records(Setting)
        self._limits = dict(Thresholds.from_settings(settings).own)
        rows = field_rule_rows(settings)
        hidden = sum(row.is_hidden for row in rows)
        shown = [row for row in rows if not row.is_hidden or self.hidden_too.isChecked()]
        kept = self.row
        self._model.show_rows(shown)
        if kept is not None:
            self.table.choose_row(kept.key)
        if not self.table.currentIndex().isValid() and shown:
            self.table.choose_row(shown[0].key)
        law = say("The text in force and the rules of the club govern; these figures are aids.")
        self.message.setText(law + (" " + say("Hidden rows: {count}.", count=hidden) if hidden else ""))
        self._show_bodies(bodies_of(settings))
        self._show_row()

    def _show_bodies(self, bodies: tuple[tuple[str, bool], ...]) -> None:
        self.bodies.blockSignals(True)
        at = self.bodies.currentRow()
        self.bodies.clear()
        for name, is_shown in bodies:
            item = QListWidgetItem(name)
            item.setFlags(Qt.ItemFlag.ItemIsEnabled | Qt.ItemFlag.ItemIsSelectable)
            if not self._desk.read_only:
                item.setFlags(item.flags() | Qt.ItemFlag.ItemIsUserCheckable)
            item.setCheckState(Qt.CheckState.Checked if is_shown else Qt.CheckState.Unchecked)
            self.bodies.addItem(item)
        self.bodies.setCurrentRow(max(0, at))
        self.bodies.blockSignals(False)

    def _show_row(self) -> None:
        row, writes = self.row, not self._desk.read_only
        if row is not None:
            self.form.show_rule(row.key, row.rule)
        self.form.setEnabled(writes and (self._is_new or row is not None))
        self.box.setTitle(say("New row") if self._is_new else say("This row"))
        self.add_button.setEnabled(writes and not self._is_new)
        self.keep_button.setVisible(self._is_new)
        kept = row is not None and self._desk.fleet.record(Setting, _setting_of(row)) is not None
        self.hide_button.setEnabled(writes and row is not None and not row.is_hidden)
        is_own = row is not None and row.is_own
        self.hide_button.setText(say("Remove th&is row") if is_own else say("Hide th&is row"))
        self.restore_button.setEnabled(writes and kept and not is_own)
        changed = restored_field_rules(self._desk.records(Setting))
        left_out = self._desk.fleet.record(Setting, LEFT_OUT) is not None
        self.restore_all_button.setEnabled(writes and (bool(changed) or left_out))
        self.use_button.setVisible(row is not None and bool(row.rule.limit))
        self.use_button.setEnabled(writes)

    def _choose_row(self, row: FieldRuleRow | None) -> None:
        if row is not None and row.key != self._beside:
            self._is_new = False
        self._show_row()

    def _enter(self, field: str) -> None:
        row = self.row
        if row is None or self._desk.read_only:
            return
        label = text("Change a figure of law: {item}", item=row.rule.item)

        def step() -> None:
            rule = self.form.read_field(field)
            self._desk.change(label, lambda edit: edit.put(changed_field_rule(rule, row.key)))

        self.form.lines[field].attempt(step)

    def begin_row(self) -> None:
        """Empty the form for a row of the keeper's own."""
        self._beside = self.row.key if self.row is not None else None
        self._is_new = True
        self.form.show_rule(None, EMPTY)
        self._show_row()
        self.form.lines["item"].setFocus()

    def keep_row(self) -> None:
        """Add the row that was typed as one undoable edit, or say beside the fields what is wrong."""
        rule = self.form.read_all()
        if rule is None:
            return

        def step() -> None:
            if any(row.key == rule.key for row in field_rule_rows(self._desk.records(Setting))):
                raise BadInput(
                    'A row about "{item}" for {where} is there already; change that one.',
                    item=rule.item,
                    where=rule.where,
                )
            label = text("Add a figure of law: {item}", item=rule.item)
            self._desk.change(label, lambda edit: edit.put(changed_field_rule(rule)))

        if self.form.lines["item"].attempt(step):
            self._is_new = False
            self.table.choose_row(rule.key)
            self._show_row()
            self.table.setFocus()

    def hide_row(self) -> None:
        """Take the row under the cursor out of the table."""
        row = self.row
        if row is None or row.is_hidden:
            return
        if row.is_own:
            label = text("Remove a figure of law: {item}")
            self._edit(label, row, lambda edit: edit.remove(Setting, (_setting_of(row),)))
        else:
            self._edit(text("Hide a figure of law: {item}"), row,
                       lambda edit: edit.put(hidden_field_rule(row.key)))  # fmt: skip

    def restore_row(self) -> None:
        """Put the shipped row in force again."""
        row = self.row
        if row is not None and not row.is_own:
            label = text("Restore a figure of law: {item}")
            self._edit(label, row, lambda edit: edit.remove(Setting, (_setting_of(row),)))

    def restore_all(self) -> None:
        """Put the whole shipped table in force again; the keeper's own rows go."""
        gone = [field_rule.name for field_rule in restored_field_rules(self._desk.records(Setting))]
        gone += [LEFT_OUT] if self._desk.fleet.record(Setting, LEFT_OUT) is not None else []

        def work(edit: Edit) -> None:
            for name in gone:
                edit.remove(Setting, (name,))

        self._desk.edit(text("Restore the table of law"), work)

    def use_in_checks(self) -> None:
        """Make the figure of the row the limit that the checks use."""
        row = self.row
        limit = shipped_thresholds().get(row.rule.limit) if row is not None else None
        if row is None or limit is None:
            return

        def step() -> None:
            try:
                value = self._desk.view.reader.parse(row.rule.shown, limit.unit)
            except HangarError:
                raise BadInput(
                    'The checks need one number with its unit, such as 250 g; "{text}" is none.',
                    text=row.rule.shown,
                ) from None
            label = text("Set limit {name}", name=fixed(limit.words))
            self._desk.change(label, lambda edit: self._set_limit(edit, limit.name, value))

        self.form.lines["shown"].attempt(step)

    def _set_limit(self, edit: Edit, name: str, value: float) -> None:
        if value == shipped_thresholds()[name].default:
            if edit.record(Setting, setting_name(name)) is not None:
                edit.remove(Setting, (setting_name(name),))
        else:
            edit.put(changed_limit(name, value))

    def _edit(self, label: Text, row: FieldRuleRow, work: Callable[[Edit], None]) -> None:
        self._desk.edit(label.with_args(item=row.rule.item), work)

    def _choose_bodies(self) -> None:
        items = [self.bodies.item(at) for at in range(self.bodies.count())]
        out = [item.text() for item in items if item.checkState() is Qt.CheckState.Unchecked]

        def work(edit: Edit) -> None:
            if out:
                edit.put(leaving_out(out))
            else:
                edit.remove(Setting, (LEFT_OUT,))

        self._desk.edit(text("Choose countries and bodies"), work)


def state_words(row: FieldRuleRow) -> str:
    """How a row came to be there, with a sign."""
    if row.fault:
        return "! " + say("cannot be read")
    if row.is_hidden:
        return "– " + say("hidden")
    if row.is_own:
        return "+ " + say("your own")
    return "✎ " + say("changed") if row.is_changed else ""


def _setting_of(row: FieldRuleRow) -> str:
    return hidden_field_rule(row.key).name
