"""The menus of the main window and the actions in them."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMainWindow, QMenu

from hangar.base.reader import language_name, languages
from hangar.window.kit.view_settings import UNIT_WORDS, USUAL_POINTS, ViewSettings, unit_choice
from hangar.window.kit.words import say

if TYPE_CHECKING:
    from hangar.base.units import UnitChoice

Key = QKeySequence.StandardKey
Acts = dict[str, Callable[[], object]]


class Menus:
    """Builds the menus; ``acts`` names for each action what it does."""

    def __init__(
        self, window: QMainWindow, view: ViewSettings, acts: dict[str, Callable[[], object]]
    ) -> None:
        self._window = window
        self._view = view
        self._acts = {"guide": self._open_guide, **acts}
        self.actions: dict[str, QAction] = {}
        self.recent_menu = QMenu(say("Open again"), window)
        self.print_menu = QMenu(say("&Print"), window)
        self._file()
        self._edit()
        self._aircraft()
        self._paper()
        self._view_menu()
        self._help()

    def _file(self) -> None:
        menu = self._window.menuBar().addMenu(say("&File"))
        self._add(menu, "new", say("&New fleet…"), Key.New)
        self._add(menu, "open", say("&Open fleet…"), Key.Open)
        menu.addMenu(self.recent_menu)
        self._add(menu, "demo", say("Open the &invented fleet"))
        menu.addSeparator()
        self._add(menu, "bring in", say("&Bring in tables…"))
        self._add(menu, "take out", say("&Take tables out…"))
        self._add(menu, "copy", say("Save a &copy…"), Key.SaveAs)
        self._add(menu, "restore", say("&Restore a backup…"))
        menu.addSeparator()
        self._add(menu, "quit", say("&Quit"), Key.Quit)

    def _edit(self) -> None:
        menu = self._window.menuBar().addMenu(say("&Edit"))
        self._add(menu, "undo", say("&Undo"), Key.Undo)
        self._add(menu, "redo", say("&Redo"), Key.Redo)
        self._add(menu, "changes", say("&Changes made…"))
        menu.addSeparator()
        self._add(menu, "preferences", say("&Preferences…"), "Ctrl+,")

    def _aircraft(self) -> None:
        menu = self._window.menuBar().addMenu(say("Aircraft"))
        self._add(menu, "aircraft", say("New &aircraft…"), "Ctrl+Shift+N")
        self._add(menu, "copy aircraft", say("&Copy an aircraft…"), "Ctrl+Shift+C")
        self._add(menu, "fit out", say("&Fit out…"), "Ctrl+Shift+F")
        self._add(menu, "log", say("&Log a flight…\tCtrl+L"))

    def _paper(self) -> None:
        menu = self._window.menuBar().addMenu(say("Paper"))
        menu.addMenu(self.print_menu)
        self._add(menu, "readings", say("&Enter a filled sheet…"), "Ctrl+Shift+E")

    def _view_menu(self) -> None:
        menu = self._window.menuBar().addMenu(say("&View"))
        self.rooms = menu.addMenu(say("&Go to"))
        units = menu.addMenu(say("&Units"))
        self.units = QActionGroup(self._window)
        for name, words in UNIT_WORDS.items():
            action = self._pick(units, self.units, f"units {name}", words)
            action.triggered.connect(lambda _on=False, name=name: self._acts[f"units {name}"]())
        colours = menu.addMenu(say("&Colours"))
        group = QActionGroup(self._window)
        for name, words in (
            ("system", say("&Like the system")),
            ("light", say("Li&ght")),
            ("dark", say("&Dark")),
        ):
            action = self._pick(colours, group, f"colours {name}", words)
            action.setChecked(self._view.colours == name)
            action.triggered.connect(lambda _on=False, name=name: self._view.choose_colours(name))
        self._languages(menu.addMenu(say("&Language")))
        menu.addSeparator()
        self._add(menu, "larger", say("Text &larger"), Key.ZoomIn)
        self._add(menu, "smaller", say("Text &smaller"), Key.ZoomOut)
        self._add(menu, "usual", say("Text of &usual size"), "Ctrl+0")

    def _languages(self, menu: QMenu) -> None:
        group = QActionGroup(self._window)
        for name, words in (
            ("system", say("&Like the system")),
            *((code, language_name(code)) for code in languages()),
        ):
            action = self._pick(menu, group, f"language {name}", words)
            action.setChecked(self._view.language == name)
            action.triggered.connect(lambda _on=False, name=name: self._choose_language(name))

    def _choose_language(self, name: str) -> None:
        self._view.choose_language(name)
        # Not from within the menu, which goes with the window.
        QTimer.singleShot(0, self._window, self._acts["speak"])

    def _help(self) -> None:
        menu = self._window.menuBar().addMenu(say("&Help"))
        self._add(menu, "guide", say("&Guide to Hangar"), Key.HelpContents)
        self._add(menu, "how", say("&How was this number made?\tCtrl+H"))
        self._add(menu, "about", say("&About Hangar…"))

    def _open_guide(self) -> None:
        from hangar.window.guide import open_guide

        open_guide(self._window)

    def _add(self, menu: QMenu, name: str, words: str, key: Key | str | None = None) -> None:
        action = QAction(words, self._window)
        if key is not None:
            action.setShortcut(QKeySequence(key))
        action.triggered.connect(lambda: self._acts[name]())
        menu.addAction(action)
        self.actions[name] = action

    def _pick(self, menu: QMenu, group: QActionGroup, name: str, words: str) -> QAction:
        action = menu.addAction(words)
        action.setCheckable(True)
        group.addAction(action)
        self.actions[name] = action
        return action

    def show_units(self, units: UnitChoice) -> None:
        """Tick the units in use."""
        for name in UNIT_WORDS:
            self.actions[f"units {name}"].setChecked(unit_choice(name) == units)

    def show_steps(self, undo: str | None, redo: str | None) -> None:
        """Show what undo and redo would do."""
        for name, plain, label in (("undo", say("&Undo"), undo), ("redo", say("&Redo"), redo)):
            self.actions[name].setText(f"{plain}: {label}" if label else plain)
            self.actions[name].setEnabled(label is not None)

    def show_fleet_open(self, is_open: bool, writable: bool) -> None:
        """Enable what needs an open fleet."""
        for name in ("take out", "copy", "how", "changes"):
            self.actions[name].setEnabled(is_open)
        for name in ("aircraft", "copy aircraft", "fit out", "log", "readings"):
            self.actions[name].setEnabled(writable)
        self.print_menu.setEnabled(is_open)


def text_size_acts(view: ViewSettings) -> dict[str, Callable[[], object]]:
    """What the three text-size actions do."""
    return {
        "larger": lambda: view.choose_points(view.points + 1),
        "smaller": lambda: view.choose_points(view.points - 1),
        "usual": lambda: view.choose_points(USUAL_POINTS),
    }
