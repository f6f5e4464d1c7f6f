"""The Power screen: the picture shows what the survey says, box by box."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from hangar.parts import Feed, Regulator, RegulatorType, Switch, SwitchType
from hangar.parts.choices import RegulatorKind, SwitchKind
from hangar.store import Edit
from hangar.survey.model import Scenario
from hangar.window.desk import Desk
from hangar.window.judging import Judgement
from hangar.window.power_screen import PowerScreen
from hangar.window.supply_plan import supply_plan
from tests.window.conftest import CODE


def _fit_regulator(edit: Edit) -> None:
    edit.put(RegulatorType(code="R-A", regulator=RegulatorKind.LINEAR, drop_out_v=0.3, continuous_a=5))
    edit.put(SwitchType(code="SW-A", switch=SwitchKind.SLIDE, contact_mohm=20))
    edit.put(Regulator(aircraft=CODE, code="REG", regulator_type="R-A", set_v=5.4))
    edit.put(Switch(aircraft=CODE, code="SW-1", switch_type="SW-A"))
    edit.change(Feed, (CODE, "RX-A"), regulator="REG", switch="SW-1")


@pytest.fixture
def judgement(desk: Desk) -> Judgement:
    desk.change("Fit a regulator", _fit_regulator)
    found = desk.judgement(CODE)
    assert found is not None
    return found


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
    assert screen.table.model().setData(screen.table.cell("RX-A", "Output set"), "5.2 V")
    kept = desk.fleet.record(Regulator, CODE, "REG")
    assert kept is not None
    assert kept.set_v == 5.2
