"""Findings as a list, one line each, with the chosen one explained below."""

from __future__ import annotations

from collections.abc import Iterable
from html import escape
from urllib.parse import quote, unquote

from PySide6.QtCore import Qt, QTimer, QUrl, Signal
from PySide6.QtGui import QResizeEvent, QTextDocument
from PySide6.QtWidgets import QSplitter, QTextBrowser, QVBoxLayout, QWidget

from hangar.acts.confirming import confirm
from hangar.base.text import Text
from hangar.base.units import ShowsNumbers
from hangar.parts import FieldOrigin
from hangar.rules.cures import cure_words
from hangar.rules.finding import Finding, Level
from hangar.rules.gathering import whose_figure
from hangar.rules.origins import NOT_CONFIRMED, origin_field, origin_words, origins_about
from hangar.rules.registry import all_rules
from hangar.window.findings.acceptance_strip import AcceptanceStrip
from hangar.window.findings.number_bars import RATIO, number_bars
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import dated_basis, figure_text
from hangar.window.kit.flow_row import SentencePane
from hangar.window.kit.level_marks import mark_picture
from hangar.window.kit.looks import Look
from hangar.window.kit.place_chooser import COMPARE, POSITION, TRY_OUT, places_of
from hangar.window.kit.words import level_word, put, say, sentence_case
from hangar.window.tables.columns import Column
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

BESIDE_UNITS = 1000
"""From so many units of width on the explanation stands beside the list."""


def state_words(finding: Finding) -> str:
    """Open, accepted until a day, or come back after an acceptance."""
    if finding.accepted_until is not None:
        return say("Accepted until {day}", day=finding.accepted_until.isoformat())
    return say("Open again: what it rested on changed") if finding.returned else say("Open")


def about_words(finding: Finding) -> str:
    """What a finding concerns: codes and tags as they are, a part without one in words."""
    return ", ".join(put(part) if " " in part else part for part in finding.about)


def finding_html(
    finding: Finding, units: ShowsNumbers, look: Look, *, picture_px: tuple[int, int] | None = None
) -> str:
    """A finding as rich text; each number is a link ``how:N`` to its working."""
    colour = look.levels[finding.level].words
    word = escape(level_word(finding.level))
    parts = [
        f"<p><img src='mark:{finding.level}'> &nbsp;<b style='color:{colour}'>{word}</b> &nbsp;"
        f"<b>{escape(put(finding.consequence or finding.message))}</b></p>",
        f"<p>{escape(put(finding.message))}</p>" if finding.consequence else "",
        f"<p>{escape(put(finding.detail))}</p>" if finding.detail else "",
        f"<p><b>{say('What to do')}:</b> {escape(put(finding.remedy))}</p>" if finding.remedy else "",
        _refit(finding),
        _picture(picture_px),
        _figures(finding, units),
        _list(say("Not known"), tuple(map(put, finding.missing))),
        _list(say("Stands with it"), tuple(put(folded.message) for folded in finding.folded)),
        _acceptance(finding),
        f"<p style='color:{look.soft}'>{say('Concerns')}: {escape(about_words(finding) or '—')} &nbsp; "
        f"{say('Source')}: {escape(put(finding.source) or '—')} &nbsp; "
        f"{say('Check')}: {escape(finding.rule)}</p>",
    ]
    return "".join(parts)


def _refit(finding: Finding) -> str:
    """What a refit may cure it by, where something is open that a plan can cure."""
    rule = all_rules().get(finding.rule)
    if rule is None or finding.level is Level.CANT_TELL or not rule.cures:
        return ""
    return f"<p>{escape(put(cure_words(rule.cures)))}</p>"


def _picture(size: tuple[int, int] | None) -> str:
    return "" if size is None else f"<p><img src='numbers:bars' width='{size[0]}' height='{size[1]}'></p>"


def _figures(finding: Finding, units: ShowsNumbers) -> str:
    if not finding.figures:
        return ""
    rows = "".join(
        f"<tr><td>{escape(name)}&nbsp;&nbsp;</td>"
        f"<td><a href='how:{at}'>{escape(shown)}</a>&nbsp;&nbsp;</td>"
        f"<td>{escape(basis)}</td></tr>"
        for at, name, shown, basis in figure_rows(finding, units)
    )
    return f"<table cellpadding='3'>{rows}</table>"


def figure_rows(finding: Finding, units: ShowsNumbers) -> list[tuple[int, str, str, str]]:
    """Place in the finding, name, value and basis of each row of figures.

    What reads alike at each of a pair or a gang stands on one row that names them all; the row leads to the
    working of the first of them.
    """
    rows: dict[tuple[str, str, str, int], tuple[int, list[str]]] = {}
    for at, figure in enumerate(finding.figures):
        whose, called = whose_figure(figure.name)
        name = put(called)
        shown, basis = figure_text(figure, units), dated_basis(figure)
        # Two figures of one name without a part are two things, even where they are alike.
        _, places = rows.setdefault((name, shown, basis, -1 if whose else at), (at, []))
        places.append(whose)
    return [
        (at, _named(name, places), shown, basis) for (name, shown, basis, _), (at, places) in rows.items()
    ]


def _named(name: str, places: list[str]) -> str:
    """A figure's name with the parts that it holds for."""
    parts = list(dict.fromkeys(place for place in places if place))
    if not parts:
        return sentence_case(name)
    *others, last = parts
    both = say("{first} and {second}", first=", ".join(others), second=last) if others else last
    return f"{both}: {name}"


def _list(title: str, lines: tuple[str, ...]) -> str:
    if not lines:
        return ""
    return f"<p><b>{title}:</b> {escape('; '.join(lines))}</p>"


def _acceptance(finding: Finding) -> str:
    if finding.accepted_until is None:
        return ""
    because = finding.accepted_because or say("no reason written")
    return f"<p><i>{escape(state_words(finding))}: {escape(because)}</i></p>"


def finding_key(finding: Finding) -> tuple[str, str, tuple[str, ...], Text]:
    """What tells one finding from another."""
    return finding.aircraft, finding.rule, finding.about, finding.message


def finding_columns(with_aircraft: bool) -> tuple[Column[Finding], ...]:
    """Level, what it concerns, the line, and whether it is open."""
    level: Column[Finding] = Column(
        heading=say("Level"),
        text=lambda finding, _units: level_word(finding.level),
        raw=lambda finding: finding.level.rank,
        level=lambda finding: finding.level,
    )
    aircraft: Column[Finding] = Column(say("Aircraft"), lambda finding, _units: finding.aircraft)
    about: Column[Finding] = Column(
        say("Concerns"),
        lambda finding, _units: about_words(finding),
        tip=about_words,
        widest=20,
    )
    line: Column[Finding] = Column(
        say("Finding"),
        lambda finding, _units: finding_line(finding),
        tip=_whole_line,
    )
    return (level, aircraft, about, line) if with_aircraft else (level, about, line)


def _whole_line(finding: Finding) -> str:
    return "\n".join(part for part in (finding_line(finding), put(finding.detail)) if part)


def finding_line(finding: Finding) -> str:
    """Consequence and message, with its state when it is not simply open."""
    if finding.is_open and not finding.returned:
        return put(finding.sentence)
    return f"{state_words(finding)}. {put(finding.sentence)}"


class FindingsPanel(QWidget):
    """The list, the explanation and the acceptance strip.

    Where it is ``with_aircraft`` the explanation stands beside the list, as far as there is room for both.
    Signals: ``turned()`` when it went beside or below.
    """

    turned = Signal()

    def __init__(self, desk: Desk, *, with_aircraft: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._with_aircraft = with_aircraft
        self._origins: tuple[FieldOrigin, ...] = ()
        self._model: RowsModel[Finding] = RowsModel(desk, finding_columns(with_aircraft), finding_key, self)
        self.table = RowsView(self._model, say("Findings"))
        self.table.choose_whole_rows()
        self.page = QTextBrowser(openLinks=False)
        self.page.setAccessibleName(say("The chosen finding in full"))
        self.page.document().setDocumentMargin(12)
        self.strip = AcceptanceStrip(desk)
        self._splitter = QSplitter(Qt.Orientation.Vertical)
        lower = SentencePane()
        column = QVBoxLayout(lower)
        column.setContentsMargins(8, 4, 8, 8)
        column.addWidget(self.page, 1)
        column.addWidget(self.strip)
        self._upper = QWidget()
        self._above = QVBoxLayout(self._upper)
        self._above.setContentsMargins(0, 0, 0, 0)
        self._above.addWidget(self.table, 1)
        self._splitter.addWidget(self._upper)
        self._splitter.addWidget(lower)
        self._splitter.setSizes([150, 270])
        self._splitter.setChildrenCollapsible(False)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(*((12, 0, 12, 8) if with_aircraft else (0, 0, 0, 0)))
        whole.addWidget(self._splitter)
        self._later = QTimer(self, singleShot=True, interval=30)
        self._later.timeout.connect(lambda: self._explain(self.table.current_row))
        self._splitter.splitterMoved.connect(lambda _at, _which: self._later.start())
        self.table.row_chosen.connect(self._explain)
        self.page.anchorClicked.connect(self._follow)
        desk.view.changed.connect(self._later.start)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._turn()
        self._later.start()

    def _turn(self) -> None:
        """The reading pane beside the list where both have room, else below it."""
        is_beside = self._with_aircraft and self.width() * 10 / self._desk.view.points >= BESIDE_UNITS
        way = Qt.Orientation.Horizontal if is_beside else Qt.Orientation.Vertical
        if way is not self._splitter.orientation():
            self._splitter.setOrientation(way)
            wide = self.width()
            self._splitter.setSizes([wide * 3 // 5, wide * 2 // 5] if is_beside else [150, 270])
            self.turned.emit()

    @property
    def is_beside(self) -> bool:
        """Whether the explanation stands beside the list."""
        return self._splitter.orientation() is Qt.Orientation.Horizontal

    def put_above(self, widget: QWidget) -> None:
        """Put this over the list."""
        self._above.insertWidget(0, widget)

    @property
    def findings(self) -> tuple[Finding, ...]:
        """The findings listed."""
        return self._model.rows

    def show_findings(self, findings: Iterable[Finding]) -> None:
        """List these findings; the cursor stays on the chosen one, or where that one stood."""
        chosen, place = self.table.current_row, self.table.currentIndex().row()
        fresh = tuple(findings)
        if fresh == self._model.rows:
            return
        self._model.show_rows(fresh)
        if chosen is not None and self._model.row_of(finding_key(chosen)) is not None:
            self.table.choose_row(finding_key(chosen))
        elif fresh:
            self.table.choose_place(place)
        self._explain(self.table.current_row)

    def _explain(self, finding: Finding | None) -> None:
        self.strip.show_finding(finding)
        if finding is None:
            self.page.setHtml(
                f"<p>{say('Nothing to show here; what is left out or not entered is not judged.')}</p>"
            )
            return
        mark = mark_picture(finding.level, self._desk.view.look, self.fontMetrics().height())
        self.page.document().addResource(
            QTextDocument.ResourceType.ImageResource, QUrl(f"mark:{finding.level}"), mark
        )
        picture = number_bars(finding, self._desk.view, self._picture_wide())
        if picture is not None:
            self.page.document().addResource(
                QTextDocument.ResourceType.ImageResource, QUrl("numbers:bars"), picture
            )
        words = finding_html(
            finding,
            self._desk.view.reader,
            self._desk.view.look,
            picture_px=None if picture is None else (picture.width() // RATIO, picture.height() // RATIO),
        )
        self.page.setHtml(words + self._unconfirmed(finding) + self._ways(finding))

    def _picture_wide(self) -> int:
        """The width of the picture of the numbers, within the page."""
        return max(200, min(560, self.page.viewport().width() - 44))

    def _unconfirmed(self, finding: Finding) -> str:
        """What of the parts concerned comes from a sheet and is not confirmed, each with a link to do so."""
        self._origins = self._origins_of(finding)
        if not self._origins:
            return ""
        lines = "".join(
            f"<li>{escape(put(origin_field(origin)))}<br/>{escape(put(origin_words(origin)))}"
            + ("" if self._desk.read_only else f" <a href='confirm:{at}'>{escape(say('Confirm'))}</a>")
            + "</li>"
            for at, origin in enumerate(self._origins)
        )
        every = (
            f" <a href='confirm:all'>{escape(say('Confirm all of it'))}</a>"
            if len(self._origins) > 1 and not self._desk.read_only
            else ""
        )
        return f"<p><b>{say('From your sheet, not confirmed')}</b>{every}</p><ul>{lines}</ul>"

    def _origins_of(self, finding: Finding) -> tuple[FieldOrigin, ...]:
        known = self._desk.known(finding.aircraft)
        if known is None:
            return ()
        aircraft = known.aircraft
        return aircraft.origins if finding.rule == NOT_CONFIRMED else origins_about(aircraft, finding.about)

    def _ways(self, finding: Finding) -> str:
        """Links that take each servo position of a finding to the rooms where something can be tried."""
        rooms = [(COMPARE, say("Compare")), (TRY_OUT, say("Try out"))]
        if self._with_aircraft:
            rooms.insert(0, (POSITION, say("Positions")))
        lines = []
        for place in places_of(self._desk, finding):
            links = (
                f"<a href='go:{quote(room)}/{quote(place)}'>{escape(title)}</a>" for room, title in rooms
            )
            lines.append(f"{escape(place)}: {' · '.join(links)}")
        if not lines:
            return ""
        return f"<p><b>{say('Look at it in')}</b> &nbsp;{' &nbsp; '.join(lines)}</p>"

    def _follow(self, link: QUrl) -> None:
        finding = self.table.current_row
        if finding is not None and link.scheme() == "go":
            room, _, place = link.path().partition("/")
            self._desk.place_wanted.emit(unquote(room), finding.aircraft, unquote(place))
        elif finding is not None and link.scheme() == "confirm":
            at = link.path()
            some = self._origins if at == "all" else self._origins[int(at) : int(at) + 1]
            self._desk.attempt(lambda: self._desk.do(confirm, some))
        elif finding is not None and link.scheme() == "how":
            self._desk.how_asked.emit(finding.figures[int(link.path())])
