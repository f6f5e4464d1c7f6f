"""The rows and columns of the positions: what sits where and whether it is enough."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from PySide6.QtWidgets import QWidget

from hangar.acts import fitting
from hangar.answers import bay
from hangar.answers.judging import Judgement, count_levels, worst_level
from hangar.base.figure import Figure
from hangar.base.text import Text
from hangar.base.units import ShowsNumbers
from hangar.parts import Lead, Linkage, Position, Record, ServoFit
from hangar.parts.fields import columns
from hangar.rules.finding import Finding
from hangar.survey.model import PositionSurvey
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN, edit_text, field_text, heading_of, read_field
from hangar.window.kit.strip import JoinedStrip
from hangar.window.kit.words import level_count, put, say, word_of
from hangar.window.tables.columns import Choice, Column, figure_column

TAKE_OFF = "\0off"
FROM_STOCK = "\0new "
"""Begins the value of a choice that fits an untagged spare of a type."""


PLAQUE_LINES = (
    ("servo", "Servo"),
    ("delivered_v", "Volts"),
    ("control_left", "Control left"),
    ("torque_nm", "Torque"),
    ("hours", "Hours"),
)
"""What the second line of the plaques may say, with the words of the choice."""


@dataclass(frozen=True)
class PositionRow:
    """One servo position with its figures and findings."""

    fit: ServoFit
    survey: PositionSurvey | None
    findings: tuple[Finding, ...]

    @property
    def code(self) -> str:
        """The position's code."""
        return self.fit.code


def position_rows(judgement: Judgement) -> tuple[PositionRow, ...]:
    """One row for each position."""
    return tuple(
        PositionRow(fit, judgement.survey.positions.get(fit.code), judgement.about(fit.code, fit.tag))
        for fit in judgement.aircraft.fits
    )


def position_columns(
    desk: Desk, spares: Callable[[PositionRow], tuple[Choice, ...]]
) -> tuple[Column[PositionRow], ...]:
    """The columns of the table; ``spares`` lists what can be fitted at a row."""
    return (
        _channel(desk),
        Column(
            say("Position"),
            lambda row, _units: f"{row.code}  {row.fit.position.name}",
            level=lambda row: worst_level(row.findings),
            widest=30,
            tip=_position_tip,
        ),
        _servo(desk, spares),
        _part_column(desk, Linkage, "arm_mm", say("Arm"), lambda row: row.fit.linkage, 8),
        _part_column(desk, Lead, "awg", say("Lead\ngauge"), lambda row: row.fit.lead, 2),
        _part_column(desk, Lead, "length_mm", say("Lead\nlength"), lambda row: row.fit.lead, 3),
        _figure_column("Volts\nthere", "delivered_v", 7),
        _figure_column("Torque\nneeded", "load_nm"),
        _figure_column("Torque\nthere", "torque_nm", 10),
        _figure_column("Control\nleft", "control_left"),
        _figure_column("Full throw\nto", "full_to_m_s", 9),
        _figure_column("60° in", "transit_s", 5),
        _figure_column("Free\nplay", "free_play_deg", 1),
        _findings(),
    )


def _position_tip(row: PositionRow) -> str:
    position = row.fit.position
    parts = (f"{row.code} {position.name}", word_of(row.fit.function), position.notes)
    return ". ".join(part for part in parts if part)


def _figure_column(heading: str, name: str, gives_way: int = 0) -> Column[PositionRow]:
    def figure(row: PositionRow) -> Figure | None:
        return getattr(row.survey, name) if row.survey else None

    def missing(row: PositionRow) -> tuple[Text, ...]:
        return (row.survey.missing_for.get(name) or row.survey.missing) if row.survey else ()

    return replace(figure_column(heading, figure, missing), gives_way=gives_way)


def _channel(desk: Desk) -> Column[PositionRow]:
    spec = next(spec for spec in columns(Position) if spec.name == "channel")

    def write(row: PositionRow, text: str) -> None:
        desk.do(fitting.set_channel, row.fit, read_field(spec, text, desk.view.reader))

    def show(row: PositionRow, _units: ShowsNumbers) -> str:
        number = row.fit.position.channel
        through = f" ({row.fit.position.port})" if row.fit.position.port != "main" else ""
        return UNKNOWN if number is None else f"{number}{through}"

    return Column(
        say("Ch."),
        show,
        raw=lambda row: row.fit.position.channel,
        write=write,
        show_for_edit=lambda row, units: edit_text(spec, row.fit.position.channel, units),
        number=True,
        help=say("Channel"),
    )


def _servo(desk: Desk, spares: Callable[[PositionRow], tuple[Choice, ...]]) -> Column[PositionRow]:
    def write(row: PositionRow, picked: str) -> None:
        if picked == TAKE_OFF:
            desk.do(fitting.take_off, row.fit, desk.today)
        elif picked.startswith(FROM_STOCK):
            servo_type = picked.removeprefix(FROM_STOCK)
            desk.do(fitting.fit_new, row.fit, servo_type, bay.next_tag(desk), desk.today)
        elif picked and picked != row.fit.tag:
            desk.do(fitting.fit_servo, row.fit, picked, desk.today)

    return Column(
        say("Servo"),
        lambda row, _units: servo_words(row.fit),
        write=write,
        choices=spares,
        show_for_edit=lambda row, _units: row.fit.tag or "",
        tip=lambda row: servo_words(row.fit),
    )


def servo_words(fit: ServoFit) -> str:
    """Tag and type of the servo at a position."""
    if fit.servo is None:
        return say("none fitted")
    return f"{fit.servo.tag}  {fit.servo.servo_type}"


def _part_column(
    desk: Desk,
    kind: type[Record],
    name: str,
    heading: str,
    part: Callable[[PositionRow], Record | None],
    gives_way: int,
) -> Column[PositionRow]:
    spec = next(spec for spec in columns(kind) if spec.name == name)

    def value(row: PositionRow) -> Any:
        record = part(row)
        return getattr(record, name) if record else None

    def write(row: PositionRow, text: str) -> None:
        desk.do(fitting.set_part_field, row.fit, kind, spec, read_field(spec, text, desk.view.reader))

    return Column(
        heading,
        lambda row, units: field_text(spec, value(row), units),
        raw=value,
        write=write,
        show_for_edit=lambda row, units: edit_text(spec, value(row), units),
        number=True,
        help=heading_of(spec),
        gives_way=gives_way,
    )


def _findings() -> Column[PositionRow]:
    def words(row: PositionRow, _units: ShowsNumbers) -> str:
        counts = count_levels(row.findings)
        return ", ".join(level_count(level, count) for level, count in counts.items() if count)

    return Column(
        say("Findings"),
        words,
        raw=lambda row: -1.0 if worst_level(row.findings) is None else 4.0 - _rank(row),
        level=lambda row: worst_level(row.findings),
        tip=lambda row: "\n".join(put(finding.message) for finding in row.findings),
        gives_way=4,
    )


def _rank(row: PositionRow) -> float:
    level = worst_level(row.findings)
    return 4.0 if level is None else float(level.rank)


class DrawingStrip(JoinedStrip):
    """Chooses what the second line of the plaques says."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(say("On the drawing"), parent)
        self._desk = desk
        for _name, words in PLAQUE_LINES:
            self.add(say(words))

    def line_of(self, row: PositionRow) -> str:
        """The second line of the plaque of a position."""
        choice, units = PLAQUE_LINES[max(0, self.chosen)][0], self._desk.view.reader
        if choice == "servo":
            return put(row.findings[0].message) if row.findings else say("nothing found")
        if choice == "hours":
            hours = row.fit.servo.hours_h if row.fit.servo else None
            return say("hours not known") if hours is None else units.show(hours, "h")
        figure: Figure | None = getattr(row.survey, choice) if row.survey else None
        return say("not known") if figure is None else units.show(figure.expected, figure.unit)
