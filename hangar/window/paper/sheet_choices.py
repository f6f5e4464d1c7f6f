"""What a sheet is printed as: its kind, whose, the paper, and what may stand on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from contextlib import ExitStack
from typing import TYPE_CHECKING

from PySide6.QtCore import QLocale, QSignalBlocker, Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QFormLayout, QWidget

from hangar.window.kit.desk import Desk
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.still_boxes import ListBox, NumberBox
from hangar.window.kit.words import current_reader, say

if TYPE_CHECKING:
    from hangar.sheets import SheetStyle

_PRICED = ("build", "shopping", "passport")
_OWN = ("field", "bench", "build", "passport")
_LABELS = "labels"


def part_words() -> dict[str, str]:
    """What labels can be made for."""
    return {"pack": say("Packs"), "servo": say("Servos"), "lead": say("Leads")}


def sheet_titles() -> dict[str, str]:
    """What the kinds of sheets are called."""
    return {
        "field": say("Field checklist"),
        "bench": say("Bench check"),
        "build": say("Build sheet"),
        "cuts": say("Cut list"),
        "labels": say("Labels"),
        "charging": say("Charging card"),
        "shopping": say("Shopping list"),
        "passport": say("Passport"),
        "fleet": say("Fleet overview"),
        "working": say("Working"),
    }


class SheetChoices(QWidget):
    """One row a choice; what a kind of sheet does not know is hidden."""

    changed = Signal()

    def __init__(self, desk: Desk, kind: str, codes: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.kind_box = self._combo(say("Sheet"))
        self.aircraft_box = self._combo(say("Aircraft"))
        self.paper_box = self._combo(say("Paper"))
        self.label_box = self._combo(say("Label sheet"))
        self.start_box = NumberBox(minimum=1)
        self.start_box.setAccessibleName(say("First free label"))
        self.start_box.setToolTip(say("On a part-used sheet: counted from 1 along the rows"))
        self.part_boxes = {part: QCheckBox(words) for part, words in part_words().items()}
        self.fillable_box = QCheckBox(say("Boxes can be filled on a &tablet"))
        self.prices_box = QCheckBox(say("With &prices"))
        self.own_box = QCheckBox(say("With own &details: mark, club number, notes"))
        self.grey_box = QCheckBox(say("Photos in &black and white"))
        self._fill(kind, tuple(codes))
        self._arrange()
        self._take_up()
        self._connect()
        self._show_what_counts()

    def _combo(self, name: str) -> QComboBox:
        box = ListBox()
        box.setAccessibleName(name)
        box.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        box.setMinimumContentsLength(20)
        return box

    def _fill(self, kind: str, codes: tuple[str, ...]) -> None:
        from hangar.sheets.label_grid import label_grids
        from hangar.sheets.style import PAPERS_MM

        for name, title in sheet_titles().items():
            self.kind_box.addItem(title, name)
        self.kind_box.setCurrentIndex(self.kind_box.findData(kind))
        for words, chosen in self._whose(codes):
            self.aircraft_box.addItem(words, chosen)
        for paper in PAPERS_MM:
            self.paper_box.addItem(paper, paper)
        inches = QLocale().measurementSystem() == QLocale.MeasurementSystem.ImperialUSSystem
        self.paper_box.setCurrentText("Letter" if inches else "A4")
        self.label_box.addItem(say("Plain paper, to cut"), "")
        for name, grid in label_grids().items():
            count, size, paper = grid.count, grid.size_words, grid.paper
            words = say("{name}: {count} of {size}, {paper}", name=name, count=count, size=size, paper=paper)
            self.label_box.addItem(words, name)
        for box in (*self.part_boxes.values(), self.prices_box, self.own_box):
            box.setChecked(True)

    def _whose(self, codes: tuple[str, ...]) -> Iterable[tuple[str, tuple[str, ...]]]:
        everyone = tuple(self._desk.codes())
        named = {code: self._desk.aircraft(code).airframe.name for code in everyone}
        if len(codes) == 1:
            yield f"{named.get(codes[0], codes[0])} ({codes[0]})", codes
        elif codes != everyone:
            yield say("The {count} chosen", count=len(codes)), codes
        yield say("Every aircraft ({count})", count=len(everyone)), everyone
        for code in everyone:
            if (code,) != codes:
                yield f"{named[code]} ({code})", (code,)

    def _arrange(self) -> None:
        self._form = QFormLayout(self)
        self._form.setContentsMargins(0, 0, 0, 0)
        parts = QWidget()
        parts.setLayout(FlowRow(*self.part_boxes.values()))
        self._parts = parts
        for words, widget in (
            (say("&Sheet"), self.kind_box),
            (say("&Aircraft"), self.aircraft_box),
            (say("Pape&r"), self.paper_box),
            (say("&Label sheet"), self.label_box),
            (say("&First free label"), self.start_box),
            (say("Labels for"), parts),
        ):
            self._form.addRow(words, widget)
        for box in (self.fillable_box, self.prices_box, self.own_box, self.grey_box):
            self._form.addRow(box)

    def _connect(self) -> None:
        self.kind_box.currentIndexChanged.connect(self._kind_chosen)
        self.aircraft_box.currentIndexChanged.connect(self._chosen)
        self.start_box.valueChanged.connect(self._chosen)
        for combo in (self.paper_box, self.label_box):
            combo.currentIndexChanged.connect(self._choice_changed)
        for box in self._ticks.values():
            box.toggled.connect(self._choice_changed)

    @property
    def _ticks(self) -> dict[str, QCheckBox]:
        return {
            **self.part_boxes, "fillable": self.fillable_box, "prices": self.prices_box,
            "own details": self.own_box, "grey": self.grey_box,
        }  # fmt: skip

    def _take_up(self) -> None:
        """Choose what was chosen for this kind the last time; the first free label is new each time."""
        kept = self._desk.view.sheet_choices(self.kind)
        boxes: list[QWidget] = [*self._ticks.values(), self.paper_box, self.label_box]
        with ExitStack() as quiet:
            for box in boxes:
                quiet.enter_context(QSignalBlocker(box))
            for name, tick in self._ticks.items():
                if isinstance(chosen := kept.get(name), bool):
                    tick.setChecked(chosen)
            for name, combo in (("paper", self.paper_box), ("label sheet", self.label_box)):
                at = combo.findData(str(kept[name])) if name in kept else -1
                if at >= 0:
                    combo.setCurrentIndex(at)

    def _kind_chosen(self, _at: int) -> None:
        self._take_up()
        self._chosen()

    def _choice_changed(self, _value: object = None) -> None:
        """Keep the choice for this kind on this seat; the paper of a label sheet is not the keeper's own."""
        self._chosen()
        before = self._desk.view.sheet_choices(self.kind)
        kept: dict[str, object] = {name: tick.isChecked() for name, tick in self._ticks.items()}
        paper = before.get("paper") if self._grid() else self.paper_box.currentData()
        self._desk.view.keep_sheet_choices(self.kind, {**kept, "paper": paper, "label sheet": self._grid()})

    def _chosen(self, _value: object = None) -> None:
        self._show_what_counts()
        self.changed.emit()

    def _show_what_counts(self) -> None:
        from hangar.sheets.label_grid import label_grids

        kind, with_photo = self.kind, self.wants_photo
        labels = kind == _LABELS
        for widget, shown in (
            (self.label_box, labels), (self.start_box, labels), (self._parts, labels),
            (self.fillable_box, not labels), (self.prices_box, kind in _PRICED),
            (self.own_box, kind in _OWN), (self.grey_box, with_photo),
        ):  # fmt: skip
            self._form.setRowVisible(widget, shown)
        grid = label_grids().get(self.label_box.currentData()) if labels else None
        self.paper_box.setEnabled(grid is None)
        with QSignalBlocker(self.paper_box), QSignalBlocker(self.start_box):
            if grid is not None:
                self.paper_box.setCurrentText(grid.paper)
            self.start_box.setMaximum(self._labels_on_a_page())

    def _labels_on_a_page(self) -> int:
        from hangar.sheets import SheetStyle
        from hangar.sheets.label_grid import grid_for

        return grid_for(SheetStyle(paper=self.paper_box.currentText(), label_grid=self._grid())).count

    def _grid(self) -> str:
        return str(self.label_box.currentData()) if self.kind == _LABELS else ""

    @property
    def kind(self) -> str:
        """The kind of sheet chosen."""
        return str(self.kind_box.currentData())

    @property
    def codes(self) -> tuple[str, ...]:
        """The aircraft chosen."""
        return tuple(self.aircraft_box.currentData() or ())

    @property
    def wants_photo(self) -> bool:
        """Whether the sheet shows the aircraft's photo."""
        from hangar.sheets import SHEETS

        return SHEETS[self.kind].with_photo

    def style_of(self, club: str) -> SheetStyle:
        """Everything chosen, with the units of the fleet and the day of the desk.

        Raises: BadInput when nothing is left to label.
        """
        from hangar.sheets import SheetStyle

        labels = self.kind == _LABELS
        return SheetStyle(
            paper=self.paper_box.currentText(),
            units=self._desk.view.units,
            language=current_reader().language,
            printed_on=self._desk.today,
            fillable=self.fillable_box.isChecked() and not labels,
            prices=self.prices_box.isChecked(),
            own_details=self.own_box.isChecked(),
            club=club,
            label_grid=self._grid(),
            label_start=self.start_box.value() if labels else 1,
            label_parts=tuple(part for part, box in self.part_boxes.items() if box.isChecked())
            if labels
            else tuple(self.part_boxes),
            colour=not self.grey_box.isChecked(),
        )
