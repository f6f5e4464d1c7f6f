"""The Power screen: the picture shows what the survey says, box by box."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QSizeF
from PySide6.QtGui import QFont, QFontMetricsF
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from hangar.answers.finding_groups import System, system_of
from hangar.answers.judging import Judgement
from hangar.base.figure import Figure
from hangar.base.text import text
from hangar.base.units import SI_TRADE
from hangar.parts import Feed, Receiver, Regulator, RegulatorType, Switch, SwitchType
from hangar.parts.choices import RegulatorKind, SwitchKind
from hangar.rules.finding import Level
from hangar.store import Edit
from hangar.survey.model import Scenario
from hangar.window.kit.desk import Desk
from hangar.window.power.power_page import PowerPage
from hangar.window.power.power_screen import PowerScreen
from hangar.window.power.supply_places import (
    BUS,
    PACK,
    REGULATOR,
    SERVO,
    SupplyBox,
    SupplyPlan,
    SupplyWire,
    layout_of,
    supply_plan,
)
from tests.window.conftest import CODE, judged


def _fit_regulator(edit: Edit) -> None:
    edit.put(RegulatorType(code="R-A", regulator=RegulatorKind.LINEAR, drop_out_v=0.3, continuous_a=5))
    edit.put(SwitchType(code="SW-A", switch=SwitchKind.SLIDE, contact_mohm=20))
    edit.put(Regulator(aircraft=CODE, code="REG", regulator_type="R-A", set_v=5.4))
    edit.put(Switch(aircraft=CODE, code="SW-1", switch_type="SW-A"))
    edit.change(Feed, (CODE, "RX-A"), regulator="REG", switch="SW-1")


@pytest.fixture
def judgement(desk: Desk) -> Judgement:
    desk.change("Fit a regulator", _fit_regulator)
    return judged(desk)


@pytest.fixture
def screen(desk: Desk, judgement: Judgement, qtbot: QtBot) -> Iterator[PowerScreen]:
    made = PowerScreen(desk)
    qtbot.addWidget(made)
    made.resize(1000, 700)
    made.show()
    made.show_judgement(judgement)
    yield made
    made.close()


def test_the_wires_run_from_pack_to_servo(judgement: Judgement) -> None:
    plan = supply_plan(judgement.aircraft, judgement.survey, Scenario.PEAK)
    joined = [(wire.start, wire.end) for wire in plan.wires]
    assert joined == [
        ("pack B-01", "switch SW-1"),
        ("switch SW-1", "regulator REG"),
        ("regulator REG", "bus"),
        ("bus", "servo AIL-L"),
        ("bus", "servo RUD"),
    ]


def test_every_number_of_the_load_case_is_on_the_picture(screen: PowerScreen, judgement: Judgement) -> None:
    case = judgement.survey.scenarios[Scenario.PEAK]
    shown = {word.figure.name for word in screen.picture.words}
    assert case.bus_v is not None
    assert case.bus_v.name in shown
    figures = [word.figure for word in screen.picture.words]
    assert case.path_a["RX-A"] in figures
    assert judgement.survey.positions["RUD"].servo_v[Scenario.PEAK] in figures


def test_another_load_case_shows_other_numbers(screen: PowerScreen) -> None:
    peak = [word.figure.expected for word in screen.picture.words]
    screen.case_box.setCurrentIndex(list(Scenario).index(Scenario.IDLE))
    idle = [word.figure.expected for word in screen.picture.words]
    assert screen.scenario is Scenario.IDLE
    assert peak != idle


def test_boxes_do_not_overlap(screen: PowerScreen) -> None:
    boxes = list(screen.picture._places.values())
    for at, box in enumerate(boxes):
        assert not any(box.intersects(other) for other in boxes[:at])


def test_a_number_on_the_picture_answers_how(screen: PowerScreen, desk: Desk, qtbot: QtBot) -> None:
    word = screen.picture.words[0]
    with qtbot.waitSignal(desk.how_asked) as asked:
        word.how_asked.emit(word.figure)
    assert asked.args == [word.figure]


def test_the_regulator_is_set_in_the_table(screen: PowerScreen, desk: Desk) -> None:
    assert screen.table.model().setData(screen.table.cell("RX-A", "Set volts"), "5.2 V")
    kept = desk.fleet.record(Regulator, CODE, "REG")
    assert kept is not None
    assert kept.set_v == 5.2


@pytest.mark.parametrize("scenario", [Scenario.IDLE, Scenario.PEAK])
def test_every_branch_is_drawn_with_its_volts_and_amps(judgement: Judgement, scenario: Scenario) -> None:
    plan = supply_plan(judgement.aircraft, judgement.survey, scenario)
    for box in plan.boxes:
        units = {figure.unit for _words, figure in box.values}
        assert {"V", "A"} <= units, box.name
    case = judgement.survey.scenarios[scenario]
    drawn = [figure for box in plan.boxes for _words, figure in box.values]
    drawn += [wire.current for wire in plan.wires if wire.current is not None]
    assert [figure for figure in case.servo_a.values() if figure not in drawn] == []
    assert case.regulator_a["RX-A"] in drawn


def _many_servos(count: int) -> SupplyPlan:
    def figure(value: float, unit: str) -> Figure:
        return Figure(text("number"), value, unit)

    boxes = [
        SupplyBox("pack B-01", PACK, "B-01  (RX-A)", "LiFe 2S 2300 mAh", (("", figure(6.4, "V")),)),
        SupplyBox("regulator R", REGULATOR, "R", "R5, set 6 V, regulating", (("in", figure(6.3, "V")),)),
        SupplyBox("bus", BUS, "Bus", "RX12", (("bus", figure(5.9, "V")), ("total", figure(21.5, "A")))),
    ]
    wires = [SupplyWire("pack B-01", "regulator R"), SupplyWire("regulator R", "bus", figure(21.5, "A"))]
    for at in range(count):
        values = (("", figure(5.71, "V")), ("", figure(0.92, "A")))
        boxes.append(SupplyBox(f"servo S{at}", SERVO, f"AIL-{at}", "Aileron", values))
        wires.append(SupplyWire("bus", f"servo S{at}"))
    return SupplyPlan(tuple(boxes), tuple(wires))


@pytest.fixture
def text_of_15_points(qapp: QApplication) -> Iterator[None]:
    before = qapp.font()
    larger = QFont(before)
    larger.setPointSizeF(15)
    qapp.setFont(larger)
    yield
    qapp.setFont(before)


@pytest.mark.usefixtures("text_of_15_points")
@pytest.mark.parametrize("room", [QSizeF(1060, 420), QSizeF(1500, 700), QSizeF(500, 200)])
@pytest.mark.parametrize("servos", [4, 9, 24])
def test_boxes_of_many_servos_never_overlap_in_large_text(room: QSizeF, servos: int) -> None:
    plan = _many_servos(servos)
    layout = layout_of(plan, SI_TRADE, room)
    assert set(layout.places) == {box.name for box in plan.boxes}
    places = list(layout.places.values())
    for at, box in enumerate(places):
        assert not any(box.intersects(other) for other in places[:at])
    needed = QFontMetricsF(QApplication.font()).height()
    assert all(place.height() >= needed for place in places)


@pytest.mark.usefixtures("text_of_15_points")
def test_24_servos_stand_in_two_columns_whose_wires_run_free() -> None:
    plan = _many_servos(24)
    layout = layout_of(plan, SI_TRADE, QSizeF(1300, 520))
    servos = [layout.places[box.name] for box in plan.boxes if box.column == SERVO]
    columns = sorted({place.left() for place in servos})
    assert len(columns) == 2
    first = [place for place in servos if place.left() == columns[0]]
    for place in servos:
        if place.left() == columns[1]:
            y = place.center().y()
            assert not any(other.top() <= y <= other.bottom() for other in first)
    assert max(place.bottom() for place in servos) - min(place.top() for place in servos) <= 520


@pytest.mark.parametrize("room", [QSizeF(1300, 520), QSizeF(400, 120), QSizeF(60, 20), QSizeF(0, 0)])
def test_a_supply_without_a_servo_is_drawn_however_little_room_there_is(desk: Desk, room: QSizeF) -> None:
    desk.change("Enter a receiver", lambda edit: edit.put(Receiver(aircraft="WREN")))
    wren = desk.judgement("WREN")
    assert wren is not None
    plan = supply_plan(wren.aircraft, wren.survey, next(iter(Scenario)))
    assert [box.column for box in plan.boxes] == [BUS]
    assert set(layout_of(plan, SI_TRADE, room).places) == {"bus"}


def test_without_a_power_path_the_picture_has_the_room_and_not_an_empty_table(
    desk: Desk, qtbot: QtBot
) -> None:
    desk.change("Enter a receiver", lambda edit: edit.put(Receiver(aircraft="WREN")))
    wren = desk.judgement("WREN")
    assert wren is not None
    screen = PowerScreen(desk)
    qtbot.addWidget(screen)
    screen.resize(1000, 700)
    with qtbot.waitExposed(screen):
        screen.show()
    screen.show_judgement(wren)
    qtbot.waitUntil(lambda: screen.picture.height() > 2 * screen.table.height())


def test_the_page_opens_with_the_worst_of_the_supply(screen: PowerScreen, judgement: Judgement) -> None:
    supply = [
        open_finding for open_finding in judgement.open_findings if system_of(open_finding) is System.POWER
    ]
    if supply:
        worst = min(supply, key=lambda one: one.level.rank)
        assert screen.verdict.level is worst.level
        assert screen.verdict.sentence == str(worst.consequence or worst.message)
    else:
        assert screen.verdict.level is None


def test_a_pack_is_fitted_on_the_page(desk: Desk, qtbot: QtBot) -> None:
    made = PowerScreen(desk)
    qtbot.addWidget(made)
    made.resize(1250, 640)
    made.show()
    bare = desk.judgement("WREN")
    assert bare is not None
    made.show_judgement(bare)
    assert made.verdict.level is Level.CANT_TELL
    assert "No pack is fitted" in made.verdict.sentence
    # The panel stands open where there is nothing else to do.
    assert made.fit_button.isChecked()
    panel = made.fit_pack
    assert panel is not None
    panel.pack.setEditText("NiMH 5 cells 2000 mAh")
    panel.switch.setEditText("slide")
    panel.switch_kind.setCurrentIndex(0)
    panel.submit()
    assert panel.refusal.isHidden(), panel.refusal.text()
    assert [len(path.packs) for path in desk.aircraft("WREN").paths] == [1]
    assert desk.aircraft("WREN").paths[0].switch is not None
    desk.undo()
    assert not any(path.packs for path in desk.aircraft("WREN").paths)


def test_an_aircraft_without_packs_leads_on_to_the_panel(desk: Desk, qtbot: QtBot) -> None:
    page = PowerPage(desk)
    qtbot.addWidget(page)
    page.resize(1250, 700)
    page.show()
    bare = desk.judgement("WREN")
    assert bare is not None
    page.show_judgement(bare)
    page.setCurrentWidget(page.packs)
    assert page.packs.fit_button.isVisible()
    page.packs.fit_button.click()
    assert page.currentWidget() is page.supply
    assert page.supply.fit_pack is not None
    assert page.supply.fit_pack.isVisible()
