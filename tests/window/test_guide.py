"""The guide names only what the program has, and quotes only what it says."""

from __future__ import annotations

import argparse
import ast
import re
from collections.abc import Iterator
from datetime import date
from functools import cache
from itertools import product
from pathlib import Path

import pytest
from PySide6.QtCore import QUrl
from PySide6.QtWidgets import QApplication, QMainWindow
from pytestqt.qtbot import QtBot

from hangar.base.places import resources_dir
from hangar.base.reader import languages
from hangar.base.text import Text
from hangar.commands import COMMANDS
from hangar.commands.speaking import OPTION
from hangar.rules import inspect
from hangar.sheets import SHEETS
from hangar.survey import Conditions, survey
from hangar.window.airframe.airframe_folder import AirframeFolder
from hangar.window.guide import PAGES, guide_page, open_guide, page_title
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import put, room_titles, say, sentence_case, speak
from tests.all_cases import all_cases
from tests.catalogue import translations
from tests.demo_copies import demo_copy

ROOT = Path(__file__).resolve().parents[2]
NAMES = (*PAGES, "changelog")
GUIDE = resources_dir() / "guide"
SAFE = r"safe to fly|flutter.free|flugbereit|flugtauglich|flugklar|flugsicher\b|flatterfrei|sicher zu fliegen"


@pytest.fixture(params=languages())
def language(request: pytest.FixtureRequest, qapp: QApplication) -> Iterator[str]:
    """The guide in each language, with the program speaking it; English again afterwards."""
    speak(qapp, request.param)
    yield str(request.param)
    speak(qapp, "en")


def text_of(name: str) -> str:
    return guide_page(name).read_text(encoding="utf-8")


def bold_of(text: str) -> list[str]:
    """The names in bold, also those that go on in the next line."""
    return re.findall(r"\*\*(.+?)\*\*", re.sub(r"\s+", " ", text))


def plain(label: str) -> str:
    """A label as it is read: without the mark of its key, without its shortcut."""
    return re.sub(r"&(.)", r"\1", label.partition("\t")[0])


@cache
def labels() -> frozenset[str]:
    """Every fixed text of the window, and the titles of the sheets."""
    lines = {kind.title for kind in SHEETS.values()}
    for file in (ROOT / "hangar" / "window").rglob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                lines.add(plain(node.value))
    return frozenset(lines)


@cache
def german_of() -> dict[str, frozenset[str]]:
    """What each English label is called in the German window; one English may have two."""
    by_english: dict[str, set[str]] = {}
    for english, german in translations("de").items():
        for spelt in (str, sentence_case):
            by_english.setdefault(spelt(plain(english)), set()).add(spelt(plain(german)))
    return {english: frozenset(german) for english, german in by_english.items()}


@pytest.mark.parametrize("name", NAMES)
def test_every_name_in_bold_stands_somewhere_in_the_program(name: str, language: str) -> None:
    known = labels() if language == "en" else frozenset().union(*german_of().values())
    assert not set(bold_of(text_of(name))) - (labels() if name == "changelog" else known)


@all_cases("name", PAGES)
def test_the_german_page_names_what_the_english_one_names(name: str) -> None:
    english = bold_of((GUIDE / f"{name}.md").read_text(encoding="utf-8"))
    german = bold_of((GUIDE / "de" / f"{name}.md").read_text(encoding="utf-8"))
    assert not [label for label in english if not german_of()[label] & set(german)]
    assert not set(german) - frozenset().union(*(german_of()[label] for label in english))
    assert len(german) == len(english)


@all_cases(
    "name, mark",
    product(PAGES, [r"^# ", r"^## ", r"^- ", r"^\d\. ", r"^\| ", r"^> ", r"\]\([\w-]+\.md\)", r"`[^`]+`"]),
)
def test_the_guides_in_both_languages_are_built_alike(name: str, mark: str) -> None:
    english, german = (
        re.findall(mark, (folder / f"{name}.md").read_text(encoding="utf-8"), re.MULTILINE)
        for folder in (GUIDE, GUIDE / "de")
    )
    assert english == german


def test_no_page_of_the_guide_is_without_german() -> None:
    assert {page.name for page in GUIDE.glob("*.md")} == {page.name for page in (GUIDE / "de").iterdir()}


@pytest.mark.usefixtures("language")
def test_every_room_tab_and_sheet_is_described(desk: Desk) -> None:
    assert set(room_titles()) <= set(bold_of(text_of("rooms")))
    folder = AirframeFolder(desk)
    tabs = {plain(folder.tabs.tabText(at)) for at in range(folder.tabs.count())}
    folder.deleteLater()
    assert tabs == set(re.findall(r"^- \*\*(.+?)\*\*:", text_of("airframe-folder"), re.MULTILINE))
    assert {say(kind.title) for kind in SHEETS.values()} == set(
        re.findall(r"^\| \*\*(.+?)\*\*", text_of("sheets"), re.MULTILINE)
    )


@pytest.mark.usefixtures("language")
@pytest.mark.parametrize("name", NAMES)
def test_every_link_leads_to_a_page_of_the_guide(name: str) -> None:
    for link in re.findall(r"\]\(([^)]+)\)", text_of(name)):
        assert Path(link).stem in PAGES
        assert guide_page(Path(link).stem).is_file()


@pytest.mark.usefixtures("language")
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
    return f"{parser.format_help()} {OPTION}"


@pytest.fixture(scope="module")
def said_of_the_marquess() -> list[Text]:
    """Every message, detail and remedy, in the core's English."""
    with demo_copy(date.today()) as fleet:
        aircraft, library = fleet.aircraft("MARQ"), fleet.library()
    findings = inspect(aircraft, survey(aircraft, Conditions(today=date.today())), library=library)
    return [
        sentence for finding in findings for sentence in (finding.message, finding.detail, finding.remedy)
    ]


@pytest.mark.usefixtures("language")
def test_the_story_quotes_what_is_said_of_the_marquess(said_of_the_marquess: list[Text]) -> None:
    words = "\n".join(put(text) for text in said_of_the_marquess)
    quotes = re.findall(r"^> (.+)$", text_of("first-hour"), re.MULTILINE)
    assert len(quotes) > 8
    assert [quote for quote in quotes if quote not in words] == []


@pytest.mark.usefixtures("language")
def test_no_page_promises_that_flying_is_safe() -> None:
    for name in NAMES:
        assert not re.search(SAFE, text_of(name), re.IGNORECASE)


@pytest.mark.parametrize(
    ("language", "caution", "rooms", "first_room", "changes"),
    [
        ("en", "estimates", "The rooms", "Flight Line", "Changes"),
        ("de", "Schätzungen", "Die Räume", "Startreihe", "Änderungen"),
    ],
    indirect=["language"],
)
def test_the_guide_shows_its_pages_and_follows_its_links(
    language: str, caution: str, rooms: str, first_room: str, changes: str, qtbot: QtBot
) -> None:
    window = QMainWindow()
    qtbot.addWidget(window)
    box = open_guide(window)
    assert open_guide(window) is box
    assert caution in box.text.toPlainText()
    box.text.anchorClicked.emit(QUrl("rooms.md"))
    assert box.pages.currentItem().text() == page_title(guide_page("rooms")) == rooms
    assert first_room in box.text.toPlainText()
    assert "**" not in box.text.toPlainText()
    assert not box.message.isVisible()
    box.pages.setCurrentRow(len(PAGES))
    assert box.pages.currentItem().text() == changes
    assert box.message.isVisible() is (language != "en")


@pytest.mark.parametrize("language", ["de"], indirect=True)
def test_a_page_without_german_is_shown_in_english(language: str) -> None:
    assert guide_page("start") == GUIDE / language / "start.md"
    assert guide_page("changelog") == GUIDE.parent / "changelog.md"
    assert guide_page("no-such-page").parent == GUIDE
