"""Everything the planner can be asked is on the search page, and why-not answers for any type."""

from __future__ import annotations

from dataclasses import fields, replace
from functools import partial

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from hangar.answers.refit_limits import usual_limits
from hangar.base.errors import BadInput
from hangar.base.reader import languages
from hangar.parts import Plan, PlanLine
from hangar.parts.choices import PlanAction, PlanState
from hangar.refit import Limits
from hangar.window.kit.desk import Desk
from hangar.window.kit.words import speak
from hangar.window.kit.wrapping_tick import WrappingTick
from hangar.window.refit.front_page import FrontPage
from hangar.window.refit.refit_form import RefitForm
from hangar.window.refit.why_not import WhyNot
from hangar.window.start import application
from tests.window.conftest import CODE, servo_type

NOT_ASKED = {
    # Fineness of the answer, and what the workshop's settings say for every search alike.
    "set_points_v", "price_step", "mass_step_g", "margin_step_pct", "margin_cap_pct", "level_step_v",
    "most_shown", "conditions", "thresholds", "risk",
}  # fmt: skip


@pytest.fixture
def asking(desk: Desk, qtbot: QtBot) -> RefitForm:
    """The panel on the hand-made fleet, asking about its first aircraft."""
    panel = RefitForm(desk)
    qtbot.addWidget(panel)
    panel.aircraft.setCurrentIndex(panel.aircraft.findData(CODE))
    return panel


def tick(asking: RefitForm, position: str) -> None:
    for row in range(asking.kept.count()):
        if asking.kept.item(row).data(Qt.ItemDataRole.UserRole) == position:
            asking.kept.item(row).setCheckState(Qt.CheckState.Checked)


def test_a_panel_that_nobody_touched_asks_what_is_usual(asking: RefitForm, desk: Desk) -> None:
    assert asking.limits() == usual_limits(desk.basis())


def test_every_limit_of_the_planner_can_be_asked(asking: RefitForm, desk: Desk) -> None:
    asking.budget.setText("120")
    asking.mass.setText("35 g")
    asking.margin.setText("1,2")
    asking.volts.setText("4.8 V")
    asking.types.setText("2")
    asking.speed.setText("RUD 0.10; AIL-L 0.12 s")
    tick(asking, "AIL-L")
    asking.supply.click()
    asking.second.setCurrentIndex(asking.second.findData(True))
    asking.mixed.click()
    asking.gauges.setText("20")
    asking.lead_price.setText("7.5")
    asking.arm_price.setText("4")
    asked, usual = asking.limits(), usual_limits(desk.basis())
    assert asked == replace(
        usual, budget=120.0, mass_g=35.0, margin_factor=1.2, bus_v=4.8, most_types=2,
        transit_s={"RUD": 0.10, "AIL-L": 0.12}, locked=frozenset({"AIL-L"}), change_supply=False,
        second_pack=True, mix_new_and_used=False, gauges=(20,), lead_price=7.5, arm_price=4.0,
    )  # fmt: skip
    changed = {
        field.name for field in fields(Limits) if getattr(asked, field.name) != getattr(usual, field.name)
    }
    assert changed | NOT_ASKED == {field.name for field in fields(Limits)}


@pytest.mark.parametrize(("row", "choice"), [(0, None), (1, True), (2, False)])
def test_a_second_pack_is_a_choice_of_three(asking: RefitForm, row: int, choice: bool | None) -> None:
    asking.second.setCurrentIndex(row)
    assert asking.limits().second_pack is choice


def test_every_field_has_a_name_and_a_tooltip(asking: RefitForm) -> None:
    for _, widget, told in asking._fields():
        assert isinstance(widget, QWidget)
        assert widget.accessibleName()
        assert widget.toolTip() == told != ""


@pytest.mark.parametrize(
    ("field", "text", "words"),
    [
        ("budget", "-5", "-5 is less than nothing"),
        ("speed", "WING 0.1", '"WING 0.1" names no position'),
        ("speed", "RUD fast", '"RUD fast" is not a number'),
        ("gauges", "thick", '"thick" is not a number'),
    ],
)
def test_what_cannot_be_read_is_told_by_its_field(
    asking: RefitForm, field: str, text: str, words: str
) -> None:
    line = getattr(asking, field)
    line.setText(text)
    with pytest.raises(BadInput) as told:
        asking.limits()
    assert words in str(told.value)
    assert str(told.value).startswith(line.accessibleName())


def test_what_another_plan_reserves_is_said_and_forgotten_when_it_is_dropped(
    asking: RefitForm, desk: Desk
) -> None:
    assert asking.reserved.isHidden()
    line = PlanLine(
        plan="W", number=1, action=PlanAction.FIT_SERVO, place="X", part_type="TS-A", from_stock="S-003"
    )
    desk.change("Plan", lambda edit: edit.put(Plan(code="W", aircraft="WREN", title="W", lines=(line,))))
    asking.list_aircraft()
    assert "S-003 (W)" in asking.reserved.text()
    desk.change("Drop", lambda edit: edit.change(Plan, ("W",), state=PlanState.DROPPED))
    asking.list_aircraft()
    assert asking.reserved.isHidden()


def test_ticks_stay_while_the_list_of_aircraft_is_read_again(asking: RefitForm) -> None:
    tick(asking, "RUD")
    asking.list_aircraft()
    assert asking.ticked() == {"RUD"}
    asking.aircraft.setCurrentIndex(asking.aircraft.findData("WREN"))
    assert asking.ticked() == frozenset()


def _answers(why: WhyNot, code: str) -> bool:
    return why.answer.text().startswith(code)


def test_why_not_answers_for_every_type_of_the_library(desk: Desk, qtbot: QtBot) -> None:
    strong = replace(servo_type("TS-BIG", 1.2), price=30.0, mass_g=45.0)
    dear = replace(servo_type("TS-DEAR", 1.3), price=300.0, mass_g=45.0)
    for kind in (strong, dear):
        desk.change("Enter a type", partial(lambda edit, kind: edit.put(kind), kind=kind))
    page = FrontPage(desk)
    qtbot.addWidget(page)
    page.show()
    page.choose_aircraft(CODE)
    with qtbot.waitSignal(page.search.ended):
        QTest.mouseClick(page.start_button, Qt.MouseButton.LeftButton)
    assert page.front is not None
    at, point = next((at, one) for at, one in enumerate(page.front.points) if one.changes)
    page.chart.choose(at)
    why = page.why_not
    position = point.changes[0].place
    why.position.setCurrentText(str(position))
    library = desk.basis().library
    assert library is not None
    assert [why.servo.itemText(row) for row in range(why.servo.count())] == sorted(library.servo_types)
    for row in range(why.servo.count()):
        why.servo.setCurrentIndex(row)
        why.ask()
        code = why.servo.currentText()
        qtbot.waitUntil(partial(_answers, why, code))
        assert why.answer.text().endswith(".")
    chosen = next(line.part_type for line in point.changes if line.place == position)
    why.servo.setCurrentText(str(chosen))
    why.ask()
    assert why.answer.text() == f"{chosen} is what this refit has at {position}."


def test_no_field_lies_over_another(asking: RefitForm, qtbot: QtBot) -> None:
    asking.resize(260, 600)
    with qtbot.waitExposed(asking):
        asking.show()
    asking.list_aircraft()
    QTest.qWait(1)
    panel = asking.kept.parentWidget()
    assert panel is not None
    shown = [widget for widget in panel.children() if isinstance(widget, QWidget)]
    places = [widget.geometry() for widget in shown if widget.isVisible()]
    assert asking.kept.geometry() in places
    assert not [one for one in places for other in places if one is not other and one.intersects(other)]


@pytest.mark.parametrize("language", languages())
@pytest.mark.parametrize("points", [10.0, 15.0, 20.0])
def test_everything_asked_is_whole_however_large_the_text_and_in_either_language(
    desk: Desk, qtbot: QtBot, language: str, points: float
) -> None:
    app = application()
    speak(app, language)
    try:
        panel = RefitForm(desk)
        qtbot.addWidget(panel)
        font = panel.font()
        font.setPointSizeF(points)
        panel.setFont(font)
        with qtbot.waitExposed(panel):
            panel.show()
        for wide in (panel.minimumSizeHint().width(), panel.sizeHint().width()):
            panel.resize(wide, 600)
            QApplication.processEvents()
            sheet = panel._panel
            assert sheet.width() <= panel.viewport().width()
            assert not [
                part.accessibleName() or part.geometry()
                for part in (*sheet.findChildren(QLabel), *sheet.findChildren(WrappingTick))
                if part.isVisible() and part.height() < part.heightForWidth(part.width())
            ]
            assert panel.kept.height() >= 3 * panel.kept.sizeHintForRow(0)
    finally:
        speak(app, "en")


def test_a_tick_breaks_its_words_where_the_width_ends_and_joins_them_again(qtbot: QtBot) -> None:
    tick = WrappingTick("Spares and new ones may be mi&xed")
    qtbot.addWidget(tick)
    with qtbot.waitExposed(tick):
        tick.show()
    tick.resize(tick.minimumSizeHint().width(), 200)
    QApplication.processEvents()
    assert tick.text().replace("\n", " ") == tick.words
    assert tick.text().count("\n") >= 4
    assert tick.heightForWidth(tick.width()) > tick.sizeHint().height()
    tick.resize(tick.sizeHint().width(), 200)
    QApplication.processEvents()
    assert tick.text() == tick.words
