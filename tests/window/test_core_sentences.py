"""A German keeper reads what the core says in German, wherever the window shows it."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QCoreApplication
from pytestqt.qtbot import QtBot

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.units import SI_TRADE
from hangar.rules.finding import Finding, Level
from hangar.window.findings.finding_text import finding_html
from hangar.window.findings.findings_panel import finding_line
from hangar.window.kit.language import speak
from hangar.window.kit.looks import LIGHT
from hangar.window.kit.notice import NoticeBar
from hangar.window.kit.words import retold
from hangar.window.kit.working_text import working_html
from hangar.window.start import application

TORQUE = Figure(
    "load at the servo",
    1.2,
    "N m",
    basis=Basis.COMPUTED,
    working=Working("stall torque / load; the least against the design load", (Input("air density", 1.2),)),
)
FINDING = Finding(
    rule="arm-spline-mismatch",
    level=Level.WARNING,
    aircraft="LARK",
    about=("RUD", "0301"),
    message="On the rudder servo an arm of 23 teeth sits on a spline of 25.",
    detail="TS-1; arm 5.7 mm, servo 5.9 mm.",
    figures=(TORQUE,),
    remedy="Fit an arm of 25 teeth.",
    source="common practice, no source",
    missing=("surface RUD: whole chord",),
)


@pytest.fixture
def german(qtbot: QtBot) -> Iterator[QCoreApplication]:
    """The program in German, in English again afterwards."""
    app = application()
    speak(app, "de")
    yield app
    speak(app, "en")


@pytest.mark.usefixtures("german")
def test_a_finding_is_read_in_german_from_its_line_to_its_source() -> None:
    line = "Servo Seitenruder: Arm mit 23 Zähnen auf einer Verzahnung mit 25 Zähnen."
    assert finding_line(FINDING) == line
    page = finding_html(FINDING, SI_TRADE, LIGHT)
    for words in (
        "Arm 5.7 mm, Servo 5.9 mm",
        "Last am Servo",
        "Einen Arm mit 25 Zähnen aufsetzen.",
        "gängige Praxis, keine Quelle",
        "Ruder RUD: ganze Tiefe",
    ):
        assert words in page


@pytest.mark.usefixtures("german")
def test_the_working_of_a_number_is_read_in_german() -> None:
    page = working_html(TORQUE, SI_TRADE)
    assert "Luftdichte" in page
    assert "Load" not in page


@pytest.mark.usefixtures("german")
def test_a_refusal_is_told_in_german(qtbot: QtBot) -> None:
    notice = NoticeBar()
    qtbot.addWidget(notice)
    notice.trouble(BadInput("servo 0301 does not lie in the Parts Bay."))
    assert notice.sentence == "Servo 0301 liegt nicht im Teilelager."


@pytest.mark.usefixtures("german")
def test_what_keeps_a_fleet_from_being_written_is_told_in_german() -> None:
    assert retold("Not saved: the disk is full.") == "Nicht gespeichert: der Datenträger ist voll."
    told = retold("The fleet is open for reading only: the file or its folder is read-only.")
    assert told == "Die Flotte ist nur zum Lesen geöffnet: die Datei oder ihr Ordner ist schreibgeschützt."


def test_sentences_are_english_again_when_the_language_is(german: QCoreApplication) -> None:
    assert retold(FINDING.remedy) == "Einen Arm mit 25 Zähnen aufsetzen."
    speak(german, "en")
    assert retold(FINDING.remedy) == FINDING.remedy
