"""Fit a pack with switch, regulator, path and lead in one go."""

from __future__ import annotations

from typing import Any

from PySide6.QtWidgets import QWidget

from hangar.acts.fit_pack import PackWork, fit_pack, next_pack_tag
from hangar.parts import Feed, Pack, PackType, Regulator, RegulatorType, SwitchType
from hangar.parts.choices import PackState, SwitchKind
from hangar.window.kit.desk import Desk
from hangar.window.kit.still_boxes import ListBox
from hangar.window.kit.words import say, word_of
from hangar.window.records.act_panel import ActPanel, LabelledField, TypeBox, field_of, plain_line


class FitPackPanel(ActPanel):
    """The pack first: one that lies there, or the words of a new one."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, say("Fit a pack"), parent)
        self._aircraft = ""
        self.pack = TypeBox(say("Pack"), say("NiMH 5 cells 1500 mAh"))
        self.tag = plain_line(say("Tag of the pack"), 6)
        self.path = ListBox()
        self.path.setAccessibleName(say("Power path"))
        self.switch = TypeBox(say("Switch"), say("type"))
        self.switch_kind = ListBox()
        self.switch_kind.setAccessibleName(say("Kind of switch"))
        self.switch_kind.setPlaceholderText(say("what kind?"))
        for kind in SwitchKind:
            self.switch_kind.addItem(word_of(kind), kind)
        self.switch_kind.setCurrentIndex(-1)
        self.regulator = TypeBox(say("Regulator"), say("type"))
        self.set_v = field_of(desk, Regulator, "set_v")
        self.lead = field_of(desk, Feed, "lead_length_mm")
        self.gauge = field_of(desk, Feed, "lead_awg")
        self._path_field = LabelledField(say("Path"), self.path)
        self._kind_field = LabelledField(say("Kind"), self.switch_kind)
        self._tag_field = LabelledField(say("Its tag"), self.tag)
        self.add_row(LabelledField(say("Pack"), self.pack), self._tag_field, self._path_field)
        self.add_row(LabelledField(say("Switch"), self.switch), self._kind_field)
        self.add_row(
            LabelledField(say("Regulator"), self.regulator), LabelledField(say("Set to"), self.set_v)
        )
        self.add_row(LabelledField(say("Lead"), self.lead), LabelledField(say("Gauge"), self.gauge))
        self.main.setText(say("Fit it"))
        self.pack.currentTextChanged.connect(self._tell)
        self.switch.currentTextChanged.connect(self._tell)
        desk.touched.connect(self._offer)
        self._offer()

    def show_aircraft(self, code: str) -> None:
        """The aircraft that gets the pack."""
        self._aircraft = code
        self._offer()

    def _offer(self) -> None:
        desk = self._desk
        spare = desk.library().spare_packs if not desk.session.is_closed else {}
        shut = (PackState.QUARANTINE, PackState.RETIRED)
        packs = [
            (f"{pack.tag}  {pack.pack_type}", pack.tag) for pack in spare.values() if pack.state not in shut
        ]
        types: tuple[PackType, ...] = desk.records(PackType)
        self.pack.offer([*packs, *((kind.code, kind.code) for kind in types)])
        for box, kind in ((self.switch, SwitchType), (self.regulator, RegulatorType)):
            box.offer([(part.code, part.code) for part in desk.records(kind)])
        feeds = desk.records(Feed, aircraft=self._aircraft)
        at = self.path.currentText()
        self.path.clear()
        for feed in feeds:
            self.path.addItem(feed.code, feed.code)
        self.path.setCurrentIndex(max(0, self.path.findText(at)))
        self._path_field.setVisible(len(feeds) > 1)
        self._tell()

    def _tell(self) -> None:
        given = self.pack.value
        is_there = bool(given) and bool(self._desk.records(Pack, tag=given))
        self._tag_field.setVisible(bool(given) and not is_there)
        self.tag.setPlaceholderText(next_pack_tag(self._desk))
        switch = self.switch.value
        self._kind_field.setVisible(bool(switch) and self.switch.findData(switch) < 0)
        self.main.setEnabled(bool(self._aircraft) and not self._desk.read_only)

    def submit(self) -> None:
        read: list[Any] | None = self.read(self.set_v, self.lead, self.gauge)
        if read is None:
            return
        set_v, lead, gauge = read
        given = self.pack.value
        is_there = bool(given) and bool(self._desk.records(Pack, tag=given))
        work = PackWork(
            pack=given if is_there else self.tag.text().strip(),
            pack_type="" if is_there else given,
            path=str(self.path.currentData() or ""),
            switch_type=self.switch.value,
            switch_kind=SwitchKind(kind) if (kind := self.switch_kind.currentData()) else None,
            regulator_type=self.regulator.value,
            set_v=set_v,
            lead_mm=lead,
            lead_awg=None if gauge is None else round(gauge),
        )
        aircraft = self._desk.aircraft(self._aircraft)
        if self.attempt(lambda: self._desk.do(fit_pack, aircraft, work, self._desk.today)):
            for box in (self.pack, self.switch, self.regulator):
                box.setEditText("")
            self.tag.setText("")
            self.switch_kind.setCurrentIndex(-1)
            for editor in (self.set_v, self.lead, self.gauge):
                editor.show_value(None)
