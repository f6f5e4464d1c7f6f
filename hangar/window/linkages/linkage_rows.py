"""The rows and columns of linkages and leads: what turns what at a position, what feeds the servo there."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QWidget

from hangar.acts import fitting
from hangar.answers.finding_groups import System, system_of
from hangar.answers.judging import Judgement, worst_level
from hangar.answers.linkages import LinkageStudy, linkage_studies
from hangar.base.figure import Figure
from hangar.base.text import Text
from hangar.parts import Lead, Linkage, Record, ServoFit
from hangar.parts.fields import FieldSpec, columns
from hangar.rules.finding import Finding, Level
from hangar.survey.model import PositionSurvey
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import (
    LONGEST_HEAD,
    UNKNOWN,
    edit_text,
    field_text,
    folded,
    heading_of,
    read_field,
)
from hangar.window.kit.words import level_word, put, say
from hangar.window.linkages.linkage_words import trouble_words
from hangar.window.records.paste_rows import paste_action
from hangar.window.tables.columns import Column, choices_of, figure_column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

SYSTEMS = (System.LINKAGES, System.LEADS)
"""Whose findings this table shows."""
LINKAGE_FIELDS = {
    "kind": 31, "arm_mm": 0, "horn_mm": 0, "arm_angle_deg": 23, "rod_length_mm": 32, "servo_travel_deg": 21,
}  # fmt: skip
"""The fields of a linkage first seen, and in which order they give way to a narrow window; 0 never."""
LEAD_FIELDS = {"length_mm": 0, "awg": 34, "joints": 29, "lock": 28, "former_edge": 27, "sleeve": 26}
"""Those of a lead."""
PASTED_LINKAGE, PASTED_LEAD = ("position", *LINKAGE_FIELDS), ("position", *LEAD_FIELDS)
"""What pasted rows without headings stand for."""


@dataclass(frozen=True)
class LinkageRow:
    """One position: its linkage looked at, its lead, what is computed of both, and what is found of them."""

    study: LinkageStudy
    findings: tuple[Finding, ...] = ()

    @property
    def code(self) -> str:
        """The position's code."""
        return self.study.code

    @property
    def fit(self) -> ServoFit:
        """What is fitted at the position."""
        return self.study.fit

    @property
    def servo(self) -> object:
        """The servo there."""
        return self.fit.servo

    @property
    def survey(self) -> PositionSurvey | None:
        """What the position was computed to be."""
        return self.study.survey

    @property
    def level(self) -> Level | None:
        """The gravest of what is found."""
        levels = [level for level in (self.study.level, worst_level(self.findings)) if level is not None]
        return min(levels, key=lambda level: level.rank, default=None)


def linkage_rows(judgement: Judgement) -> tuple[LinkageRow, ...]:
    """One row for each position, in the aircraft's order."""
    return tuple(
        LinkageRow(study, findings_at(judgement, study.code))
        for study in linkage_studies(judgement.aircraft, judgement.survey)
    )


def findings_at(judgement: Judgement, position: str) -> tuple[Finding, ...]:
    """What is found of the linkage and the lead at one position."""
    return tuple(finding for finding in judgement.about(position) if system_of(finding) in SYSTEMS)


def open_of_linkages(judgement: Judgement) -> tuple[Finding, ...]:
    """The open findings of all linkages and leads of an aircraft."""
    return tuple(finding for finding in judgement.open_findings if system_of(finding) in SYSTEMS)


def linkage_columns(desk: Desk) -> tuple[Column[LinkageRow], ...]:
    """Channel, position, the linkage to edit and what follows from it, then the lead and what it loses."""
    linkage, lead = _specs(Linkage), _specs(Lead)
    more_linkage = [spec for name, spec in linkage.items() if name not in LINKAGE_FIELDS]
    more_lead = [spec for name, spec in lead.items() if name not in LEAD_FIELDS]
    return (
        Column(
            say("Ch."),
            lambda row, _units: (
                UNKNOWN if row.fit.position.channel is None else str(row.fit.position.channel)
            ),
            raw=lambda row: row.fit.position.channel,
            number=True,
            help=say("Channel"),
        ),
        Column(
            say("Position"),
            lambda row, _units: f"{row.code}  {row.fit.position.name}",
            level=lambda row: row.level,
            tip=_row_tip,
            widest=30,
        ),
        *(_field(desk, Linkage, linkage[name], way) for name, way in LINKAGE_FIELDS.items()),
        replace(figure_column(say("Ratio at\nneutral"), lambda row: row.study.ratio), gives_way=25),
        replace(figure_column(say("Least rod\nangle"), lambda row: row.study.least_angle), gives_way=22),
        _throw(0, say("Throw up,\nreached")),
        _throw(1, say("Throw down,\nreached")),
        _surveyed(say("Travel\nused"), "servo_travel_deg", 17),
        _surveyed(say("Play"), "free_play_deg"),
        *(_field(desk, Lead, lead[name], way) for name, way in LEAD_FIELDS.items()),
        _surveyed(say("Resistance"), "lead_ohm", 16),
        _surveyed(say("Current"), "lead_current_a", 24),
        replace(_surveyed(say("Lead\nloses"), "lead_drop_v"), level=_drop_level),
        _surveyed(say("Rod force\nat stall"), "rod_force_n", 14),
        _surveyed(say("Buckling\nload"), "rod_buckling_n", 13),
        _surveyed(say("Buckling load\nover rod force"), "rod_margin", 12),
        *(_field(desk, Linkage, spec, 2) for spec in more_linkage),
        *(_field(desk, Lead, spec, 1) for spec in more_lead),
    )


def _specs(kind: type[Record]) -> dict[str, FieldSpec]:
    return {spec.name: spec for spec in columns(kind) if spec.name not in kind.KEY}


def _heads() -> dict[str, str]:
    """The short headings of fields whose labels are long."""
    return {
        "arm_mm": say("Arm"),
        "horn_mm": say("Horn"),
        "rod_length_mm": say("Rod"),
        "length_mm": say("Lead"),
        "awg": say("Gauge"),
        "joints": say("Joints"),
        "lock": say("Loosest\nlock"),
        "former_edge": say("Former\nedge"),
        "shrink_pieces": say("End\nshrinks"),
    }


def _row_tip(row: LinkageRow) -> str:
    lines = [f"{level_word(finding.level)}: {put(finding.message)}" for finding in row.findings]
    return "\n".join([*lines, trouble_words(row.study)] if row.study.level or not lines else lines)


def _drop_level(row: LinkageRow) -> Level | None:
    return worst_level(finding for finding in row.findings if finding.rule == "lead-drop")


def _field(desk: Desk, kind: type[Record], spec: FieldSpec, gives_way: int) -> Column[LinkageRow]:
    def value(row: LinkageRow) -> Any:
        record = row.fit.linkage if kind is Linkage else row.fit.lead
        return getattr(record, spec.name) if record else None

    def write(row: LinkageRow, text: str) -> None:
        typed = read_field(spec, text, desk.view.reader, desk.today)
        desk.do(fitting.set_part_field, row.fit, kind, spec, typed)

    is_listed = spec.type is bool or issubclass(spec.type, StrEnum)
    short = _heads().get(spec.name)
    return Column(
        short or folded(heading_of(spec), LONGEST_HEAD),
        lambda row, units: field_text(spec, value(row), units),
        raw=value,
        write=write,
        choices=(lambda _row: choices_of(spec)) if is_listed else None,
        show_for_edit=lambda row, units: edit_text(spec, value(row), units),
        number=spec.type in (float, int),
        help=say(spec.help) if spec.help or not short else heading_of(spec),
        gives_way=gives_way,
    )


def _throw(which: int, heading: str) -> Column[LinkageRow]:
    def figure(row: LinkageRow) -> Figure | None:
        throws = row.study.throws
        return throws[which].reached if len(throws) > which else None

    def level(row: LinkageRow) -> Level | None:
        throws = row.study.throws
        return Level.CAUTION if len(throws) > which and throws[which].is_short else None

    return Column(
        heading,
        lambda row, _units: _throw_text(row.study, which),
        raw=lambda row: angle.expected if (angle := figure(row)) else None,
        figure=figure,
        level=level,
        number=True,
        help=say("Reached by the linkage, of what is wanted at the surface."),
        gives_way=33,
    )


def _throw_text(study: LinkageStudy, which: int) -> str:
    if len(study.throws) <= which:
        return UNKNOWN
    throw = study.throws[which]
    reached = f"{throw.reached.expected:.0f}°"
    if throw.wanted_deg is None:
        return reached
    return say("{reached} of {wanted}", reached=reached, wanted=f"{throw.wanted_deg:.0f}°")


def _surveyed(heading: str, name: str, gives_way: int = 0) -> Column[LinkageRow]:
    def missing(row: LinkageRow) -> tuple[Text, ...]:
        return (row.survey.missing_for.get(name) or row.survey.missing) if row.survey else ()

    figure: Callable[[LinkageRow], Figure | None] = lambda row: getattr(row.survey, name, None)  # noqa: E731
    return replace(figure_column(heading, figure, missing), gives_way=gives_way)


class LinkageTable(RowsView):
    """The table of an aircraft's linkages and leads; rows of either are pasted into it."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        model: RowsModel[LinkageRow] = RowsModel(desk, linkage_columns(desk), lambda row: row.code, parent)
        super().__init__(model, say("Linkages and leads"), parent)
        self._code = ""
        linkages = paste_action(desk, self, Linkage, PASTED_LINKAGE, lambda: {"aircraft": self._code})
        linkages.setText(say("Paste linkages…"))
        leads = paste_action(desk, self, Lead, PASTED_LEAD, lambda: {"aircraft": self._code})
        leads.setText(say("Paste leads…"))
        leads.setShortcut(QKeySequence("Ctrl+Shift+V"))
        self.addActions([linkages, leads])

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the linkages and leads of an aircraft as it was judged last."""
        self._code = judgement.aircraft.code
        self.rows_model.show_rows(linkage_rows(judgement))
