"""Shows the life story of a servo or pack; any table with a tag in it leads here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from typing import Any

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from hangar.base.kept_text import said_in
from hangar.parts import (
    BenchCheck,
    CapacityTest,
    Charge,
    Flight,
    Installation,
    LoadTest,
    Pack,
    PackFit,
    Record,
    Servo,
)
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import put, say, say_plural, sentence_case
from hangar.window.records.changes_dialog import changed_words
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView


@dataclass(frozen=True)
class StoryEvent:
    """One thing that happened to a part."""

    when: date
    what: str
    where: str = ""
    remark: str = ""


def life_story(desk: Desk, kind: type[Record], tag: str) -> tuple[StoryEvent, ...]:
    """Everything on record of a servo or pack, the newest first."""
    events = [*(_servo_events(desk, tag) if kind is Servo else _pack_events(desk, tag))]
    events += _changes(desk, kind, tag)
    return tuple(sorted(events, key=lambda event: event.when, reverse=True))


def _servo_events(desk: Desk, tag: str) -> Iterator[StoryEvent]:
    servo = desk.fleet.record(Servo, tag)
    yield from _beginnings(servo)
    if servo is not None and servo.tested_on is not None:
        yield StoryEvent(servo.tested_on, say("bench-tested"), remark=_test_words(desk, servo))
    for stay in desk.records(Installation, servo=tag):
        place = f"{stay.aircraft} {stay.position}"
        yield from _stay_events(stay.since_on, stay.until_on, place, stay.why, disputed=stay.disputed)
        for check in desk.records(BenchCheck, aircraft=stay.aircraft, position=stay.position):
            if _within(check.checked_at.date(), stay.since_on, stay.until_on):
                yield StoryEvent(
                    check.checked_at.date(), say("bench check"), place, _bench_words(desk, check)
                )
        yield from _hurts(desk, stay.aircraft, stay.since_on, stay.until_on)


def _pack_events(desk: Desk, tag: str) -> Iterator[StoryEvent]:
    units = desk.view.reader
    yield from _beginnings(desk.fleet.record(Pack, tag))
    for stay in desk.records(PackFit, pack=tag):
        yield from _stay_events(stay.since_on, stay.until_on, f"{stay.aircraft} {stay.feed}", None)
        yield from _hurts(desk, stay.aircraft, stay.since_on, stay.until_on)
    for test in desk.records(LoadTest, pack=tag):
        words = say(
            "{rest} at rest, {loaded} at {load}",
            rest=units.show(test.rest_v, "V", 3),
            loaded=units.show(test.loaded_v, "V", 3),
            load=units.show(test.load_a, "A", 2),
        )
        yield StoryEvent(test.tested_at.date(), say("load test"), test.aircraft or "", words)
    for capacity_test in desk.records(CapacityTest, pack=tag):
        shown = ((capacity_test.capacity_mah, "mAh"), (capacity_test.cell_mohm, "mohm"))
        words = ", ".join(units.show(value, unit) for value, unit in shown if value is not None)
        yield StoryEvent(capacity_test.tested_on, say("capacity test"), remark=words)
    for charge in desk.records(Charge, pack=tag):
        words = "" if charge.put_back_mah is None else units.show(charge.put_back_mah, "mAh")
        yield StoryEvent(charge.charged_at.date(), say("charge"), remark=words)


def _beginnings(part: Servo | Pack | None) -> Iterator[StoryEvent]:
    if part is not None and part.bought_on is not None:
        words = say("made or bought") if isinstance(part, Pack) else say("bought")
        yield StoryEvent(part.bought_on, words)


def _stay_events(
    since_on: date, until_on: date | None, place: str, why: str | None, *, disputed: bool = False
) -> Iterator[StoryEvent]:
    begun = say("said to be fitted, but it is recorded elsewhere too") if disputed else say("fitted")
    # The reason on a stay says why it ended; while it lasts it says why it began.
    yield StoryEvent(since_on, begun, place, (why or "") if until_on is None else "")
    if until_on is not None:
        days = (until_on - since_on).days
        words = say_plural("taken off after {count} day", "taken off after {count} days", count=days)
        yield StoryEvent(until_on, words, place, why or "")


def _hurts(desk: Desk, aircraft: str, since_on: date, until_on: date | None) -> Iterator[StoryEvent]:
    """Crashes and hard landings that the part went through."""
    for flight in desk.records(Flight, aircraft=aircraft):
        if (flight.crashed or flight.hard_landing) and _within(flight.flown_on, since_on, until_on):
            words = say("crash") if flight.crashed else say("hard landing")
            yield StoryEvent(flight.flown_on, words, aircraft, put(said_in(flight.remarks)))


def _within(when: date, since_on: date, until_on: date | None) -> bool:
    return since_on <= when and (until_on is None or when <= until_on)


def _test_words(desk: Desk, servo: Servo) -> str:
    units = desk.view.reader
    test_words = []
    if servo.play_deg is not None:
        test_words.append(say("free play {value}", value=units.show(servo.play_deg, "deg")))
    if servo.gear_condition is not None:
        test_words.append(say("gears {word}", word=say(str(servo.gear_condition))))
    if servo.sweep_clean is not None:
        test_words.append(say("clean sweep") if servo.sweep_clean else say("jitter or dead spot"))
    return ", ".join(test_words)


def _bench_words(desk: Desk, check: BenchCheck) -> str:
    units = desk.view.reader
    neutral, moving, end_a, end_b = (
        None if value is None else units.show(value, "mA")
        for value in (check.neutral_ma, check.moving_ma, check.end_a_ma, check.end_b_ma)
    )
    shown = (
        neutral and say("{value} at neutral", value=neutral),
        moving and say("{value} moving", value=moving),
        end_a and say("{value} at end A", value=end_a),
        end_b and say("{value} at end B", value=end_b),
    )
    parts = [words for words in shown if words]
    if check.jitter:
        parts.append(say("jitter"))
    return ", ".join(parts)


def _changes(desk: Desk, kind: type[Record], tag: str) -> Iterator[StoryEvent]:
    """Edits of the part's own record; stays and tests are told above."""
    for change in desk.fleet.history(kind, (tag,)):
        what = say("{label} (undone)", label=change.label) if change.undone else put(change.label)
        yield StoryEvent(
            change.when.date(),
            what,
            remark=changed_words(change.kind, change.before, change.after, desk.view.reader),
        )


def summary_words(desk: Desk, kind: type[Record], tag: str) -> str:
    """The part in one line: what it is, what it is doing, where."""
    record: Any = desk.fleet.record(kind, tag)
    if record is None:
        return say("There is no {what} {tag} on record.", what=say(kind.TITLE), tag=tag)
    stays = desk.records(Installation, servo=tag) if kind is Servo else desk.records(PackFit, pack=tag)
    here = [
        f"{stay.aircraft} {stay.position if isinstance(stay, Installation) else stay.feed}"
        for stay in stays
        if stay.until_on is None
    ]
    type_code = record.servo_type if kind is Servo else record.pack_type
    facts = [type_code, say(str(record.state)), " / ".join(here) or record.bin or UNKNOWN]
    if kind is Servo and record.hours_h is not None:
        facts.append(desk.view.reader.show(record.hours_h, "h"))
    return ", ".join(facts)


def story_columns() -> tuple[Column[tuple[int, StoryEvent]], ...]:
    """When, what, where, remark."""
    return (
        Column(say("Day"), lambda row, _units: row[1].when.isoformat(), raw=lambda row: row[1].when),
        Column(say("What"), lambda row, _units: sentence_case(row[1].what)),
        Column(say("Where"), lambda row, _units: row[1].where),
        Column(say("Remark"), lambda row, _units: row[1].remark, tip=lambda row: row[1].remark, wraps=True),
    )


class LifeStoryDialog(QDialog):
    """The events of a part's life, the newest first."""

    def __init__(self, desk: Desk, kind: type[Record], tag: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._desk, self._kind = desk, kind
        self.resize(900, 480)
        self.tag = QLineEdit(tag)
        self.tag.setAccessibleName(say("Tag of the part"))
        self.tag.setMaximumWidth(self.fontMetrics().averageCharWidth() * 24)
        self.summary = PlainLabel(wordWrap=True)
        self._model: RowsModel[tuple[int, StoryEvent]] = RowsModel(
            desk, story_columns(), lambda row: row, self
        )
        self.table = RowsView(self._model, say("Where it has been"))
        self.table.choose_whole_rows()
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        row = QHBoxLayout()
        label = PlainLabel(say("&Tag"))
        label.setBuddy(self.tag)
        row.addWidget(label)
        row.addWidget(self.tag)
        row.addWidget(self.summary, 1)
        column = QVBoxLayout(self)
        column.addLayout(row)
        column.addWidget(self.table, 1)
        column.addWidget(buttons)
        self.tag.editingFinished.connect(self._asked)
        desk.touched.connect(self._show)
        self._show()
        self.table.setFocus()

    def _asked(self) -> None:
        tag = self.tag.text().strip()
        for kind in (self._kind, Servo, Pack):
            if self._desk.fleet.record(kind, tag) is not None:
                self._kind = kind
                break
        self._show()

    def _show(self) -> None:
        tag = self.tag.text().strip()
        self.setWindowTitle(say("Where has {tag} been?", tag=tag))
        self.summary.setText(summary_words(self._desk, self._kind, tag))
        self._model.show_rows(enumerate(life_story(self._desk, self._kind, tag)))
