"""What a sheet said with a doubt stands beside findings and fields, and is confirmed there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QUrl
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from hangar.parts import Airframe, FieldOrigin
from hangar.rules.origins import NOT_CONFIRMED
from hangar.store import Fleet, bring_in
from hangar.window.airframe.particulars_page import ParticularsPage
from hangar.window.findings.findings_panel import FindingsPanel
from hangar.window.kit.desk import Desk
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.records.field_dialog import FieldDialog
from hangar.window.start import application


@pytest.fixture
def desk(qtbot: QtBot, tmp_path: Path) -> Iterator[Desk]:
    application()
    (tmp_path / "list.csv").write_text(
        "Model;Ch;Function;Servo;Fitted\nWindrush;1;aileron;TE-20;1999?\nWindrush;4;rudder;TE-30;2001?\n"
    )
    fleet = Fleet.create(tmp_path / "club.hangar")
    bring_in(fleet, [tmp_path / "list.csv"])
    made = Desk(fleet, ViewSettings(tmp_path / "window.ini"))
    yield made
    made.stop()
    fleet.close()


def test_the_findings_name_the_cells_and_confirm_them(desk: Desk, qtbot: QtBot) -> None:
    panel = FindingsPanel(desk)
    qtbot.addWidget(panel)
    judgement = desk.judgement("WIND")
    assert judgement is not None
    panel.show_findings(judgement.findings)
    (finding,) = [finding for finding in judgement.findings if finding.rule == NOT_CONFIRMED]
    panel.table.choose_row((finding.aircraft, finding.rule, finding.about, finding.message))
    words = panel.page.toPlainText()
    assert "From your sheet, not confirmed" in words
    assert 'list.csv, row 2: "1999?"' in words
    count = len(desk.records(FieldOrigin))
    panel.page.anchorClicked.emit(QUrl("confirm:0"))
    assert len(desk.records(FieldOrigin)) == count - 1
    assert (desk.undo_label or "").startswith("Confirm ")
    desk.undo()
    assert len(desk.records(FieldOrigin)) == count
    panel.page.anchorClicked.emit(QUrl("confirm:all"))
    assert desk.records(FieldOrigin) == ()


def test_a_field_says_which_cell_it_comes_from_until_it_is_confirmed(desk: Desk, qtbot: QtBot) -> None:
    page = ParticularsPage(desk)
    qtbot.addWidget(page)
    judgement = desk.judgement("WIND")
    assert judgement is not None
    page.show_judgement(judgement)
    editor = page.forms["power"].editor("power")
    assert editor.origin is not None
    button = editor.origin.findChild(QPushButton)
    assert button is not None
    assert button.accessibleName() == "Confirm Power plant"
    button.click()
    judgement = desk.judgement("WIND")
    assert judgement is not None
    page.show_judgement(judgement)
    assert editor.origin is None
    assert page.forms["aircraft_class"].editor("aircraft_class").origin is not None


def test_the_form_of_one_field_says_so_too(desk: Desk, qtbot: QtBot) -> None:
    (airframe,) = desk.records(Airframe)
    dialog = FieldDialog(desk, airframe, "power")
    qtbot.addWidget(dialog)
    origin = dialog.form.editor("power").origin
    assert origin is not None
    button = origin.findChild(QPushButton)
    assert button is not None
    button.click()
    assert desk.records(FieldOrigin, field="power") == ()
