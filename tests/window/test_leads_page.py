"""The Leads page: runs with computed figures, edits in place, the cut list as it is printed."""

from __future__ import annotations

import pytest
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from hangar.base.figure import Figure
from hangar.parts import Lead
from hangar.parts.protection import lead_cuts
from hangar.window.airframe.leads_page import LeadsPage
from hangar.window.kit.desk import Desk
from tests.window.conftest import CODE

Strict = QAbstractItemModelTester.FailureReportingMode.Fatal


@pytest.fixture
def page(desk: Desk, qtbot: QtBot) -> LeadsPage:
    made = LeadsPage(desk)
    qtbot.addWidget(made)

    def show() -> None:
        judgement = desk.judgement(CODE)
        assert judgement is not None
        made.show_judgement(judgement)

    desk.touched.connect(lambda _touched: show())
    show()
    return made


def test_every_position_has_a_row_with_or_without_a_lead(page: LeadsPage) -> None:
    assert [row.fit.code for row in page.runs.rows_model.rows] == ["AIL-L", "RUD", "THR"]
    assert page.runs.cell("THR", "Run").data() == "—"
    assert page.runs.cell("AIL-L", "Run").data() == "300 mm"


def test_the_drop_is_the_surveys_and_can_be_asked_how(desk: Desk, page: LeadsPage, qtbot: QtBot) -> None:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    row = judgement.survey.positions["AIL-L"]
    page.runs.setCurrentIndex(page.runs.cell("AIL-L", "Drop"))
    with qtbot.waitSignal(desk.how_asked) as asked:
        page.runs.ask_how()
    (figure,) = asked.args
    assert isinstance(figure, Figure)
    assert figure == row.lead_drop_v
    assert row.lead_ohm is not None
    assert row.lead_current_a is not None
    assert figure.expected == pytest.approx(row.lead_ohm.expected * row.lead_current_a.expected, rel=0.02)


def test_a_thicker_gauge_typed_in_the_table_drops_less(desk: Desk, page: LeadsPage) -> None:
    def drop() -> float:
        judgement = desk.judgement(CODE)
        assert judgement is not None
        figure = judgement.survey.positions["AIL-L"].lead_drop_v
        assert figure is not None
        return figure.expected

    before = drop()
    assert page.runs.model().setData(page.runs.cell("AIL-L", "Gauge"), "20")
    assert desk.fleet.record(Lead, CODE, "AIL-L").awg == 20  # type: ignore[union-attr]
    assert drop() < before / 2
    desk.undo()
    assert drop() == pytest.approx(before)


def test_the_cut_list_is_the_printed_one(desk: Desk, page: LeadsPage) -> None:
    page.setCurrentIndex(1)
    judgement = desk.judgement(CODE)
    assert judgement is not None
    assert page.cuts.rows_model.rows == lead_cuts(judgement.aircraft)
    # Common practice in the table of rules: 300 + 30 + 20 + 2 % = 356, next size sold 400.
    assert page.cuts.cell("AIL-L", "With slack").data() == "356 mm"
    assert page.cuts.cell("AIL-L", "Buy").data() == "whole 400 mm"
    (total,) = page.totals.rows_model.rows
    assert (total.material, total.count, total.pieces_mm) == ("whole lead, 26 AWG", 2, (400,))
    assert "THR" in page.message.text()


def test_an_exposed_run_asks_for_sleeve_and_shrink(desk: Desk, page: LeadsPage) -> None:
    page.setCurrentIndex(1)
    desk.change(
        "Expose", lambda edit: edit.change(Lead, (CODE, "RUD"), exposed_mm=640, length_mm=940, bundle_mm=4.0)
    )
    # 640 mm exposed: (640 + 2 x 25) x 1.10 = 759 mm of braid; bore 4 x 1.15 to 4 x 1.5.
    assert page.cuts.cell("RUD", "Sleeve").data() == "759 mm, bore 5 mm"
    materials = {str(row.material): row for row in page.totals.rows_model.rows}
    assert materials["sleeve, bore 5 mm"].cutting is not None
    assert materials["sleeve, bore 5 mm"].cutting.bought_mm >= 759


def test_all_tables_keep_qts_contract(desk: Desk, page: LeadsPage) -> None:
    page.setCurrentIndex(1)
    testers = [
        QAbstractItemModelTester(table.rows_model, Strict) for table in (page.runs, page.cuts, page.totals)
    ]
    desk.change("Gauge", lambda edit: edit.change(Lead, (CODE, "RUD"), awg=22))
    desk.change("Less", lambda edit: edit.remove(Lead, (CODE, "AIL-L")))
    desk.undo()
    page.setCurrentIndex(2)
    assert page.records is not None
    assert len(page.records.table.rows_model.rows) == 2
    assert len(testers) == 3
