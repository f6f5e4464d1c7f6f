"""Plans that take one kind of action, on the rules' examples, with a library that holds a part for most."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from functools import cache
from itertools import product

from hangar.base.errors import BadInput
from hangar.parts import (
    Aircraft,
    Arm,
    Library,
    Plan,
    PlanLine,
    RegulatorType,
    ServoRating,
    ServoType,
    StockItem,
    SwitchType,
    after_plan,
)
from hangar.parts.choices import (
    Bearing,
    Drive,
    Gear,
    PlanAction,
    RegulatorKind,
    StockKind,
    SwitchKind,
)
from hangar.refit.bay import bay_of
from hangar.refit.handwork import handwork_lists
from hangar.refit.request import RefitRequest
from hangar.refit.supplies import supplies_of
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.cures import Cure
from hangar.rules.finding import Level
from hangar.rules.registry import Example, Rule, Scene
from hangar.survey import survey

_HOLES = "6,8,10,11,12,14,16,18,20,30"


def _strength(kind: ServoType, times: float) -> tuple[ServoRating, ...]:
    """Ratings of a weaker servo that draws less, or of a stronger one that draws no more."""
    return ex.weaker(kind, times) if times < 1.0 else ex.boasted(kind, times)


@cache
def library() -> Library:
    """Good servos of every pulse, strength and rate, packs, regulators, boards and switches."""
    servos = {}
    for kind, times in product((ex.STANDARD, ex.STRONG, ex.CYCLIC, ex.TAIL), (0.3, 1.0, 3.0)):
        for pulse_us in (1520.0, 760.0):
            code = f"{kind.code} {times} {pulse_us:g}"
            ratings = tuple(dataclasses.replace(row, servo_type=code) for row in _strength(kind, times))
            servos[code] = dataclasses.replace(
                kind,
                code=code,
                ratings=ratings,
                drive=Drive.DIGITAL,
                gear=Gear.METAL,
                bearing=Bearing.TWO_BALL,
                pulse_us=pulse_us,
                max_rate_hz=400.0,
                dead_band_us=1.0,
                supply_max_v=8.6,
                supply_min_v=3.5,
                case_length_mm=36.0,
                case_width_mm=18.0,
                price=40.0,
                duties=None,
                life_h=400.0,
            )
    servos["EX-any-volts"] = dataclasses.replace(
        servos["EX-standard 1.0 1520"], code="EX-any-volts", supply_max_v=12.0
    )
    packs = {
        f"{kind.code} big": dataclasses.replace(
            kind,
            code=f"{kind.code} big",
            capacity_mah=6000.0,
            cell_mohm=1.0,
            continuous_a=60.0,
            burst_a=120.0,
            price=30.0,
        )
        for kind in (ex.NICKEL_4, ex.LITHIUM_2)
    }
    boards = {
        code: RegulatorType(
            code=code,
            regulator=kind,
            input_max_v=13.0,
            input_min_v=4.0,
            output_min_v=4.8,
            output_max_v=8.4,
            continuous_a=40.0,
            burst_a=80.0,
            burst_s=10.0,
            drop_out_v=0.05,
            efficiency_pct=95.0,
            shed_w=40.0,
            inputs=inputs,
            isolated=True,
            fails_through=False,
            mass_g=30.0,
            price=40.0,
        )
        for code, kind, inputs in (
            ("EX-regulator 2", RegulatorKind.SWITCHING, 1),
            ("EX-board", RegulatorKind.SWITCHING, 2),
            ("EX-pass", RegulatorKind.PASS, 2),
        )
    }
    switch = SwitchType(
        code="EX-electronic",
        switch=SwitchKind.ELECTRONIC,
        continuous_a=40.0,
        burst_a=80.0,
        contact_mohm=1.0,
        mass_g=15.0,
        price=20.0,
    )
    arms = {
        f"{teeth}T": Arm(
            code=f"{teeth}T",
            spline_teeth=teeth,
            spline_mm=5.9,
            holes_mm="6,8,10,11,12,14,16,18,20,30",
            price=3.0,
        )
        for teeth in (21, 23, 25)
    }
    receiver = dataclasses.replace(
        ex.trainer().receivers[0],
        model_type="EX-RX",
        supply_min_v=3.0,
        supply_max_v=10.0,
        bus_limit_a=60.0,
        channels=16,
    )
    return Library(
        servo_types=servos,
        pack_types=packs,
        regulator_types=boards,
        switch_types={switch.code: switch},
        arms=arms,
        receivers={"EX-RX": receiver},
        stock=(StockItem(code="RX", kind=StockKind.OTHER, part_type="EX-RX", on_hand=1, price=50.0),),
    )


Lines = tuple[PlanLine, ...]
DAY = RefitRequest(conditions=ex.home_day())


def _line(action: PlanAction, place: str, **fields: object) -> PlanLine:
    return PlanLine(plan="P", number=1, action=action, place=place, price=0.0, **fields)  # type: ignore[arg-type]


def plans_by(aircraft: Aircraft, cure: Cure, about: tuple[str, ...]) -> Iterator[Lines]:
    """Plans by one kind of action, at the places a flag is about and at all positions."""
    fits = tuple(fit for fit in aircraft.fits if fit.servo_type is not None)
    touched = tuple(fit for fit in fits if fit.code in about) or fits
    shelf = library()
    for places in (touched, fits):
        if cure is Cure.SERVO:
            for code in shelf.servo_types:
                yield tuple(_line(PlanAction.FIT_SERVO, fit.code, part_type=code) for fit in places)
        if cure is Cure.LEAD:
            for awg in (20, 18, 16, 14):
                yield tuple(_line(PlanAction.CHANGE_LEAD, fit.code, awg=awg) for fit in places if fit.lead)
        if cure is Cure.ARM:
            for fit in places:
                kind = fit.servo_type
                code = f"{kind.spline_teeth}T" if kind else "25T"
                yield (_line(PlanAction.CHANGE_ARM, fit.code, part_type=code),)
    if cure is Cure.SUPPLY:
        yield from _supplies(aircraft)
    for listed in handwork_lists(aircraft, survey(aircraft, ex.home_day()), shelf, DAY):
        if cure in listed.kinds:
            for choice in listed.choices:
                yield choice.lines


def _supplies(aircraft: Aircraft) -> Iterator[Lines]:
    """Single parts at each path, packs at the one by the rules' own name for it, then the planner's own."""
    shelf = library()
    codes = [path.feed.code for path in aircraft.radio_paths]
    for code in (*codes, "RX-NEW"):
        for kind in shelf.pack_types:
            yield (_line(PlanAction.FIT_PACK, code, part_type=kind),)
    for code in codes:
        for kind in shelf.switch_types:
            yield (_line(PlanAction.FIT_SWITCH, code, part_type=kind),)
        for kind in shelf.regulator_types:
            for volts in (5.0, 7.4):
                yield (_line(PlanAction.FIT_REGULATOR, code, part_type=kind, set_v=volts),)
    for second in (None, True):
        asking = RefitRequest(second_pack=second, conditions=ex.home_day())
        for supply in supplies_of(aircraft, shelf, bay_of(shelf, None, aircraft), asking)[0]:
            yield supply.lines


KeptText = dict[tuple[str, ...], tuple[Level, float]]


def said(rule: Rule, scene: Scene, aircraft: Aircraft) -> KeptText:
    """What a rule says of an aircraft: level and margin at each place it speaks of."""
    case = Case(aircraft, survey(aircraft, scene.conditions or ex.home_day()), library=scene.library)
    found: KeptText = {}
    for flag in rule.check(case):
        if flag.level is not Level.CANT_TELL:
            level, margin = flag.level, -1.0 if flag.margin is None else flag.margin
            # A part that comes in has another tag; its position is the same.
            places = tuple(code for code in flag.about if aircraft.fit(code)) or ("",)
            found[places] = min(found.get(places, (level, margin)), (level, margin), key=_grave)
    return found


def _grave(verdict: tuple[Level, float]) -> tuple[int, float]:
    return verdict[0].rank, verdict[1]


def after(aircraft: Aircraft, lines: Lines) -> Aircraft | None:
    """The aircraft with the lines carried out; None where they cannot be."""
    numbered = tuple(dataclasses.replace(line, number=at) for at, line in enumerate(lines, 1))
    try:
        return after_plan(
            aircraft, Plan(code="P", aircraft=aircraft.code, title="P", lines=numbered), library()
        )
    except BadInput:
        return None


def effect(rule: Rule, cure: Cure, example: Example) -> str:
    """What plans by an action do to an example: ``cures`` it, ``helps`` by a greater margin, or nothing."""
    made = example()
    scene = made if isinstance(made, Scene) else Scene(made)
    today = said(rule, scene, scene.aircraft)
    about = tuple(code for places in today for code in places)
    helped = ""
    for lines in plans_by(scene.aircraft, cure, about):
        changed = after(scene.aircraft, lines) if lines else None
        if changed is None:
            continue
        left = said(rule, scene, changed)
        if _weight(left) < _weight(today):
            return "cures"
        if any(places in left and left[places][1] > now[1] + 1e-6 for places, now in today.items()):
            helped = "helps"
    return helped


def _weight(found: KeptText) -> int:
    return sum(10 ** (3 - level.rank) for level, _ in found.values())
