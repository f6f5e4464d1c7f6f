"""The field checklist of one aircraft as steps: what is asked, what is wanted, within which limits.

Paper, phone, screen and reading back ask these steps; none makes up a line or a limit of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from hangar.answers.bench_bands import ReadingBand, bands_of, is_out, reading_name, wanted
from hangar.answers.bench_expected import OUT
from hangar.answers.case import AircraftCase
from hangar.answers.checklists import CheckLine, lines_for, test_load_a
from hangar.answers.outputs import Output, outputs_of
from hangar.base.text import Amount, Arg, Span, Text, fixed, joined, series, text
from hangar.base.units import SI_TRADE
from hangar.parts import Channel, FedPack, PackType, PowerPath, ServoFit
from hangar.parts.choices import FailsafeAction, FeedRole, Function, Side
from hangar.parts.failsafe import (
    action_text,
    actions_in_words,
    expected_actions,
    has_time_limit,
    is_set_wrong,
    required_actions,
)
from hangar.parts.sheet_boxes import FIELD, LINE
from hangar.survey.packs import load_test_lines

LISTED = ("controls", "failsafe")
"""Lines whose parts stand in a list of their own on paper."""


@dataclass(frozen=True, slots=True)
class Reading:
    """One thing that is measured and written down.

    Attributes:
        what: which reading it is; its box is called by it.
        head: what stands beside the blank.
        unit: of the number; empty for a word.
        limits: one of these must hold; none where no limit is known.
        optional: whether the step holds without it.
    """

    what: str
    head: Text
    unit: str
    limits: tuple[ReadingBand, ...] = ()
    optional: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """One line: what is looked at, what is wanted, what the records say, what a miss does.

    Attributes:
        phase: when and where, a name of ``PHASES``.
        about, what: name its box to tick.
        say: what the helper asks.
        need: the wanted state or value; None where no record says it.
        recorded: what the records say besides, marked where it contradicts what is wanted.
        readings: what is measured; the tick is no proof while one of them is out.
        known: a value printed into its box, by its name (the current of a load test).
        stop: whether the aircraft is put away when it is not so.
        line: the line of the checklist that it belongs to.
    """

    phase: str
    about: str
    what: str
    say: Text
    need: Arg
    recorded: Arg = None
    readings: tuple[Reading, ...] = ()
    known: tuple[tuple[str, Amount], ...] = ()
    stop: bool = False
    line: str = ""
    output: Output | None = None

    @property
    def is_open(self) -> bool:
        """Whether something is to be measured of which no limit is known."""
        return any(not reading.limits and not reading.optional for reading in self.readings)


def field_steps(case: AircraftCase) -> tuple[Step, ...]:
    """Every step in the order of doing; a pack, a control and a failsafe is a step of its own."""
    return tuple(step for line in lines_for(case.aircraft) for step in steps_of(case, line))


def steps_of(case: AircraftCase, line: CheckLine) -> Iterator[Step]:
    """The steps of one line of the checklist."""
    if line.parts == "packs":
        yield from _pack_steps(case, line)
    elif line.parts == "controls":
        yield from (_control_step(line, output) for output in outputs_of(case.aircraft))
    elif line.parts == "failsafe":
        yield from (_failsafe_step(case, line, output) for output in outputs_of(case.aircraft))
    else:
        yield line_step(case, line)


def line_step(case: AircraftCase, line: CheckLine) -> Step:
    """The line itself as a step, with this aircraft's own value."""
    step = Step(line.phase, LINE, line.id, fixed(line.say), fixed(line.need), stop=line.stop, line=line.id)
    find = _VALUES.get(line.value)
    if find is not None:
        step = find(case, step)
    if line.unit:
        what = reading_name(line.id, line.unit)
        limits = bands_of(FIELD, case, SI_TRADE, LINE, what)
        reading = Reading(what, fixed(line.say), line.unit, limits, optional=line.value in _WITHOUT_LIMIT)
        need = wanted(limits) or (step.need if reading.optional else NOT_KNOWN)
        step = replace(step, need=need, readings=(reading,))
    return step


NOT_KNOWN = text("not known: measure, write")
_WITHOUT_LIMIT = ("range",)
"""Values whose limit stands in a maker's manual and in no record."""


def _memory(case: AircraftCase, step: Step) -> Step:
    frame = case.aircraft.airframe
    return replace(step, need=text("{name}", name=frame.name))


def _timer(case: AircraftCase, step: Step) -> Step:
    minutes = case.aircraft.airframe.flight_min
    if minutes is None:
        return step
    return replace(step, need=text("home, {minutes}", minutes=Amount(minutes, "min")))


def _propeller(case: AircraftCase, step: Step) -> Step:
    propeller = case.aircraft.airframe.propeller
    return replace(step, recorded=propeller) if propeller else step


def _joints(case: AircraftCase, step: Step) -> Step:
    jointed = [fit.code for fit in case.aircraft.fits if fit.lead and (fit.lead.joints or 0) > 1]
    return (
        replace(step, recorded=text("joints at {places}", places=series(jointed, ","))) if jointed else step
    )


def _site(case: AircraftCase, step: Step) -> Step:
    site = case.aircraft.airframe.site
    return replace(step, recorded=site) if site else step


def _balance(case: AircraftCase, step: Step) -> Step:
    frame = case.aircraft.airframe
    words: list[Arg] = [text("from {datum}", datum=frame.cg_datum)] if frame.cg_datum else []
    if frame.cg_measured_mm is not None:
        limits = bands_of(FIELD, case, SI_TRADE, LINE, reading_name("balance", "mm"))
        words.append(_known(Amount(frame.cg_measured_mm, "mm"), limits))
    return replace(step, recorded=series(words, ",")) if words else step


def _known(amount: Amount, limits: tuple[ReadingBand, ...]) -> Text:
    """``was 131 mm``, with OUT behind it where it is beyond its limit."""
    was = text("was {value}", value=amount)
    return joined(was, OUT) if is_out(limits, amount.value, amount.unit) else was


def _free_play(case: AircraftCase, step: Step) -> Step:
    read = [surface.play_deg for surface in case.aircraft.surfaces if surface.play_deg is not None]
    if not read:
        return step
    limits = bands_of(FIELD, case, SI_TRADE, LINE, reading_name("free-play", "deg"))
    return replace(step, recorded=_known(Amount(max(read), "deg"), limits))


def _range(case: AircraftCase, step: Step) -> Step:
    checks, words = case.aircraft.range_checks, [text("distance as the transmitter's maker says")]
    if checks and checks[-1].distance_m is not None:
        distance = Amount(checks[-1].distance_m, "m")
        words.append(text("last {distance}, {day}", distance=distance, day=checks[-1].checked_on))
        if not checks[-1].passed:
            words.append(text("FAILED"))
    return replace(step, recorded=series(words, ","))


_VALUES: dict[str, Callable[[AircraftCase, Step], Step]] = {
    "memory": _memory,
    "timer": _timer,
    "propeller": _propeller,
    "joints": _joints,
    "site": _site,
    "balance": _balance,
    "free-play": _free_play,
    "range": _range,
}


def known_values() -> tuple[str, ...]:
    """The values that a line can ask for by name."""
    return (*_VALUES, "pitch")


def _pack_steps(case: AircraftCase, line: CheckLine) -> Iterator[Step]:
    for path, fed in case.tested_packs:
        yield pack_step(case, line.phase, path, fed)
    if sum(path.feed.role is FeedRole.RECEIVER for path in case.aircraft.paths) > 1:
        yield Step(line.phase, LINE, "each-pack-alone", text("Each receiver pack by itself"),
                   text("feeds all, no twitch"), stop=True, line=line.id)  # fmt: skip
    if not case.tested_packs:
        sentence, need = text("Pack that feeds it"), text("not on record: find it, write it")
        yield Step(line.phase, LINE, "no-pack", sentence, need, stop=True, line=line.id)


def pack_words(kind: PackType) -> Text:
    """Chemistry, cells and capacity: ``LiPo 2 cells, 2600 mAh``."""
    cells = f"{kind.series} x {kind.parallel}" if kind.parallel > 1 else kind.series
    return text(
        "{chemistry} {cells} cells, {capacity:g} mAh",
        chemistry=kind.chemistry,
        cells=cells,
        capacity=kind.capacity_mah,
    )


def pack_step(case: AircraftCase, phase: str, path: PowerPath, fed: FedPack) -> Step:
    """The test of one pack under load: volts at rest, then under the current of its class."""
    tag, load_a = fed.pack.tag, test_load_a(case.aircraft.airframe.aircraft_class, case.thresholds)
    lines = load_test_lines(fed, load_a, case.conditions)
    limits = bands_of(FIELD, case, SI_TRADE, tag, "Read")
    recorded: list[Arg] = [series([pack_words(fed.pack_type), path.feed.role], ",")]
    if not lines.is_typical:
        recorded.append(text("charged shows {range}", range=Span(lines.ready_v, lines.full_v, "V")))
    return Step(
        phase,
        tag,
        "Tested",
        text("{tag} under {load}, 10 s", tag=tag, load=Amount(load_a, "A")),
        wanted(limits),
        recorded=series(recorded),
        readings=(
            Reading("At rest", text("rest"), "V", optional=True),
            Reading("Read", text("load"), "V", limits),
        ),
        known=(("Load", Amount(load_a, "A")),),
        stop=True,
        line="load-test",
    )


def _where(output: Output) -> Text:
    if output.number is None:
        return text("{name}", name=output.name)
    return text("{name}, channel {number}", name=output.name, number=output.number)


def _control_step(line: CheckLine, output: Output) -> Step:
    sentence = text("{what}: direction, full travel, back to centre", what=_where(output))
    return Step(line.phase, output.about, "Control", sentence, answer_words(output), stop=line.stop,
                line=line.id, output=output)  # fmt: skip


def answer_words(output: Output) -> Arg:
    """Which way an output must answer: in the keeper's words, and for one of a pair on its own side.

    Rolling right lifts the right aileron's trailing edge and lowers the left one's; on a V tail right rudder
    lowers the right surface and lifts the left one (it follows from which way each turns the aircraft).
    """
    stick = output.channel.stick if output.channel else None
    way = _own_way(output.fit) if output.fit else None
    if way is None:
        return stick
    return text("{stick}; {way}", stick=stick, way=way) if stick else way


def _own_way(fit: ServoFit) -> Text | None:
    ways = _WAYS.get(fit.function)
    return ways.get(fit.position.side) if ways and fit.position.side is not None else None


_WAYS: dict[Function, dict[Side, Text]] = {
    Function.AILERON: {
        Side.LEFT: text("rolling right: this one down"),
        Side.RIGHT: text("rolling right: this one up"),
    },
    Function.V_TAIL: {
        Side.LEFT: text("rudder right: this one up"),
        Side.RIGHT: text("rudder right: this one down"),
    },
}


def _failsafe_step(case: AircraftCase, line: CheckLine, output: Output) -> Step:
    channel = output.channel
    sentence = text("Transmitter off, motor made safe: {what}", what=_where(output))
    step = Step(
        line.phase, output.about, "Failsafe", sentence, None, stop=line.stop, line=line.id, output=output
    )
    if channel is None or channel.failsafe is None:
        bands = bands_of(FIELD, case, SI_TRADE, output.about, "No signal")
        needed = required_words(case, channel) if channel is not None and bands else None
        return replace(step, need=needed, readings=(Reading("No signal", text("It did"), "", bands),))
    recorded = None
    if is_set_wrong(channel):
        recorded = text("set to {setting}: WRONG", setting=action_text(channel.failsafe))
    elif required_actions(channel) and channel.failsafe is FailsafeAction.PRESET:
        recorded = text("as preset")
    return replace(step, need=required_words(case, channel), recorded=recorded)


def required_words(case: AircraftCase, channel: Channel) -> Text:
    """What an output must be seen to do without a signal, with the time it has: never a wrong setting."""
    words = text("{actions}", actions=actions_in_words(expected_actions(channel)))
    if has_time_limit(case.aircraft.airframe, channel):
        return text("{action} in {seconds:g} s", action=words, seconds=case.threshold("turbine-stop"))
    return words
