"""What falls due and when, against days counted by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta

from hangar.parts import Aircraft, Charge, Flight, Inspection, LoadTest, PutOff, RangeCheck
from hangar.parts.choices import AircraftState, Duty, FailsafeAction, Function, InspectionKind
from hangar.rules import Thresholds
from hangar.rules import examples as ex
from hangar.rules.changing import with_channel
from hangar.rules.example_parts import channel
from hangar.survey import Conditions, DueItem, due_items
from tests.all_cases import all_cases
from tests.rules.demo_trees import demo
from tests.survey.fleets import CONDITIONS, TODAY, trainer


def _of(aircraft: Aircraft, what: Duty) -> list[DueItem]:
    return [item for item in due_items(aircraft, CONDITIONS) if item.what is what]


def _with_pack(**values: object) -> Aircraft:
    aircraft = trainer()
    path = aircraft.paths[0]
    fed = path.packs[0]
    own = {name: value for name, value in values.items() if name in ("load_tests", "charges")}
    pack = replace(fed.pack, **{name: value for name, value in values.items() if name not in own})  # type: ignore[arg-type]
    fed = replace(fed, pack=pack, **own)  # type: ignore[arg-type]
    return replace(aircraft, paths=(replace(path, packs=(fed,)), *aircraft.paths[1:]))


def _tag() -> str:
    return trainer().paths[0].packs[0].pack.tag


def test_items_stand_by_day_and_count_the_days_left() -> None:
    items = due_items(_with_pack(bought_on=TODAY, charged_on=TODAY), CONDITIONS)
    assert [item.due_on for item in items] == sorted(item.due_on for item in items)
    assert all(item.days == (item.due_on - TODAY).days for item in items)


def test_a_load_test_is_due_on_every_flying_day_and_done_for_today_when_made_today() -> None:
    [never] = _of(trainer(), Duty.LOAD_TEST)
    assert (never.about, never.days) == (_tag(), 0)
    test = LoadTest(
        pack=_tag(),
        tested_at=datetime.combine(date(2024, 6, 1), time(9)),
        load_a=1.0,
        rest_v=5.2,
        loaded_v=5.0,
    )
    [made] = _of(_with_pack(load_tests=(test,)), Duty.LOAD_TEST)
    assert made.days == 1


def test_a_charge_that_is_only_planned_is_no_charge() -> None:
    planned = Charge(pack=_tag(), charged_at=datetime.combine(date(2024, 6, 9), time(9)))
    given = Charge(pack=_tag(), charged_at=datetime.combine(date(2024, 5, 30), time(9)))
    [item] = _of(_with_pack(charges=(given, planned)), Duty.CHARGE)
    assert f"{date(2024, 5, 30)}" in str(item.why)
    assert item.due_on > date(2024, 5, 30)


def test_a_pack_is_at_the_end_of_its_life_its_years_after_it_was_bought() -> None:
    aircraft = _with_pack(bought_on=date(2020, 6, 1))
    path = aircraft.paths[0]
    fed = replace(path.packs[0], pack_type=replace(path.packs[0].pack_type, life_y=4.0))
    [item] = _of(replace(aircraft, paths=(replace(path, packs=(fed,)),)), Duty.PACK_LIFE)
    assert item.due_on == TODAY
    assert "4 years" in str(item.why)


def test_a_range_check_counts_for_its_days_unless_it_failed_or_a_refit_came_after_it() -> None:
    check = RangeCheck(aircraft="T", checked_on=TODAY - timedelta(days=10))
    aircraft = replace(trainer(), range_checks=(check,))
    [item] = _of(aircraft, Duty.RANGE_CHECK)
    assert item.days == 20
    failed = replace(aircraft, range_checks=(replace(check, passed=False),))
    assert _of(failed, Duty.RANGE_CHECK)[0].days == -10
    refit = replace(aircraft, airframe=replace(aircraft.airframe, refit_on=TODAY - timedelta(days=3)))
    assert _of(refit, Duty.RANGE_CHECK)[0].days == -3
    assert _of(replace(aircraft, range_checks=()), Duty.RANGE_CHECK)[0].days == 0


def test_the_newest_inspection_of_each_kind_names_its_day() -> None:
    def looked(day: int, kind: InspectionKind, due: int) -> Inspection:
        return Inspection(
            aircraft="T", inspected_on=TODAY - timedelta(days=day), kind=kind,
            next_due_on=TODAY + timedelta(days=due),
        )  # fmt: skip

    held = (
        looked(400, InspectionKind.YEARLY, -35),
        looked(30, InspectionKind.YEARLY, 335),
        looked(90, InspectionKind.INTERVAL, 5),
    )
    items = _of(replace(trainer(), inspections=held), Duty.INSPECTION)
    assert [item.days for item in items] == [5, 335]


def test_flights_without_an_inspection_make_one_due() -> None:
    flown = tuple(Flight(aircraft="T", flown_on=TODAY, number=n, minutes_min=8.0) for n in range(1, 4))
    [item] = _of(replace(trainer(), flights=flown), Duty.INSPECTION)
    assert item.days == 0
    assert str(item.why).startswith("3 flights")


def test_the_throttle_failsafe_is_proved_anew_after_its_days() -> None:
    proved = replace(
        channel("T", 3, Function.THROTTLE),
        failsafe=FailsafeAction.IDLE,
        failsafe_proved_on=TODAY - timedelta(days=31),
    )
    [item] = _of(replace(trainer(), channels=(proved,)), Duty.FAILSAFE)
    assert (str(item.about), item.days) == ("channel 3", -1)


def test_the_keepers_own_interval_governs() -> None:
    check = RangeCheck(aircraft="T", checked_on=TODAY)
    aircraft = replace(trainer(), range_checks=(check,))
    own = Thresholds({"range-days": 7.0})
    kind = aircraft.airframe.aircraft_class
    items = due_items(aircraft, CONDITIONS, lambda name: own.value(name, kind))
    assert next(item.days for item in items if item.what is Duty.RANGE_CHECK) == 7


@all_cases("state", [AircraftState.PASSED_ON, AircraftState.WRITTEN_OFF])
def test_nothing_falls_due_on_an_aircraft_that_is_gone(state: AircraftState) -> None:
    aircraft = trainer()
    gone = replace(aircraft, airframe=replace(aircraft.airframe, state=state))
    assert due_items(gone, Conditions(today=TODAY)) == ()


def test_an_aircraft_laid_up_needs_only_what_its_packs_need_on_the_shelf() -> None:
    aircraft = _with_pack(bought_on=date(2023, 1, 1))
    laid_up = replace(aircraft, airframe=replace(aircraft.airframe, state=AircraftState.LAID_UP))
    assert {item.what for item in due_items(laid_up, CONDITIONS)} <= {Duty.CYCLE, Duty.PACK_LIFE}


def test_a_proof_of_a_setting_that_is_wrong_is_none() -> None:
    def due(failsafe: FailsafeAction) -> int:
        aircraft = with_channel(ex.trainer(), 3, failsafe=failsafe, failsafe_proved_on=ex.DAY)
        items = due_items(aircraft, Conditions(today=ex.DAY))
        return next(item.days for item in items if item.what is Duty.FAILSAFE)

    assert due(FailsafeAction.IDLE) > 0
    assert due(FailsafeAction.HOLD) == 0


def test_what_was_put_off_is_as_due_as_before_and_counts_until_it_is_done() -> None:
    check = RangeCheck(aircraft="T", checked_on=TODAY - timedelta(days=40))
    aircraft = replace(trainer(), range_checks=(check,))
    [due] = _of(aircraft, Duty.RANGE_CHECK)
    put_off = PutOff(
        aircraft="T", duty=due.what, about=due.key, until_on=TODAY + timedelta(days=9), reason="no wind",
        put_off_on=TODAY, done_on=due.done_on,
    )  # fmt: skip
    aircraft = replace(aircraft, put_off=(put_off,))
    assert _of(aircraft, Duty.RANGE_CHECK) == [replace(due, put_off=put_off)]
    assert due.days == -10
    again = replace(aircraft, range_checks=(check, replace(check, checked_on=TODAY)))
    assert _of(again, Duty.RANGE_CHECK)[0].put_off is None


def test_everything_that_is_due_on_an_aircraft_has_a_name_of_its_own() -> None:
    for aircraft in demo()[0].values():
        items = due_items(aircraft, CONDITIONS)
        assert items
        assert len({(item.what, item.key) for item in items}) == len(items), aircraft.code
