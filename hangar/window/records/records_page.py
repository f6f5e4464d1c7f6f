"""Several tables of records that belong to one aircraft, chosen by a box."""

from __future__ import annotations

from collections.abc import Mapping
from typing import ClassVar

from PySide6.QtWidgets import QWidget

from hangar.answers.judging import Judgement
from hangar.parts import (
    Accessory,
    Channel,
    Feed,
    PackFit,
    Position,
    Receiver,
    Record,
    Regulator,
    Rotor,
    Stabiliser,
    Surface,
    Switch,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.strip import StripPages
from hangar.window.kit.words import say
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.records.records_screen import RecordsScreen

RADIO_KINDS: tuple[tuple[str, type[Record]], ...] = (
    ("Positions", Position),
    ("Channels", Channel),
    ("Receivers", Receiver),
    ("Gyros", Stabiliser),
    ("Other devices", Accessory),
    ("Surfaces", Surface),
    ("Rotors", Rotor),
)
SUPPLY_KINDS: tuple[tuple[str, type[Record]], ...] = (
    ("Power paths", Feed),
    ("Regulators", Regulator),
    ("Switches", Switch),
    ("Packs fitted", PackFit),
)


class RecordsPage(StripPages):
    """Several tables of records that belong to one aircraft."""

    FORMS: ClassVar[Mapping[type[Record], type[RecordDialog]]] = {}
    """Forms of kinds that ask more than their fields."""

    def __init__(
        self, desk: Desk, kinds: tuple[tuple[str, type[Record]], ...], parent: QWidget | None = None
    ) -> None:
        super().__init__(say("Tables of this aircraft"), parent, is_box=True)
        self._desk = desk
        self._kinds = kinds
        self.line.setVisible(len(kinds) > 1)
        self.screens: dict[type[Record], RecordsScreen] = {}
        self._code = ""

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the records of this aircraft."""
        code = judgement.aircraft.code
        if not self.screens:
            for title, kind in self._kinds:
                screen = RecordsScreen(
                    self._desk, kind, preset={"aircraft": code}, form=self.FORMS.get(kind, RecordDialog)
                )
                self.screens[kind] = screen
                self.addTab(screen, say(title))
        elif code != self._code:
            for screen in self.screens.values():
                screen.show_of(aircraft=code)
        self._code = code
