"""The desk every screen works at: the open fleet, the one way to edit it, and what is known of it."""

from __future__ import annotations

import logging
from collections import deque
from collections.abc import Callable, Iterable
from dataclasses import fields
from datetime import date
from typing import TYPE_CHECKING, Any, Concatenate, ParamSpec

from PySide6.QtCore import QObject, QTimer, Signal

from hangar.acts.session import Session
from hangar.answers.judging import (
    Difference,
    Judge,
    Judgement,
    JudgingBasis,
    judge_aircraft,
)
from hangar.base.errors import HangarError
from hangar.base.text import Text, text
from hangar.base.units import UnitChoice
from hangar.parts import KIND_BY_NAME, Aircraft, Library, Record, Setting
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.current import Current
from hangar.window.kit.view_settings import ViewSettings, unit_choice
from hangar.window.kit.words import put

if TYPE_CHECKING:
    from hangar.store import Edit, Fleet, Reach

_EVERYTHING = frozenset(KIND_BY_NAME)
P = ParamSpec("P")
_logger = logging.getLogger(__name__)


class Desk(QObject):
    """Holds the fleet, passes every edit through it, and keeps what was worked out per aircraft.

    Signals: ``touched(Touched)`` after every edit, undo and redo; ``trouble(Exception)`` when one
    failed; ``judged(code)`` when an aircraft has fresh findings; ``how_asked(Figure)`` when the
    keeper wants to see a number's working; ``place_wanted(room, aircraft, position)`` when the keeper
    wants to look at a servo position in another room; ``story_wanted(kind, tag)`` when the keeper asks
    where a servo or pack has been; ``entry_wanted(way)`` when something is to be entered: kit, copy,
    fit-out, table or demo, or a position, pack or plan.
    """

    touched = Signal(object)
    trouble = Signal(object)
    judged = Signal(str)
    how_asked = Signal(object)
    place_wanted = Signal(str, str, str)
    story_wanted = Signal(object, str)
    entry_wanted = Signal(str)

    def __init__(
        self,
        fleet: Fleet,
        view: ViewSettings,
        *,
        judge: Judge = judge_aircraft,
        today: Callable[[], date] = date.today,
        read: Iterable[Aircraft] = (),
        session: Session | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.session = session or Session(fleet, judge=judge, today=today, read=read)
        self.view = view
        if session is None:
            view.today = today
        self.current = Current(self)
        self._told: set[str] = set()
        self._waiting: deque[str] = deque()
        self._task: BackgroundTask | None = None
        self._in_hand = ""
        self._is_outdated = False
        self._timer = QTimer(self, singleShot=True, interval=0)
        self._timer.timeout.connect(self._judge_next)
        self._take_units()

    @property
    def fleet(self) -> Fleet:
        """The open fleet."""
        return self.session.fleet

    @property
    def was_edited(self) -> bool:
        """Whether anything was changed since the fleet was opened here."""
        return self.session.was_edited

    @was_edited.setter
    def was_edited(self, value: bool) -> None:
        self.session.was_edited = value

    @property
    def today(self) -> date:
        """The day everything is judged for."""
        return self.session.today

    @property
    def read_only(self) -> bool:
        """Whether the fleet can only be looked at."""
        return bool(self.fleet.read_only)

    def codes(self) -> tuple[str, ...]:
        """Codes of all aircraft, in the fleet's order; none once the desk is closed."""
        return self.session.codes()

    def aircraft(self, code: str) -> Aircraft:
        """One aircraft as it stands."""
        return self.session.aircraft(code)

    def read_all(self) -> tuple[Aircraft, ...]:
        """Every aircraft, read in one go where several are not known yet."""
        return self.session.read_all()

    def records(self, kind: type[Record], /, **equal: Any) -> tuple[Any, ...]:
        """All records of one kind; none once the desk is closed."""
        return self.session.records(kind, **equal)

    def library(self) -> Library:
        """The types and the parts bay."""
        return self.session.library()

    def basis(self) -> JudgingBasis:
        """What every judgement rests on besides the aircraft."""
        return self.session.basis()

    def known(self, code: str) -> Judgement | None:
        """What was worked out for an aircraft, if it was."""
        return self.session.known(code)

    def judgement(self, code: str) -> Judgement | None:
        """Figures and findings of an aircraft, worked out at once; None after telling of trouble."""
        is_fresh = not self.session.is_tried(code)
        judgement = self.session.judgement(code)
        if is_fresh:
            self._tell_judged(code)
        return judgement

    def failure(self, code: str) -> Exception | None:
        """Why an aircraft could not be worked out; None when it could or was not tried."""
        return self.session.failure(code)

    def difference(self, code: str) -> Difference | None:
        """What the last edit did to the findings of an aircraft; None before the first edit."""
        return self.session.difference(code)

    def _tell_judged(self, code: str) -> None:
        fault = self.session.failure(code)
        if fault is not None:
            _logger.info("judging %s failed", code, exc_info=fault)
        self.judged.emit(code)
        if fault is not None and repr(fault) not in self._told:
            self._told.add(repr(fault))
            self.trouble.emit(fault)

    def _keep_failure(self, code: str, fault: Exception) -> None:
        self.session.keep_failure(code, fault)
        self._tell_judged(code)

    def _keep(self, code: str, judgement: Judgement) -> None:
        self.session.keep(code, judgement)
        self._tell_judged(code)

    def start_judging(self) -> None:
        """Work all aircraft out, one after the other beside the event loop."""
        if self.session.is_closed:
            return
        self._waiting = deque(code for code in self.codes() if self.known(code) is None)
        self._timer.start()

    def _judge_next(self) -> None:
        if self._task is not None:
            return
        code = self._next_waiting()
        if code is None:
            return
        try:
            aircraft, basis = self.aircraft(code), self.basis()
        except HangarError as fault:
            self._keep_failure(code, fault)
            self._timer.start()
            return
        self._in_hand, self._is_outdated = code, False
        judge = self.session.judge
        self._task = BackgroundTask(self, lambda: judge(aircraft, basis))
        self._task.done.connect(self._judged_beside)
        self._task.failed.connect(self._failed_beside)
        self._task.start()

    def _next_waiting(self) -> str | None:
        while self._waiting:
            code = self._waiting.popleft()
            if self.session.has(code) and not self.session.is_tried(code):
                return code
        return None

    def _judged_beside(self, judgement: Judgement) -> None:
        if self._is_still_asked():
            self._keep(self._in_hand, judgement)

    def _failed_beside(self, fault: Exception) -> None:
        if self._is_still_asked():
            self._keep_failure(self._in_hand, fault)

    def _is_still_asked(self) -> bool:
        """Whether the task that just ended told of an aircraft as it still stands."""
        self._task = None
        if self.session.is_closed:
            return False
        self._timer.start()
        code = self._in_hand
        if self._is_outdated and code not in self._waiting:
            self._waiting.appendleft(code)
        return not self._is_outdated and not self.session.is_tried(code)

    def change(self, label: Text | str, work: Callable[[Edit], None]) -> Reach:
        """Make one undoable edit.

        Raises: HangarError when it is refused; nothing is changed then.
        """
        return self._tell_touched(self.session.edit(label, work))

    def do(self, act: Callable[Concatenate[Edit, P], Text], /, *args: P.args, **kwargs: P.kwargs) -> Reach:
        """Do one act, which can be undone.

        Raises: HangarError when it is refused; nothing is changed then.
        """
        return self._tell_touched(self.session.do(act, *args, **kwargs))

    def edit(self, label: Text | str, work: Callable[[Edit], None]) -> bool:
        """Make one undoable edit; a refusal is told through ``trouble``."""
        return self.attempt(lambda: self.change(label, work))

    def attempt(self, step: Callable[[], object]) -> bool:
        """Do something that may be refused; a refusal is told through ``trouble``."""
        try:
            step()
        except HangarError as fault:
            self.trouble.emit(fault)
            return False
        return True

    def undo(self) -> None:
        """Take the last edit back."""
        self.attempt(lambda: self._step(self.session.undo))

    def redo(self) -> None:
        """Make the edit again that was taken back last."""
        self.attempt(lambda: self._step(self.session.redo))

    def _step(self, way: Callable[[], Reach | None]) -> None:
        touched = way()
        if touched is not None:
            self._tell_touched(touched)

    def read_elsewhere(self, touched: Reach) -> None:
        """Something was changed that did not pass through ``change``: read it again."""
        self.session.forget(touched)
        self._tell_touched(touched)

    def _tell_touched(self, touched: Reach) -> Reach:
        if Setting.KIND in touched:
            self._take_units()
        codes = self.session.dropped()
        self._is_outdated = self._is_outdated or self._in_hand in codes
        self._waiting.extend(sorted(codes - set(self._waiting)))
        self._timer.start()
        self.touched.emit(touched)
        return touched

    @property
    def undo_label(self) -> str | None:
        """What undo would take back."""
        return _put(self.fleet.undo_label)

    @property
    def redo_label(self) -> str | None:
        """What redo would make again."""
        return _put(self.fleet.redo_label)

    def everything_changed(self) -> None:
        """Drop all that is known, after work that did not pass through ``change``."""
        self.session.forget_all()
        self._take_units()
        self._is_outdated = True
        self.touched.emit(_EVERYTHING)
        self.start_judging()

    def rest(self) -> None:
        """Ask nothing of the fleet until ``start_judging``: a long edit is under way beside the window."""
        self._waiting.clear()
        self._timer.stop()
        if self._task is not None:
            self._task.drop()
            self._task = None

    def stop(self) -> None:
        """Work nothing out any more; the fleet is about to be closed."""
        self.session.close()
        self.rest()

    def choose_units(self, units: UnitChoice) -> bool:
        """Keep these units with the fleet; a fleet that cannot be written shows them until it closes."""
        if self.read_only:
            self.view.use_units(units)
            return True

        def work(edit: Edit) -> None:
            for field in fields(units):
                edit.put(Setting(name=f"unit.{field.name}", value=getattr(units, field.name)))

        return self.edit(text("Choose units"), work)

    def _take_units(self) -> None:
        kept: dict[str, str] = {setting.name: setting.value for setting in self.records(Setting)}
        if any(name.startswith("unit.") for name in kept):
            self.attempt(lambda: self.view.use_units(UnitChoice.from_settings(kept)))
        else:
            self.view.use_units(unit_choice(self.view.seat_units))


def _put(label: Text | str | None) -> str | None:
    return None if label is None else put(label)
