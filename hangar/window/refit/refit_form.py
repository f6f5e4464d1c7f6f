"""What the keeper asks of a refit: the aircraft, limits and wishes, each told by its tooltip."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QLineEdit,
    QListWidget,
    QListWidgetItem,
    QScrollArea,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)

from hangar.answers.refit_limits import usual_limits
from hangar.base.errors import BadInput
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel, plain_tip
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say
from hangar.window.kit.wrapping_tick import WrappingTick

if TYPE_CHECKING:
    from hangar.refit import Limits

_ROWS_SHOWN = 6
_LEAST_LINES = 8
_MORE_LETTERS = 11
"""How many letters a list shows beyond those it makes do with, where there is room."""
_Read = TypeVar("_Read")


class RefitForm(QScrollArea):
    """The fields of a search. The positions that may be kept are those of the aircraft chosen."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setAccessibleName(say("What a refit may do"))
        self.aircraft = _Chooser()
        none = say("no limit")
        self.budget, self.mass, self.volts, self.types = (_line(none) for _ in range(4))
        self.margin = _line("1")
        self.speed = _line(say("no wish"))
        self.supply = WrappingTick(say("S&upply may change"))
        self.supply.setChecked(True)
        self.second = _Chooser()
        self.mixed = WrappingTick(say("Spares and new may mi&x"))
        self.mixed.setChecked(True)
        self.gauges = _line(say("leads stay"))
        self.lead_price, self.arm_price = _line("0"), _line("0")
        self.kept = _Ticks()
        self.reserved = PlainLabel(wordWrap=True)
        self.reserved.setObjectName("quiet")
        self.reserved.setAccessibleName(say("Parts reserved by other plans"))
        self._fill()
        self._arrange()
        self.aircraft.currentIndexChanged.connect(self._show_aircraft)
        self.list_aircraft()

    def _fill(self) -> None:
        for words, choice in (
            (say("where the rules want one"), None),
            (say("wherever one pack feeds the radio"), True),
            (say("nowhere"), False),
        ):
            self.second.addItem(words, choice)
        self.gauges.setText("22, 20")
        self.lead_price.setText("6")
        self.arm_price.setText("5")

    def _arrange(self) -> None:
        panel = self._panel = QWidget()
        column = QVBoxLayout(panel)
        column.setContentsMargins(0, 0, 8, 0)
        for words, widget, help_words in self._fields():
            widget.setAccessibleName(words.replace("&", ""))
            widget.setToolTip(plain_tip(help_words))
            if not isinstance(widget, QCheckBox):
                label = PlainLabel(words, wordWrap=True)
                label.setToolTip(plain_tip(help_words))
                label.setBuddy(widget)
                column.addWidget(label)
            column.addWidget(widget)
        column.addWidget(self.reserved)
        column.addStretch(1)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setWidget(panel)
        panel.installEventFilter(self)

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Be as wide as what is in it: the panel only scrolls downwards."""
        if event.type() == QEvent.Type.LayoutRequest and watched is self._panel:
            self.updateGeometry()
        return super().eventFilter(watched, event)

    def sizeHint(self) -> QSize:
        bar = self.verticalScrollBar().sizeHint().width()
        return self._panel.sizeHint() + QSize(bar, 0)

    def minimumSizeHint(self) -> QSize:
        bar = self.verticalScrollBar().sizeHint().width()
        line = self.fontMetrics().height()
        return QSize(self._panel.minimumSizeHint().width() + bar, line * _LEAST_LINES)

    def _fields(self) -> tuple[tuple[str, QWidget, str], ...]:
        """Words, field and tooltip of everything that is asked."""
        return (
            (say("&Aircraft"), self.aircraft, say("The aircraft that is to be refitted.")),
            (say("Bu&dget"), self.budget, say("Most money to spend; empty means no limit.")),
            (say("&Most added mass"), self.mass,
             say("Most grams that all changes together may add; empty means no limit.")),
            (say("Times the wa&nted margin"), self.margin,
             say("How many times the torque margin that the workshop rules ask of each position.")),
            (say("Least bus v&olts"), self.volts,
             say("The bus may not fall below these volts at peak current; empty means no limit.")),
            (say("Most t&ypes to buy"), self.types,
             say("Most different servo types on the order; 0 buys none and takes spares only.")),
            (say("S&peed wishes"), self.speed,
             say("Longest seconds for 60° at a position, such as: RUD 0.10; ELE 0.12.")),
            (say("Keep as they a&re"), self.kept,
             say("Tick positions whose servo and lead stay, whatever else is changed.")),
            (say("Supply may change"), self.supply,
             say("Whether pack, regulator and switch may be changed for others.")),
            (say("Second isolated pa&ck"), self.second,
             say("Whether the radio may get a second pack on a board that isolates it from the first, "
                     "so that one plug or one cell decides no flight alone.")),
            (say("Spares and new ones may mix"), self.mixed,
             say("Whether servos that work together may be part spares, part new ones of one type.")),
            (say("&Gauges for leads (AWG)"), self.gauges,
             say("Gauges that a thin lead may be changed to; empty lets every lead stay.")),
            (say("A lead costs"), self.lead_price,
             say("What one lead in another gauge costs you.")),
            (say("An arm costs"), self.arm_price,
             say("What an arm for another spline costs you where the library has no price for one.")),
        )  # fmt: skip

    def list_aircraft(self) -> None:
        """List all aircraft, keeping the one chosen."""
        kept = self.aircraft.currentData()
        self.aircraft.blockSignals(True)
        self.aircraft.clear()
        for frame in self._desk.fleet.airframes():
            self.aircraft.addItem(f"{frame.code}  {frame.name}", frame.code)
        self.aircraft.setCurrentIndex(max(0, self.aircraft.findData(kept)))
        self.aircraft.blockSignals(False)
        self._show_aircraft()

    def _show_aircraft(self) -> None:
        code = self.aircraft.currentData()
        ticked = self.ticked() if code == self.kept.property("of") else frozenset()
        self.kept.setProperty("of", code)
        self.kept.clear()
        if code is None:
            return
        for fit in self._desk.aircraft(str(code)).fits:
            type_code = fit.servo_type.code if fit.servo_type else say("no servo")
            item = QListWidgetItem(f"{fit.code}  {type_code}", self.kept)
            item.setData(Qt.ItemDataRole.UserRole, fit.code)
            item.setCheckState(Qt.CheckState.Checked if fit.code in ticked else Qt.CheckState.Unchecked)
        self.kept.updateGeometry()
        self._show_reserved(str(code))

    def _show_reserved(self, code: str) -> None:
        from hangar.refit.bay import reserved_tags

        held = reserved_tags(self._desk.basis().library.plans, self._desk.aircraft(code))
        told = ", ".join(f"{tag} ({plan})" for tag, plan in sorted(held.items()))
        self.reserved.setText(say("Reserved by other plans and not offered: {tags}", tags=told))
        self.reserved.setVisible(bool(told))

    def ticked(self) -> frozenset[str]:
        """Positions that are to stay."""
        items = (self.kept.item(row) for row in range(self.kept.count()))
        return frozenset(
            str(item.data(Qt.ItemDataRole.UserRole))
            for item in items
            if item.checkState() is Qt.CheckState.Checked
        )

    def limits(self) -> Limits:
        """The limits as they stand in the fields.

        Raises: BadInput for one that cannot be read.
        """
        types, margin = self._number(self.types), self._number(self.margin)
        lead, arm = self._number(self.lead_price), self._number(self.arm_price)
        return replace(
            usual_limits(self._desk.basis()),
            budget=self._number(self.budget),
            mass_g=self._number(self.mass, "g"),
            margin_factor=1.0 if margin is None else margin,
            bus_v=self._number(self.volts, "V"),
            most_types=None if types is None else round(types),
            transit_s=self._wishes(),
            locked=self.ticked(),
            change_supply=self.supply.isChecked(),
            second_pack=self.second.currentData(),
            mix_new_and_used=self.mixed.isChecked(),
            gauges=self._gauges(),
            lead_price=lead or 0.0,
            arm_price=arm or 0.0,
        )

    def _number(self, line: QLineEdit, unit: str = "") -> float | None:
        text = line.text().strip()
        if not text:
            return None
        value = self._read(line, text, partial(self._value, text, unit))
        if value < 0.0 and line is not self.mass:
            raise BadInput(
                "{label}: {text} is less than nothing; 0 or more is allowed.",
                label=line.accessibleName(),
                text=text,
            )
        return value

    def _value(self, text: str, unit: str) -> float:
        return self._desk.view.reader.parse(text, unit) if unit else float(text.replace(",", "."))

    def _gauges(self) -> tuple[int, ...]:
        words = re.split(r"[,;\s]+", self.gauges.text().strip())
        return tuple(self._read(self.gauges, word, partial(int, word)) for word in words if word)

    def _wishes(self) -> dict[str, float]:
        """Seconds by position.

        Raises: BadInput for a position that the aircraft lacks, or seconds that are no number.
        """
        known = {str(self.kept.item(row).data(Qt.ItemDataRole.UserRole)) for row in range(self.kept.count())}
        wishes = {}
        for name in filter(None, (part.strip() for part in self.speed.text().split(";"))):
            place, _, seconds = name.removesuffix("s").strip().rpartition(" ")
            if place.strip() not in known:
                raise BadInput(
                    '{label}: "{text}" names no position; a position and seconds are wanted, '
                        "such as RUD 0.10.", label=self.speed.accessibleName(), text=name
                )  # fmt: skip
            wishes[place.strip()] = self._read(self.speed, name, partial(self._value, seconds, ""))
        return wishes

    def _read(self, line: QLineEdit, text: str, read: Callable[[], _Read]) -> _Read:
        try:
            return read()
        except ValueError:
            raise BadInput(
                '{label}: "{text}" is not a number; a number such as 4 is wanted.',
                label=line.accessibleName(),
                text=text,
            ) from None


class _Chooser(ListBox):
    """Makes do with the room of a few letters, however long what is chosen: the panel stays narrow."""

    def __init__(self) -> None:
        super().__init__()
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(9)

    def sizeHint(self) -> QSize:
        return super().sizeHint() + QSize(self.fontMetrics().averageCharWidth() * _MORE_LETTERS, 0)


def _line(empty: str) -> QLineEdit:
    line = QLineEdit()
    line.setPlaceholderText(empty)
    return line


class _Ticks(QListWidget):
    """Some rows high. A form layout goes by this hint and not by a height that is fixed."""

    def __init__(self) -> None:
        super().__init__()
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)

    def sizeHint(self) -> QSize:
        return QSize(super().sizeHint().width(), self._height())

    def minimumSizeHint(self) -> QSize:
        return QSize(super().minimumSizeHint().width(), self._height())

    def _height(self) -> int:
        return _ROWS_SHOWN * max(self.sizeHintForRow(0), self.fontMetrics().height()) + 4
