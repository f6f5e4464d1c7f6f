"""The Flight Line shows the aircraft that the keeper looks for, in the order he asks for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest
from PySide6.QtCore import QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QGuiApplication, QImage, QPainter, QPen
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from hangar.rules.finding import Level
from hangar.window.flight_line import card_filter as by
from hangar.window.flight_line.card import Card, card_size, draw_card
from hangar.window.flight_line.card_filter import in_order, wanted
from hangar.window.flight_line.cards import CARD_ROLE
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from hangar.window.kit.looks import LIGHT
from tests.window.conftest import CODE

DAY = date(2031, 5, 1)


def card(code: str, counts: tuple[tuple[str, int], ...] = (), **rest: object) -> Card:
    fields: dict[str, object] = {
        "name": code.lower(),
        "kind": "Sport aeroplane",
        "outline": "sport",
        "state": "On the line",
        "verdict": "",
        "flown": "",
    }
    return Card(code=code, counts=counts, **(fields | rest))  # type: ignore[arg-type]


def test_every_word_must_be_on_the_card() -> None:
    one = card("MARQ", (("warning", 2),), kind="Giant-scale aeroplane")
    assert wanted(one, "giant marq", by.ANY, by.ANY)
    assert wanted(one, "2 warnings", by.ANY, by.ANY)
    assert not wanted(one, "giant jet", by.ANY, by.ANY)


@pytest.mark.parametrize(
    ("look_for", "codes"),
    [
        (by.ANY, ["A", "B", "C", "D"]),
        (by.WARNINGS, ["A"]),
        (by.WARNINGS_OR_CAUTIONS, ["A", "B"]),
        (by.QUIET, ["D"]),
        (by.OVERDUE, ["C"]),
    ],
)
def test_cards_are_chosen_by_what_is_found(look_for: str, codes: list[str]) -> None:
    cards = [
        card("A", (("warning", 1), ("caution", 1))),
        card("B", (("caution", 3),)),
        card("C", (("advisory", 1),), is_overdue=True),
        card("D"),
    ]
    assert [other_card.code for other_card in cards if wanted(other_card, "", by.ANY, look_for)] == codes


def test_the_worst_the_next_due_and_the_longest_unflown_come_first() -> None:
    cards = [
        card("A", (("caution", 9),), due_on=DAY, flown_on=DAY),
        card("B", (("warning", 1),), due_on=DAY.replace(day=2)),
        card("C", (("warning", 2),), flown_on=DAY.replace(month=1)),
    ]
    assert [other_card.code for other_card in in_order(cards, by.WORST_FIRST)] == ["C", "B", "A"]
    assert [other_card.code for other_card in in_order(cards, by.DUE_FIRST)] == ["A", "B", "C"]
    assert [other_card.code for other_card in in_order(cards, by.LONGEST_UNFLOWN)] == ["B", "C", "A"]
    assert [other_card.code for other_card in in_order(reversed(cards), by.BY_CODE)] == ["A", "B", "C"]


@pytest.fixture
def line(desk: Desk, qtbot: QtBot) -> Iterator[FlightLine]:
    made = FlightLine(desk)
    qtbot.addWidget(made)
    made.resize(1100, 600)
    made.show()
    yield made
    made.close()


def codes(line: FlightLine) -> list[str]:
    return [other_card.code for other_card in line.list.cards]


def test_typing_narrows_the_cards_and_escape_brings_all_back(line: FlightLine) -> None:
    assert codes(line) == [CODE, "WREN"]
    QTest.keyClicks(line.filter.words, "sailplane")
    assert codes(line) == ["WREN"]
    assert line.filter.message.text() == "1 of 2 aircraft"
    QTest.keyClicks(line.filter.words, "xyz")
    assert codes(line) == []
    assert not line.empty.isHidden()
    QTest.keyClick(line.filter.words, Qt.Key.Key_Escape)
    assert codes(line) == [CODE, "WREN"]
    assert line.empty.isHidden()


def test_the_filter_follows_the_judgements_as_they_come(line: FlightLine, desk: Desk, qtbot: QtBot) -> None:
    line.filter.findings.setCurrentIndex(line.filter.findings.findData(by.WARNINGS))
    assert desk.judgement(CODE) is not None
    qtbot.waitUntil(lambda: codes(line) == [CODE])
    line.filter.state.setCurrentIndex(line.filter.state.findData("written off"))
    assert codes(line) == []
    line.filter.all_button.click()
    assert codes(line) == [CODE, "WREN"]


def test_a_card_says_what_the_gravest_open_warning_will_make_it_do(
    line: FlightLine, desk: Desk, qtbot: QtBot
) -> None:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    worst = next(
        finding for finding in judgement.findings if finding.is_open and finding.level is Level.WARNING
    )
    qtbot.waitUntil(lambda: dict(line.list.cards[0].counts).get("warning", 0) > 0)
    assert line.list.cards[0].worst == str(worst.consequence)
    assert line.list.cards[0].worst in line.list.cards[0].spoken
    assert line.list.cards[1].worst == "", "nothing was judged yet"


def test_the_verdict_is_whole_on_a_narrow_card_with_three_levels(qtbot: QtBot) -> None:
    font = QFont()
    verdict = "No open warnings on the data entered"
    size = card_size(QFontMetrics(font).horizontalAdvance(verdict) * 3, font)
    counts = (("caution", 2), ("advisory", 1), ("cant-tell", 1))

    def drawn(words: str) -> QImage:
        image = QImage(size, QImage.Format.Format_RGB32)
        image.fill(QColor(LIGHT.window))
        painter = QPainter(image)
        place = QRectF(0, 0, size.width(), size.height())
        draw_card(painter, place, card("A", counts, outline="jet", verdict=words), LIGHT, font, QPen())
        painter.end()
        return image

    with_words, without = drawn(verdict), drawn("")
    length = with_words.bytesPerLine()
    pairs = zip(bytes(with_words.constBits()), bytes(without.constBits()), strict=True)
    written = [at // length for at, (pair, other) in enumerate(pairs) if pair != other]
    assert written[-1] - written[0] > QFontMetrics(font).height()


def test_a_card_has_a_menu_that_opens_copies_and_fits_out(line: FlightLine, desk: Desk) -> None:
    index = line.list.index(codes(line).index(CODE))
    menu = line.card_menu(index.data(CARD_ROLE))
    actions = {action.text(): action for action in menu.actions()}
    opened: list[str] = []
    begun: list[tuple[str, str | None]] = []
    line.aircraft_opened.connect(opened.append)
    desk.entry_wanted.connect(lambda way: begun.append((way, desk.current.aircraft)))
    for words in (
        "Open this aircraft",
        "Fit out…",
        "Copy this aircraft…",
        "Copy the words",
        "Bring in tables…",
    ):
        actions[words].trigger()
    assert opened == [CODE]
    assert begun == [("fit-out", CODE), ("copy", CODE), ("table", CODE)]
    assert QGuiApplication.clipboard().text().startswith(f"{CODE} ")
