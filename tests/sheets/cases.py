"""Aircraft to print: the demo fleet judged once, one with nothing in it, one with far too much."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from functools import cache

from hangar.answers.judging import Judgement
from hangar.base.text import fixed, text
from hangar.parts import (
    Aircraft,
    Airframe,
    Channel,
    FedPack,
    Feed,
    Installation,
    Lead,
    Library,
    Linkage,
    LoadTest,
    Pack,
    PackType,
    Plan,
    PlanLine,
    Position,
    PowerPath,
    Receiver,
    Regulator,
    RegulatorType,
    Servo,
    ServoFit,
    ServoRating,
    ServoType,
    Surface,
)
from hangar.parts.choices import (
    AircraftClass,
    AircraftState,
    Chemistry,
    Drive,
    FailsafeAction,
    FormerEdge,
    Function,
    PlanAction,
    PlanState,
    PowerKind,
    RegulatorKind,
    Side,
)
from hangar.rules import inspect
from hangar.rules.finding import Finding, Level
from hangar.sheets.case import SheetCase
from hangar.survey import Conditions, survey
from tests.demo_copies import demo_copy

TODAY = date.today()
LONG = "Aussergewoehnlich lang benanntes Segelflugzeugschleppmaschinenmodell in halber Groesse"
LONG_WORD = "Donaudampfschifffahrtsgesellschaftskapitaensmuetzenabzeichenhalterung"


@cache
def demo_cases(*, field_day: bool = False) -> tuple[SheetCase, ...]:
    """Every aircraft of the demo fleet, surveyed and judged."""
    fleet = demo_copy(date.today())
    library = fleet.library()
    cases = []
    for aircraft in fleet.whole_fleet():
        surveyed = survey(aircraft, Conditions(today=TODAY, field_day=field_day))
        findings = inspect(aircraft, surveyed, library=library)
        cases.append(SheetCase(judgement=Judgement.of(surveyed, findings), library=library))
    fleet.close()
    return tuple(cases)


def demo_case(code: str) -> SheetCase:
    """One aircraft of the demo fleet."""
    return next(case for case in demo_cases() if case.aircraft.code == code)


def case_of(aircraft: Aircraft, findings: tuple[Finding, ...] | None = None) -> SheetCase:
    """An aircraft surveyed and judged, or with findings given."""
    surveyed = survey(aircraft, Conditions(today=TODAY))
    findings = inspect(aircraft, surveyed) if findings is None else findings
    return SheetCase(judgement=Judgement.of(surveyed, findings))


def with_state(case: SheetCase, state: AircraftState, reason: str | None = None) -> SheetCase:
    """The same aircraft in another state."""
    aircraft = case.aircraft
    frame = replace(aircraft.airframe, state=state, state_reason=reason)
    return case.judged(replace(case.survey, aircraft=replace(aircraft, airframe=frame)))


def released(case: SheetCase) -> SheetCase:
    """The same aircraft with nothing that keeps it from flying."""
    aircraft = replace(case.aircraft, snags=())
    kept = tuple(finding for finding in case.findings if finding.level is not Level.WARNING)
    plain = case.judged(replace(case.survey, aircraft=aircraft), kept)
    return with_state(plain, AircraftState.ON_THE_LINE)


@cache
def empty_case() -> SheetCase:
    """An aircraft of which only the name is known."""
    frame = Airframe(code="NEW1", name="Fresh", aircraft_class=AircraftClass.SPORT)
    return case_of(Aircraft(airframe=frame, read_on=TODAY))


@cache
def crowded_case() -> SheetCase:
    """24 channels, 60 findings, long names everywhere."""
    code = "CROWD1"
    frame = Airframe(
        code=code, name=f"{LONG} {LONG}", aircraft_class=AircraftClass.GIANT, power=PowerKind.PETROL,
        state=AircraftState.HELD, state_reason=f"{LONG}, {LONG_WORD}", all_up_mass_g=24000,
        registration=LONG_WORD[:40], dive_speed_m_s=40, cg_datum=LONG, cg_fore_mm=100, cg_aft_mm=140,
    )  # fmt: skip
    fits = tuple(_fit(code, number) for number in range(1, 25))
    aircraft = Aircraft(
        airframe=frame, receivers=(Receiver(aircraft=code, supply_min_v=3.5, supply_max_v=8.4),),
        channels=tuple(fit.channel for fit in fits if fit.channel),
        surfaces=tuple(fit.surface for fit in fits if fit.surface),
        fits=fits, paths=tuple(_path(code, number) for number in range(1, 5)), read_on=TODAY,
    )  # fmt: skip
    levels = [Level.WARNING, Level.CAUTION, Level.ADVISORY, Level.CANT_TELL]
    findings = tuple(
        Finding(
            rule=f"rule-{number}", level=levels[number // 15], aircraft=code, about=(f"P{number}",),
            message=fixed(f"Finding {number:02d}: {LONG} has 0.{number} times what it needs."),
            detail=fixed(f"{LONG_WORD} {LONG}" * 2), remedy=fixed(LONG),
            source=text("common practice, no source"),
        )
        for number in range(60)
    )  # fmt: skip
    return case_of(aircraft, findings)


_KIND = ServoType(
    code="OF-D620-LONG-NAMED-TYPE", drive=Drive.DIGITAL, idle_ma=40, run_a=0.3, mass_g=58, price=58,
    lead_length_mm=300,
    ratings=(
        ServoRating(servo_type="OF-D620-LONG-NAMED-TYPE", rated_v=4.8, torque_nm=0.75, transit_s=0.139,
                    stall_a=2.68),
        ServoRating(servo_type="OF-D620-LONG-NAMED-TYPE", rated_v=6.0, torque_nm=0.95, transit_s=0.11,
                    stall_a=3.35),
    ),
)  # fmt: skip


_STRONG = replace(_KIND, code="OF-D620", mass_g=62, price=80, lead_length_mm=300)


def _fit(aircraft: str, number: int) -> ServoFit:
    code = f"POSITION-{number}"
    surface = Surface(
        aircraft=aircraft, code=code, name=f"{LONG} {number}", function=Function.AILERON, span_mm=500,
        root_chord_mm=80, whole_chord_mm=300, play_deg=1.2, play_on=TODAY,
    )  # fmt: skip
    channel = Channel(
        aircraft=aircraft, number=number, function=Function.AILERON, failsafe=FailsafeAction.HOLD,
        stick=f"right stick right: {LONG} up",
    )  # fmt: skip
    return ServoFit(
        position=Position(
            aircraft=aircraft, code=code, name=f"{LONG} {number}", function=Function.AILERON, channel=number,
            surface=code, side=Side.LEFT, balance_arm_mm=100,
        ),
        channel=channel,
        surface=surface,
        linkage=Linkage(aircraft=aircraft, position=code, arm_mm=20, horn_mm=25, rod_length_mm=150),
        lead=Lead(
            aircraft=aircraft, position=code, length_mm=900 + number, awg=20, joints=3,
            exposed_mm=300 + number,
            bundle_mm=4.0, former_edge=FormerEdge.GROMMET,
        ),
        installation=Installation(
            servo=f"SERVO-{number:04d}", aircraft=aircraft, position=code, since_on=TODAY, arm_teeth=25
        ),
        servo=Servo(tag=f"SERVO-{number:04d}", servo_type=_KIND.code),
        servo_type=_KIND,
    )  # fmt: skip


@cache
def large_case() -> SheetCase:
    """24 servos and 6 packs, fit to fly for all that is known: of normal names."""
    return case_of(_large())


@cache
def large_refit() -> SheetCase:
    """The same with a plan that changes each of its servos."""
    lines = tuple(
        PlanLine(plan="L-1", number=number, action=PlanAction.FIT_SERVO, place=fit.code,
                 part_type=_STRONG.code, price=80.0, hours_h=0.5)
        for number, fit in enumerate(_large().fits, start=1)
    )  # fmt: skip
    plan = Plan(code="L-1", aircraft="LARGE", title="All digital", state=PlanState.FITTING, lines=lines)
    case = case_of(replace(_large(), plans=(plan,)))
    library = Library(servo_types={kind.code: kind for kind in (_KIND, _STRONG)})
    return replace(case, library=library)


def _large() -> Aircraft:
    frame = Airframe(
        code="LARGE", name="Colossus", aircraft_class=AircraftClass.GIANT, power=PowerKind.PETROL,
        all_up_mass_g=24000, dive_speed_m_s=40, cg_datum="leading edge", cg_fore_mm=100,
        cg_aft_mm=140, state=AircraftState.ON_THE_LINE,
    )  # fmt: skip
    fits = tuple(_named(_fit("LARGE", number), number) for number in range(1, 25))
    return Aircraft(
        airframe=frame,
        receivers=(Receiver(aircraft="LARGE", code="RX", supply_min_v=3.5, supply_max_v=8.4),),
        channels=tuple(fit.channel for fit in fits if fit.channel),
        surfaces=tuple(fit.surface for fit in fits if fit.surface), fits=fits,
        paths=tuple(_regulated(_path("LARGE", number), number) for number in range(1, 7)), read_on=TODAY,
    )  # fmt: skip


def _named(fit: ServoFit, number: int) -> ServoFit:
    """The position with a name as keepers give it."""
    side = "left" if number % 2 else "right"
    stick = f"right stick right: {side} panel {'down' if number % 2 else 'up'}"
    name, code = f"{side} aileron, panel {(number + 1) // 2}", f"AIL-{number}"
    assert fit.surface is not None
    assert fit.channel is not None
    assert fit.linkage is not None
    assert fit.lead is not None
    assert fit.installation is not None
    return replace(
        fit,
        position=replace(fit.position, code=code, name=name, surface=code, side=Side(side)),
        surface=replace(fit.surface, code=code, name=name, throw_up_deg=22, throw_down_deg=20, play_deg=0.4),
        channel=replace(fit.channel, stick=stick),
        linkage=replace(fit.linkage, position=code), lead=replace(fit.lead, position=code),
        installation=replace(fit.installation, position=code),
    )  # fmt: skip


def _regulated(path: PowerPath, number: int) -> PowerPath:
    kind = RegulatorType(code="R5", regulator=RegulatorKind.LINEAR, continuous_a=5, burst_a=10)
    regulator = Regulator(aircraft="LARGE", code=f"REG-{number}", regulator_type="R5", set_v=6.0)
    feed = replace(path.feed, lead_length_mm=250, lead_awg=18, joints=2, regulator=regulator.code)
    return replace(path, feed=feed, regulator=regulator, regulator_type=kind)


def _path(aircraft: str, number: int) -> PowerPath:
    kind = PackType(code="IO-30", chemistry=Chemistry.LI_ION, series=2, capacity_mah=3000, charge_c=1)
    tag = f"PACK-LONG-TAG-{number}"
    test = LoadTest(
        pack=tag, tested_at=datetime.combine(TODAY - timedelta(days=number), datetime.min.time()),
        load_a=2, rest_v=8.2, loaded_v=7.9,
    )  # fmt: skip
    return PowerPath(
        feed=Feed(aircraft=aircraft, code=f"RX-{number}", isolated=True),
        packs=(FedPack(pack=Pack(tag=tag, pack_type=kind.code), pack_type=kind, load_tests=(test,)),),
    )
