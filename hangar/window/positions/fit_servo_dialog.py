"""Choose the servo for a position: from the bay, from another place, or a new one of a known type."""

from __future__ import annotations

from PySide6.QtWidgets import (
    QDialog,
    QDialogButtonBox,
    QFormLayout,
    QLineEdit,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from hangar.acts import fitting
from hangar.answers import bay
from hangar.base.errors import HangarError
from hangar.base.units import ShowsNumbers
from hangar.parts import Installation, Servo, ServoFit, ServoType
from hangar.parts.fields import key_of
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say
from hangar.window.tables.columns import Column, field_columns
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_SERVO_FIELDS = ("tag", "servo_type", "state", "bin", "hours_h", "play_deg", "gear_condition", "sweep_clean")
_TYPE_FIELDS = ("code", "maker", "drive", "gear", "mass_g", "case_length_mm", "case_width_mm", "price")


class FitServoDialog(QDialog):
    """Three tables: the parts bay, other places, the type library."""

    def __init__(self, desk: Desk, fit: ServoFit, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._fit = fit
        self.setWindowTitle(say("Fit a servo at {place}", place=f"{fit.code} {fit.position.name}"))
        self.resize(820, 460)
        self._tabs = QTabWidget()
        self.spares = self._spares_table()
        self.elsewhere = self._elsewhere_table()
        self.types = self._types_table()
        self.tag = QLineEdit(bay.next_tag(desk))
        self.tag.setAccessibleName(say("Tag of the new servo"))
        self._tabs.addTab(self.spares, say("From Stores"))
        self._tabs.addTab(self.elsewhere, say("From another place"))
        self._tabs.addTab(self._new_page(), say("A new one, without a tag yet"))
        self._refusal = PlainLabel(wordWrap=True)
        self._refusal.setObjectName("refusal")
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.button(QDialogButtonBox.StandardButton.Ok).setText(say("Fit it"))
        buttons.accepted.connect(self._fit_it)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        for widget in (self._tabs, self._refusal, buttons):
            column.addWidget(widget)
        self.spares.activated.connect(self._fit_it)
        self.elsewhere.activated.connect(self._fit_it)

    def _spares_table(self) -> RowsView:
        shown = field_columns(self._desk, Servo, _SERVO_FIELDS, editable=False)
        model: RowsModel[Servo] = RowsModel(self._desk, shown, lambda servo: servo.tag, self)
        model.show_rows(bay.spare_servos(self._desk))
        view = RowsView(model, say("Servos in Stores"))
        view.choose_whole_rows()
        return view

    def _elsewhere_table(self) -> RowsView:
        fields = ("servo", "aircraft", "position", "since_on")
        shown = field_columns(self._desk, Installation, fields, editable=False)
        model: RowsModel[Installation] = RowsModel(self._desk, shown, key_of, self)
        here = (self._fit.position.aircraft, self._fit.code)
        stays: tuple[Installation, ...] = self._desk.records(Installation, until_on=None)
        model.show_rows(stay for stay in stays if (stay.aircraft, stay.position) != here)
        view = RowsView(model, say("Servos fitted elsewhere"))
        view.choose_whole_rows()
        return view

    def _types_table(self) -> RowsView:
        torque: Column[ServoType] = Column(
            say("Torque, rated"),
            lambda servo_type, units: rating_words(servo_type, units),
            help=say("Best rating known"),
        )
        stocked = bay.stocked_types(self._desk)
        there: Column[ServoType] = Column(
            say("In Stores"),
            lambda servo_type, _units: f"{stocked.get(servo_type.code, 0):g}",
            number=True,
        )
        shown = (*field_columns(self._desk, ServoType, _TYPE_FIELDS, editable=False), there, torque)
        model: RowsModel[ServoType] = RowsModel(self._desk, shown, lambda servo_type: servo_type.code, self)
        model.show_rows(self._desk.records(ServoType))
        view = RowsView(model, say("Servo types"))
        view.choose_whole_rows()
        return view

    def _new_page(self) -> QWidget:
        page = QWidget()
        form = QFormLayout()
        form.addRow(say("&Tag"), self.tag)
        column = QVBoxLayout(page)
        column.addWidget(self.types, 1)
        column.addLayout(form)
        return page

    def _fit_it(self) -> None:
        try:
            self._carry_out()
        except HangarError as fault:
            self._refusal.setText(put(fault))
        else:
            self.accept()

    def _carry_out(self) -> None:
        page = self._tabs.currentWidget()
        if page is self.spares:
            servo = self.spares.current_row
            if servo is not None:
                self._desk.do(fitting.fit_servo, self._fit, servo.tag, self._desk.today)
        elif page is self.elsewhere:
            stay = self.elsewhere.current_row
            if stay is not None:
                self._desk.do(fitting.fit_servo, self._fit, stay.servo, self._desk.today)
        else:
            chosen = self.types.current_row
            if chosen is not None:
                self._desk.do(fitting.fit_new, self._fit, chosen.code, self.tag.text(), self._desk.today)


def rating_words(servo_type: ServoType, units: ShowsNumbers) -> str:
    """The ratings of a servo type on one line."""
    return ", ".join(
        f"{units.show(rating.torque_nm, 'N m')} @ {rating.rated_v:g} V"
        for rating in servo_type.ratings
        if rating.torque_nm is not None
    )
