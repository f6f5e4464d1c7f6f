"""A fleet at work: what is known of each aircraft, kept until an act touches it."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from datetime import date
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec

from hangar.answers.judging import (
    Difference,
    Judge,
    Judgement,
    JudgingBasis,
    PutAside,
    judge_aircraft,
    settings_judged_by,
)
from hangar.base.text import Text
from hangar.parts import Aircraft, Airframe, Library, Record, Setting

if TYPE_CHECKING:
    from hangar.store import Edit, Fleet, Reach

P = ParamSpec("P")
TENTH = 10
"""Up to this share of a fleet is read one aircraft after the other, more of it in one go."""

MOST_WHOLE = 500
"""Judgements held with all their figures; of more aircraft the findings are held, and figures worked out
anew when they are asked for."""


class Session:
    """Reads a fleet, does acts and takes them back, and keeps judgements while they hold.

    What was judged is dropped when something it rests on was touched, by an edit here or elsewhere.

    Attributes:
        fleet: the open fleet.
        was_edited: whether anything was changed since the session began.
    """

    def __init__(
        self,
        fleet: Fleet,
        *,
        judge: Judge = judge_aircraft,
        today: Callable[[], date] = date.today,
        read: Iterable[Aircraft] = (),
    ) -> None:
        self.fleet = fleet
        self.was_edited = False
        self.judge = judge
        self._today = today
        self._closed = False
        self._aircraft: dict[str, Aircraft] = {aircraft.code: aircraft for aircraft in read}
        self._judgements: dict[str, Judgement] = {}
        self._whole: dict[str, Judgement] = {}
        self._before: dict[str, Judgement] = {}
        self._differences: dict[str, Difference] = {}
        self._failures: dict[str, Exception] = {}
        self._basis: JudgingBasis | None = None
        self._dropped: set[str] = set()
        self._judged_by = settings_judged_by(self.records(Setting))

    @property
    def today(self) -> date:
        """The day everything is judged for."""
        return self._today()

    @property
    def is_closed(self) -> bool:
        """Whether the fleet is about to be closed, so that nothing is read of it any more."""
        return self._closed

    def close(self) -> None:
        """Read nothing more; the fleet itself is closed by whoever opened it."""
        self._closed = True

    def codes(self) -> tuple[str, ...]:
        """Codes of all aircraft, in the fleet's order; none once the session is closed."""
        return () if self._closed else self.fleet.aircraft_codes()

    def has(self, code: str) -> bool:
        """Whether there is an aircraft of that code."""
        return not self._closed and (code in self._aircraft or bool(self.records(Airframe, code=code)))

    def aircraft(self, code: str) -> Aircraft:
        """One aircraft as it stands.

        Raises: BadInput when there is none of that code.
        """
        if code not in self._aircraft:
            self._aircraft[code] = self.fleet.aircraft(code, today=self.today)
        return self._aircraft[code]

    def read_all(self) -> tuple[Aircraft, ...]:
        """Every aircraft, read in one go where many are not known yet."""
        codes = self.codes()
        if sum(code not in self._aircraft for code in codes) > max(1, len(codes) // TENTH):
            whole = self.fleet.whole_fleet(today=self.today)
            self._aircraft = {aircraft.code: aircraft for aircraft in whole}
        return tuple(self.aircraft(code) for code in codes)

    def records(self, kind: type[Record], /, **equal: Any) -> tuple[Any, ...]:
        """All records of one kind; none once the session is closed."""
        return () if self._closed else self.fleet.records(kind, **equal)

    def library(self) -> Library:
        """The types and the parts bay."""
        return self.fleet.library()

    def basis(self) -> JudgingBasis:
        """What every judgement rests on besides the aircraft."""
        if self._basis is None:
            self._basis = JudgingBasis.of(self, self.today)
        return self._basis

    def is_tried(self, code: str) -> bool:
        """Whether an aircraft was judged, or could not be, as it stands."""
        return code in self._judgements or code in self._failures

    def known(self, code: str) -> Judgement | None:
        """What was worked out for an aircraft, if it was."""
        return self._judgements.get(code)

    def failure(self, code: str) -> Exception | None:
        """Why an aircraft could not be worked out; None when it could or was not tried."""
        return self._failures.get(code)

    def difference(self, code: str) -> Difference | None:
        """What the last edit did to the findings of an aircraft; None before the first edit."""
        return self._differences.get(code)

    def judgement(self, code: str) -> Judgement | None:
        """Figures and findings of an aircraft; None where it could not be judged, see :meth:`failure`."""
        if not self.is_tried(code):
            try:
                self.keep(code, self.judge(self.aircraft(code), self.basis()))
            except Exception as fault:  # noqa: BLE001 a border: a fault in one aircraft is no fault of the rest
                self.keep_failure(code, fault)
        judged = self._judgements.get(code)
        if isinstance(judged, PutAside):
            judged = judged.taken_up()
            self._hold(code, judged)
        return judged

    def keep(self, code: str, judgement: Judgement) -> None:
        """Keep what was worked out, and how it differs from what was known before."""
        self._hold(code, judgement)
        before = self._before.pop(code, None)
        if before is not None:
            self._differences[code] = Difference.between(before.findings, judgement.findings)

    def _hold(self, code: str, judgement: Judgement) -> None:
        """Hold it whole, and put the figures aside of the one that was held the longest beyond a number."""
        self._judgements[code] = judgement
        self._whole.pop(code, None)
        self._whole[code] = judgement
        if len(self._whole) > MOST_WHOLE:
            oldest = next(iter(self._whole))
            longest = self._whole.pop(oldest)
            if self._judgements.get(oldest) is longest:
                self._judgements[oldest] = PutAside(longest)

    def keep_failure(self, code: str, fault: Exception) -> None:
        """Keep why an aircraft could not be worked out."""
        self._failures[code] = fault

    def do(self, act: Callable[Concatenate[Edit, P], Text], /, *args: P.args, **kwargs: P.kwargs) -> Reach:
        """Do one act, which can be undone; :meth:`forget` drops what was known of what it touched.

        Raises: HangarError when it is refused; nothing is changed then.
        """
        return self._edited(self.fleet.do(act, *args, **kwargs))

    def edit(self, label: Text | str, work: Callable[[Edit], None]) -> Reach:
        """Make one undoable edit.

        Raises: HangarError when it is refused; nothing is changed then.
        """
        return self._edited(self.fleet.edit(label, work))

    def undo(self) -> Reach | None:
        """Take the last edit back; None when there is none."""
        touched = self.fleet.undo()
        return None if touched is None else self._edited(touched)

    def redo(self) -> Reach | None:
        """Make the edit again that was taken back last; None when there is none."""
        touched = self.fleet.redo()
        return None if touched is None else self._edited(touched)

    def _edited(self, touched: Reach) -> Reach:
        self.was_edited = True
        self.forget(touched)
        return touched

    def dropped(self) -> set[str]:
        """The aircraft of which what was known was dropped since this was last asked."""
        dropped, self._dropped = self._dropped, set()
        return dropped

    def forget(self, touched: Reach) -> None:
        """Drop what is known of everything touched, here or elsewhere."""
        codes = set(touched.aircraft)
        if Setting.KIND in touched:
            before, self._judged_by = self._judged_by, settings_judged_by(self.records(Setting))
            if self._judged_by != before:
                codes |= {*self._aircraft, *self._judgements, *self._failures}
        self._basis = None
        self._differences.clear()
        for code in codes:
            self._aircraft.pop(code, None)
            self._failures.pop(code, None)
            judged = self._judgements.pop(code, None)
            self._whole.pop(code, None)
            if judged is not None:
                self._before[code] = judged
        self._dropped |= codes

    def forget_all(self) -> None:
        """Drop all that is known, after work that did not pass through here."""
        self.was_edited = True
        self._aircraft.clear()
        self._judgements.clear()
        self._whole.clear()
        self._failures.clear()
        self._differences.clear()
        self._basis = None
        self._judged_by = settings_judged_by(self.records(Setting))
