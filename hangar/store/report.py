"""What a bring-in took, refused and doubted, cell by cell."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from hangar.base.text import Text, fixed, listed, text
from hangar.parts import KIND_BY_NAME
from hangar.store.intake.account import Account, Entry, State
from hangar.store.intake.proposal import SheetChange
from hangar.store.intake.report import as_data, headline

_QUOTED_MOST = 80


@dataclass(frozen=True, slots=True)
class CellNote:
    """A remark on one cell; row 0 means the whole file, row 1 the headings."""

    file: str
    row: int
    column: str
    found: str
    reason: Text

    def __str__(self) -> str:
        return str(self.text)

    @property
    def text(self) -> Text:
        """The remark with the place it is on; what the keeper wrote stays as it is."""
        place = text("{file}", file=self.file)
        if self.row:
            place = text("{place}, row {row}", place=place, row=self.row)
        if self.column:
            place = text("{place}, {column}", place=place, column=self.column)
        quoted = _short(self.found)
        if not self.found or str(self.reason).startswith(f'"{quoted}"'):
            return text("{place}: {reason}", place=place, reason=self.reason)
        return text('{place}: "{found}" {reason}', place=place, found=quoted, reason=self.reason)


def _short(words: str) -> str:
    """What is quoted of a cell, on one line."""
    plain = " ".join(words.split())
    return plain if len(plain) <= _QUOTED_MOST else f"{plain[: _QUOTED_MOST - 3]}..."


@dataclass(frozen=True, slots=True)
class BringInReport:
    """Outcome of a bring-in.

    ``taken`` counts the records by kind; ``refused`` names what was left out, or why nothing at all
    was written; ``doubtful`` what was taken but should be looked at; ``stated`` how the columns were
    read and what was invented.
    """

    taken: Mapping[str, int] = field(default_factory=dict)
    refused: tuple[CellNote, ...] = ()
    doubtful: tuple[CellNote, ...] = ()
    stated: tuple[CellNote, ...] = ()
    account: Account | None = None
    """What became of every cell of a keeper's own sheet."""
    changes: tuple[SheetChange, ...] = ()
    """What a sheet that came again says otherwise than before."""
    mapping: str = ""
    """How a keeper's own sheet was read, as a file that he can edit."""

    @property
    def is_open(self) -> bool:
        """Whether anything was left out, is doubted or was not understood."""
        asked = self.account is not None and bool(self.account.questions() or self.account.left)
        return bool(self.refused) or asked

    @property
    def is_empty(self) -> bool:
        """Whether nothing could be read."""
        return not self.taken and not (self.account is not None and self.account.understood)

    def data(self) -> dict[str, object]:
        """The account of a keeper's sheet for other programs."""
        changes = [_change_data(change, self.account) for change in self.changes]
        return as_data(self.account or Account(()), self.taken, changes)

    def text(self, put: Callable[[Text], str] = str) -> str:
        """The whole report, one remark a line, put into words by ``put``."""
        lines = [put(self._headline())]
        for words, notes in (
            (text("Refused"), self.refused),
            (text("Doubtful"), self.doubtful),
            (text("Read as"), self.stated),
        ):
            if notes:
                lines.append(f"{put(words)}:")
                lines += [f"  {put(note.text)}" for note in notes]
        lines += self._of_keeper(put)
        return "\n".join(lines)

    def _of_keeper(self, put: Callable[[Text], str]) -> list[str]:
        """The account of a keeper's sheet: one line for each cause."""
        if self.account is None:
            return []
        lines = [put(headline(self.account))]
        questions = self.account.questions()
        if questions:
            lines.append(f"{put(text('Questions'))}:")
            lines += [f"  {put(question.text)} {_places(question.cells, put)}" for question in questions]
        unread: dict[str, list[Entry]] = {}
        for entry in self.account.entries():
            if entry.state is State.UNUSED and not entry.is_settled:
                unread.setdefault(put(entry.reason), []).append(entry)
        if unread:
            lines.append(f"{put(text('Left out'))}:")
            lines += [f"  {_places(cells, put)} {reason}." for reason, cells in unread.items()]
        if self.changes:
            lines.append(f"{put(text('Changed'))}:")
            lines += [f"  {put(change.words)}" for change in self.changes]
        return lines

    def _headline(self) -> Text:
        counts = [
            text("{kind} {count}", kind=fixed(KIND_BY_NAME[kind].TITLE), count=count)
            for kind, count in self.taken.items()
            if count
        ]
        if not counts:
            return text("Nothing was taken.")
        return text("Taken: {counts}.", counts=listed(counts, joint=",", most=0))


_NAMED_MOST = 3


def _places(cells: list[Entry], put: Callable[[Text], str]) -> str:
    """Where some cells stand: the first of them, and how many more there are."""
    named = []
    for entry in cells[:_NAMED_MOST]:
        tab = f" [{entry.grid.tab}]" if entry.grid.tab else ""
        place = text("{place}, row {row}", place=f"{entry.grid.file}{tab}", row=entry.cell.row)
        heading = f", {entry.heading}" if entry.heading else ""
        named.append(f'{put(place)}{heading}: "{_short(entry.cell.text)}"')
    more = len(cells) - len(named)
    return "; ".join(named) + (f" (+{more})" if more > 0 else "")


def _change_data(change: SheetChange, account: Account | None) -> dict[str, object]:
    entry = account.entry(change.cell) if account is not None and change.cell is not None else None
    return {
        "file": entry.grid.file if entry else "",
        "tab": (entry.grid.tab or None) if entry else None,
        "row": change.cell.row if change.cell else None,
        "heading": entry.heading if entry else "",
        "text": str(change.words),
        "record": str(change.record),
        "field": change.field,
        "was": str(change.was),
        "now": str(change.now),
    }
