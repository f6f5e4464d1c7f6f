"""What a bring-in took, refused and doubted, cell by cell."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from hangar.parts import KIND_BY_NAME

_QUOTED_MOST = 80


@dataclass(frozen=True, slots=True)
class CellNote:
    """A remark on one cell; row 0 means the whole file, row 1 the headings."""

    file: str
    row: int
    column: str
    found: str
    reason: str

    def __str__(self) -> str:
        return self.told(str)

    def told(self, tell: Callable[[str], str]) -> str:
        """The remark with our words as ``tell`` puts them; what the keeper wrote stays as it is."""
        place = self.file
        if self.row:
            place += ", " + tell(f"row {self.row}")
        if self.column:
            place += f", {self.column}"
        quoted = f'"{_short(self.found)}"'
        found = f" {quoted}" if self.found and not self.reason.startswith(quoted) else ""
        return f"{place}:{found} {tell(self.reason)}"


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

    def text(self, tell: Callable[[str], str] = str) -> str:
        """The whole report, one remark a line, our words as ``tell`` puts them."""
        lines = [self._headline(tell)]
        for words, notes in (
            ("Refused", self.refused),
            ("Doubtful", self.doubtful),
            ("Read as", self.stated),
        ):
            if notes:
                lines.append(f"{tell(words)}:")
                lines += [f"  {note.told(tell)}" for note in notes]
        return "\n".join(lines)

    def _headline(self, tell: Callable[[str], str]) -> str:
        counts = [f"{tell(KIND_BY_NAME[kind].TITLE)} {count}" for kind, count in self.taken.items() if count]
        return f"{tell('Taken')}: {', '.join(counts)}." if counts else tell("Nothing was taken.")
