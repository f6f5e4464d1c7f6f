"""What falls due on an aircraft and when: tests, charges, proofs, inspections and the age of its packs."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from functools import cache
from typing import Any

from hangar.base.places import resources_dir
from hangar.base.text import Text, fixed, text
from hangar.parts import Aircraft, FedPack, PutOff
from hangar.parts.choices import (
    AircraftClass,
    AircraftState,
    Chemistry,
    Duty,
    FeedRole,
    Function,
    InspectionKind,
)
from hangar.parts.failsafe import is_set_wrong
from hangar.survey.model import Conditions

Limit = Callable[[str], float]
_GONE = (AircraftState.PASSED_ON, AircraftState.WRITTEN_OFF)
_DAYS_A_YEAR = 365.25


@dataclass(frozen=True, slots=True)
class DueItem:
    """One thing that falls due.

    Attributes:
        what: kind of duty.
        about: tag of the pack, the channel in words, or code of the aircraft.
        due_on: day it is due; the survey's own day where it was never done.
        days: days left, below 0 when it is overdue.
        why: the record and the interval it comes from.
        key: what it is about, as a record names it.
        done_on: when it was last done, as far as the day it is due rests on that; None for never.
        put_off: how it was put off since it was last done. It is as due as before.
    """

    what: Duty
    about: Text | str
    due_on: date
    days: int
    why: Text
    key: str
    done_on: date | None = None
    put_off: PutOff | None = None


def due_items(
    aircraft: Aircraft, conditions: Conditions | None = None, limit: Limit | None = None
) -> tuple[DueItem, ...]:
    """Everything that falls due on an aircraft, the earliest first.

    Args:
        aircraft: the aircraft as a tree of parts.
        conditions: the day, and the keeper's own typical values.
        limit: gives the interval in force by its name in the table of limits, for this aircraft's class;
            None takes the shipped ones.

    Returns:
        Items by day. Nothing for aircraft that are passed on or written off; for one that is laid up
        only what its packs need on the shelf.
    """
    conditions = conditions or Conditions()
    if aircraft.airframe.state in _GONE:
        return ()
    list_of = _Due(aircraft, conditions, limit or shipped_limit(aircraft.airframe.aircraft_class))
    items = [list_of.with_put_off(item) for item in (*list_of.packs(), *list_of.whole())]
    return tuple(sorted(items, key=lambda item: (item.due_on, item.what, str(item.about))))


def shipped_limit(aircraft_class: AircraftClass | None) -> Limit:
    """The intervals that travel with Hangar, for aircraft of a class."""

    def limit(name: str) -> float:
        row = _limits()[name]
        return float(row.get("by_class", {}).get(aircraft_class, row["default"]))

    return limit


@cache
def _limits() -> dict[str, Any]:
    with (resources_dir() / "thresholds.toml").open("rb") as file:
        return tomllib.load(file)


@dataclass(frozen=True, slots=True)
class _Due:
    """One aircraft, its day and its intervals."""

    aircraft: Aircraft
    conditions: Conditions
    limit: Limit

    @property
    def laid_up(self) -> bool:
        return self.aircraft.airframe.state is AircraftState.LAID_UP

    def item(
        self, what: Duty, about: Text | str, due_on: date, why: Text, *, key: str = "", done_on: date | None
    ) -> DueItem:
        days = (due_on - self.conditions.today).days
        return DueItem(what, about, due_on, days, why, key or str(about), done_on)

    def with_put_off(self, item: DueItem) -> DueItem:
        """An item with how it was put off; what was put off before it was last done counts no more."""
        for put_off in self.aircraft.put_off:
            if (put_off.duty, put_off.about, put_off.done_on) == (item.what, item.key, item.done_on):
                return replace(item, put_off=put_off)
        return item

    def after(
        self, what: Duty, about: Text | str, done_on: date | None, interval: str, *, key: str = ""
    ) -> DueItem:
        """Due an interval after it was last done; at once where it never was."""
        days = self.limit(interval)
        if done_on is None:
            never = text("none on record; due every {days:g} days", days=days)
            return self.item(what, about, self.conditions.today, never, key=key, done_on=None)
        why = text("last on {day}; due every {days:g} days", day=done_on, days=days)
        due_on = done_on + timedelta(days=round(days))
        return self.item(what, about, due_on, why, key=key, done_on=done_on)

    def packs(self) -> Iterator[DueItem]:
        """What the packs need: flown ones a test and a charge, all of them their age and cycling."""
        radio = {path.feed.code for path in self.aircraft.radio_paths}
        for path in self.aircraft.paths:
            tested = path.feed.role is not FeedRole.DRIVE or path.feed.code in radio
            for fed in path.packs:
                if tested and not self.laid_up:
                    yield self._load_test(fed)
                    charged = _charged_on(fed, self.conditions.today)
                    yield self.after(Duty.CHARGE, fed.pack.tag, charged, _charge_interval(fed))
                cycled = _cycled_on(fed)
                if fed.pack_type.chemistry.is_nickel and cycled is not None:
                    yield self.after(Duty.CYCLE, fed.pack.tag, cycled, "refresh-days")
                yield from self._life(fed)

    def _load_test(self, fed: FedPack) -> DueItem:
        """A load test counts for the day it is made on."""
        today = self.conditions.today
        newest = max((test.tested_at.date() for test in fed.load_tests), default=None)
        if newest == today:
            why = text("made today; due again on the next flying day after {day}", day=today)
            return self.item(Duty.LOAD_TEST, fed.pack.tag, today + timedelta(days=1), why, done_on=newest)
        why = (
            fixed("none on record; due on every flying day")
            if newest is None
            else text("last on {day}; due on every flying day", day=newest)
        )
        return self.item(Duty.LOAD_TEST, fed.pack.tag, today, why, done_on=newest)

    def _life(self, fed: FedPack) -> Iterator[DueItem]:
        bought, kind = fed.pack.bought_on, fed.pack_type
        if bought is not None:
            years = kind.life_y or self.limit(f"life-years-{kind.chemistry.lower()}")
            ends = bought + timedelta(days=round(years * _DAYS_A_YEAR))
            why = text(
                "bought on {day}; its type lasts {years:g} years"
                if kind.life_y
                else "bought on {day}; such packs usually last {years:g} years",
                day=bought,
                years=years,
            )
            yield self.item(Duty.PACK_LIFE, fed.pack.tag, ends, why, done_on=bought)

    def whole(self) -> Iterator[DueItem]:
        """What the aircraft itself needs before it flies."""
        if self.laid_up:
            return
        yield self._range_check()
        for channel in self.aircraft.channels:
            if channel.function is Function.THROTTLE and channel.failsafe is not None:
                about = text("channel {channel}", channel=channel.number)
                # A proof of a setting that is wrong is none.
                proved_on = None if is_set_wrong(channel) else channel.failsafe_proved_on
                place = f"{channel.port} {channel.number}"
                yield self.after(Duty.FAILSAFE, about, proved_on, "failsafe-days", key=place)
        yield from self._inspections()

    def _range_check(self) -> DueItem:
        code, refit = self.aircraft.code, self.aircraft.airframe.refit_on
        newest = max(self.aircraft.range_checks, key=lambda check: check.checked_on, default=None)
        if newest is not None and not newest.passed:
            why = text("the range check of {day} failed", day=newest.checked_on)
            failed_on = newest.checked_on
            return self.item(Duty.RANGE_CHECK, code, failed_on, why, done_on=failed_on)
        if newest is not None and refit is not None and newest.checked_on < refit:
            why = text("none since the refit of {day}", day=refit)
            return self.item(Duty.RANGE_CHECK, code, refit, why, done_on=newest.checked_on)
        checked = None if newest is None else newest.checked_on
        return self.after(Duty.RANGE_CHECK, code, checked, "range-days")

    def _inspections(self) -> Iterator[DueItem]:
        """Of each kind of inspection the newest one counts; the newest of all also for a count of flights.

        A check at the gate before a flight takes the place of none.
        """
        newest = {
            inspection.kind: inspection
            for inspection in sorted(self.aircraft.inspections, key=lambda seen: seen.inspected_on)
            if inspection.kind is not InspectionKind.GATE
        }
        for inspection in newest.values():
            if inspection.next_due_on is not None:
                why = text(
                    "{kind} inspection of {day} names this day",
                    kind=inspection.kind,
                    day=inspection.inspected_on,
                )
                yield self.item(
                    Duty.INSPECTION,
                    self.aircraft.code,
                    inspection.next_due_on,
                    why,
                    key=inspection.kind,
                    done_on=inspection.inspected_on,
                )
        last = max((inspection.inspected_on for inspection in newest.values()), default=None)
        flights = [flight for flight in self.aircraft.flights if last is None or flight.flown_on > last]
        most = self.limit("inspection-flights") if newest else 0.0
        if len(flights) > most:
            why = (
                text(
                    "{count} flights since the inspection of {day}; {most:g} is the interval",
                    count=len(flights),
                    day=last,
                    most=most,
                )
                if last
                else text("{count} flights and no inspection on record", count=len(flights))
            )
            today = self.conditions.today
            yield self.item(Duty.INSPECTION, self.aircraft.code, today, why, key="flights", done_on=last)


def _charge_interval(fed: FedPack) -> str:
    if fed.pack_type.chemistry is Chemistry.NIMH_LSD:
        return "charge-days-lsd"
    return "charge-days-nickel" if fed.pack_type.chemistry.is_nickel else "charge-days-lithium"


def _charged_on(fed: FedPack, today: date) -> date | None:
    """The newest charge that was given; one that is only planned lies ahead."""
    days = [charge.charged_at.date() for charge in fed.charges if charge.charged_at.date() <= today]
    return max([*days, fed.pack.charged_on] if fed.pack.charged_on else days, default=None)


def _cycled_on(fed: FedPack) -> date | None:
    days = [test.tested_on for test in fed.capacity_tests]
    return max([*days, fed.pack.capacity_on] if fed.pack.capacity_on else days, default=None)
