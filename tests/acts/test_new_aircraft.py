"""A new aircraft from its layout: all of it in one edit, and what nobody said stays not known."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from hangar.acts.copying import copy_aircraft, copy_positions, fill_down
from hangar.acts.fit_pack import PackWork, fit_pack
from hangar.acts.fit_several import SeveralFit, fit_several
from hangar.acts.new_aircraft import enter_kit
from hangar.acts.new_parts import enter_servo_type, name_gyro
from hangar.answers.judging import JudgingBasis, judge_aircraft
from hangar.answers.kits import Kit, code_for, make_kit, questions_of
from hangar.base.errors import BadInput
from hangar.base.outlines import load_outline
from hangar.parts import (
    RECORD_KINDS,
    Airframe,
    Channel,
    Feed,
    Flight,
    Installation,
    Lead,
    Linkage,
    LoadTest,
    Pack,
    PackFit,
    Position,
    Regulator,
    Rotor,
    Servo,
    ServoRating,
    ServoType,
    Snag,
    Stabiliser,
    StockItem,
    Surface,
    Switch,
)
from hangar.parts.choices import (
    AircraftClass,
    AircraftState,
    Drive,
    Function,
    PackState,
    PowerKind,
    ServoState,
    Side,
    StockKind,
    SurfaceKind,
    Swash,
    SwitchKind,
)
from hangar.store import Fleet
from tests.all_cases import all_cases
from tests.demo_copies import demo_copy

TODAY = date(2031, 5, 20)
OF_ONE_AIRCRAFT = (Installation, PackFit, Flight, Snag, LoadTest)


@pytest.fixture
def fleet() -> Iterator[Fleet]:
    with Fleet.in_memory() as made:
        yield made


@pytest.fixture
def demo() -> Iterator[Fleet]:
    with demo_copy(TODAY) as made:
        yield made


def contents(fleet: Fleet) -> dict[str, tuple[object, ...]]:
    return {kind.KIND: fleet.records(kind) for kind in RECORD_KINDS}


def enter(fleet: Fleet, kit: Kit, code: str = "MER61") -> None:
    fleet.do(enter_kit, kit, code, "Merlane 61", str)


def heli(**answers: tuple[str, ...]) -> Kit:
    return make_kit(AircraftClass.HELI_IC, {"drive": ("glow",), **answers})


def put_type(fleet: Fleet, code: str = "TS-A") -> None:
    ratings = (
        ServoRating(servo_type="", rated_v=4.8, torque_nm=0.5, transit_s=0.2),
        ServoRating(servo_type="", rated_v=6.0, torque_nm=0.6, transit_s=0.16),
    )
    fleet.do(enter_servo_type, ServoType(code=code, drive=Drive.DIGITAL, ratings=ratings))


def test_a_helicopter_stands_there_after_one_edit_and_is_gone_after_one_undo(fleet: Fleet) -> None:
    before = contents(fleet)
    enter(fleet, heli())
    aircraft = fleet.aircraft("MER61", TODAY)
    assert {fit.code for fit in aircraft.fits} == {"CYC-1", "CYC-2", "CYC-3", "TAIL", "THR"}
    functions = [fit.function for fit in aircraft.fits]
    assert functions.count(Function.CYCLIC) == 3
    channels = {channel.number: channel.function for channel in fleet.records(Channel)}
    assert channels[5] is Function.GAIN
    assert len(channels) == 6
    tail = aircraft.fit("TAIL")
    assert tail is not None
    assert tail.through == Stabiliser(aircraft="MER61", code="GYRO")
    assert all(fit.linkage is not None for fit in aircraft.fits)
    assert [feed.code for feed in fleet.records(Feed)] == ["RX-A"]
    assert str(fleet.undo_label) == "Enter MER61 from its layout"
    fleet.undo()
    assert contents(fleet) == before


def test_what_a_layout_does_not_say_is_not_known(fleet: Fleet) -> None:
    enter(fleet, make_kit(AircraftClass.HELI_IC, {"head": ("flybarless",), "swashplate": ("140",)}))
    frame = fleet.record(Airframe, "MER61")
    assert frame is not None
    assert frame.power is None
    assert (frame.span_mm, frame.all_up_mass_g, frame.state) == (None, None, AircraftState.ON_THE_BENCH)
    main, tail = fleet.records(Rotor)
    assert (main.flybar, main.swash, main.blades, main.head_rpm) == (False, Swash.THREE_140, None, None)
    assert tail.blades is None
    for linkage in fleet.records(Linkage):
        assert (linkage.arm_mm, linkage.horn_mm) == (None, None)
    assert fleet.records(Lead) == ()
    (unit,) = fleet.records(Stabiliser)
    assert unit.code == "FBL"
    assert all(
        fit.position.through == "FBL"
        for fit in fleet.aircraft("MER61").fits
        if fit.function in (Function.CYCLIC, Function.TAIL)
    )


def test_a_surface_of_no_known_size_is_judged_as_cannot_tell_and_never_as_good(fleet: Fleet) -> None:
    enter(fleet, make_kit(AircraftClass.SPORT, {"drive": ("glow",)}), "LARK2")
    surface = fleet.record(Surface, "LARK2", "AIL-L")
    assert surface is not None
    assert (surface.span_mm, surface.root_chord_mm) == (None, None)
    judgement = judge_aircraft(
        fleet.aircraft("LARK2", TODAY),
        JudgingBasis(today=TODAY, settings=(), library=fleet.library()),
    )
    at_aileron = judgement.survey.positions["AIL-L"]
    assert at_aileron.load_nm is None
    lacking = " ".join(str(words) for words in at_aileron.missing_for.get("load_nm", at_aileron.missing))
    assert "span" in lacking
    assert "chord at root" in lacking
    assert any(finding.level.value == "cant-tell" for finding in judgement.findings)


@all_cases("aircraft_class", tuple(AircraftClass))
def test_every_answer_of_every_class_makes_an_aircraft_that_can_be_read(
    aircraft_class: AircraftClass,
) -> None:
    with Fleet.in_memory() as fleet:
        number, looked_at = 0, []
        for question in questions_of(aircraft_class):
            for option in question.options:
                kit = make_kit(aircraft_class, {question.ask: (option.key,)})
                if kit in looked_at:
                    continue  # What is proposed to one question is proposed to all of them.
                looked_at.append(kit)
                number += 1
                enter(fleet, kit, f"K{number}")
                aircraft = fleet.aircraft(f"K{number}", TODAY)
                assert len(aircraft.fits) == len(kit.positions)
                plugged = [fit.position.channel for fit in aircraft.fits]
                assert len(set(plugged)) == len(plugged)
                assert len({place.code for place in kit.places}) == len(kit.places)
                outline = load_outline(kit.outline)
                for place in kit.positions:
                    across, along = kit.place_on_drawing(place)
                    assert 0 <= across <= 1
                    assert 0 <= along <= 1, (outline.name, place.code)
                judge_aircraft(aircraft, JudgingBasis(today=TODAY, settings=(), library=fleet.library()))


def test_layouts_say_what_they_are_named_for(fleet: Fleet) -> None:
    giant = make_kit(
        AircraftClass.GIANT, {"ailerons": ("4",), "tail": ("2",), "rudder": ("2",), "drive": ("petrol",)}
    )
    assert len(giant.positions) == 9
    enter(fleet, giant, "GIANT")
    pair = [fit for fit in fleet.aircraft("GIANT").fits if fit.function is Function.RUDDER]
    assert {fit.position.surface for fit in pair} == {"RUD"}
    soarer = make_kit(
        AircraftClass.SAIL_SCALE, {"tail": ("v",), "spoilers": ("2",), "also": ("tow", "retracts")}
    )
    functions = [place.function for place in soarer.positions]
    assert functions.count(Function.V_TAIL) == 2
    assert functions.count(Function.TOW_RELEASE) == 1
    assert soarer.outline == "v-tail"
    brakes = [place.carried for place in soarer.positions if place.function is Function.SPOILER]
    assert brakes == [SurfaceKind.PLATE, SurfaceKind.PLATE]
    assert make_kit(AircraftClass.JET_TURBINE, {}).power is PowerKind.TURBINE
    assert not [
        place
        for place in make_kit(AircraftClass.JET_EDF, {}).positions
        if place.function is Function.THROTTLE
    ]
    mechanical = heli(swashplate=("mechanical",))
    assert Function.COLLECTIVE in [place.function for place in mechanical.positions]


def test_a_draft_is_corrected_before_it_is_entered(fleet: Fleet) -> None:
    kit = heli().corrected("CYC-2", channel=8).corrected("CYC-2", at=(0.7, 0.3))
    with pytest.raises(BadInput, match="Channel 3 is that of THR"):
        kit.corrected("CYC-1", channel=3)
    with pytest.raises(BadInput, match="allowed is 1 to 32"):
        kit.corrected("CYC-1", channel=33)
    enter(fleet, kit)
    position = fleet.record(Position, "MER61", "CYC-2")
    assert position is not None
    assert (position.channel, position.plan_x, position.plan_y) == (8, 0.7, 0.3)


def test_what_is_wrong_with_a_new_aircraft_is_told_in_one_sentence(fleet: Fleet) -> None:
    enter(fleet, heli())
    for code, words in (
        ("MER61", "There is an aircraft MER61 already"),
        (" ", "has no code yet"),
        ("A", "2 to 6"),
        ("TOOLONG", "2 to 6"),
    ):
        with pytest.raises(BadInput, match=words):
            enter(fleet, heli(), code)
    with pytest.raises(BadInput, match='"wingspan" is not asked of this class'):
        make_kit(AircraftClass.SPORT, {"wingspan": ("1",)})
    with pytest.raises(BadInput, match='Swashplate: there is no "150"; allowed is 120, 140'):
        heli(swashplate=("150",))
    assert code_for("Merlane 61", ["MER60"]) == "MERL61"
    assert code_for("ö", []) == "A1"


def test_one_type_is_fitted_at_three_with_tags_that_count_on(fleet: Fleet) -> None:
    put_type(fleet)
    enter(fleet, heli())
    item = StockItem(code="ST-1", kind=StockKind.SERVO, part_type="TS-A", on_hand=2)
    fleet.edit("Buy", lambda edit: edit.put(item))
    before = contents(fleet)
    what = SeveralFit(
        servo_type="TS-A", first_tag="0309", arm_mm=14, lead_mm=300, lead_awg=24, rate_hz=50, arm_teeth=25
    )
    places = ("CYC-1", "CYC-2", "CYC-3")
    fleet.do(fit_several, fleet.aircraft("MER61", TODAY), places, what, TODAY)
    fits = [fleet.aircraft("MER61", TODAY).fit(code) for code in places]
    assert [fit.tag for fit in fits if fit] == ["0309", "0310", "0311"]
    for fit in fits:
        assert fit is not None
        assert fit.linkage is not None
        assert fit.lead is not None
        assert fit.channel is not None
        assert (fit.linkage.arm_mm, fit.lead.length_mm, fit.lead.awg, fit.channel.rate_hz) == (
            14,
            300,
            24,
            50,
        )
        assert fit.installation is not None
        assert fit.installation.arm_teeth == 25
    (left,) = fleet.records(StockItem)
    assert left.on_hand == 0
    fleet.undo()
    assert contents(fleet) == before


def test_spares_of_the_type_come_first_and_what_is_there_goes_to_the_bay(fleet: Fleet) -> None:
    put_type(fleet)
    put_type(fleet, "TS-B")
    enter(fleet, heli())
    fleet.edit("Buy", lambda edit: edit.put_all([Servo(tag=tag, servo_type="TS-B") for tag in ("07", "09")]))
    aircraft = fleet.aircraft("MER61", TODAY)
    fleet.do(fit_several, aircraft, ("CYC-1", "CYC-2"), SeveralFit(servo_type="TS-A"), TODAY)
    fleet.do(fit_several, aircraft, ("CYC-1", "CYC-2", "CYC-3"), SeveralFit(servo_type="TS-B"), TODAY)
    tags = [fit.tag for fit in fleet.aircraft("MER61", TODAY).fits if fit.function is Function.CYCLIC]
    assert tags == ["07", "09", "12"]
    old = [servo for servo in fleet.records(Servo) if servo.servo_type == "TS-A"]
    assert [(servo.tag, servo.state) for servo in old] == [
        ("10", ServoState.IN_BAY),
        ("11", ServoState.IN_BAY),
    ]


def test_a_tag_of_another_type_or_place_is_refused_and_nothing_is_changed(demo: Fleet) -> None:
    before = contents(demo)
    aircraft = demo.aircraft("MER60", TODAY)
    taken = next(
        fit
        for other in demo.whole_fleet(TODAY)
        if other.code != "MER60"
        for fit in other.fits
        if fit.servo is not None and fit.servo_type is not None
    )
    assert taken.servo is not None
    what = SeveralFit(servo_type=taken.servo.servo_type, first_tag=taken.servo.tag)
    with pytest.raises(BadInput, match=f"Servo {taken.tag} is fitted in {taken.position.aircraft}"):
        demo.do(fit_several, aircraft, ("CYC-1",), what, TODAY)
    another = next(kind.code for kind in demo.records(ServoType) if kind.code != taken.servo.servo_type)
    with pytest.raises(BadInput, match=f"Tag {taken.tag} is a "):
        demo.do(
            fit_several,
            aircraft,
            ("CYC-1",),
            SeveralFit(servo_type=another, first_tag=taken.servo.tag),
            TODAY,
        )
    for codes, what, words in (
        ((), SeveralFit(servo_type=another), "No position is chosen"),
        (("NO",), SeveralFit(servo_type=another), 'has no position "NO"'),
        (("CYC-1",), SeveralFit(servo_type="ZZ"), "ZZ is no servo type"),
        (("CYC-1", "CYC-2"), SeveralFit(servo_type=another, first_tag="AB"), "no number at its end"),
    ):
        with pytest.raises(BadInput, match=words):
            demo.do(fit_several, aircraft, codes, what, TODAY)
    assert contents(demo) == before


def test_a_pack_is_fitted_with_all_between_it_and_the_bus(fleet: Fleet) -> None:
    enter(fleet, heli())
    before = contents(fleet)
    work = PackWork(
        pack_type="NiMH 5 cells 1500 mAh", switch_type="EL-15", switch_kind=SwitchKind.ELECTRONIC,
        regulator_type="R5", set_v=5.5, lead_mm=200, lead_awg=20,
    )  # fmt: skip
    fleet.do(fit_pack, fleet.aircraft("MER61", TODAY), work, TODAY)
    (path,) = fleet.aircraft("MER61", TODAY).radio_paths
    (fed,) = path.packs
    assert (fed.pack.tag, fed.pack_type.series, fed.pack_type.capacity_mah) == ("B001", 5, 1500)
    assert isinstance(path.switch, Switch)
    assert isinstance(path.regulator, Regulator)
    assert (path.switch.switch_type, path.regulator.set_v) == ("EL-15", 5.5)
    assert (path.feed.lead_length_mm, path.feed.lead_awg) == (200, 20)
    fleet.undo()
    assert contents(fleet) == before
    for work, words in (
        (PackWork(), "say what type it is"),
        (PackWork(pack_type="something"), "does not tell what pack it is"),
        (PackWork(pack_type="NiMH 5 cells 1500 mAh", switch_type="X"), "say what kind of switch"),
        (PackWork(pack_type="NiMH 5 cells 1500 mAh", set_v=5), "no regulator in RX-A to set"),
    ):
        with pytest.raises(BadInput, match=words):
            fleet.do(fit_pack, fleet.aircraft("MER61", TODAY), work, TODAY)
    assert contents(fleet) == before


def test_a_pack_leaves_its_old_aircraft_and_the_old_pack_leaves_the_path(demo: Fleet) -> None:
    stays = [stay for stay in demo.records(PackFit, until_on=None) if stay.feed == "RX-A"]
    mine = next(stay for stay in stays if stay.aircraft == "MER60")
    theirs = next(
        stay
        for stay in stays
        if stay.aircraft not in ("MER60", "ALB5")
        and (pack := demo.record(Pack, stay.pack)) is not None
        and pack.state is PackState.IN_USE
    )
    demo.do(fit_pack, demo.aircraft("MER60", TODAY), PackWork(pack=theirs.pack), TODAY)
    now = {(stay.aircraft, stay.pack) for stay in demo.records(PackFit, until_on=None)}
    assert ("MER60", theirs.pack) in now
    assert (theirs.aircraft, theirs.pack) not in now
    assert ("MER60", mine.pack) not in now


def test_a_copy_takes_the_layout_and_nothing_of_the_one_aircraft(demo: Fleet) -> None:
    before = contents(demo)
    demo.do(copy_aircraft, "MER60", "MER61", "Merlane 61")
    source, copy = demo.aircraft("MER60", TODAY), demo.aircraft("MER61", TODAY)
    assert [fit.code for fit in copy.fits] == [fit.code for fit in source.fits]
    for fit, was in zip(copy.fits, source.fits, strict=True):
        assert fit.servo is None
        assert fit.position.channel == was.position.channel
        assert fit.linkage is not None
        assert was.linkage is not None
        assert (fit.linkage.arm_mm, fit.linkage.horn_mm) == (was.linkage.arm_mm, was.linkage.horn_mm)
        assert fit.linkage.ball_play_mm is None
        assert fit.lead is not None
        assert was.lead is not None
        assert (fit.lead.length_mm, fit.lead.awg, fit.lead.inspected_on) == (
            was.lead.length_mm, was.lead.awg, None,
        )  # fmt: skip
    for kind in OF_ONE_AIRCRAFT:
        assert [record for record in demo.records(kind) if getattr(record, "aircraft", "") == "MER61"] == []
    frame = copy.airframe
    assert (frame.serial, frame.all_up_mass_g, frame.registration, frame.photo) == (None, None, None, None)
    assert (frame.state, frame.aircraft_class) == (AircraftState.ON_THE_BENCH, AircraftClass.HELI_IC)
    demo.undo()
    assert contents(demo) == before
    with pytest.raises(BadInput, match="already"):
        demo.do(copy_aircraft, "MER60", "DUNN", "")


def test_positions_are_copied_mirrored_and_in_sets(demo: Fleet, fleet: Fleet) -> None:
    enter(fleet, make_kit(AircraftClass.SPORT, {"ailerons": ("2",), "drive": ("glow",)}), "LARK")
    enter(fleet, make_kit(AircraftClass.SPORT, {"ailerons": ("none",), "drive": ("glow",)}), "WREN")
    fleet.edit(
        "Measure",
        lambda edit: edit.change(Linkage, ("LARK", "AIL-L"), arm_mm=12.0),
    )
    lark = fleet.aircraft("LARK", TODAY)
    fleet.do(copy_positions, lark, ("AIL-L",), "WREN", ("AIL-R",))
    copied = fleet.aircraft("WREN", TODAY).fit("AIL-R")
    assert copied is not None
    assert copied.position.side is Side.RIGHT
    assert copied.surface is not None
    assert copied.surface.side is Side.RIGHT
    assert copied.linkage is not None
    assert copied.linkage.arm_mm == 12
    fleet.do(copy_positions, lark, ("AIL-L", "AIL-R"), "LARK")
    codes = {fit.code for fit in fleet.aircraft("LARK", TODAY).fits}
    assert {"AIL-L-2", "AIL-R-2"} <= codes
    doubled = fleet.aircraft("LARK", TODAY).fit("AIL-L-2")
    assert doubled is not None
    assert doubled.position.channel is None
    with pytest.raises(BadInput, match="already"):
        fleet.do(copy_positions, lark, ("AIL-L",), "LARK", ("AIL-R",))


def test_a_value_is_filled_down(fleet: Fleet) -> None:
    enter(fleet, heli())
    keys = [("MER61", code) for code in ("CYC-1", "CYC-2", "CYC-3")]
    with pytest.raises(BadInput, match="nothing to fill down"):
        fleet.do(fill_down, Linkage, keys, "arm_mm")
    fleet.edit("Measure", lambda edit: edit.change(Linkage, keys[0], arm_mm=14.0, horn_mm=20.0))
    fleet.do(fill_down, Linkage, keys, "arm_mm")
    arms = {linkage.position: linkage.arm_mm for linkage in fleet.records(Linkage)}
    assert arms == {"CYC-1": 14, "CYC-2": 14, "CYC-3": 14, "TAIL": None, "THR": None}
    horns = [linkage.horn_mm for linkage in fleet.records(Linkage) if linkage.position == "CYC-2"]
    assert horns == [None]
    assert str(fleet.undo_label) == "Fill servo arm radius down over 2 rows"
    with pytest.raises(BadInput, match="two rows or more"):
        fleet.do(fill_down, Linkage, keys[:1], "arm_mm")


def test_a_type_comes_with_its_ratings_and_a_gyro_where_it_is_named(fleet: Fleet) -> None:
    put_type(fleet)
    (kind,) = fleet.records(ServoType)
    assert [rating.rated_v for rating in kind.ratings] == [4.8, 6.0]
    with pytest.raises(BadInput, match="already"):
        put_type(fleet)
    twice = (ServoRating(servo_type="", rated_v=6), ServoRating(servo_type="", rated_v=6))
    with pytest.raises(BadInput, match="two ratings at the same volts"):
        fleet.do(enter_servo_type, ServoType(code="TS-Z", ratings=twice))
    enter(fleet, heli(tail=("plain",)))
    assert fleet.records(Stabiliser) == ()
    gyro = Stabiliser(aircraft="MER61", code="GYRO", model_type="HG-2", supply_min_v=4.5)
    fleet.do(name_gyro, "MER61", ("TAIL",), gyro)
    tail = fleet.aircraft("MER61", TODAY).fit("TAIL")
    assert tail is not None
    assert tail.through == gyro
    fleet.do(name_gyro, "MER61", (), Stabiliser(aircraft="MER61", code="GYRO", supply_max_v=6.0))
    (gyro,) = fleet.records(Stabiliser)
    assert (gyro.model_type, gyro.supply_min_v, gyro.supply_max_v) == ("HG-2", 4.5, 6.0)
