"""The desk passes edits through the fleet and keeps judgements fresh."""

from __future__ import annotations

import threading
from dataclasses import replace

import pytest
from pytestqt.qtbot import QtBot

from hangar.answers.judging import Judgement, JudgingBasis, judge_aircraft
from hangar.base.errors import BadInput, HangarError
from hangar.base.units import IMPERIAL, SI_TRADE
from hangar.parts import Aircraft, Airframe, Linkage, Setting
from hangar.rules.finding import Level
from hangar.store import Edit, Fleet
from hangar.window.kit.desk import Desk
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import put
from tests.window.conftest import CODE, TODAY


def test_an_edit_tells_what_it_touched_and_can_be_undone(desk: Desk, qtbot: QtBot) -> None:
    with qtbot.waitSignal(desk.touched) as blocker:
        assert desk.edit("Rename", lambda edit: edit.change(Airframe, (CODE,), name="Skylark"))
    assert "airframe" in blocker.args[0]
    assert desk.aircraft(CODE).airframe.name == "Skylark"
    assert str(desk.undo_label) == "Rename"
    desk.undo()
    assert desk.aircraft(CODE).airframe.name == "Lark"
    assert str(desk.redo_label) == "Rename"
    desk.redo()
    assert desk.aircraft(CODE).airframe.name == "Skylark"


def test_a_refused_edit_tells_why_and_leaves_no_step(desk: Desk, qtbot: QtBot) -> None:
    before = desk.undo_label
    with qtbot.waitSignal(desk.trouble) as blocker:
        assert not desk.edit("Wrong", lambda edit: edit.change(Airframe, (CODE,), span_mm=-4))
    assert isinstance(blocker.args[0], BadInput)
    assert "allowed" in str(blocker.args[0])
    assert str(desk.undo_label) == before
    assert desk.aircraft(CODE).airframe.span_mm == 1500


def test_change_raises_what_edit_tells(desk: Desk) -> None:
    with pytest.raises(HangarError):
        desk.change("Wrong", lambda edit: edit.change(Airframe, (CODE,), span_mm=-4))


def test_an_edit_of_a_linkage_gives_fresh_findings_and_their_difference(desk: Desk) -> None:
    before = desk.judgement(CODE)
    assert before is not None
    assert any(finding.level is Level.WARNING for finding in before.about("RUD"))
    assert desk.difference(CODE) is None

    def eased(edit: Edit) -> None:
        edit.change(Linkage, (CODE, "RUD"), arm_mm=14, horn_mm=26)
        edit.change(Airframe, (CODE,), level_speed_m_s=None, dive_speed_m_s=8)

    desk.edit("Longer horn and less speed", eased)
    after = desk.judgement(CODE)
    assert after is not None
    margins = [judgement.survey.positions["RUD"].torque_share for judgement in (before, after)]
    assert margins[0] is not None
    assert margins[1] is not None
    assert margins[1].expected < margins[0].expected / 1.2
    difference = desk.difference(CODE)
    assert difference is not None
    assert difference.gone
    assert not {finding.message for finding in difference.gone} & {
        finding.message for finding in after.findings
    }


def test_an_edit_elsewhere_keeps_what_was_worked_out(desk: Desk) -> None:
    before = desk.judgement("WREN")
    desk.edit("Shorter arm", lambda edit: edit.change(Linkage, (CODE, "RUD"), arm_mm=10))
    assert desk.judgement("WREN") is before


OTHER_SETTINGS = tuple(
    Setting(name=name, value=value)
    for name, value in (
        ("money.sign", "EUR"),
        ("club.name", "Larkenholt"),
        ("risk.warning", "7"),
        ("field-rules.left-out", '["airlines"]'),
    )
)


def test_a_setting_that_no_check_reads_judges_nothing_again(desk: Desk) -> None:
    before = [desk.judgement(code) for code in desk.codes()]
    desk.edit("Name things", lambda edit: edit.put_all(list(OTHER_SETTINGS)))
    assert [desk.judgement(code) for code in desk.codes()] == before
    assert all(
        desk.judgement(code) is judgement for code, judgement in zip(desk.codes(), before, strict=True)
    )
    assert {setting.name for setting in desk.basis().settings} == {setting.name for setting in OTHER_SETTINGS}
    desk.undo()
    assert desk.basis().settings == ()
    assert all(
        desk.judgement(code) is judgement for code, judgement in zip(desk.codes(), before, strict=True)
    )


def test_such_settings_change_no_finding(desk: Desk) -> None:
    basis = desk.basis()
    with_them = replace(basis, settings=OTHER_SETTINGS)
    for code in desk.codes():
        aircraft = desk.aircraft(code)
        assert judge_aircraft(aircraft, basis).findings == judge_aircraft(aircraft, with_them).findings


def test_a_limit_that_is_set_and_taken_back_judges_every_aircraft_again(desk: Desk) -> None:
    before = [desk.judgement(code) for code in desk.codes()]
    desk.edit("Limit", lambda edit: edit.put(Setting(name="threshold.torque-margin", value="400")))
    limited = [desk.judgement(code) for code in desk.codes()]
    assert all(judgement is not other for judgement, other in zip(before, limited, strict=True))
    desk.undo()
    assert all(
        desk.judgement(code) is not judgement for code, judgement in zip(desk.codes(), limited, strict=True)
    )


def test_all_aircraft_are_judged_in_the_background(desk: Desk, qtbot: QtBot) -> None:
    desk.start_judging()
    qtbot.waitUntil(lambda: all(desk.known(code) is not None for code in desk.codes()))


def test_the_fleet_is_judged_beside_the_thread_of_the_window(
    fleet: Fleet, view: ViewSettings, qtbot: QtBot
) -> None:
    threads = set()

    def judge(aircraft: Aircraft, basis: JudgingBasis) -> Judgement:
        threads.add(threading.current_thread())
        return judge_aircraft(aircraft, basis)

    desk = Desk(fleet, view, judge=judge, today=lambda: TODAY)
    desk.start_judging()
    qtbot.waitUntil(lambda: all(desk.known(code) is not None for code in desk.codes()))
    desk.stop()
    assert threads
    assert threading.main_thread() not in threads


def test_what_was_worked_out_of_an_aircraft_edited_meanwhile_is_not_kept(
    fleet: Fleet, view: ViewSettings, qtbot: QtBot
) -> None:
    judged: list[str] = []
    go_on = threading.Event()

    def judge(aircraft: Aircraft, basis: JudgingBasis) -> Judgement:
        judged.append(aircraft.airframe.name)
        assert go_on.wait(900)
        return judge_aircraft(aircraft, basis)

    desk = Desk(fleet, view, judge=judge, today=lambda: TODAY)
    desk.start_judging()
    qtbot.waitUntil(lambda: judged == ["Lark"])
    desk.edit("Rename", lambda edit: edit.change(Airframe, (CODE,), name="Skylark"))
    go_on.set()
    qtbot.waitUntil(lambda: desk.known(CODE) is not None)
    desk.stop()
    judgement = desk.known(CODE)
    assert judgement is not None
    assert judgement.aircraft.airframe.name == "Skylark"


def test_aircraft_read_before_are_not_read_again(fleet: Fleet, view: ViewSettings) -> None:
    read = fleet.whole_fleet(TODAY)
    desk = Desk(fleet, view, today=lambda: TODAY, read=read)
    assert all(known is given for known, given in zip(desk.read_all(), read, strict=True))


def test_an_aircraft_that_cannot_be_judged_is_told_of_once(
    fleet: Fleet, view: ViewSettings, qtbot: QtBot
) -> None:
    def broken(*_anything: object) -> Judgement:
        raise ZeroDivisionError("no area")

    desk = Desk(fleet, view, judge=broken, today=lambda: TODAY)
    troubles: list[Exception] = []
    desk.trouble.connect(troubles.append)
    assert desk.judgement(CODE) is None
    assert desk.judgement(CODE) is None
    assert [str(fault) for fault in troubles] == ["no area"]
    assert str(desk.failure(CODE)) == "no area"


def test_units_are_kept_with_the_fleet_and_can_be_undone(desk: Desk, view: ViewSettings) -> None:
    desk.choose_units(IMPERIAL)
    assert view.units == IMPERIAL
    other = Desk(desk.fleet, view, today=lambda: TODAY)
    assert other.view.units == IMPERIAL
    desk.undo()
    assert view.units == SI_TRADE


def test_other_units_write_the_same_judgement_in_other_words(desk: Desk) -> None:
    before = desk.judgement(CODE)
    assert before is not None
    metric = [put(finding.message) for finding in before.findings]
    desk.choose_units(IMPERIAL)
    assert desk.judgement(CODE) is before
    inch = [put(text) for finding in before.findings for text in (finding.message, finding.remedy)]
    assert any("ozf" in words for words in inch)
    assert not any("ozf" in words for words in metric)
