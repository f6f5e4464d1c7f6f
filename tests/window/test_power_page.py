"""The Power page: packs with their tests, and the volts through a flight."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

from hangar.answers.judging import Judgement
from hangar.parts import LoadTest, Receiver
from hangar.survey.profile import flight_volts
from hangar.window.kit.desk import Desk
from hangar.window.power.flight_trace import trace_of, volts_limits
from hangar.window.power.power_page import PowerPage
from tests.window.conftest import CODE


@pytest.fixture
def page(desk: Desk, judgement: Judgement, qtbot: QtBot) -> Iterator[PowerPage]:
    made = PowerPage(desk)
    qtbot.addWidget(made)
    made.resize(1100, 760)
    made.show()
    made.show_judgement(judgement)
    yield made
    made.close()


def flown(page: PowerPage, qtbot: QtBot) -> None:
    """Wait until the trace of the chosen length is there."""
    wanted = page.trace.minutes
    qtbot.waitUntil(
        lambda: page.trace.picture.trace is not None and page.trace.picture.trace.minutes == wanted,
    )


def test_no_dip_of_the_flight_is_lost_in_the_stripes(judgement: Judgement) -> None:
    whole = flight_volts(judgement.survey, minutes=30.0, step_s=0.1)
    trace = trace_of(judgement.survey, 30.0)
    assert len(trace.stripes) < len(whole.bus_v)
    assert min(stripe.low_v for stripe in trace.stripes) == pytest.approx(whole.bus_v.min())
    assert max(stripe.high_v for stripe in trace.stripes) == pytest.approx(whole.bus_v.max())
    assert max(stripe.high_a for stripe in trace.stripes) == pytest.approx(whole.current_a.max())
    assert trace.stripes[-1].until_min == pytest.approx(30.0, rel=1e-3)


def test_the_limits_are_those_of_the_most_demanding_receiver_and_servo(judgement: Judgement) -> None:
    second = Receiver(aircraft=CODE, code="RX2", supply_min_v=3.9)
    aircraft = replace(judgement.aircraft, receivers=(*judgement.aircraft.receivers, second))
    assert [(limit.volts, limit.words) for limit in volts_limits(aircraft)] == [
        (3.9, "receiver RX2"),
        (4.8, "servo TS-WEAK"),
    ]


def test_the_verdict_says_what_the_flight_falls_below(
    page: PowerPage, judgement: Judgement, qtbot: QtBot
) -> None:
    page.setCurrentWidget(page.trace)
    flown(page, qtbot)
    trace = page.trace.picture.trace
    assert trace is not None
    verdict = re.sub("<[^>]*>", "", page.trace.verdict.text())
    volts = re.fullmatch(
        r"Lowest bus volts ([\d.]+) V.* after [\d.]+ min\. [\d.]+ V stay above the lower limits\.", verdict
    )
    assert volts, verdict
    assert float(volts[1]) == pytest.approx(trace.lowest_v.expected, abs=0.05)
    demanding = replace(judgement.aircraft.receivers[0], supply_min_v=trace.lowest_v.expected + 0.1)
    changed = replace(judgement, aircraft=replace(judgement.aircraft, receivers=(demanding,)))
    page.show_judgement(changed)
    qtbot.waitUntil(lambda: "That is below the" in page.trace.verdict.text())


def test_the_length_is_typed_with_any_unit_and_refused_beside_the_field(
    page: PowerPage, qtbot: QtBot
) -> None:
    page.setCurrentWidget(page.trace)
    flown(page, qtbot)
    page.trace.length.selectAll()
    QTest.keyClicks(page.trace.length, "450 s")
    QTest.keyClick(page.trace.length, Qt.Key.Key_Return)
    assert page.trace.minutes == 7.5
    flown(page, qtbot)
    assert page.trace.length.text() == "7.5 min"
    page.trace.length.selectAll()
    QTest.keyClicks(page.trace.length, "9 h")
    QTest.keyClick(page.trace.length, Qt.Key.Key_Return)
    assert page.trace.refusal.text() == "A flight of 9 h is not drawn; allowed are 30 s to 2 h."
    assert page.trace.minutes == 7.5


def test_arrow_keys_read_the_trace_from_its_lowest_moment(page: PowerPage, qtbot: QtBot) -> None:
    page.setCurrentWidget(page.trace)
    flown(page, qtbot)
    picture = page.trace.picture
    trace = picture.trace
    assert trace is not None
    picture.setFocus()
    QTest.keyClick(picture, Qt.Key.Key_Right)
    lowest = min(trace.stripes, key=lambda one: one.low_v)
    assert page.trace.moment.text() == picture.moment_words(lowest) == picture.accessibleDescription()
    QTest.keyClick(picture, Qt.Key.Key_Home)
    assert page.trace.moment.text() == picture.moment_words(trace.stripes[0])
    QTest.keyClick(picture, Qt.Key.Key_End)
    assert page.trace.moment.text() == picture.moment_words(trace.stripes[-1])
    QTest.mouseClick(picture, Qt.MouseButton.LeftButton, pos=picture.rect().center())
    half = trace.stripes[len(trace.stripes) // 2].until_min
    shown = float(page.trace.moment.text().split()[1])
    assert shown == pytest.approx(half, rel=0.1)


def test_a_flight_that_cannot_be_worked_says_why(page: PowerPage, desk: Desk, qtbot: QtBot) -> None:
    page.setCurrentWidget(page.trace)
    bare = desk.judgement("WREN")
    assert bare is not None
    page.show_judgement(bare)
    qtbot.waitUntil(lambda: "cannot be worked" in page.trace.verdict.text())
    assert page.trace.picture.trace is None


def test_a_load_test_is_entered_where_the_supply_is_looked_at(
    page: PowerPage, desk: Desk, qtbot: QtBot
) -> None:
    page.setCurrentWidget(page.packs)
    assert page.packs.choice.currentData() == "B-01"
    entry = page.packs.page.entry
    for name, typed in (("rest_v", "6.7 V"), ("loaded_v", "6200 mV")):
        line = entry.form.editor(name).editor
        assert isinstance(line, QLineEdit)
        QTest.keyClicks(line, typed)
    entry.enter_button.click()
    tests = desk.fleet.records(LoadTest, pack="B-01")
    assert sorted(test.loaded_v for test in tests) == [6.2, 6.3]
    desk.undo()
    assert len(desk.fleet.records(LoadTest, pack="B-01")) == 1


def test_an_aircraft_without_packs_says_so(page: PowerPage, desk: Desk) -> None:
    page.setCurrentWidget(page.packs)
    bare = desk.judgement("WREN")
    assert bare is not None
    page.show_judgement(bare)
    assert not page.packs.empty.isHidden()
    assert page.packs.page.isHidden()
