"""A gyro chosen or entered where it is named, for the positions that run through it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from hangar.acts.new_parts import name_gyro
from hangar.answers.kits import GYRO
from hangar.parts import Stabiliser
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import say
from hangar.window.records.act_panel import ActPanel, LabelledField, TypeBox, field_of

_FIELDS = ("model_type", "supply_min_v", "supply_max_v", "pulse_us", "rate_hz")


class GyroPanel(ActPanel):
    """Which gyro, and what its maker says of it; nothing that stands there is asked again."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, say("Gyro"), parent)
        self._aircraft = ""
        self._codes: tuple[str, ...] = ()
        self.code = TypeBox(say("Gyro"), GYRO)
        self.fields = {name: field_of(desk, Stabiliser, name) for name in _FIELDS}
        words = (
            say("Type"),
            say("Lowest volts"),
            say("Highest volts"),
            say("Tail pulse set"),
            say("Tail rate set"),
        )
        self.add_row(
            LabelledField(say("Gyro"), self.code),
            *(LabelledField(word, self.fields[name]) for name, word in zip(_FIELDS, words, strict=True)),
        )
        self.main.setText(say("Enter it"))
        self.code.currentTextChanged.connect(self._show_known)
        desk.touched.connect(self._offer)

    def show_places(self, aircraft: str, codes: Sequence[str]) -> None:
        """The aircraft, and the positions that are chosen; they run through the gyro where it is new."""
        is_other = aircraft != self._aircraft
        self._aircraft, self._codes = aircraft, tuple(codes)
        if is_other:
            self._offer()
            gyros = self._gyros()
            self.code.show_value(gyros[0].code if gyros else "")
            self._show_known()
        self.setVisible(bool(self._gyros()) or self._desk.aircraft(aircraft).airframe.is_helicopter)

    def _gyros(self) -> tuple[Stabiliser, ...]:
        gyros: tuple[Stabiliser, ...] = self._desk.records(Stabiliser, aircraft=self._aircraft)
        return gyros

    def _offer(self) -> None:
        self.code.offer([(gyro.code, gyro.code) for gyro in self._gyros()])

    def _show_known(self) -> None:
        there = next((gyro for gyro in self._gyros() if gyro.code == self.code.value), None)
        for name, editor in self.fields.items():
            if there is not None:
                editor.show_value(getattr(there, name))
        through = [
            fit.code
            for fit in (
                self._desk.aircraft(self._aircraft).fits if self._aircraft in self._desk.codes() else ()
            )
            if fit.position.through == self.code.value
        ]
        self.aside.setText(", ".join(through or self._codes))

    def submit(self) -> None:
        read: list[Any] | None = self.read(*self.fields.values())
        if read is None:
            return
        code = self.code.value or GYRO
        gyro = Stabiliser(aircraft=self._aircraft, code=code, **dict(zip(_FIELDS, read, strict=True)))
        is_new = all(there.code != code for there in self._gyros())
        places = self._codes if is_new else ()
        self.attempt(lambda: self._desk.do(name_gyro, self._aircraft, places, gyro))
