"""What a bring-in took, refused and doubted, cell by cell."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from hangar.base.text import Text, fixed, listed, text
from hangar.parts import KIND_BY_NAME

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
        return "\n".join(lines)

    def _headline(self) -> Text:
        counts = [
            text("{kind} {count}", kind=fixed(KIND_BY_NAME[kind].TITLE), count=count)
            for kind, count in self.taken.items()
            if count
        ]
        if not counts:
            return text("Nothing was taken.")
        return text("Taken: {counts}.", counts=listed(counts, joint=",", most=0))
