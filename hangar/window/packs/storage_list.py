"""The storage list: every pack, how it lies on the shelf, and how it is charged."""

from __future__ import annotations

from PySide6.QtWidgets import QVBoxLayout, QWidget

from hangar.answers.packs import PackCase, pack_cases
from hangar.parts import Charge, Pack, PackFit, PackType
from hangar.window.kit.desk import Desk
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.lead_on import LeadOn
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import day, say
from hangar.window.packs.pack_words import FIT, charging_words, state_title, storage_words, title_words
from hangar.window.tables.all_columns import LeftOut
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

_KINDS = frozenset(kind.KIND for kind in (Pack, PackType, PackFit, Charge))


def storage_columns(desk: Desk) -> tuple[Column[PackCase], ...]:
    """Pack, place, how to leave it, how to charge it."""

    def level(case: PackCase) -> object:
        from hangar.rules.finding import Level

        mark = storage_words(case, desk).mark
        return None if mark == FIT else Level(mark)

    return (
        Column(say("Pack"), lambda case, _units: case.tag),
        Column(say("What it is"), lambda case, _units: title_words(case), gives_way=1),
        Column(say("State"), lambda case, _units: state_title(case.pack.state), gives_way=2),
        Column(say("Where"), lambda case, _units: case.place_words),
        Column(
            say("Last charged"),
            lambda case, _units: day(case.pack.charged_on),
            raw=lambda case: case.pack.charged_on,
            gives_way=3,
        ),
        Column(
            say("On the shelf"),
            lambda case, _units: storage_words(case, desk).words,
            level=level,  # type: ignore[arg-type]
            wraps=True,
        ),
        Column(say("To charge it"), charging_words, wraps=True),
    )


class StorageList(QWidget):
    """All packs with their storage and charging advice."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._model: RowsModel[PackCase] = RowsModel(desk, storage_columns(desk), lambda case: case.tag, self)
        self.table = RowsView(self._model, say("Storage list"))
        self.table.choose_whole_rows()
        label = PlainLabel(
            say("Cell volts: common practice, no source; the pack maker's sheet governs."), wordWrap=True
        )
        label.setObjectName("quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 10, 10, 10)
        add = say("New p&ack…")
        self.lead_on = LeadOn(say("No pack is entered yet."), add, self, is_allowed=not desk.read_only)
        column.addWidget(self.lead_on)
        column.addWidget(LeftOut(self.table, self))
        column.addWidget(self.table, 1)
        column.addWidget(label)
        hand_focus(self, self.table)
        desk.touched.connect(self._touched)
        self.read_again()

    def read_again(self) -> None:
        """Read all packs."""
        cases = pack_cases(self._desk)
        self._model.show_rows(cases)
        self.lead_on.setVisible(not cases)

    def _touched(self, touched: frozenset[str]) -> None:
        if touched & _KINDS:
            self.read_again()
