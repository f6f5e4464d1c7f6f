"""What was not judged, or cannot be, is never shown as well: cards, headings, the fleet's line."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QVBoxLayout, QWidget
from pytestqt.qtbot import QtBot

from hangar.answers.judging import Judgement, JudgingBasis, judge_aircraft
from hangar.parts import Aircraft, Airframe, Snag
from hangar.parts.choices import AircraftClass, AircraftState, Severity
from hangar.rules.finding import Level
from hangar.store.glance import Glimpse
from hangar.window.first_look import first_card
from hangar.window.kit.counts_strip import CountsStrip, fleet_words, state_words, verdict_words
from hangar.window.kit.desk import Desk
from tests.sheets.cases import demo_case
from tests.window.conftest import CODE, TODAY

EMPTY = Aircraft(
    airframe=Airframe(
        code="NEW1", name="Fresh", aircraft_class=AircraftClass.SPORT, state=AircraftState.ON_THE_LINE
    ),
    read_on=TODAY,
)


def judged(aircraft: Aircraft) -> Judgement:
    return judge_aircraft(aircraft, JudgingBasis(today=TODAY))


def clean(code: str) -> Judgement:
    case = demo_case(code)
    aircraft = replace(
        case.aircraft, snags=(), airframe=replace(case.aircraft.airframe, state=AircraftState.ON_THE_LINE)
    )
    findings = tuple(finding for finding in case.findings if finding.level is not Level.WARNING)
    return Judgement(aircraft, case.survey, findings)


def test_an_aircraft_of_which_nothing_is_known_has_no_calm_card() -> None:
    judgement = judged(EMPTY)
    assert verdict_words(judgement) == (
        "Cannot be judged; not on record: all-up mass, pack, servo, kind of motor, failsafe of the throttle"
    )
    assert state_words(EMPTY, judgement.findings) == "On the line, not judged"
    assert "No open warnings" not in fleet_words([judgement])


def test_on_the_line_stands_on_no_card_before_it_is_judged() -> None:
    assert state_words(EMPTY, None) == "Not judged yet"
    glimpse = Glimpse("NEW1", "Fresh", "sport", "on the line", None, 1, False, None)
    assert first_card(glimpse).state == "Not judged yet"
    assert first_card(replace(glimpse, state="held", state_reason="spar")).state == "Held: spar"


def test_a_grounding_snag_takes_it_off_the_line() -> None:
    judgement = clean("CIND")
    assert state_words(judgement.aircraft, judgement.findings) == "On the line"
    assert verdict_words(judgement) == "No open warnings on the data entered"
    snag = Snag(aircraft="CIND", raised_on=TODAY, text="wing loose", severity=Severity.GROUNDS)
    snagged = replace(judgement.aircraft, snags=(snag,))
    assert state_words(snagged, judgement.findings) == "Held: open snag"


def test_the_fleet_is_told_clear_only_when_all_of_it_is_judged() -> None:
    sound = clean("CIND")
    assert fleet_words([sound]) == "No open warnings on the data entered"
    assert fleet_words([sound, None]) == ""
    assert fleet_words([]) == ""
    assert fleet_words([sound, judged(EMPTY)]) == "Cannot be judged: NEW1."


@pytest.mark.parametrize("size_pt", [9.0, 15.0])
def test_the_verdict_is_never_cut_beside_the_counts(size_pt: float, desk: Desk, qtbot: QtBot) -> None:
    strip = CountsStrip(desk.view, "Findings", wraps=True)
    qtbot.addWidget(strip)
    font = QFont(strip.font())
    font.setPointSizeF(size_pt)
    strip.setFont(font)
    judgement = desk.judgement(CODE)
    assert judgement is not None
    strip.show_counts(dict.fromkeys(Level, 3), verdict_words(judgement))
    whole = strip.sizeHint().width()
    line_high = strip.heightForWidth(whole)
    assert strip.heightForWidth(whole // 2) >= 2 * line_high - 8
    assert strip.heightForWidth(whole // 8) > strip.heightForWidth(whole // 2)
    holder = QWidget()
    qtbot.addWidget(holder)
    column = QVBoxLayout(holder)
    column.addWidget(strip)
    column.addStretch(1)
    holder.resize(whole // 2, 400)
    holder.show()
    qtbot.waitUntil(lambda: strip.height() >= strip.heightForWidth(strip.width()) > line_high)
