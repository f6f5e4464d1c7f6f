"""Frozen trees come out of the rows whole, with a number of questions that does not grow."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import FrozenInstanceError
from datetime import date, datetime

import pytest
from sqlalchemy import event

from hangar.base.errors import BadInput
from hangar.parts import (
    Airframe,
    BenchCheck,
    Feed,
    Installation,
    LoadTest,
    Pack,
    PackFit,
    Position,
    Regulator,
    RegulatorType,
    Servo,
    Stabiliser,
    Switch,
    SwitchType,
)
from hangar.parts.choices import AircraftClass, Function, RegulatorKind, SwitchKind
from hangar.store import Edit, Fleet
from hangar.store.reading import READ_KINDS
from tests.demo_copies import demo_copy

DAY = date(2025, 6, 1)


@contextmanager
def questions(fleet: Fleet) -> Iterator[list[str]]:
    asked: list[str] = []

    def note(_link: object, _cursor: object, statement: str, *_rest: object) -> None:
        if statement.startswith("SELECT"):
            asked.append(statement)

    engine = fleet._door.link.engine
    event.listen(engine, "before_cursor_execute", note)
    try:
        yield asked
    finally:
        event.remove(engine, "before_cursor_execute", note)


def test_a_position_carries_everything_that_is_on_it(trainer: Fleet) -> None:
    fit = trainer.aircraft("DUN", DAY).fit("AIL")
    assert fit is not None
    assert fit.channel is not None
    assert fit.channel.number == 1
    assert fit.surface is not None
    assert fit.linkage is not None
    assert fit.linkage.arm_mm == 12
    assert fit.installation is not None
    assert fit.installation.arm_teeth == 23
    assert fit.tag == "0801"
    assert fit.servo_type is not None
    assert [rating.torque_nm for rating in fit.servo_type.ratings] == [0.31]
    assert fit.lead is None
    assert fit.through is None
    assert fit.elsewhere == ()


def test_an_empty_position_knows_nothing(trainer: Fleet) -> None:
    fit = trainer.aircraft("DUN", DAY).fit("ELE")
    assert fit is not None
    assert (fit.servo, fit.installation, fit.servo_type, fit.surface) == (None, None, None, None)


def test_what_is_read_is_frozen(trainer: Fleet) -> None:
    with pytest.raises(FrozenInstanceError):
        trainer.airframes()[0].name = "other"  # type: ignore[misc]


def test_a_record_read_equals_the_record_written(fleet: Fleet) -> None:
    made = Airframe(
        code="ALB5",
        name="Albion 5",
        aircraft_class=AircraftClass.SAIL_SCALE,
        acquired_on=date(2019, 2, 28),
        span_mm=5000.25,
        metal_propeller=False,
        ignition_kill=None,
        notes="two\nlines",
    )
    fleet.edit("Put", lambda edit: edit.put(made))
    assert fleet.airframes() == (made,)
    assert isinstance(fleet.airframes()[0].aircraft_class, AircraftClass)


def test_the_day_of_reading_is_the_one_asked_for(trainer: Fleet) -> None:
    assert trainer.aircraft("DUN", DAY).read_on == DAY
    assert trainer.aircraft("DUN").read_on == date.today()


def test_an_unknown_code_names_those_there_are(trainer: Fleet) -> None:
    with pytest.raises(BadInput, match=r'no aircraft "XYZ" in this fleet; there are: DUN\.'):
        trainer.aircraft("XYZ")


def test_a_servo_claimed_twice_shows_at_both_places_with_the_other_one(trainer: Fleet) -> None:
    claim = Installation(servo="0801", aircraft="DUN", position="ELE", since_on=DAY, disputed=True)
    trainer.edit("Claim", lambda edit: edit.put(claim))
    aileron, elevator = trainer.aircraft("DUN", DAY).fits
    assert aileron.installation is not None
    assert not aileron.installation.disputed
    assert aileron.elsewhere == (claim,)
    assert elevator.installation == claim
    assert elevator.tag == "0801"
    assert [stay.position for stay in elevator.elsewhere] == ["AIL"]


def test_a_claim_in_another_aircraft_is_seen_from_both(trainer: Fleet) -> None:
    def work(edit: Edit) -> None:
        edit.put(Airframe(code="ALB", name="Albion", aircraft_class=AircraftClass.SAIL_SCALE))
        edit.put(Position(aircraft="ALB", code="SPOIL", name="spoiler", function=Function.SPOILER))
        edit.put(Installation(servo="0801", aircraft="ALB", position="SPOIL", since_on=DAY, disputed=True))

    assert trainer.edit("Claim", work).aircraft == {"ALB", "DUN"}
    (spoiler,) = trainer.aircraft("ALB", DAY).fits
    assert [(stay.aircraft, stay.position) for stay in spoiler.elsewhere] == [("DUN", "AIL")]
    aileron = trainer.aircraft("DUN", DAY).fit("AIL")
    assert aileron is not None
    assert [(stay.aircraft, stay.position) for stay in aileron.elsewhere] == [("ALB", "SPOIL")]


def test_the_undisputed_servo_of_a_position_comes_first(trainer: Fleet) -> None:
    claim = Installation(
        servo="0700", aircraft="DUN", position="AIL", since_on=date(2020, 1, 1), disputed=True
    )
    trainer.edit("Claim", lambda edit: edit.put_all([Servo(tag="0700", servo_type="TS-31"), claim]))
    assert trainer.aircraft("DUN", DAY).fits[0].tag == "0801"


def test_an_ended_stay_is_not_there_today(trainer: Fleet) -> None:
    trainer.edit("Take out", lambda edit: edit.unfit_servo("0801", DAY))
    assert [fit.tag for fit in trainer.aircraft("DUN", DAY).fits] == [None, None]
    assert len(trainer.records(Installation)) == 1


def test_positions_come_in_the_order_they_are_plugged_in(trainer: Fleet) -> None:
    def work(edit: Edit) -> None:
        edit.put(Position(aircraft="DUN", code="A-LOOSE", name="loose", function=Function.SPARE))
        edit.swap_channels("DUN", "main", 1, 2)

    trainer.edit("Rewire", work)
    assert [fit.code for fit in trainer.aircraft("DUN", DAY).fits] == ["ELE", "AIL", "A-LOOSE"]


def test_a_power_path_carries_packs_with_their_tests_oldest_first(trainer: Fleet) -> None:
    tests = [
        LoadTest(pack="B061", tested_at=datetime(2025, day, 1, 9), load_a=1, rest_v=5.3, loaded_v=5.2)  # noqa: DTZ001
        for day in (3, 1, 2)
    ]

    def power(edit: Edit) -> None:
        edit.put(RegulatorType(code="R5", regulator=RegulatorKind.LINEAR))
        edit.put(Regulator(aircraft="DUN", code="REG", regulator_type="R5", set_v=5.9))
        edit.put(SwitchType(code="S1", switch=SwitchKind.SLIDE))
        edit.put(Switch(aircraft="DUN", code="SW", switch_type="S1"))
        edit.change(Feed, ("DUN", "RX"), switch="SW", regulator="REG")
        edit.put_all(tests)

    trainer.edit("Power", power)
    (path,) = trainer.aircraft("DUN", DAY).paths
    assert path.switch_type is not None
    assert path.regulator_type is not None
    assert path.regulator is not None
    assert path.regulator.set_v == 5.9
    (pack,) = path.packs
    assert pack.pack.tag == "B061"
    assert pack.pack_type.code == "NL4-20"
    assert [test.tested_at.month for test in pack.load_tests] == [1, 2, 3]


def test_a_pack_taken_out_leaves_the_path_empty(trainer: Fleet) -> None:
    key = ("B061", "DUN", "RX", date(2024, 1, 1))
    trainer.edit("Take out", lambda edit: edit.change(PackFit, key, until_on=DAY))
    assert trainer.aircraft("DUN", DAY).paths[0].packs == ()
    assert trainer.records(Pack)[0].tag == "B061"


def test_gyro_and_bench_checks_hang_on_their_position(trainer: Fleet) -> None:
    checks = [
        BenchCheck(aircraft="DUN", position="ELE", checked_at=datetime(2025, 1, day, 20), moving_ma=day)  # noqa: DTZ001
        for day in (9, 3)
    ]

    def work(edit: Edit) -> None:
        edit.put(Stabiliser(aircraft="DUN", code="GYRO"))
        edit.change(Position, ("DUN", "ELE"), through="GYRO")
        edit.put_all(checks)

    trainer.edit("Add", work)
    fit = trainer.aircraft("DUN", DAY).fit("ELE")
    assert fit is not None
    assert fit.through is not None
    assert fit.through.code == "GYRO"
    assert [check.moving_ma for check in fit.bench_checks] == [3, 9]


def test_records_can_be_asked_for_by_their_fields(trainer: Fleet) -> None:
    assert [servo.tag for servo in trainer.records(Servo, bin=None)] == ["0801", "0802", "0803"]
    assert trainer.records(Servo, tag="0802")[0].tag == "0802"
    assert trainer.records(Position, function=Function.ELEVATOR)[0].code == "ELE"
    assert trainer.record(Position, "DUN", "NONE") is None
    with pytest.raises(BadInput, match="servo has no field colour"):
        trainer.records(Servo, colour="red")


def test_the_library_holds_types_and_what_lies_in_the_bay(trainer: Fleet) -> None:
    library = trainer.library()
    assert set(library.servo_types) == {"TS-31"}
    assert set(library.spare_servos) == {"0802", "0803"}
    assert library.spare_packs == {}
    key = ("B061", "DUN", "RX", date(2024, 1, 1))
    trainer.edit("Take out", lambda edit: edit.change(PackFit, key, until_on=DAY))
    assert set(trainer.library().spare_packs) == {"B061"}


@pytest.fixture(scope="module")
def demo() -> Iterator[Fleet]:
    """The invented fleet."""
    with demo_copy(DAY) as made:
        yield made


def test_one_aircraft_read_alone_equals_itself_in_the_whole_fleet(demo: Fleet) -> None:
    for aircraft in demo.whole_fleet(DAY):
        assert demo.aircraft(aircraft.code, DAY) == aircraft


def test_any_fleet_is_read_with_one_question_a_kind(demo: Fleet, trainer: Fleet) -> None:
    counts = set()
    for fleet, codes in ((demo, demo.aircraft_codes()), (trainer, ("DUN",))):
        with questions(fleet) as asked:
            fleet.whole_fleet(DAY)
        counts.add(len(asked))
        for code in codes:
            with questions(fleet) as asked:
                fleet.aircraft(code, DAY)
            counts.add(len(asked))
    assert counts == {len(READ_KINDS)}
