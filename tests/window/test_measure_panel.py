"""Worth measuring next: the list comes from the rules, each line says why and opens its field."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from pytestqt.qtbot import QtBot

from hangar.base.text import text
from hangar.parts import KIND_BY_NAME
from hangar.rules.finding import Level
from hangar.rules.measure_next import Change, measure_next
from hangar.window.airframe.airframe_folder import AirframeFolder
from hangar.window.findings.measure_panel import (
    MOST,
    MeasurePanel,
    NoLongerWantedError,
    Turn,
    change_words,
    reason_words,
    worth_measuring,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.strip import StripPages
from hangar.window.records.field_dialog import FieldDialog
from tests.window.conftest import CODE


@pytest.fixture
def panel(desk: Desk, qtbot: QtBot) -> Iterator[MeasurePanel]:
    folder = AirframeFolder(desk)
    qtbot.addWidget(folder)
    folder.open_page(folder.snags)
    with qtbot.waitExposed(folder):
        folder.show()
    folder.show_aircraft(CODE)
    made = folder.snags.measure
    qtbot.waitUntil(lambda: bool(made.measurements) and not made.is_asking)
    yield made
    folder.close()


def test_a_list_that_is_no_longer_wanted_ends_at_its_next_trial(desk: Desk) -> None:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    asked: list[int] = []

    def heed() -> None:
        asked.append(len(asked))
        if len(asked) == 3:
            raise RuntimeError("no longer")

    with pytest.raises(RuntimeError, match="no longer"):
        worth_measuring(judgement, desk.basis(), heed)
    turn = Turn()
    first = turn.begin()
    first()
    turn.begin()()
    with pytest.raises(NoLongerWantedError):
        first()


def test_the_list_is_what_the_rules_rank(panel: MeasurePanel, desk: Desk) -> None:
    judgement = desk.judgement(CODE)
    assert judgement is not None
    ranked = measure_next(
        judgement.aircraft, judgement.survey.conditions, library=desk.basis().library, most=MOST
    )
    assert [row.words for row in panel.measurements] == [row.words for row in ranked]
    assert all(reason_words(row) for row in panel.measurements)


def test_its_tab_counts_the_lines(panel: MeasurePanel, desk: Desk) -> None:
    lists = next(pages for pages in panel.window().findChildren(StripPages) if pages.indexOf(panel) >= 0)
    titles = [lists.tabText(at) for at in range(lists.count())]
    assert titles == ["Snags", f"Worth measuring next ({len(panel.measurements)})"]


def test_another_aircraft_never_shows_the_list_of_the_one_before(
    panel: MeasurePanel, desk: Desk, qtbot: QtBot
) -> None:
    other = desk.judgement("WREN")
    assert other is not None
    panel.show_judgement(other)
    assert panel.is_asking
    assert list(panel.measurements) == []
    assert not panel.enter_button.isEnabled()
    assert panel.open_field() is None
    qtbot.waitUntil(lambda: not panel.is_asking)
    assert not [row.words for row in panel.measurements if CODE in row.key]


def test_a_measured_value_is_entered_from_the_list_and_undone(
    panel: MeasurePanel, desk: Desk, qtbot: QtBot
) -> None:
    row = next(measurement for measurement in panel.measurements if measurement.kind and measurement.tried)
    panel.table.choose_row((row.words, row.field))
    dialog = panel.open_field()
    assert isinstance(dialog, FieldDialog)
    assert dialog.how.text() == str(row.how)
    editor = dialog.form.editor(row.field).editor
    kind = KIND_BY_NAME[row.kind]
    if hasattr(editor, "setText"):
        editor.setText(str(row.tried[0]))
    else:
        editor.setCurrentIndex(1)
    dialog.save()
    kept = desk.fleet.record(kind, *row.key)
    assert getattr(kept, row.field) is not None
    qtbot.waitUntil(lambda: not panel.is_asking)
    assert row.words not in {measurement.words for measurement in panel.measurements}
    desk.undo()
    assert getattr(desk.fleet.record(kind, *row.key), row.field) is None
    qtbot.waitUntil(lambda: not panel.is_asking)


def test_what_cannot_be_read_is_refused_beside_the_field(panel: MeasurePanel, desk: Desk) -> None:
    from hangar.parts import Airframe

    record = desk.fleet.record(Airframe, CODE)
    assert record is not None
    dialog = FieldDialog(desk, record, "mean_chord_mm", "", panel)
    editor = dialog.form.editor("mean_chord_mm")
    editor.editor.setText("wide")  # type: ignore[union-attr]
    dialog.save()
    assert editor.refusal
    assert dialog.result() == 0
    assert desk.fleet.record(Airframe, CODE) == record
    dialog.deleteLater()


def test_each_change_says_in_words_what_may_happen() -> None:
    def words(before: Level | None, after: Level | None) -> str:
        return change_words(Change("x", text("Torque short"), "AIL-L", before, after))

    assert words(Level.CAUTION, Level.WARNING) == "Torque short, AIL-L: Caution → Warning"
    assert words(None, Level.CAUTION) == "Torque short, AIL-L may come as Caution"
    assert words(Level.WARNING, None) == "Torque short, AIL-L may go"
    assert words(Level.CANT_TELL, None) == "Torque short, AIL-L can be told"
