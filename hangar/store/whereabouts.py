"""Where a servo or a pack has been: its stays, what it was judged to be, its hours and its tests."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from hangar.base.errors import BadInput
from hangar.base.text import Text
from hangar.parts import (
    BenchCheck,
    CapacityTest,
    Flight,
    Installation,
    LoadTest,
    Pack,
    PackFit,
    Record,
    Servo,
)
from hangar.store.codec import reader_of
from hangar.store.journal import history
from hangar.store.record_rows import Rows

_OF_A_TEST = ("tested_on", "play_deg", "centring_us", "idle_ma", "stall_a", "gear_condition", "sweep_clean")


@dataclass(frozen=True, slots=True)
class InstallationPeriod:
    """A time that the part spent at one place; without ``until_on`` it is there today.

    ``flights`` and ``flown_h`` are those of the aircraft's log in that time; None where no log was kept.
    """

    aircraft: str
    place: str
    since_on: date
    until_on: date | None
    why: str | None
    disputed: bool
    flights: int | None
    flown_h: float | None
    bench_checks: tuple[BenchCheck, ...] = ()


@dataclass(frozen=True, slots=True)
class StateChange:
    """A change of what the part is judged to be: fitted, in the bay, suspect, scrapped ..."""

    when: datetime
    label: Text | str
    state: str
    bin: str | None


@dataclass(frozen=True, slots=True)
class Whereabouts:
    """A part's whole life: the record as it stands, stays and states oldest first, and its tests."""

    part: Servo | Pack
    stays: tuple[InstallationPeriod, ...]
    states: tuple[StateChange, ...]
    tests: tuple[LoadTest | CapacityTest, ...] = ()
    servo_tests: tuple[Servo, ...] = ()
    """The servo as it was entered after each bench test, oldest first."""


def read_whereabouts(stored: Rows, tag: str) -> Whereabouts:
    """Everything the fleet knows of where a part has been.

    Raises: BadInput when no servo and no pack has that tag.
    """
    servo = stored.record(Servo, (tag,))
    if servo is not None:
        stays = sorted(
            stored.records(Installation, servo=tag), key=lambda installation: installation.since_on
        )
        changes = _states(stored, Servo, tag)
        return Whereabouts(
            servo,
            tuple(_servo_stay(stored, stay) for stay in stays),
            changes,
            servo_tests=_servo_tests(stored, tag),
        )
    pack = stored.record(Pack, (tag,))
    if pack is None:
        raise BadInput("There is no servo and no pack {tag} in the file.", tag=tag)
    fits = sorted(stored.records(PackFit, pack=tag), key=lambda pack_fit: pack_fit.since_on)
    tests: list[LoadTest | CapacityTest] = [*stored.records(LoadTest, pack=tag)]
    tests += stored.records(CapacityTest, pack=tag)
    return Whereabouts(
        pack, tuple(_pack_stay(stored, fit) for fit in fits), _states(stored, Pack, tag), tests=tuple(tests)
    )


def _servo_stay(stored: Rows, stay: Installation) -> InstallationPeriod:
    flights, flown_h = _flown(stored, stay.aircraft, stay.since_on, stay.until_on)
    checks = tuple(
        check
        for check in stored.records(BenchCheck, aircraft=stay.aircraft, position=stay.position)
        if _within(check.checked_at.date(), stay.since_on, stay.until_on)
    )
    return InstallationPeriod(
        stay.aircraft,
        stay.position,
        stay.since_on,
        stay.until_on,
        stay.why,
        stay.disputed,
        flights,
        flown_h,
        checks,
    )


def _pack_stay(stored: Rows, fit: PackFit) -> InstallationPeriod:
    flights, flown_h = _flown(stored, fit.aircraft, fit.since_on, fit.until_on)
    return InstallationPeriod(
        fit.aircraft, fit.feed, fit.since_on, fit.until_on, None, False, flights, flown_h
    )


def _flown(stored: Rows, aircraft: str, since: date, until: date | None) -> tuple[int | None, float | None]:
    log = stored.records(Flight, aircraft=aircraft)
    flown = [flight.minutes_min for flight in log if _within(flight.flown_on, since, until)]
    return (len(flown), sum(flown) / 60.0) if log else (None, None)


def _within(day: date, since: date, until: date | None) -> bool:
    return since <= day and (until is None or day <= until)


def _states(stored: Rows, kind: type[Record], tag: str) -> tuple[StateChange, ...]:
    changes: list[StateChange] = []
    for change in reversed(list(history(stored, kind, (tag,)))):
        if change.undone or change.after is None:
            continue
        state, bay_bin = str(change.after["state"]), change.after.get("bin")
        if not changes or (changes[-1].state, changes[-1].bin) != (state, bay_bin):
            changes.append(StateChange(change.when, change.label, state, bay_bin))
    return tuple(changes)


def _servo_tests(stored: Rows, tag: str) -> tuple[Servo, ...]:
    servos: list[Servo] = []
    for change in reversed(list(history(stored, Servo, (tag,)))):
        if change.undone or change.after is None or change.after["tested_on"] is None:
            continue
        before = change.before or {}
        if any(change.after[name] != before.get(name) for name in _OF_A_TEST):
            servos.append(reader_of(Servo)(tuple(change.after.values())))
    return tuple(servos)
