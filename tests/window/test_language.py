"""The program speaks German wherever it speaks at all."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from PySide6.QtCore import QCoreApplication
from pytestqt.qtbot import QtBot

from hangar.answers.judging import Judgement, JudgingBasis, judge_aircraft
from hangar.base.units import IMPERIAL
from hangar.parts import KIND_BY_NAME, Aircraft, choices
from hangar.store import Fleet
from hangar.survey.model import Scenario
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.way_button import WayButton
from hangar.window.kit.words import day, level_count, say, speak, word_of
from hangar.window.main_window import MainWindow
from hangar.window.menus import Menus
from hangar.window.room_list import AIRFRAME
from hangar.window.start import application
from tests.catalogue import translations, words_of_many_places, words_of_source


@cache
def in_german() -> dict[str, str]:
    return translations("de")


@pytest.fixture
def german(qtbot: QtBot) -> Iterator[QCoreApplication]:
    """The program in German, in English again afterwards."""
    app = application()
    speak(app, "de")
    yield app
    speak(app, "en")


def test_the_verdict_on_a_pack_is_no_order_to_fit_it(german: QCoreApplication) -> None:
    assert (say("fit"), say("Fit it")) == ("tauglich", "Einbauen")


def test_one_spelling_with_two_meanings_has_a_german_word_for_each(german: QCoreApplication) -> None:
    assert word_of(choices.FailsafeAction.IDLE) == "Motor im Leerlauf"
    assert say(Scenario.IDLE) == "Ruhe"
    assert (word_of(choices.Function.SPARE), say(KIND_BY_NAME["stock-item"].TITLE)) == (
        "Reservekanal",
        "Ersatz",
    )
    assert (word_of(choices.Function.TAIL), word_of(choices.RotorKind.TAIL)) == ("Heck", "Heckrotor")
    assert word_of(choices.Bearing.PLAIN) == "Gleitlager"
    assert word_of(choices.MarkPlace.OUTSIDE) == "Außen angebracht"
    assert say("outside") == "außerhalb"  # of the band a reading should lie in
    assert say("Joints") == "Steckstellen"  # of a lead, not of a linkage


def test_no_word_of_two_lists_is_new_and_unread() -> None:
    # Each was read in all its places: its German is right in every one, or the list has a word of its own.
    read = {
        "arm",
        "charge",
        "comfort",
        "fitted",
        "flight",
        "idle",
        "inspection",
        "lead",
        "load test",
        "measured",
    }
    read |= {
        "none",
        "note",
        "other",
        "outside",
        "pack",
        "paper",
        "position",
        "range check",
        "receiver",
        "rotor",
    }
    read |= {
        "regulator",
        "safety",
        "servo",
        "servo type",
        "shrink",
        "sleeve",
        "snag",
        "spare",
        "steel",
        "surface",
    }
    read |= {"switch", "tail", "titanium", "aircraft", "bench check", "capacity test", "channel"}
    read |= {"drive", "flight log", "passed on", "gyro", "power path"}
    assert sorted(words_of_many_places() - read) == []


@pytest.mark.parametrize("pattern", [r"\{\w+", r"\n", r"^ | $", r"\t.*"])
def test_every_translation_keeps_places_line_breaks_and_shortcuts(pattern: str) -> None:
    wrong = {
        source
        for source, german in in_german().items()
        if german and not set(re.findall(pattern, german)) <= set(re.findall(pattern, source))
    }
    assert wrong == set()


def test_every_menu_and_button_keeps_a_letter_to_press() -> None:
    marked = re.compile("&[^& ]")
    wrong = {
        source
        for source, german in in_german().items()
        if german and bool(marked.search(source)) != bool(marked.search(german))
    }
    assert wrong == set()


@pytest.mark.parametrize("is_german", [False, True])
def test_no_letter_of_the_first_page_is_one_of_the_menus(
    qtbot: QtBot, tmp_path: Path, german: QCoreApplication, *, is_german: bool
) -> None:
    speak(german, "de" if is_german else "en")
    window = MainWindow(ViewSettings(tmp_path / "window.ini"), tmp_path)
    qtbot.addWidget(window)
    window.show_welcome()
    texts = [button.text() for button in window.findChildren(WayButton)]
    texts += [action.text() for action in window.menuBar().actions()]
    letters = [text[text.index("&") + 1].lower() for text in texts if "&" in text]
    assert len(letters) == 8
    assert len(set(letters)) == len(letters)
    window.close()


def test_no_word_of_the_german_window_says_that_an_aircraft_may_fly() -> None:
    spoken = [*in_german().values()]
    words = json.dumps(spoken, ensure_ascii=False).lower()
    assert not re.findall(r"flugbereit|flugtauglich|flugklar|flugsicher\b", words)


def test_words_are_found_in_calls_and_conditions(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tests.catalogue.HANGAR", tmp_path)
    file = tmp_path / "words.py"
    file.write_text(
        'say("Plain {hole}", hole=1)\nsay("One" if many else "Other")\nplural("a", "b", count=2)\n'
    )
    found = {(word.key, word.many) for word in words_of_source(file)}
    assert found == {("Plain {hole}", ""), ("One", ""), ("Other", ""), ("a", "b")}


def test_german_is_spoken_and_given_up_again(german: QCoreApplication) -> None:
    assert say("Flight Line") == "Startreihe"
    assert word_of("on the bench") == "Auf der Werkbank"
    assert level_count("warning", 2) == "2 Warnungen"
    assert day(None) == "nie"
    speak(german, "en")
    assert say("Flight Line") == "Flight Line"


def test_a_text_that_nobody_translated_stays_as_it_is(german: QCoreApplication) -> None:
    assert say("S-0042 of nobody") == "S-0042 of nobody"


def test_the_choice_of_language_is_kept(view: ViewSettings, qtbot: QtBot) -> None:
    from PySide6.QtWidgets import QMainWindow

    window = QMainWindow()
    qtbot.addWidget(window)
    spoken: list[str] = []
    menus = Menus(window, view, {"speak": lambda: spoken.append(view.language)})
    menus.actions["language de"].trigger()
    assert view.language == "de"
    qtbot.waitUntil(lambda: spoken == ["de"])


def test_another_language_draws_the_same_judgements_anew(
    demo_file: Path, tmp_path: Path, qtbot: QtBot
) -> None:
    judged: list[str] = []

    def counted(aircraft: Aircraft, basis: JudgingBasis) -> Judgement:
        judged.append(aircraft.code)
        return judge_aircraft(aircraft, basis)

    path = tmp_path / "fleet.hangar"
    path.write_bytes(demo_file.read_bytes())
    app = application()
    window = MainWindow(ViewSettings(tmp_path / "window.ini"), tmp_path)  # It goes when another follows.
    try:
        window.take_fleet(Fleet.open(path))
        assert window.desk is not None
        window.desk.session.judge = counted
        assert window.rooms is not None
        window.rooms.enter(AIRFRAME)
        window.rooms.folder.show_aircraft("MARQ")
        window.rooms.folder.tabs.setCurrentIndex(2)
        before = window.desk.judgement("MARQ")
        qtbot.waitUntil(lambda: window.desk is not None and all(map(window.desk.known, window.desk.codes())))
        fleet, count = window.desk.fleet, len(judged)
        window.desk.was_edited = True
        window.view.choose_language("de")
        window.speak_anew()
        german = window.follower
        assert german is not None
        assert german.desk is not None
        assert german.rooms is not None
        qtbot.addWidget(german)
        qtbot.wait(300)
        assert german.desk.fleet is fleet
        assert (german.desk.current.aircraft, german.rooms.current) == ("MARQ", AIRFRAME)
        assert german.rooms.folder.tabs.currentIndex() == 2
        assert german.desk.judgement("MARQ") is before
        assert len(judged) == count, "nothing is judged again"
        assert german.desk.was_edited
        assert "&Ansicht" in [action.text() for action in german.menuBar().actions()]
        german.desk.choose_units(IMPERIAL)
        assert len(judged) == count, "nor for other units"
        german.close()
    finally:
        speak(app, "en")
