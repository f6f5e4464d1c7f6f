"""How a refit plan goes forward: which state may follow, the order of work, the gates before release."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from functools import cache

from hangar.base.errors import BadInput
from hangar.base.kept_text import read_kept
from hangar.base.places import resources_dir
from hangar.base.text import Amount, Text, fixed, listed, text
from hangar.parts import Aircraft, BenchCheck, Library, Plan, PlanLine, after_plan
from hangar.parts.choices import AircraftState, PlanAction, PlanState
from hangar.parts.fields import columns
from hangar.parts.holding import grounding_snags
from hangar.refit.bay import OVER
from hangar.rules.finding import Finding, Level

ORDER = (
    PlanState.SKETCHED,
    PlanState.PRICED,
    PlanState.PARTS_IN,
    PlanState.FITTING,
    PlanState.BENCH_PROVED,
    PlanState.FLOWN_IN,
)
"""The way of a plan; a dropped one has left it."""
TAGGED = (PlanAction.FIT_SERVO, PlanAction.FIT_PACK, PlanAction.JOIN_PACKS)
"""Actions that fit a part with a tag of its own."""
_MEASURED = tuple(spec.name for spec in columns(BenchCheck) if spec.type is float)
_COUNTED = (*TAGGED, PlanAction.FIT_REGULATOR, PlanAction.FIT_SWITCH, PlanAction.FIT_RECEIVER)


@dataclass(frozen=True)
class Move:
    """A state that a plan may go to, and what is missing before it may; nothing missing, it may."""

    state: PlanState
    missing: tuple[Text, ...] = ()

    @property
    def is_open(self) -> bool:
        """Whether the plan may go there."""
        return not self.missing


@dataclass(frozen=True)
class Gate:
    """One stage of the bench check: its code, what to do, and when it is passed."""

    code: str
    text: Text
    pass_when: Text


@dataclass(frozen=True)
class Step:
    """One step of the work: what to do and what must be right before the next one is begun.

    ``line`` is None for the steps that change nothing.
    """

    number: int
    words: Text
    check: Text
    line: PlanLine | None = None
    done: bool = False


@cache
def gates() -> tuple[Gate, ...]:
    """The stages of a bench check in the order of doing; the release itself is no gate.

    >>> gates()[0].code
    'B0'
    """
    with (resources_dir() / "checklists.toml").open("rb") as file:
        rows = tomllib.load(file)["bench"]
    gates = (Gate(row["code"], fixed(row["text"]), fixed(row.get("pass_when", ""))) for row in rows)
    return tuple(gate for gate in gates if gate.code != "release")


def moves(plan: Plan, aircraft: Aircraft, library: Library) -> tuple[Move, ...]:
    """Where a plan may go from where it is: forward, back, dropped.

    Args:
        plan: with its lines and the proofs that are ticked.
        aircraft: as it is.
        library: types, spares, and all plans with what they reserve.
    """
    if plan.state is PlanState.DROPPED:
        return (Move(PlanState.SKETCHED),)
    at = ORDER.index(plan.state)
    moves = []
    if at + 1 < len(ORDER):
        forward = ORDER[at + 1]
        moves.append(Move(forward, tuple(_missing(forward, plan, aircraft, library))))
    if at > 0:
        moves.append(Move(ORDER[at - 1]))
    if plan.state is not PlanState.FLOWN_IN:
        moves.append(Move(PlanState.DROPPED, tuple(_half_done(plan))))
    return tuple(moves)


def _missing(state: PlanState, plan: Plan, aircraft: Aircraft, library: Library) -> list[Text]:
    if state is PlanState.PRICED:
        return price_gaps(plan, aircraft, library)
    if state is PlanState.PARTS_IN:
        return part_gaps(plan, library)
    if state is PlanState.FITTING:
        return _bench_gaps(aircraft)
    if state is PlanState.BENCH_PROVED:
        return [*undone(plan), *gate_gaps(plan, aircraft)]
    return flight_gaps(plan, aircraft)


def price_gaps(plan: Plan, aircraft: Aircraft, library: Library) -> list[Text]:
    """What a plan lacks before it is priced: lines, prices, parts that exist."""
    if not plan.lines:
        return [text("The plan has no line yet.")]
    gaps = [
        text("Line {number} has no price.", number=line.number)
        for line in open_lines(plan)
        if line.price is None
    ]
    try:
        after_plan(aircraft, plan, library)
    except BadInput as fault:
        gaps.append(fault.text)
    return gaps


def open_lines(plan: Plan) -> tuple[PlanLine, ...]:
    """Lines that are not carried out yet."""
    return tuple(line for line in plan.lines if line.done_on is None)


def undone(plan: Plan) -> list[Text]:
    """A sentence for each line that is not carried out."""
    return [
        text(
            "Line {number} is not carried out: {line}.",
            number=line.number,
            line=line_title(line, plan.aircraft),
        )
        for line in open_lines(plan)
    ]


def part_gaps(plan: Plan, library: Library) -> list[Text]:
    """What does not lie in the bay, after what other plans have reserved."""
    held = reserved_elsewhere(plan, library)
    gaps: list[Text] = []
    wanted = Counter[str]()
    for line in open_lines(plan):
        if line.action not in _COUNTED or not line.part_type:
            continue
        if line.from_stock:
            gaps += _tag_gaps(line, library, held)
        elif not line.from_aircraft:
            wanted[line.part_type] += line.quantity
    for kind, count in wanted.items():
        free = free_of(kind, plan, library)
        if free < count:
            gaps.append(
                text(
                    "{count:g} of {type} are needed, {free:g} are free in Stores.",
                    count=count,
                    type=kind,
                    free=max(0.0, free),
                )
            )
    return gaps


def _tag_gaps(line: PlanLine, library: Library, held: Mapping[str, str]) -> list[Text]:
    tag = line.from_stock or ""
    fitted = {**library.servos_elsewhere, **library.packs_elsewhere} if line.from_aircraft else {}
    comes_off = tag in fitted
    if not comes_off and tag not in library.spare_servos and tag not in library.spare_packs:
        return [text("Line {number}: {tag} does not lie in Stores.", number=line.number, tag=tag)]
    if tag not in held:
        return []
    words = "Line {number}: {tag} is reserved by {plan}."
    return [text(words, number=line.number, tag=tag, plan=held[tag])]


def reserved_elsewhere(plan: Plan, library: Library) -> dict[str, str]:
    """Tags that other open plans take from the bay, with the plan's code."""
    return {
        line.from_stock: other.code
        for other in library.plans
        if other.code != plan.code and other.state not in OVER
        for line in open_lines(other)
        if line.from_stock
    }


def free_of(part_type: str, plan: Plan, library: Library) -> float:
    """How many of a type lie in the bay that no plan has by its tag, less what plans under way take.

    Plans that have their parts or are being fitted take untagged parts; sketches do not.
    """
    tags = {line.from_stock for other in library.plans for line in open_lines(other) if line.from_stock}
    spares = [servo.tag for servo in library.spare_servos.values() if servo.servo_type == part_type]
    spares += [pack.tag for pack in library.spare_packs.values() if pack.pack_type == part_type]
    taken = sum(
        line.quantity
        for other in library.plans
        if other.code != plan.code and other.state in (PlanState.PARTS_IN, PlanState.FITTING)
        for line in open_lines(other)
        if line.part_type == part_type and not line.from_stock and not line.from_aircraft
    )
    return library.stocked(part_type) - len(tags & set(spares)) - taken


def _bench_gaps(aircraft: Aircraft) -> list[Text]:
    state = aircraft.airframe.state
    if state is AircraftState.ON_THE_BENCH:
        return []
    return [text("{aircraft} is {state}; put it on the bench first.", aircraft=aircraft.code, state=state)]


def gate_gaps(plan: Plan, aircraft: Aircraft) -> list[Text]:
    """Readings that are not entered, and gates that are not ticked."""
    gaps = [
        text("No bench check of {position} since it was changed.", position=code)
        for code in unread(plan, aircraft)
    ]
    return gaps + [
        text("Proof {code} is not ticked: {what}", code=gate.code, what=gate.text) for gate in unticked(plan)
    ]


def unticked(plan: Plan) -> tuple[Gate, ...]:
    """The proofs that are still to be ticked, in the order of doing."""
    ticked = {proof.proof for proof in plan.proofs}
    return tuple(gate for gate in gates() if gate.code not in ticked)


def _changed(plan: Plan, aircraft: Aircraft) -> dict[str, date]:
    """Positions that the plan changed, each with the day of its last change."""
    changed: dict[str, date] = {}
    for line in plan.lines:
        if line.done_on is not None and line.place and aircraft.fit(line.place):
            changed[line.place] = max(line.done_on, changed.get(line.place, line.done_on))
    return changed


def unread(plan: Plan, aircraft: Aircraft) -> tuple[str, ...]:
    """Positions that the plan changed and of which nothing was measured since; a tick is no reading."""
    codes = []
    for code, day in _changed(plan, aircraft).items():
        fit = aircraft.fit(code)
        if fit is not None and not any(
            _is_read(bench_check) and bench_check.checked_at.date() >= day for bench_check in fit.bench_checks
        ):
            codes.append(code)
    return tuple(codes)


READ = ("bus_v", "neutral_ma", "moving_ma", "end_a_ma", "end_b_ma")
"""What the bench check reads at each position that was changed."""
DIRECTIONS = "B6"
"""The proof of the directions, which each flight control's record then holds."""


def blank_readings(plan: Plan, aircraft: Aircraft) -> dict[str, tuple[str, ...]]:
    """Positions that the plan changed, with the readings that nobody took since."""
    blanks_by_code = {}
    for code, day in _changed(plan, aircraft).items():
        fit = aircraft.fit(code)
        since = (
            [bench_check for bench_check in fit.bench_checks if bench_check.checked_at.date() >= day]
            if fit
            else []
        )
        blank = tuple(
            name for name in READ if all(getattr(bench_check, name) is None for bench_check in since)
        )
        if blank:
            blanks_by_code[code] = blank
    return blanks_by_code


def left_open(aircraft: Aircraft, findings: Iterable[Finding]) -> tuple[Text, ...]:
    """What is open before a release, one sentence each: warnings nobody accepted, snags that ground."""
    warnings = [finding.message for finding in findings if finding.level is Level.WARNING and finding.is_open]
    return (
        *warnings,
        *(text("Open snag: {snag}", snag=read_kept(snag.text)) for snag in grounding_snags(aircraft.snags)),
    )


def refit_day(plan: Plan, today: date) -> date:
    """The day of a refit is that of its last work: what was proved after it counts."""
    return min(last_done(plan) or today, today)


def _is_read(check: BenchCheck) -> bool:
    return any(getattr(check, name) is not None for name in _MEASURED)


def flight_gaps(plan: Plan, aircraft: Aircraft) -> list[Text]:
    """What is missing before a refit counts as flown in."""
    gaps = []
    if aircraft.airframe.state is not AircraftState.ON_THE_LINE:
        gaps.append(
            text(
                "{aircraft} is {state}; release it to the line first.",
                aircraft=aircraft.code,
                state=aircraft.airframe.state,
            )
        )
    day = last_done(plan)
    if not any(day is None or flight.flown_on >= day for flight in aircraft.flights):
        gaps.append(text("No flight is in the logbook since the last line was carried out."))
    return gaps


def last_done(plan: Plan) -> date | None:
    """The day the last line was carried out."""
    return max((line.done_on for line in plan.lines if line.done_on), default=None)


def release_gaps(plan: Plan, aircraft: Aircraft) -> list[Text]:
    """What is missing before the aircraft may go from the bench to the line; none, it may."""
    gaps = []
    if plan.state is not PlanState.BENCH_PROVED:
        gaps.append(text("The plan is {state}, not bench-proved.", state=plan.state))
    return [*gaps, *_bench_gaps(aircraft), *undone(plan), *gate_gaps(plan, aircraft)]


def _half_done(plan: Plan) -> list[Text]:
    done = sum(line.done_on is not None for line in plan.lines)
    if not done or done == len(plan.lines):
        return []
    return [
        text(
            "{count} of {all} lines are carried out; finish them, or take the open ones out.",
            count=done,
            all=len(plan.lines),
        )
    ]


def order_of_work(plan: Plan) -> tuple[Step, ...]:
    """The plan as steps: make safe, arms and leads with their servo, the supply last, then the bench check.

    The supply goes last so that no servo that is to come off is fed by it. Common practice, no source.
    """
    steps = [Step(1, text("Make it safe"), _SAFE, done=any(line.done_on for line in plan.lines))]
    for line in sorted(plan.lines, key=_rank):
        number, done = len(steps) + 1, line.done_on is not None
        steps.append(Step(number, line_title(line, plan.aircraft), _CHECK[line.action], line, done))
    if plan.lines:
        steps.append(Step(len(steps) + 1, text("Bench check"), text("Every proof is ticked before release.")))
    return tuple(steps)


def _rank(line: PlanLine) -> tuple[int, str, int, int]:
    if line.action in _AT_SERVO:
        return (0, line.place or "", _AT_SERVO.index(line.action), line.number)
    return (1, "", _SUPPLY.index(line.action), line.number)


_AT_SERVO = (
    *(PlanAction.CHANGE_LEAD, PlanAction.PROTECT_LEAD, PlanAction.SET_PULSE, PlanAction.SET_RATE),
    *(PlanAction.FIT_SERVO, PlanAction.FIT_FIXINGS, PlanAction.CHANGE_ARM, PlanAction.SET_HORN),
    PlanAction.CHANGE_ROD,
)
"""Output before servo: a servo is never plugged into pulses or frames that it does not bear."""
_SUPPLY = (
    *(PlanAction.FIT_REGULATOR, PlanAction.SET_REGULATOR, PlanAction.FIT_RECEIVER, PlanAction.FIT_SWITCH),
    *(PlanAction.FIT_PACK, PlanAction.JOIN_PACKS),
)
"""A board comes first: a second pack is never wired to the first without what isolates them."""
_SAFE = text("Propeller or blades off, drive pack or ignition off, receiver pack unplugged.")
_CHECK = {
    PlanAction.FIT_SERVO: text(
        "Arm square at neutral, screws and grommets complete, arm screw locked, no bind."
    ),
    PlanAction.CHANGE_ARM: text(
        "Spline fits without force, radius measured, rod free through the whole travel."
    ),
    PlanAction.CHANGE_LEAD: text("Plug fully home and secured, polarity right, lead clear of moving parts."),
    PlanAction.FIT_SWITCH: text("Switches on and off three times, nothing warm, both poles carry."),
    PlanAction.FIT_REGULATOR: text("Output measured without servos, before anything is plugged in."),
    PlanAction.SET_REGULATOR: text("Output measured without servos, before anything is plugged in."),
    PlanAction.FIT_PACK: text("Load test passed, strapped so that it cannot move, plug secured."),
    PlanAction.JOIN_PACKS: text(
        "Packs alike and at equal volts before they are joined, polarity right, strapped, plugs secured."
    ),
    PlanAction.FIT_RECEIVER: text("Bound, failsafe set and tried, every channel right, range check passed."),
    PlanAction.FIT_FIXINGS: text("Every screw holds with its grommet, arm screw locked, servo sits still."),
    PlanAction.SET_HORN: text("Clevis closed, rod free through the whole travel, throw measured."),
    PlanAction.CHANGE_ROD: text("Rod straight and free through the whole travel, clevises closed."),
    PlanAction.PROTECT_LEAD: text("Plug fully home, nothing pulls or chafes, lead clear of moving parts."),
    PlanAction.SET_PULSE: text("Read back from the unit, servo unplugged while it is set."),
    PlanAction.SET_RATE: text("Read back from the unit, servo unplugged while it is set."),
}


def line_title(line: PlanLine, own: str | None = None) -> Text:
    """A line in a few words, with the aircraft that its part comes off where that is not its own one.

    >>> fit = PlanLine(plan="P", number=1, action=PlanAction.FIT_SERVO, place="RUD", part_type="TS-1")
    >>> str(line_title(fit))
    'RUD: fit servo TS-1'
    """
    words: list[Text | str | Amount] = [line.action]
    if line.part_type:
        words.append(line.part_type)
    if line.from_stock:
        words.append(f"({line.from_stock})")
    if line.from_aircraft not in (None, own):
        words.append(text("off {aircraft}", aircraft=line.from_aircraft))
    if line.set_v is not None:
        words.append(text("at {volts}", volts=Amount(line.set_v, "V")))
    if line.awg is not None:
        words.append(f"{line.awg} AWG")
    lengths = (line.arm_mm, line.horn_mm, line.rod_diameter_mm)
    words += [Amount(length_mm, "mm") for length_mm in lengths if length_mm is not None]
    if line.pulse_us is not None:
        words.append(Amount(line.pulse_us, "us"))
    if line.rate_hz is not None:
        words.append(Amount(line.rate_hz, "Hz"))
    words += [word for word in (line.care, line.rod, line.rod_material, line.join) if word is not None]
    return text("{place}: {action}", place=line.place or "-", action=listed(words, joint="", most=0))


def cost_of(plan: Plan) -> tuple[float, int]:
    """The sum of the lines' prices, and how many lines have none."""
    total = sum((line.price or 0.0) * line.quantity for line in plan.lines)
    return round(total, 2), sum(line.price is None for line in plan.lines)
