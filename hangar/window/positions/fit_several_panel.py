"""Fit one servo type at the positions chosen; a type that the library lacks is entered with its ratings."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from PySide6.QtWidgets import QWidget

from hangar.acts.fit_several import SeveralFit, fit_several
from hangar.answers.bay import tags_from
from hangar.base.errors import HangarError
from hangar.parts import Lead, Linkage, ServoRating, ServoType
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say, say_plural
from hangar.window.records.act_panel import ActPanel, LabelledField, TypeBox, field_of, plain_line

_OF_TYPE = ("drive", "supply_min_v", "supply_max_v")
_OF_RATING = ("rated_v", "torque_nm", "transit_s", "stall_a")


class FitSeveralPanel(ActPanel):
    """The fields of one fitting at several positions."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, say("Fit a servo"), parent)
        self._aircraft = ""
        self._codes: tuple[str, ...] = ()
        self.type = TypeBox(say("Servo type"), say("type"))
        self.tag = plain_line(say("First tag"), 8)
        self.arm = field_of(desk, Linkage, "arm_mm")
        self.horn = field_of(desk, Linkage, "horn_mm")
        self.lead = field_of(desk, Lead, "length_mm")
        self.gauge = field_of(desk, Lead, "awg")
        self.add_row(LabelledField(say("Type"), self.type), LabelledField(say("First tag"), self.tag))
        self.of_type = {name: field_of(desk, ServoType, name) for name in _OF_TYPE}
        self.rating = {name: field_of(desk, ServoRating, name) for name in _OF_RATING}
        self.new_type = self.add_row(
            PlainLabel(say("New type:")),
            *(LabelledField(words, self.of_type[name]) for name, words in zip(
                _OF_TYPE, (say("Kind"), say("Lowest volts"), say("Highest volts")), strict=True)),
            *(LabelledField(words, self.rating[name]) for name, words in zip(
                _OF_RATING, (say("Rated at"), say("Stall torque"), say("60° in"), say("Stall current")),
                strict=True)),
        )  # fmt: skip
        self.add_row(
            LabelledField(say("Arm"), self.arm),
            LabelledField(say("Horn"), self.horn),
            LabelledField(say("Lead"), self.lead),
            LabelledField(say("Gauge"), self.gauge),
        )
        self.type.currentTextChanged.connect(self._type_changed)
        self.tag.textChanged.connect(self._tell)
        desk.touched.connect(self._offer)
        self._offer()
        self._type_changed()

    def show_places(self, aircraft: str, codes: Sequence[str]) -> None:
        """The positions to be fitted."""
        self._aircraft, self._codes = aircraft, tuple(codes)
        self._tell()

    @property
    def codes(self) -> tuple[str, ...]:
        """The positions to be fitted."""
        return self._codes

    def _offer(self) -> None:
        types: Sequence[ServoType] = self._desk.records(ServoType)
        self.type.offer([(kind.code, kind.code) for kind in types])
        self._type_changed()

    def _type_changed(self) -> None:
        code = self.type.value
        is_new = bool(code) and self.type.findData(code) < 0
        self.new_type.setVisible(is_new)
        self._tell()

    def _tell(self) -> None:
        count = len(self._codes)
        names = ", ".join(self._codes)
        if not count:
            self.title.setText(say("Choose positions to fit a servo"))
        else:
            self.title.setText(
                say_plural("Fit at {places}", "Fit at these {count}: {places}", count=count, places=names)
            )
        self.main.setText(say_plural("Fit one", "Fit {count}", count=count) if count else say("Fit it"))
        self.main.setEnabled(bool(count) and not self._desk.read_only)
        self.aside.setText(self._stock_words(count))
        self.tag.setPlaceholderText(self._tag_words(count))

    def _stock_words(self, count: int) -> str:
        kind = self.type.value
        if not count or not kind or self._desk.read_only:
            return ""
        if self.type.findData(kind) < 0:
            return say("new to the Type Library")
        return say(
            "{wanted} wanted, {count:g} in Stores",
            wanted=count,
            count=self._desk.library().stocked(kind),
        )

    def _tag_words(self, count: int) -> str:
        try:
            tags = tags_from(self._desk, self.type.value, max(1, count), self.tag.text().strip())
        except HangarError:
            return ""
        return tags[0] if len(tags) == 1 else say("{first} to {last}", first=tags[0], last=tags[-1])

    def submit(self) -> None:
        around = self.read(self.arm, self.horn, self.lead, self.gauge)
        if around is None:
            return
        arm, horn, lead, gauge = around
        new_type = None
        if not self.new_type.isHidden():
            read = self._read_type()
            if read is None:
                return
            new_type = read
        what = SeveralFit(
            servo_type=self.type.value,
            first_tag=self.tag.text().strip(),
            arm_mm=_number(arm),
            horn_mm=_number(horn),
            lead_mm=_number(lead),
            lead_awg=None if gauge is None else int(_number(gauge) or 0),
            new_type=new_type,
        )
        aircraft = self._desk.aircraft(self._aircraft)
        if self.attempt(lambda: self._desk.do(fit_several, aircraft, self._codes, what, self._desk.today)):
            self.tag.setText("")
            self.arm.show_value(None)
            self.horn.show_value(None)
            for editor in (*self.of_type.values(), *self.rating.values()):
                editor.show_value(None)

    def _read_type(self) -> ServoType | None:
        values = self.read(*self.of_type.values(), *self.rating.values())
        if values is None:
            return None
        of_type: dict[str, Any] = dict(zip(_OF_TYPE, values, strict=False))
        rated: dict[str, Any] = dict(zip(_OF_RATING, values[len(_OF_TYPE) :], strict=True))
        ratings: tuple[ServoRating, ...] = ()
        if rated["rated_v"] is not None:
            ratings = (ServoRating(servo_type=self.type.value, **rated),)
        elif any(value is not None for value in rated.values()):
            self.rating["rated_v"].refuse(say("At which volts? A rating belongs to volts."))
            self.rating["rated_v"].editor.setFocus()
            return None
        return ServoType(code=self.type.value, ratings=ratings, **of_type)


def _number(value: object) -> float | None:
    return float(value) if isinstance(value, int | float) else None
