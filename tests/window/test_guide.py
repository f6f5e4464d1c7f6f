"""The guide names only what the program has, and quotes only what it says."""

from __future__ import annotations

import argparse
import ast
import re
from datetime import date
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtCore import QUrl
from PySide6.QtWidgets import QMainWindow
from pytestqt.qtbot import QtBot

from hangar.base.places import demo_fleet_dir
from hangar.commands import COMMANDS
from hangar.rules import inspect
from hangar.sheets import SHEETS
from hangar.store import Fleet, bring_in
from hangar.survey import Conditions, survey
from hangar.window.airframe.airframe_folder import AirframeFolder
from hangar.window.guide import PAGES, guide_page, open_guide, page_title
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import room_titles

ROOT = Path(__file__).resolve().parents[2]
NAMES = (*PAGES, "changelog")


def text_of(name: str) -> str:
    return guide_page(name).read_text(encoding="utf-8")


def plain(label: str) -> str:
    """A label as it is read: without the mark of its key, without its shortcut."""
    return re.sub(r"&(.)", r"\1", label.partition("\t")[0])


@cache
def labels() -> frozenset[str]:
    """Every fixed text of the window, and the titles of the sheets."""
    found = {kind.title for kind in SHEETS.values()}
    for file in (ROOT / "hangar" / "window").rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                found.add(plain(node.value))
    return frozenset(found)


@pytest.mark.parametrize("name", NAMES)
def test_every_name_in_bold_stands_somewhere_in_the_program(name: str) -> None:
    bold = set(re.findall(r"\*\*(.+?)\*\*", text_of(name)))
    assert not bold - labels()


def test_every_room_tab_and_sheet_is_described(desk: Desk) -> None:
    assert set(room_titles()) <= set(re.findall(r"\*\*(.+?)\*\*", text_of("rooms")))
    folder = AirframeFolder(desk)
    tabs = {plain(folder.tabs.tabText(at)) for at in range(folder.tabs.count())}
    folder.deleteLater()
    assert tabs == set(re.findall(r"^- \*\*(.+?)\*\*:", text_of("airframe-folder"), re.MULTILINE))
    assert {kind.title for kind in SHEETS.values()} == set(
        re.findall(r"^\| \*\*(.+?)\*\*", text_of("sheets"), re.MULTILINE)
    )


@pytest.mark.parametrize("name", NAMES)
def test_every_link_leads_to_a_page_of_the_guide(name: str) -> None:
    for link in re.findall(r"\]\(([^)]+)\)", text_of(name)):
        assert Path(link).stem in PAGES
        assert guide_page(Path(link).stem).is_file()


@pytest.mark.parametrize("name", NAMES)
def test_every_command_option_and_path_named_exists(name: str) -> None:
    text = text_of(name)
    assert set(re.findall(r"`hangar ([a-z-]+)", text)) - {"--help"} <= set(COMMANDS)
    options = "--help " + "".join(_help_of(command) for command in COMMANDS)
    assert all(option in options for option in re.findall(r"--[a-z][a-z-]+", text))
    paths = re.findall(r"`((?:hangar|resources|demo_fleet|tests)(?:/[\w.-]+)*)`", text)
    assert all((ROOT / path).exists() for path in paths)


def _help_of(command: str) -> str:
    parser = argparse.ArgumentParser(prog=command)
    COMMANDS[command][1](parser)
    return parser.format_help()


def test_the_story_quotes_what_is_said_of_the_marquess() -> None:
    with Fleet.in_memory() as fleet:
        bring_in(fleet, [demo_fleet_dir()])
        aircraft, library = fleet.aircraft("MARQ"), fleet.library()
    findings = inspect(aircraft, survey(aircraft, Conditions(today=date.today())), library=library)
    said = "\n".join(f"{one.message}\n{one.detail}\n{one.remedy}" for one in findings)
    quotes = re.findall(r"^> (.+)$", text_of("first-hour"), re.MULTILINE)
    assert len(quotes) > 8
    assert [quote for quote in quotes if quote not in said] == []


def test_no_page_promises_that_flying_is_safe() -> None:
    for name in NAMES:
        assert not re.search(r"safe to fly|flutter.free", text_of(name), re.IGNORECASE)


def test_the_guide_shows_its_pages_and_follows_its_links(qtbot: QtBot) -> None:
    window = QMainWindow()
    qtbot.addWidget(window)
    box = open_guide(window)
    assert open_guide(window) is box
    assert "estimates" in box.text.toPlainText()
    box.text.anchorClicked.emit(QUrl("rooms.md"))
    assert box.pages.currentItem().text() == page_title(guide_page("rooms")) == "The rooms"
    assert "Flight Line" in box.text.toPlainText()
    assert "**" not in box.text.toPlainText()
