"""What a plan would do to its aircraft: judged before and after, with cost, mass and balance."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from hangar.answers.board import open_lines
from hangar.answers.judging import Difference, Judgement, JudgingBasis, judge_aircraft
from hangar.answers.reading import Progress, Stop
from hangar.base.errors import HangarError
from hangar.base.figure import Figure
from hangar.base.text import Text, fixed
from hangar.parts import Aircraft, Library, Plan, PlanLine, after_plan
from hangar.parts.choices import PlanAction
from hangar.survey.brown_out import brown_out
from hangar.survey.model import Scenario, Survey


@dataclass(frozen=True)
class Outlook:
    """An aircraft as it is and as the open lines of a plan would leave it."""

    plan: Plan
    before: Judgement
    after: Judgement
    mass_g: float
    unweighed: tuple[str, ...]
    balance: Figure | None
    balance_lacks: tuple[Text, ...]
    library: Library = field(default_factory=Library, repr=False)

    @property
    def difference(self) -> Difference:
        """Findings that go and that come."""
        return Difference.between(self.before.findings, self.after.findings)


def outlook_of(
    plan: Plan,
    aircraft: Aircraft,
    basis: JudgingBasis,
    progress: Progress = lambda _share, _words: None,
    stop: Stop = lambda: False,
) -> Outlook | None:
    """Judge an aircraft before and after the open lines of a plan; None when it was stopped.

    Raises: BadInput naming the line that cannot be carried out.
    """
    from hangar.survey.airframe import balance_after

    library = basis.library
    changed = after_plan(aircraft, plan, library)
    mass_g, unweighed = mass_change(plan, aircraft, library)
    balance, lacks = balance_after(aircraft, changed)
    judged = []
    for share, words, planned in (
        (0.1, fixed("Judging the aircraft as it is…"), aircraft),
        (0.5, fixed("Judging it with the plan carried out…"), changed),
    ):
        if stop():
            return None
        progress(share, words)
        judged.append(judge_aircraft(planned, basis))
    return Outlook(
        plan=plan,
        before=judged[0],
        after=judged[1],
        mass_g=mass_g,
        unweighed=unweighed,
        balance=balance,
        balance_lacks=lacks,
        library=library,
    )


def mass_change(plan: Plan, aircraft: Aircraft, library: Library) -> tuple[float, tuple[str, ...]]:
    """Grams that the open lines add, and the types whose mass is not known."""
    total, unknown = 0.0, []
    for line in open_lines(plan):
        for kind, sign in _types(line, aircraft, library):
            mass = getattr(kind, "mass_g", None)
            if mass is None:
                unknown.append(str(getattr(kind, "code", "?")))
            else:
                total += sign * mass
    return total, tuple(dict.fromkeys(unknown))


def _types(line: PlanLine, aircraft: Aircraft, library: Library) -> list[tuple[object, int]]:
    """Types that come (+1) and go (-1) with a line."""
    code = line.part_type or ""
    if line.action is PlanAction.FIT_SERVO:
        fit = aircraft.fit(line.place or "")
        gone = [(fit.servo_type, -1)] if fit is not None and fit.servo_type else []
        return [(library.servo_types.get(code), 1), *gone] if code in library.servo_types else []
    path = next((path for path in aircraft.paths if path.feed.code == line.place), None)
    if line.action is PlanAction.FIT_PACK and code in library.pack_types:
        packs = [(pack.pack_type, -1) for pack in path.packs] if path else []
        return [(library.pack_types[code], 1), *packs]
    if line.action is PlanAction.JOIN_PACKS and code in library.pack_types:
        return [(library.pack_types[code], 1)]
    if line.action is PlanAction.FIT_REGULATOR and code in library.regulator_types:
        old = [(path.regulator_type, -1)] if path and path.regulator_type else []
        return [(library.regulator_types[code], 1), *old]
    if line.action is PlanAction.FIT_SWITCH and code in library.switch_types:
        old_switch = [(path.switch_type, -1)] if path and path.switch_type else []
        return [(library.switch_types[code], 1), *old_switch]
    return []


def supply_g(outlook: Outlook) -> float:
    """Grams that packs, regulators and switches of a plan add; no record says where they sit."""
    servos = tuple(line for line in outlook.plan.lines if line.action is PlanAction.FIT_SERVO)
    aircraft, library = outlook.before.aircraft, outlook.library
    return outlook.mass_g - mass_change(replace(outlook.plan, lines=servos), aircraft, library)[0]


def ballast_of(outlook: Outlook) -> tuple[float, float] | None:
    """Ballast that brings the balance back to the middle of its range, in grams, and its place in mm.

    None where the range, the mass or a place at the right end is not known, or ballast there cannot do it.
    """
    from hangar.physics.balance import ballast_g

    frame = outlook.before.aircraft.airframe
    fore, aft, mass = frame.cg_fore_mm, frame.cg_aft_mm, frame.all_up_mass_g
    places = [fit.position.balance_arm_mm for fit in outlook.after.aircraft.fits]
    arms = [arm for arm in places if arm is not None]
    if outlook.balance is None or fore is None or aft is None or mass is None or not arms:
        return None
    centre = outlook.balance.expected
    place = min(arms) if centre > aft else max(arms)
    try:
        return ballast_g(centre, (fore + aft) / 2, place, mass + outlook.mass_g), place
    except HangarError:
        return None


def predictions(outlook: Outlook) -> dict[str, float]:
    """The figures that flights and scales will be held against."""
    survey, mass = outlook.after.survey, outlook.after.aircraft.airframe.all_up_mass_g
    bus, charge = peak_bus(survey), survey.supply.flight_mah
    placed = outlook.balance is not None and not outlook.balance_lacks and not supply_g(outlook)
    figures = {
        "bus_v": bus.expected if bus else None,
        "flight_mah": charge.expected if charge else None,
        "mass_g": mass + outlook.mass_g if mass is not None and not outlook.unweighed else None,
        "balance_mm": outlook.balance.expected if placed and outlook.balance else None,
    }
    return {name: value for name, value in figures.items() if value is not None}


def peak_bus(survey: Survey) -> Figure | None:
    """Bus volts at peak current."""
    peak = survey.scenarios.get(Scenario.PEAK)
    return peak.bus_v if peak else None


def weakest(survey: Survey) -> Figure | None:
    """The least control left of all positions; none on a bus that fails, where no rating holds."""
    if brown_out(survey) is not None:
        return None
    margins = [figure for position in survey.positions.values() if (figure := position.reserve) is not None]
    return min(margins, key=lambda figure: figure.expected, default=None)
