"""Findings: explained with their numbers, accepted in writing, taken back, undone."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import Qt, QUrl
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from hangar.answers.finding_groups import _SYSTEM_OF, System, by_cure, system_of
from hangar.answers.judging import Difference, count_levels, worst_level
from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import Text, text
from hangar.base.units import IMPERIAL, SI_TRADE
from hangar.parts import Acceptance, Airframe
from hangar.rules.cures import Cure
from hangar.rules.finding import Finding, Level
from hangar.rules.registry import all_rules
from hangar.window.findings.findings_panel import FindingsPanel, figure_rows, finding_html, finding_key
from hangar.window.findings.snag_sheet import SnagSheet
from hangar.window.kit.aircraft_head import difference_words
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import WorkingPanel, working_html
from hangar.window.kit.looks import LIGHT
from hangar.window.tables.columns import ROW_ROLE
from tests.sheets.cases import demo_case
from tests.window.conftest import CODE, TODAY

LOAD = Figure(
    text("hinge moment"),
    0.42,
    "N m",
    0.31,
    0.55,
    Basis.TYPICAL,
    Working(
        text("pressure x area x chord x coefficient"),
        (Input(text("chord"), 60.0, "mm", Basis.MEASURED),),
        text("a book"),
    ),
)


def finding(rule: str = "torque-short-surface", level: Level = Level.WARNING, about: str = "RUD") -> Finding:
    return Finding(
        rule=rule,
        level=level,
        aircraft=CODE,
        about=(about,),
        message=text("{rule} at {about} <here>", rule=rule, about=about),
        figures=(LOAD,),
        remedy=text("a stronger servo"),
        missing=(text("surface: chord"),),
    )


@pytest.fixture
def panel(desk: Desk, qtbot: QtBot) -> FindingsPanel:
    made = FindingsPanel(desk)
    qtbot.addWidget(made)

    def show() -> None:
        judgement = desk.judgement(CODE)
        assert judgement is not None
        made.show_findings(judgement.findings)

    desk.touched.connect(show)
    show()
    return made


def test_a_finding_shows_line_numbers_remedy_and_what_is_missing() -> None:
    text = finding_html(finding(), SI_TRADE, LIGHT)
    for words in (
        "Warning",
        "RUD &lt;here&gt;",
        "0.42 (0.31–0.55) N·m",
        "a stronger servo",
        "surface: chord",
    ):
        assert words in text
    assert "ozf·in" in finding_html(finding(), IMPERIAL, LIGHT)


def test_what_to_do_stands_before_the_numbers_and_after_the_sentence() -> None:
    html = finding_html(replace(finding(), detail=text("The air is stronger.")), SI_TRADE, LIGHT)
    order = [html.index(part) for part in ("The air is stronger.", "What to do", "<table", "surface: chord")]
    assert order == sorted(order)


def test_what_to_do_is_seen_in_a_small_panel_without_scrolling(panel: FindingsPanel, qtbot: QtBot) -> None:
    panel.resize(420, 420)
    panel.show()
    many = tuple(replace(LOAD, name=text("number {at}", at=at)) for at in range(20))
    panel.show_findings([replace(finding(), figures=many)])
    qtbot.waitExposed(panel)
    high = panel.page.viewport().height()
    assert _bottom_of(panel, "What to do") <= high
    assert _bottom_of(panel, "Number 19") > high


def _bottom_of(panel: FindingsPanel, words: str) -> int:
    """How far down these words stand on the unscrolled page, pixels."""
    cursor = panel.page.document().find(words)
    assert not cursor.isNull()
    return panel.page.cursorRect(cursor).bottom()


def _of(part: str, figure: str) -> Text:
    return text("{name} {figure}", name=part, figure=text(figure))


def _of_two(*figures: Figure) -> Finding:
    return replace(finding(), about=("AIL-L", "0001", "AIL-R", "0002"), figures=figures)


def test_equal_numbers_of_a_pair_share_a_row_and_others_do_not() -> None:
    left, right = (
        replace(LOAD, name=_of("AIL-L", "hinge moment")),
        replace(LOAD, name=_of("AIL-R", "hinge moment")),
    )
    heavier = replace(right, name=_of("AIL-R", "stall torque"), expected=0.9)
    gathered = _of_two(left, replace(left, name=_of("AIL-L", "stall torque")), right, heavier)
    rows = figure_rows(gathered, SI_TRADE)
    assert [(at, name) for at, name, _shown, _basis in rows] == [
        (0, "AIL-L and AIL-R: hinge moment"),
        (1, "AIL-L: stall torque"),
        (3, "AIL-R: stall torque"),
    ]
    assert "how:3" in finding_html(gathered, SI_TRADE, LIGHT)


def test_equal_numbers_that_name_no_part_stay_apart() -> None:
    rows = figure_rows(_of_two(LOAD, LOAD), SI_TRADE)
    assert [(at, name) for at, name, *_ in rows] == [(0, "Hinge moment"), (1, "Hinge moment")]


def test_a_working_shows_formula_inputs_basis_and_source() -> None:
    text = working_html(LOAD, SI_TRADE)
    for words in ("pressure x area", "60 mm", "measured", "typical for the class", "a book", "estimate"):
        assert words in text


def test_a_number_of_a_finding_answers_how(panel: FindingsPanel, desk: Desk, qtbot: QtBot) -> None:
    working = WorkingPanel(desk)
    qtbot.addWidget(working)
    chosen = next(other_finding for other_finding in panel.findings if other_finding.figures)
    panel.table.choose_row((chosen.aircraft, chosen.rule, chosen.about, chosen.message))
    with qtbot.waitSignal(desk.how_asked) as asked:
        panel.page.anchorClicked.emit(QUrl("how:0"))
    assert asked.args == [chosen.figures[0]]
    assert str(chosen.figures[0].working.formula) in working.page.toPlainText()


def test_a_finding_is_accepted_in_writing_and_the_acceptance_is_undone(
    panel: FindingsPanel, desk: Desk
) -> None:
    chosen = panel.table.current_row
    until = TODAY + timedelta(days=12)
    panel.strip.until.setText(f"{until.day}.{until.month}.{until.year}")
    panel.strip.reason.setText("trial hop only")
    panel.strip.give.click()
    accepted = next(
        other_finding
        for other_finding in panel.findings
        if (other_finding.rule, other_finding.about) == (chosen.rule, chosen.about)
    )
    assert accepted.accepted_until == until
    assert accepted.accepted_because == "trial hop only"
    assert str(desk.undo_label) == f"Accept {chosen.rule}"
    desk.undo()
    assert not desk.records(Acceptance)


def test_an_accepted_finding_does_not_count_and_can_be_taken_back(panel: FindingsPanel, desk: Desk) -> None:
    before = count_levels(panel.findings)
    chosen = panel.table.current_row
    panel.strip.reason.setText("known")
    panel.strip.give.click()
    assert count_levels(panel.findings)[chosen.level] == before[chosen.level] - 1
    panel.table.choose_row((chosen.aircraft, chosen.rule, chosen.about, chosen.message))
    assert not panel.strip.take_back.isHidden()
    panel.strip.take_back.click()
    assert count_levels(panel.findings) == before


def test_accepting_without_a_reason_is_refused(panel: FindingsPanel, desk: Desk, qtbot: QtBot) -> None:
    with qtbot.waitSignal(desk.trouble) as blocker:
        panel.strip.give.click()
    assert "reason is empty" in str(blocker.args[0])
    assert not desk.records(Acceptance)


def test_accepting_until_a_past_day_is_refused(panel: FindingsPanel, desk: Desk, qtbot: QtBot) -> None:
    panel.strip.reason.setText("known")
    panel.strip.until.setText("1.1.2001")
    with qtbot.waitSignal(desk.trouble) as blocker:
        panel.strip.give.click()
    assert "past" in str(blocker.args[0])


def test_the_worst_open_level_counts() -> None:
    assert worst_level(()) is None
    assert worst_level((finding(level=Level.CANT_TELL), finding(level=Level.CAUTION))) is Level.CAUTION


def test_a_difference_tells_what_came_and_went() -> None:
    one, other = finding("one"), finding("other")
    difference = Difference.between((one,), (other,))
    assert (difference.gone, difference.new) == ((one,), (other,))
    assert difference_words(difference) == "The last edit: 1 gone, 1 new. other at RUD <here>"
    assert difference_words(Difference()) == "The last edit changed no finding."


def test_the_snag_sheet_lists_the_whole_fleet_and_filters(desk: Desk, qtbot: QtBot) -> None:
    sheet = SnagSheet(desk)
    qtbot.addWidget(sheet)
    for code in desk.codes():
        desk.judgement(code)
    sheet.read_again()
    sheet.order.setCurrentIndex(1)
    sheet.read_again()
    everything = sheet.panel.findings
    assert {other_finding.aircraft for other_finding in everything} == {"LARK", "WREN"}
    assert [other_finding.level.rank for other_finding in everything] == sorted(
        other_finding.level.rank for other_finding in everything
    )
    sheet.levels[Level.WARNING].setChecked(False)
    assert all(other_finding.level is not Level.WARNING for other_finding in sheet.panel.findings)
    sheet.levels[Level.WARNING].setChecked(True)
    sheet.filter.setText("RUD")
    shown = sheet.panel.table.model().rowCount()
    assert 0 < shown < len(everything)


def test_accepted_findings_are_shown_when_asked_for(desk: Desk, qtbot: QtBot) -> None:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    sheet = SnagSheet(desk)
    qtbot.addWidget(sheet)
    sheet.panel.strip.reason.setText("known")
    sheet.panel.strip.give.click()
    desk.judgement(CODE)
    sheet.read_again()
    without = len(sheet.panel.findings)
    sheet.with_accepted.setChecked(True)
    assert len(sheet.panel.findings) == without + 1


def test_after_accepting_the_cursor_is_on_the_next_finding_with_no_reason_written(
    desk: Desk, qtbot: QtBot
) -> None:
    for code in desk.codes():
        desk.judgement(code)
    sheet = SnagSheet(desk)
    qtbot.addWidget(sheet)
    table = sheet.panel.table
    shown = [table.model().index(row, 0).data(ROW_ROLE) for row in range(3)]
    table.choose_place(1)
    sheet.panel.strip.reason.setText("known")
    sheet.panel.strip.give.click()
    sheet.read_again()
    desk.judgement(shown[1].aircraft)
    sheet.read_again()
    assert finding_key(table.current_row) == finding_key(shown[2])
    assert sheet.panel.strip.reason.text() == ""


def test_the_cursor_stays_on_a_finding_while_an_edit_of_its_aircraft_is_worked_out(
    desk: Desk, qtbot: QtBot
) -> None:
    for code in desk.codes():
        desk.judgement(code)
    sheet = SnagSheet(desk)
    qtbot.addWidget(sheet)
    table = sheet.panel.table
    table.choose_place(table.model().rowCount() - 1)
    chosen = table.current_row
    airframe = next(airframe for airframe in desk.records(Airframe) if airframe.code == chosen.aircraft)
    desk.edit("rename", lambda edit: edit.put(replace(airframe, name="Another name")))
    assert desk.known(chosen.aircraft) is None
    sheet.read_again()
    assert finding_key(table.current_row) == finding_key(chosen)
    sheet.panel.strip.reason.setText("half wri")
    desk.judgement(chosen.aircraft)
    sheet.read_again()
    assert finding_key(table.current_row) == finding_key(chosen)
    assert sheet.panel.strip.reason.text() == "half wri"


def test_findings_stand_under_what_may_cure_them(desk: Desk, qtbot: QtBot) -> None:
    for code in desk.codes():
        desk.judgement(code)
    sheet = SnagSheet(desk)
    qtbot.addWidget(sheet)
    table, shown = sheet.panel.table, sheet.panel.findings
    heads = {row: table.head_over(row) for row in range(len(shown)) if table.head_over(row)}
    assert heads[0]
    starts = [*heads, len(shown)]
    for start, end in itertools.pairwise(starts):
        group = shown[start:end]
        assert len({other_finding.aircraft for other_finding in group}) == 1
        ranks = [other_finding.level.rank for other_finding in group]
        assert ranks == sorted(ranks)
        counted = re.search(r"may clear (\d+)", heads[start])
        if counted:
            assert int(counted.group(1)) == len(group)
        else:
            assert "by hand" in heads[start] or "to find out" in heads[start]
        heights = [table.rowHeight(row) for row in range(start, end)]
        assert heights[0] == table.verticalHeader().defaultSectionSize() + table.head_high
        assert all(high < heights[0] for high in heights[1:])
    table.sortByColumn(0, Qt.SortOrder.AscendingOrder)
    assert not any(table.head_over(row) for row in range(len(shown)))


def test_a_cell_of_the_matrix_lists_what_it_counts(desk: Desk, qtbot: QtBot) -> None:
    for code in desk.codes():
        desk.judgement(code)
    sheet = SnagSheet(desk)
    qtbot.addWidget(sheet)
    sheet.resize(1300, 700)
    sheet.show()
    sheet.read_again()
    every, matrix = sheet.panel.findings, sheet.matrix
    assert matrix.isVisible()
    counted = 0
    for row in range(matrix.rowCount()):
        for column, system in enumerate(System):
            matrix.setCurrentCell(row, column)
            only = sheet.panel.findings
            counted += len(only)
            assert {(other_finding.aircraft, system_of(other_finding)) for other_finding in only} <= {
                (desk.codes()[row], system)
            }
            assert desk.codes()[row] in sheet.message.text()
    assert counted == len(every)
    QTest.keyClick(matrix, Qt.Key.Key_Escape)
    assert sheet.panel.findings == every
    assert sheet.message.text() == ""


def test_every_family_of_checks_has_its_system() -> None:
    families = {rule.family for rule in all_rules().values()}
    assert families == set(_SYSTEM_OF)


def test_one_supply_stands_for_all_that_it_may_cure() -> None:
    case = demo_case("MER60")
    groups = by_cure(case.findings, {"MER60": case.aircraft})
    supply = next(group for group in groups if group.cure is Cure.SUPPLY)
    assert len(supply.findings) == max(len(group.findings) for group in groups if group.cure)
    assert all(
        Cure.SUPPLY in (all_rules()[other_finding.rule].cures or ()) for other_finding in supply.findings
    )
    assert sorted(other_finding.rule for group in groups for other_finding in group.findings) == sorted(
        other_finding.rule for other_finding in case.findings
    )
