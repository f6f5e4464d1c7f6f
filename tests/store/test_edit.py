"""Every change goes through one door: all of it or none, undoable, refused in sentences."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime

import pytest

from hangar.base.errors import BadInput
from hangar.parts import (
    Airframe,
    Channel,
    Installation,
    Linkage,
    LoadTest,
    Pack,
    PackFit,
    Plan,
    PlanLine,
    Position,
    Servo,
    ServoRating,
    ServoType,
    Setting,
)
from hangar.parts.choices import (
    AircraftClass,
    Drive,
    Function,
    LinkageKind,
    PackState,
    PlanAction,
    ServoState,
)
from hangar.store import Edit, Fleet, Reach

DAY = date(2025, 6, 1)
Work = Callable[[Edit], None]


def test_an_edit_tells_the_kinds_and_the_aircraft_it_touched(trainer: Fleet) -> None:
    touched = trainer.edit("Note play", lambda edit: edit.change(Servo, ("0801",), play_deg=0.4))
    assert set(touched) == {"servo"}
    assert isinstance(touched, Reach)
    assert touched.aircraft == {"DUN"}


def test_a_servo_in_the_bay_touches_no_aircraft(trainer: Fleet) -> None:
    touched = trainer.edit("Note play", lambda edit: edit.change(Servo, ("0802",), play_deg=0.4))
    assert touched.aircraft == frozenset()


def test_a_type_touches_every_aircraft_that_flies_it(trainer: Fleet) -> None:
    rating = ServoRating(servo_type="TS-31", rated_v=6.0, torque_nm=0.39, transit_s=0.17)
    assert trainer.edit("Rate", lambda edit: edit.put(rating)).aircraft == {"DUN"}


def test_a_pack_touches_the_aircraft_it_feeds(trainer: Fleet) -> None:
    test = LoadTest(pack="B061", tested_at=datetime(2025, 6, 1, 9, 30), load_a=1, rest_v=5.3, loaded_v=5.2)  # noqa: DTZ001
    assert trainer.edit("Test pack", lambda edit: edit.put(test)).aircraft == {"DUN"}


def test_a_line_of_a_plan_touches_the_aircraft_the_plan_is_for(trainer: Fleet) -> None:
    trainer.edit("Plan", lambda edit: edit.put(Plan(code="P", aircraft="DUN", title="refit")))
    line = PlanLine(plan="P", number=1, action=PlanAction.FIT_SERVO)
    assert trainer.edit("Line", lambda edit: edit.put(line)).aircraft == {"DUN"}
    assert trainer.edit("No line", lambda edit: edit.remove(PlanLine, ("P", 1))).aircraft == {"DUN"}


def test_a_failing_edit_changes_nothing_at_all(trainer: Fleet) -> None:
    before = trainer.whole_fleet(DAY)

    def work(edit: Edit) -> None:
        edit.change(Servo, ("0801",), play_deg=0.4)
        edit.put(Servo(tag="0804", servo_type="TS-31"))
        raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        trainer.edit("Fail", work)
    assert trainer.whole_fleet(DAY) == before
    assert trainer.record(Servo, "0804") is None
    assert str(trainer.undo_label) == "Build the trainer"


def test_an_edit_that_changes_nothing_leaves_no_step_to_undo(trainer: Fleet) -> None:
    servo = trainer.record(Servo, "0801")
    assert servo is not None
    assert trainer.edit("Same again", lambda edit: edit.put(servo)) == frozenset()
    assert str(trainer.undo_label) == "Build the trainer"


def test_put_replaces_the_record_with_the_same_key(trainer: Fleet) -> None:
    trainer.edit("Rename", lambda edit: edit.put(Servo(tag="0802", servo_type="TS-31", notes="spare")))
    assert trainer.records(Servo, tag="0802") == (Servo(tag="0802", servo_type="TS-31", notes="spare"),)


def test_outer_blanks_are_taken_off_and_empty_text_is_not_known(trainer: Fleet) -> None:
    trainer.edit("Put", lambda edit: edit.put(Servo(tag=" 0805 ", servo_type="TS-31", notes="  ")))
    assert trainer.record(Servo, "0805") == Servo(tag="0805", servo_type="TS-31")


def test_putting_a_type_with_ratings_makes_them_its_whole_set(trainer: Fleet) -> None:
    new = ServoRating(servo_type="TS-31", rated_v=6.0, torque_nm=0.39, transit_s=0.17)
    servo_type = trainer.record(ServoType, "TS-31")
    assert servo_type is not None
    trainer.edit("Rate anew", lambda edit: edit.put(replace(servo_type, ratings=(new,))))
    assert trainer.records(ServoRating) == (new,)
    trainer.edit("Name the maker", lambda edit: edit.put(replace(servo_type, maker="Ostrafell", ratings=())))
    assert trainer.records(ServoRating) == (new,)


IMPOSSIBLE: list[tuple[Work, str]] = [
    (
        lambda edit: edit.put(Servo(tag="0804", servo_type="TS-31", play_deg=11)),
        "servo 0804: free play at the arm is 11; allowed is 0 to 10.",
    ),
    (
        lambda edit: edit.put(Servo(tag="", servo_type="TS-31")),
        "servo : tag is empty; it must be given.",
    ),
    (
        lambda edit: edit.put(Servo(tag="0804", servo_type="TS-99")),
        "ervo type TS-99, which is not in the file.",
    ),
    (
        lambda edit: edit.put(
            Airframe(code="MAR", name="x", aircraft_class=AircraftClass.GIANT, cg_fore_mm=9, cg_aft_mm=1)
        ),
        "aircraft MAR: the fore balance limit must lie before the aft one.",
    ),
    (
        lambda edit: edit.put(Installation(servo="0801", aircraft="DUN", position="ELE", since_on=DAY)),
        "servo in place 0801 DUN ELE 2025-06-01: a servo can be in one place at a time.",
    ),
    (
        lambda edit: edit.put(Installation(servo="0802", aircraft="DUN", position="AIL", since_on=DAY)),
        "servo in place 0802 DUN AIL 2025-06-01: a position holds one servo at a time.",
    ),
    (
        lambda edit: edit.put(PackFit(pack="B061", aircraft="DUN", feed="RX", since_on=DAY)),
        "pack in place B061 DUN RX 2025-06-01: a pack can be in one place at a time.",
    ),
    (
        lambda edit: edit.change(Servo, ("0801",), colour="red"),
        "servo has no field colour; it has bin,",
    ),
    (
        lambda edit: edit.change(Servo, ("0801",), tag="0809"),
        "tag names the servo; rename it instead of changing the field.",
    ),
    (lambda edit: edit.change(Servo, ("0899",), bin="A"), "There is no servo 0899 in the file."),
    (lambda edit: edit.remove(Servo, ("0899",)), "There is no servo 0899 in the file."),
    (lambda edit: edit.rename(Servo, ("0801",), ("0802",)), "There is a servo 0802 already; choose another"),
    (lambda edit: edit.remove(Servo, ("0801",)), "names servo 0801, which is not in the file."),
    (lambda edit: edit.remove(ServoType, ("TS-31",)), "names servo type TS-31, which is not in the file."),
    (lambda edit: edit.change(Servo, "0801", bin="A"), "servo is named by tag; found '0801'."),
    (lambda edit: edit.unfit_servo("0802", DAY), "servo 0802 is not fitted anywhere."),
    (lambda edit: edit.fit_servo("0899", "DUN", "ELE", DAY), "There is no servo 0899 in the file."),
    (lambda edit: edit.fit_servo("0802", "DUN", "RUD", DAY), "There is no position DUN RUD in the file."),
    (
        lambda edit: edit.fit_servo("0801", "DUN", "ELE", date(2023, 1, 1)),
        "servo in place 0801 DUN AIL 2024-01-01: a part cannot be taken off before it was fitted.",
    ),
    (lambda edit: edit.put(Setting(name="unit", value="a\x00b")), "holds a character that cannot be stored."),
    (lambda edit: edit.put(Setting(name="unit", value="\ud800")), "holds a character that cannot be stored."),
]  # fmt: skip


@pytest.mark.parametrize(
    ("work", "sentence"), IMPOSSIBLE, ids=lambda part: part[:30] if isinstance(part, str) else ""
)
def test_impossible_changes_are_refused_in_a_sentence(trainer: Fleet, work: Work, sentence: str) -> None:
    before = trainer.whole_fleet(DAY)
    with pytest.raises(BadInput) as fault:
        trainer.edit("Try", work)
    assert sentence in str(fault.value)
    assert trainer.whole_fleet(DAY) == before


def test_many_records_at_once_name_the_one_that_is_refused(trainer: Fleet) -> None:
    stays = [
        Installation(servo="0802", aircraft="DUN", position="ELE", since_on=DAY),
        Installation(servo="0803", aircraft="DUN", position="ELE", since_on=DAY),
    ]
    with pytest.raises(BadInput, match="servo in place 0803 DUN ELE 2025-06-01: a position holds one servo"):
        trainer.edit("Fit both", lambda edit: edit.put_all(stays))
    assert len(trainer.records(Installation)) == 1


def test_many_records_at_once_replace_those_that_are_there(trainer: Fleet) -> None:
    servos = [Servo(tag="0802", servo_type="TS-31", bin="A1"), Servo(tag="0804", servo_type="TS-31")]
    trainer.edit("Put both", lambda edit: edit.put_all(servos))
    assert [servo.bin for servo in trainer.records(Servo)] == [None, "A1", None, None]
    trainer.undo()
    assert [servo.tag for servo in trainer.records(Servo)] == ["0801", "0802", "0803"]


def test_fitting_a_servo_ends_its_other_stay_and_the_positions_present_one(trainer: Fleet) -> None:
    def both(edit: Edit) -> None:
        edit.fit_servo("0802", "DUN", "ELE", date(2024, 2, 1))
        edit.fit_servo("0801", "DUN", "ELE", DAY, "stronger", screws_fitted=4)

    trainer.edit("Refit", both)
    stays = {(stay.servo, stay.position): stay for stay in trainer.records(Installation)}
    assert stays["0801", "AIL"].until_on == DAY
    assert stays["0801", "AIL"].why == "first fit"
    assert stays["0802", "ELE"].until_on == DAY
    assert stays["0801", "ELE"].until_on is None
    assert stays["0801", "ELE"].why == "stronger"
    assert stays["0801", "ELE"].screws_fitted == 4
    states = {servo.tag: servo.state for servo in trainer.records(Servo)}
    assert states == {"0801": ServoState.FITTED, "0802": ServoState.IN_BAY, "0803": ServoState.IN_BAY}


def test_fitting_a_servo_where_it_is_keeps_its_stay(trainer: Fleet) -> None:
    trainer.edit("Locked", lambda edit: edit.fit_servo("0801", "DUN", "AIL", DAY, arm_screw_locked=True))
    (stay,) = trainer.records(Installation)
    assert (stay.since_on, stay.why, stay.arm_teeth, stay.arm_screw_locked) == (
        date(2024, 1, 1),
        "first fit",
        23,
        True,
    )


def test_fitting_a_servo_settles_a_disputed_place(trainer: Fleet) -> None:
    claim = Installation(servo="0801", aircraft="DUN", position="ELE", since_on=DAY, disputed=True)
    trainer.edit("Claim", lambda edit: edit.put(claim))
    trainer.edit("Settle", lambda edit: edit.fit_servo("0801", "DUN", "ELE", date(2025, 7, 1)))
    open_stays = trainer.records(Installation, until_on=None)
    assert [(stay.position, stay.disputed, stay.since_on) for stay in open_stays] == [("ELE", False, DAY)]


def test_a_scrapped_servo_cannot_be_fitted(trainer: Fleet) -> None:
    trainer.edit("Scrap", lambda edit: edit.change(Servo, ("0802",), state=ServoState.SCRAPPED))
    with pytest.raises(BadInput, match="servo 0802 is scrapped"):
        trainer.edit("Fit", lambda edit: edit.fit_servo("0802", "DUN", "ELE", DAY))


def test_taking_a_servo_out_says_what_becomes_of_it(trainer: Fleet) -> None:
    trainer.edit("Take out", lambda edit: edit.unfit_servo("0801", DAY, ServoState.SUSPECT, "crash"))
    servo = trainer.record(Servo, "0801")
    assert servo is not None
    assert servo.state is ServoState.SUSPECT
    assert trainer.aircraft("DUN", DAY).fit("AIL") is not None
    assert [fit.tag for fit in trainer.aircraft("DUN", DAY).fits] == [None, None]


def test_swapping_channels_takes_settings_and_plugs_along(trainer: Fleet) -> None:
    trainer.edit("Set", lambda edit: edit.change(Channel, ("DUN", "main", 1), expo_pct=30, reverse=True))
    trainer.edit("Swap", lambda edit: edit.swap_channels("DUN", "main", 1, 2))
    channels = {channel.number: channel for channel in trainer.records(Channel)}
    assert (channels[2].function, channels[2].expo_pct, channels[2].reverse) == (Function.AILERON, 30, True)
    assert channels[1].function is Function.ELEVATOR
    assert {place.code: place.channel for place in trainer.records(Position)} == {"AIL": 2, "ELE": 1}


def test_swapping_with_a_free_channel_moves_the_other(trainer: Fleet) -> None:
    trainer.edit("Swap", lambda edit: edit.swap_channels("DUN", "main", 7, 1))
    assert [channel.number for channel in trainer.records(Channel)] == [2, 7]
    assert {place.code: place.channel for place in trainer.records(Position)} == {"AIL": 7, "ELE": 2}


def test_swapping_two_free_channels_is_refused(trainer: Fleet) -> None:
    with pytest.raises(BadInput, match="There is no channel DUN main 7 in the file"):
        trainer.edit("Swap", lambda edit: edit.swap_channels("DUN", "main", 7, 8))


def test_renaming_an_aircraft_takes_everything_along(trainer: Fleet) -> None:
    before = trainer.aircraft("DUN", DAY)
    touched = trainer.edit("Rename", lambda edit: edit.rename(Airframe, ("DUN",), ("DUN2",)))
    after = trainer.aircraft("DUN2", DAY)
    assert touched.aircraft == {"DUN", "DUN2"}
    assert {"position", "installation", "linkage"} <= touched
    assert [fit.tag for fit in after.fits] == [fit.tag for fit in before.fits]
    assert all(fit.position.aircraft == "DUN2" for fit in after.fits)
    assert [fit.surface for fit in after.fits] == [
        None if fit.surface is None else replace(fit.surface, aircraft="DUN2") for fit in before.fits
    ]
    assert trainer.aircraft_codes() == ("DUN2",)


def test_removing_an_aircraft_frees_its_servos_and_can_be_undone(trainer: Fleet) -> None:
    before = trainer.whole_fleet(DAY)
    trainer.edit("Remove", lambda edit: edit.remove(Airframe, ("DUN",)))
    assert trainer.whole_fleet(DAY) == ()
    assert trainer.records(Position) == ()
    assert {servo.state for servo in trainer.records(Servo)} == {ServoState.IN_BAY}
    trainer.undo()
    assert trainer.whole_fleet(DAY) == before


def test_removing_a_plan_takes_its_lines_along(trainer: Fleet) -> None:
    line = PlanLine(plan="P1", number=1, action=PlanAction.FIT_SERVO, place="AIL")
    trainer.edit(
        "Plan", lambda edit: edit.put(Plan(code="P1", aircraft="DUN", title="digital", lines=(line,)))
    )
    assert trainer.aircraft("DUN", DAY).plans[0].lines == (line,)
    trainer.edit("Drop plan", lambda edit: edit.remove(Plan, ("P1",)))
    assert trainer.records(PlanLine) == ()


def test_a_field_called_kind_is_a_field_like_any_other(trainer: Fleet) -> None:
    change = {"kind": LinkageKind.BALL_LINK}
    trainer.edit("Ball link", lambda edit: edit.change(Linkage, ("DUN", "AIL"), **change))
    assert [linkage.arm_mm for linkage in trainer.records(Linkage, kind=LinkageKind.BALL_LINK)] == [12]


def test_reads_inside_an_edit_see_what_it_wrote(trainer: Fleet) -> None:
    seen: list[tuple[Servo, ...]] = []

    def work(edit: Edit) -> None:
        edit.put(Servo(tag="0900", servo_type="TS-31"))
        seen.append(edit.records(Servo, tag="0900"))
        assert edit.record(Servo, "0900") == seen[0][0]

    trainer.edit("Put", work)
    assert len(seen[0]) == 1


def test_an_edit_inside_an_edit_is_a_mistake_of_the_program(trainer: Fleet) -> None:
    def outer(_: Edit) -> None:
        trainer.edit("Inner", lambda edit: edit.remove(Servo, ("0802",)))

    with pytest.raises(RuntimeError, match="an edit is under way"):
        trainer.edit("Outer", outer)
    assert len(trainer.records(Servo)) == 3


def test_an_edit_must_have_a_name(trainer: Fleet) -> None:
    with pytest.raises(BadInput, match="needs a name"):
        trainer.edit("  ", lambda edit: edit.remove(Servo, ("0802",)))


def test_a_renamed_type_keeps_its_ratings_and_servos(trainer: Fleet) -> None:
    trainer.edit("Rename", lambda edit: edit.rename(ServoType, ("TS-31",), ("TS-31B",)))
    (kind,) = trainer.records(ServoType)
    assert (kind.code, len(kind.ratings), kind.drive) == ("TS-31B", 1, Drive.ANALOG)
    assert {servo.servo_type for servo in trainer.records(Servo)} == {"TS-31B"}


@pytest.mark.parametrize("state", [PackState.QUARANTINE, PackState.RETIRED])
def test_a_pack_out_of_use_leaves_its_aircraft_in_one_edit(trainer: Fleet, state: PackState) -> None:
    before = trainer.records(PackFit, pack="B061", until_on=None)
    touched = trainer.edit("Quarantine", lambda edit: edit.set_pack_state("B061", state, DAY))
    assert set(touched) == {"pack", "pack-fit"}
    assert [stay.until_on for stay in trainer.records(PackFit, pack="B061")] == [DAY]
    assert not any(path.packs for path in trainer.aircraft("DUN").paths)
    pack = trainer.record(Pack, "B061")
    assert pack is not None
    assert pack.state is state
    trainer.undo()
    assert trainer.records(PackFit, pack="B061", until_on=None) == before != ()


def test_a_pack_put_to_storage_stays_where_it_is(trainer: Fleet) -> None:
    touched = trainer.edit("Store", lambda edit: edit.set_pack_state("B061", PackState.STORAGE, DAY))
    assert set(touched) == {"pack"}
    assert trainer.records(PackFit, pack="B061", until_on=None)


def test_a_stay_that_begins_later_ends_on_its_first_day(trainer: Fleet) -> None:
    (stay,) = trainer.records(PackFit, pack="B061", until_on=None)
    early = date(2001, 1, 1)
    trainer.edit("Quarantine", lambda edit: edit.set_pack_state("B061", PackState.QUARANTINE, early))
    assert [pack_fit.until_on for pack_fit in trainer.records(PackFit, pack="B061")] == [stay.since_on]
