"""What became of every cell, and the questions that stay open, one for each cause."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from hangar.base.text import NOTHING, Text, series, text
from hangar.store.intake.grid import Cell, Grid


class State(StrEnum):
    """What became of a cell."""

    READ = "read"
    DOUBTED = "doubted"
    UNUSED = "unused"


class About(StrEnum):
    """The cause of a question."""

    CLASS = "class"
    UNIT = "unit"
    DAY_ORDER = "day order"
    DAY = "day"
    CHANNEL = "channel"
    COUNT = "count"
    TYPE = "type"
    DRIVE = "drive"
    RATING = "rating"
    FUNCTION = "function"
    PACK = "pack"
    TEST = "test"
    PLACE = "place"
    BLOCK = "block"
    FORMULA = "formula"
    STRUCK = "struck out"
    GONE = "gone"
    NAME = "name"
    LEAD = "lead"
    CHANGED = "changed"
    COLUMN = "column"


class Answer(StrEnum):
    """What may be answered to a question, where it is neither a unit nor a class."""

    DAY_FIRST = "day/month/year"
    MONTH_FIRST = "month/day/year"
    LEAVE_OUT = "leave it out"
    STILL_RIGHT = "it is right"
    PASSED_ON = "keep it as passed on"
    TWO_AIRCRAFT = "two aircraft"
    ONE_AIRCRAFT = "one aircraft"
    FLEET = "the fleet"
    SHEET = "the sheet"
    LEFT_FIRST = "the first is left, the second right"
    AS_READ = "as it was read"
    """The cells were taken rightly, or nobody knows better."""


_ASKED: dict[About, Text] = {
    About.CLASS: text("Which class is each of these aircraft, and what drives it?"),
    About.UNIT: text("In which unit are these figures?"),
    About.DAY_ORDER: text("Is the day or the month first?"),
    About.DAY: text("Which day is meant?"),
    About.CHANNEL: text("Which servo is on which channel, and on which side?"),
    About.COUNT: text("How many servos are there?"),
    About.TYPE: text("Which servo type is it?"),
    About.DRIVE: text("Is the servo analog or digital?"),
    About.RATING: text("What does the servo give, and at which volts?"),
    About.FUNCTION: text("What does the servo work?"),
    About.PACK: text("Which pack is it?"),
    About.TEST: text("What was measured?"),
    About.PLACE: text("Where is the part?"),
    About.BLOCK: text("What are these rows?"),
    About.FORMULA: text("What is the result of the formula? The file does not hold it."),
    About.STRUCK: text("Are the rows that are struck out still right?"),
    About.GONE: text("Shall what was passed on be kept as such, or left out?"),
    About.NAME: text("Are these names one aircraft or two?"),
    About.LEAD: text("How long is the lead?"),
    About.CHANGED: text("Which is right, the sheet or the fleet?"),
    About.COLUMN: text("What does the column hold?"),
}
_NOT_UNDERSTOOD = text("was not understood")
_ORDER = (State.DOUBTED, State.READ, State.UNUSED)


@dataclass(slots=True)
class Entry:
    """One cell with what became of it."""

    grid: Grid
    cell: Cell
    heading: str = ""
    state: State | None = None
    reasons: list[Text] = field(default_factory=list)
    question: str = ""
    is_settled: bool = True
    """False for an unused cell that was not understood."""

    @property
    def reason(self) -> Text:
        """Why it is doubted or of no use; nothing for a cell that was read."""
        return series(self.reasons)


@dataclass(slots=True)
class Question:
    """One cause of doubt with every cell it concerns."""

    key: str
    about: About
    text: Text
    cells: list[Entry] = field(default_factory=list)
    answers: tuple[str, ...] = ()
    """Units, and members of closed lists, which are the program's words."""
    best: str = ""

    @property
    def decides(self) -> int:
        """How many cells hang on the answer."""
        return len(self.cells)


class Account:
    """The state of every non-empty cell of a file."""

    def __init__(self, grids: Iterable[Grid], replies: Mapping[str, str] | None = None) -> None:
        self.replies = replies or {}
        """What the keeper answered, by the key of the question."""
        self._entries: dict[int, Entry] = {}
        self._questions: dict[str, Question] = {}
        self._asked: set[tuple[str, int]] = set()
        self.has_tables = False
        for grid in grids:
            for cell in grid.cells.values():
                self._entries[id(cell)] = Entry(grid, cell)

    def head(self, cell: Cell, heading: str) -> None:
        """Say under which heading a cell stands."""
        self._entries[id(cell)].heading = heading

    def read(self, *cells: Cell | None) -> None:
        """These cells were taken, or gave what was taken its meaning."""
        for cell in cells:
            if cell is not None:
                self._set(cell, State.READ, NOTHING)

    def doubt(
        self, cell: Cell | None, about: About, reason: Text, answers: tuple[str, ...] = (), key: str = ""
    ) -> None:
        """A cell is asked about."""
        if cell is None:
            return
        name = f"{about}:{key}" if key else str(about)
        if name in self.replies:
            self.read(cell)
            return
        question = self._questions.setdefault(name, Question(name, about, _ASKED[about]))
        if answers:
            question.answers, question.best = answers, answers[0]
        entry = self._set(cell, State.DOUBTED, reason)
        if entry.state is State.DOUBTED and (name, id(cell)) not in self._asked:
            self._asked.add((name, id(cell)))
            entry.question = entry.question or name
            question.cells.append(entry)

    def leave(self, cell: Cell | None, reason: Text, is_settled: bool = True) -> None:
        """A cell is of no use here; ``is_settled`` is False where it was not understood."""
        if cell is not None:
            entry = self._set(cell, State.UNUSED, reason)
            if entry.state is State.UNUSED:
                entry.is_settled = is_settled

    def _set(self, cell: Cell, state: State, reason: Text) -> Entry:
        entry = self._entries[id(cell)]
        if entry.state is None or _ORDER.index(state) <= _ORDER.index(entry.state):
            if entry.state is not State.DOUBTED:
                entry.reasons = [reason] if reason else []
            elif reason and reason not in entry.reasons:
                entry.reasons.append(reason)
            entry.state = state
        return entry

    @property
    def understood(self) -> bool:
        """Whether any table of the file was understood, so that the account speaks of its cells."""
        return self.has_tables

    def state_of(self, cell: Cell) -> State | None:
        """What became of a cell so far."""
        return self._entries[id(cell)].state

    def entry(self, cell: Cell) -> Entry:
        """A cell with what became of it."""
        return self._entries[id(cell)]

    def close(self) -> None:
        """Whatever has no state by now was not understood."""
        for entry in self._entries.values():
            if entry.state is None:
                entry.state, entry.reasons, entry.is_settled = State.UNUSED, [_NOT_UNDERSTOOD], False

    def entries(self) -> Iterator[Entry]:
        """Every cell, tab by tab, in the order of the sheet."""
        return iter(self._entries.values())

    def questions(self) -> list[Question]:
        """The open questions, those that decide most first."""
        asked = [question for question in self._questions.values() if question.cells]
        return sorted(asked, key=lambda one: (-one.decides, one.key))

    def count(self, state: State) -> int:
        """How many cells are in a state."""
        return sum(entry.state is state for entry in self._entries.values())

    @property
    def left(self) -> int:
        """How many cells are unused because they were not understood."""
        return sum(entry.state is State.UNUSED and not entry.is_settled for entry in self._entries.values())
