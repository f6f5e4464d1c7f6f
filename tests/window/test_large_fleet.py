"""What the window does for one aircraft does not grow with the fleet; times are in the benchmarks."""

from __future__ import annotations

import weakref
from collections import Counter
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pytestqt.qtbot import QtBot

from hangar.acts import session as session_module
from hangar.acts.session import Session
from hangar.answers.judging import JudgingBasis, PutAside, judge_aircraft
from hangar.base.late_text import LateText
from hangar.parts import Airframe, Flight
from hangar.rules.finding import Level
from hangar.sheets import SheetStyle
from hangar.store import Fleet
from hangar.survey import Survey, survey
from hangar.window.flight_line import before_day
from hangar.window.flight_line.before_day import MOST_ACTS, acts_to_do
from hangar.window.flight_line.card_filter import CardFilter
from hangar.window.flight_line.flight_line import FlightLine
from hangar.window.kit.desk import Desk
from hangar.window.kit.due_strip import DueStrip
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.log.logbook_tables import LogbookTables
from hangar.window.paper.print_dialog import sheet_work
from hangar.window.records import changes_dialog
from hangar.window.records.changes_dialog import ChangesDialog
from tests.demo_copies import TODAY, demo_copy


@pytest.fixture
def fleet() -> Iterator[Fleet]:
    with demo_copy() as opened:
        yield opened


@pytest.fixture
def desk(fleet: Fleet, tmp_path: Path, qtbot: QtBot) -> Iterator[Desk]:
    at_work = Desk(fleet, ViewSettings(tmp_path / "window.ini"))
    yield at_work
    at_work.stop()


def counted(monkeypatch: pytest.MonkeyPatch, owner: type, name: str, calls: Counter[str]) -> None:
    """Count the calls of a method."""
    method: Any = getattr(owner, name)

    def call(self: Any, *given: Any, **more: Any) -> Any:
        calls[name] += 1
        return method(self, *given, **more)

    monkeypatch.setattr(owner, name, call)


def test_one_card_is_made_for_one_judgement_and_for_one_edit(
    desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: Counter[str] = Counter()
    for owner, name in ((FlightLine, "_card"), (CardFilter, "chosen_of"), (Fleet, "aircraft_codes")):
        counted(monkeypatch, owner, name, calls)
    line = FlightLine(desk)
    qtbot.addWidget(line)
    codes = desk.codes()
    assert calls["_card"] == len(codes)
    calls.clear()
    for code in codes:
        desk.judgement(code)
    # The whole list is put in order once, when the last one is judged.
    assert calls == {"_card": len(codes), "chosen_of": 1}
    calls.clear()
    airframe = desk.aircraft(codes[0]).airframe
    desk.edit("Name it", lambda edit: edit.put(replace(airframe, name="Another name")))
    assert calls["_card"] == 1
    assert "Another name" in [card.name for card in line.list.cards]
    assert [card.code for card in line.list.cards if card.verdict == "Looking it over…"] == [codes[0]]


def test_the_changes_of_an_aircraft_are_read_for_their_open_table_only(
    desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: Counter[str] = Counter()
    counted(monkeypatch, Fleet, "history", calls)
    page = LogbookTables(desk)
    qtbot.addWidget(page)
    code = desk.codes()[0]

    def name_it(name: str) -> None:
        frame = desk.aircraft(code).airframe
        desk.edit("Name it", lambda edit: edit.put(replace(frame, name=name)))
        judgement = desk.judgement(code)
        assert judgement is not None
        page.show_judgement(judgement)

    name_it("One")
    assert not calls
    assert page.history is not None
    page.setCurrentWidget(page.history)
    rows = page.history.rows_model.rowCount()
    assert (calls["history"], rows) == (1, len(desk.fleet.history(aircraft=code)))
    calls.clear()
    name_it("Two")
    assert (calls["history"], page.history.rows_model.rowCount()) == (1, rows + 1)
    page.setCurrentWidget(page.screens[Flight])
    calls.clear()
    name_it("Three")
    assert not calls
    page.setCurrentWidget(page.history)
    assert page.history.rows_model.rowCount() == rows + 2


def test_other_units_make_every_card_anew(desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch) -> None:
    line = FlightLine(desk)
    qtbot.addWidget(line)
    calls: Counter[str] = Counter()
    counted(monkeypatch, FlightLine, "_card", calls)
    desk.view.changed.emit()
    assert calls["_card"] == len(desk.codes())


def test_what_has_no_room_below_the_cards_is_counted_and_the_soonest_due_is_shown(
    desk: Desk, qtbot: QtBot
) -> None:
    line = FlightLine(desk)
    qtbot.addWidget(line)
    line.resize(1300, 700)
    line.show()
    judged = [judgement for judgement in map(desk.judgement, desk.codes()) if judgement and judgement.due]
    line._show_around()
    assert line.due_title.text() == "What comes due"
    high = line.due._line_high
    line.due_pane.setMaximumHeight(round(2 * line.due_title.sizeHint().height() + high * (2.3 + 2 * 1.2) + 1))
    line._show_around()
    soonest = sorted(judged, key=lambda judgement: judgement.due[0].days)[:2]
    assert set(line.due._lanes) == {judgement.aircraft.code for judgement in soonest}
    assert line.due_title.text() == (
        f"What comes due on the 2 of {len(judged)} aircraft on which it is due first"
    )


def test_the_lines_of_a_calendar_that_has_room_for_all_are_found_where_they_are_drawn(
    desk: Desk, qtbot: QtBot
) -> None:
    strip = DueStrip(desk.view)
    qtbot.addWidget(strip)
    strip.resize(600, 100)
    assert strip.lanes_in(strip._line_high * (2.3 + 5 * 1.2) + 1) == 5
    assert strip.lanes_in(0) == 1


def test_figures_of_aircraft_beyond_a_number_are_put_aside_and_come_back_the_same(
    fleet: Fleet, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(session_module, "MOST_WHOLE", 2)
    session = Session(fleet)
    codes = session.codes()
    first = session.judgement(codes[0])
    assert first is not None
    for code in codes[1:]:
        session.judgement(code)
    known = session.known(codes[0])
    assert isinstance(known, PutAside)
    assert (known.findings, known.due, known.aircraft) == (first.findings, first.due, first.aircraft)
    assert repr(known.survey) == repr(first.survey)
    assert sum(not isinstance(session.known(code), PutAside) for code in codes) == 2
    again = session.judgement(codes[0])
    assert again is not None
    assert not isinstance(again, PutAside)
    assert again.findings == first.findings
    assert session.known(codes[0]) is again
    assert isinstance(session.known(codes[-2]), PutAside)


def test_a_sheet_of_the_fleet_asks_for_no_figures_that_were_put_aside(
    desk: Desk, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    monkeypatch.setattr(session_module, "MOST_WHOLE", 2)
    codes, calls = desk.codes(), Counter[str]()

    def figures(judgement: PutAside) -> Survey:
        calls["figures"] += 1
        return survey(judgement.aircraft, judgement.conditions)

    monkeypatch.setattr(PutAside, "survey", property(figures))
    for kind in ("fleet", "build"):
        sheet_work(desk, kind, codes, lambda club: SheetStyle(club=club), with_photo=False)(
            tmp_path / "a.pdf"
        )
        assert calls["figures"] == (0 if kind == "fleet" else len(codes) - 2)


def test_what_is_put_aside_holds_no_figures_by_a_sentence_that_nobody_read(fleet: Fleet) -> None:
    aircraft = fleet.aircraft("CIND", today=TODAY)
    judged = judge_aircraft(aircraft, JudgingBasis.of(fleet, TODAY))
    assert any(isinstance(finding.remedy, LateText) for finding in judged.findings)
    figures = weakref.ref(judged.survey)
    aside = PutAside(judged)
    del judged
    assert figures() is None
    assert all(str(finding.remedy) for finding in aside.findings)


def test_no_more_cures_are_put_into_words_than_are_shown(desk: Desk, monkeypatch: pytest.MonkeyPatch) -> None:
    calls: list[str] = []
    cure = before_day._cure

    def counted_cure(code: str, *rest: Any) -> before_day.ActToDo:
        calls.append(code)
        return cure(code, *rest)

    monkeypatch.setattr(before_day, "_cure", counted_cure)
    known = [judgement for judgement in map(desk.judgement, desk.codes()) if judgement]
    acts = acts_to_do(known * 3)
    assert len(acts) == MOST_ACTS == len(calls)
    assert acts[0].level is Level.WARNING
    assert acts[-1].why.count(";") <= before_day.MOST_DUE


def test_only_the_newest_changes_are_read_until_older_ones_are_asked_for(
    desk: Desk, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    code = desk.codes()[0]
    for number in range(3):
        write_note(desk, code, str(number))
    newest = desk.fleet.history(most=2)
    assert newest == desk.fleet.history()[:2]
    assert [change.after["notes"] for change in newest if change.after] == ["2", "1"]
    assert desk.fleet.history(Flight, most=2) == desk.fleet.history(Flight)[:2]
    monkeypatch.setattr(changes_dialog, "MOST_CHANGES", 2)
    dialog = ChangesDialog(desk)
    qtbot.addWidget(dialog)
    assert dialog.table.model().rowCount() == 2
    assert not dialog.older.isHidden()
    dialog.older.click()
    assert dialog.table.model().rowCount() == len(desk.fleet.history())
    assert dialog.older.isHidden()


def test_a_few_aircraft_are_read_one_by_one_and_many_in_one_go(
    fleet: Fleet, monkeypatch: pytest.MonkeyPatch
) -> None:
    calls: Counter[str] = Counter()
    for name in ("aircraft", "whole_fleet"):
        counted(monkeypatch, Fleet, name, calls)
    session = Session(fleet)
    assert len(session.read_all()) == len(session.codes())
    assert calls == {"whole_fleet": 1}
    session._aircraft.pop(session.codes()[0])
    session.read_all()
    assert calls == {"whole_fleet": 1, "aircraft": 1}


def write_note(desk: Desk, code: str, notes: str) -> None:
    """Change the notes of an aircraft."""
    desk.edit("Note it", lambda edit: edit.change(Airframe, (code,), notes=notes))
