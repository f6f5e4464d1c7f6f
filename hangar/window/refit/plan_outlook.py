"""What a plan would do to its aircraft: judged before and after, with cost, mass and balance."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from hangar.answers.judging import Circumstances, Difference, Judgement, judge_aircraft
from hangar.base.errors import HangarError
from hangar.base.figure import Figure
from hangar.base.text import Text
from hangar.base.units import ShowsNumbers
from hangar.parts import Aircraft, Library, Plan, PlanLine, after_plan
from hangar.parts.choices import PlanAction
from hangar.refit.board import cost_of, open_lines
from hangar.rules.forbidding import forbidding, parts_brought
from hangar.survey.brown_out import brown_out
from hangar.survey.model import Scenario, Survey
from hangar.window.kit.field_text import figure_text
from hangar.window.kit.words import counted, put, say
from hangar.window.refit.refit_search import Progress, Stop


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
    around: Circumstances,
    progress: Progress = lambda _share, _words: None,
    stop: Stop = lambda: False,
) -> Outlook | None:
    """Judge an aircraft before and after the open lines of a plan; None when it was stopped.

    Raises: BadInput naming the line that cannot be carried out.
    """
    from hangar.survey.airframe import balance_after

    library = around.library or Library()
    changed = after_plan(aircraft, plan, library)
    mass_g, unweighed = mass_change(plan, aircraft, library)
    balance, lacks = balance_after(aircraft, changed)
    judged = []
    for share, words, one in (
        (0.1, say("Judging the aircraft as it is…"), aircraft),
        (0.5, say("Judging it with the plan carried out…"), changed),
    ):
        if stop():
            return None
        progress(share, words)
        judged.append(judge_aircraft(one, around))
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


def do_not_fit_words(outlook: Outlook) -> str:
    """Which parts of the plan must not be fitted, and why; empty where nothing forbids it."""
    why = forbidding(outlook.before.findings, outlook.after.findings)
    if not why:
        return ""
    parts = ", ".join(
        say("{part} at {place}", part=part, place=place) for part, place in parts_brought(outlook.plan.lines)
    )
    return say("Do not fit {parts}: {why}", parts=parts, why=" ".join(put(each.message) for each in why))


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
    path = next((each for each in aircraft.paths if each.feed.code == line.place), None)
    if line.action is PlanAction.FIT_PACK and code in library.pack_types:
        packs = [(each.pack_type, -1) for each in path.packs] if path else []
        return [(library.pack_types[code], 1), *packs]
    if line.action is PlanAction.FIT_REGULATOR and code in library.regulator_types:
        old = [(path.regulator_type, -1)] if path and path.regulator_type else []
        return [(library.regulator_types[code], 1), *old]
    if line.action is PlanAction.FIT_SWITCH and code in library.switch_types:
        old_switch = [(path.switch_type, -1)] if path and path.switch_type else []
        return [(library.switch_types[code], 1), *old_switch]
    return []


def money(value: float, sign: str) -> str:
    """A price with the keeper's money sign.

    >>> money(12.5, "EUR")
    '12.50 EUR'
    """
    return f"{value:.2f} {sign}".rstrip()


def cost_words(plan: Plan, sign: str) -> str:
    """What a plan costs, and how many lines have no price."""
    total, unpriced = cost_of(plan)
    words = money(total, sign)
    if not unpriced:
        return words
    one, many = say("{cost}, {count} line without a price"), say("{cost}, {count} lines without a price")
    return counted(unpriced, one, many).replace("{cost}", words)


def mass_words(outlook: Outlook, units: ShowsNumbers) -> str:
    """What is added, and what could not be counted."""
    sign = "+" if outlook.mass_g >= 0 else ""
    words = f"{sign}{units.show(outlook.mass_g, 'g')}"
    if not outlook.unweighed:
        return words
    return say("{mass}, mass not known of {types}", mass=words, types=", ".join(outlook.unweighed))


def balance_words(outlook: Outlook, units: ShowsNumbers) -> str:
    """Where the balance is expected, within what range, and what ballast that asks for."""
    frame = outlook.before.aircraft.airframe
    words = figure_text(outlook.balance, units)
    if frame.cg_fore_mm is not None and frame.cg_aft_mm is not None:
        low, high = units.show(frame.cg_fore_mm, "mm"), units.show(frame.cg_aft_mm, "mm")
        words = say("{balance}, wanted {low} to {high}", balance=words, low=low, high=high)
        words += _ballast_words(outlook, units)
    unplaced = _supply_g(outlook)
    if unplaced:
        mass = units.show(unplaced, "g")
        words += "; " + say("without {mass} of supply whose place is not recorded", mass=mass)
    if outlook.balance_lacks:
        words += "; " + say("not known: {what}", what=", ".join(map(put, outlook.balance_lacks[:3])))
    return words


def _supply_g(outlook: Outlook) -> float:
    """Grams that packs, regulators and switches of a plan add; no record says where they sit."""
    servos = tuple(line for line in outlook.plan.lines if line.action is PlanAction.FIT_SERVO)
    aircraft, library = outlook.before.aircraft, outlook.library
    return outlook.mass_g - mass_change(replace(outlook.plan, lines=servos), aircraft, library)[0]


def _ballast_words(outlook: Outlook, units: ShowsNumbers) -> str:
    """Ballast at the nose that brings the balance back to the middle, where it has left the range."""
    from hangar.physics.balance import ballast_g

    frame = outlook.before.aircraft.airframe
    fore, aft, mass = frame.cg_fore_mm, frame.cg_aft_mm, frame.all_up_mass_g
    if outlook.balance is None or fore is None or aft is None or mass is None:
        return ""
    centre = outlook.balance.expected
    if fore <= centre <= aft:
        return "; " + say("no ballast needed")
    places = [fit.position.balance_arm_mm for fit in outlook.after.aircraft.fits]
    arms = [arm for arm in places if arm is not None]
    if not arms:
        return "; " + say("outside it")
    place = min(arms) if centre > aft else max(arms)
    try:
        grams = ballast_g(centre, (fore + aft) / 2, place, mass + outlook.mass_g)
    except HangarError:
        return "; " + say("outside it")
    return "; " + say(
        "{mass} of ballast at {place} brings it to the middle",
        mass=units.show(grams, "g"),
        place=units.show(place, "mm"),
    )


def predictions(outlook: Outlook) -> dict[str, float]:
    """The figures that flights and scales will be held against."""
    survey, mass = outlook.after.survey, outlook.after.aircraft.airframe.all_up_mass_g
    bus, charge = peak_bus(survey), survey.supply.flight_mah
    placed = outlook.balance is not None and not outlook.balance_lacks and not _supply_g(outlook)
    found = {
        "bus_v": bus.expected if bus else None,
        "flight_mah": charge.expected if charge else None,
        "mass_g": mass + outlook.mass_g if mass is not None and not outlook.unweighed else None,
        "balance_mm": outlook.balance.expected if placed and outlook.balance else None,
    }
    return {name: value for name, value in found.items() if value is not None}


def peak_bus(survey: Survey) -> Figure | None:
    """Bus volts at peak current."""
    peak = survey.scenarios.get(Scenario.PEAK)
    return peak.bus_v if peak else None


def weakest(survey: Survey) -> Figure | None:
    """The least margin of all positions; none on a bus that fails, where no rating holds."""
    if brown_out(survey) is not None:
        return None
    margins = [one.margin for one in survey.positions.values() if one.margin is not None]
    return min(margins, key=lambda figure: figure.expected, default=None)
