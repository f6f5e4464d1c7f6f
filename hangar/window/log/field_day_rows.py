"""The lists for the next field day: what to charge, to test, to take along, what is due and what is open."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hangar.answers.judging import Judgement
from hangar.answers.packs import PackCase
from hangar.base.units import ShowsNumbers
from hangar.parts import Aircraft, FedPack, Library
from hangar.parts.choices import Chemistry, PackState, PowerKind
from hangar.rules.finding import Finding, Level
from hangar.rules.thresholds import Thresholds
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.words import put, say, sentence_case
from hangar.window.log.due_list import days_words
from hangar.window.packs.pack_words import charging_words, title_words
from hangar.window.tables.columns import Column


@dataclass(frozen=True)
class DayPack:
    """A pack that goes along, with the figures of its test under load."""

    aircraft: str
    feed: str
    fed: FedPack
    is_tested: bool
    load_a: float
    least_v: float
    healthy_v: float | None

    @property
    def pack(self) -> object:
        """The pack."""
        return self.fed.pack

    @property
    def case(self) -> PackCase:
        """The pack as the Battery Shelf knows it."""
        fed = self.fed
        return PackCase(fed.pack, fed.pack_type, fed.fit, fed.load_tests, fed.capacity_tests, fed.cells)


def day_packs(judgements: Iterable[Judgement], thresholds: Thresholds) -> tuple[DayPack, ...]:
    """Every pack of these aircraft, with the lines that the field sheet prints for it."""
    return tuple(row for one in judgements for row in _packs_of(one, thresholds))


def _packs_of(judgement: Judgement, thresholds: Thresholds) -> Iterator[DayPack]:
    from hangar.sheets import SheetCase
    from hangar.sheets.texts import test_load_a
    from hangar.survey.packs import load_test_lines

    aircraft = judgement.aircraft
    load_a = test_load_a(aircraft.airframe.aircraft_class, thresholds)
    case = SheetCase(survey=judgement.survey, findings=judgement.findings)
    tested = {fed.pack.tag for _, fed in case.tested_packs}
    for path in aircraft.paths:
        for fed in path.packs:
            kind = fed.pack_type
            lines = load_test_lines(kind, load_a)
            yield DayPack(
                aircraft=aircraft.code,
                feed=path.feed.code,
                fed=fed,
                is_tested=fed.pack.tag in tested,
                load_a=load_a,
                least_v=lines.least_v,
                healthy_v=None if lines.is_typical else lines.ready_v,
            )


def charge_columns() -> tuple[Column[DayPack], ...]:
    """What to charge and how."""
    return (
        Column(say("Pack"), lambda row, _units: row.fed.pack.tag, level=_unfit),
        Column(say("Where"), lambda row, _units: f"{row.aircraft} {row.feed}"),
        Column(say("What it is"), lambda row, _units: title_words(row.case)),
        Column(
            say("Last charged"),
            lambda row, _units: str(row.fed.pack.charged_on or UNKNOWN),
            raw=lambda row: row.fed.pack.charged_on,
        ),
        Column(say("To charge it"), lambda row, units: charging_words(row.case, units), widest=90),
    )


def _unfit(row: DayPack) -> Level | None:
    unfit = row.fed.pack.state in (PackState.QUARANTINE, PackState.RETIRED)
    return Level.WARNING if unfit or row.fed.pack.swollen or row.fed.pack.crashed else None


def load_test_columns() -> tuple[Column[DayPack], ...]:
    """How to test under load and what to read at the least."""
    return (
        Column(say("Pack"), lambda row, _units: row.fed.pack.tag),
        Column(say("Where"), lambda row, _units: f"{row.aircraft} {row.feed}"),
        Column(say("Load"), lambda row, units: units.show(row.load_a, "A"), number=True),
        Column(say("Not below"), lambda row, units: units.show(row.least_v, "V", 3), number=True),
        Column(
            say("Healthy"),
            lambda row, units: UNKNOWN if row.healthy_v is None else units.show(row.healthy_v, "V", 3),
            number=True,
        ),
        Column(say("Last test"), _last_test),
    )


def _last_test(row: DayPack, units: ShowsNumbers) -> str:
    test = row.case.newest_test
    if test is None:
        return say("none on record")
    return say(
        "{day}: {volts} at {load}",
        day=test.tested_at.date(),
        volts=units.show(test.loaded_v, "V", 3),
        load=units.show(test.load_a, "A"),
    )


@dataclass(frozen=True)
class TakeRow:
    """One thing to take along."""

    what: str
    why: str
    where: str = ""


_FOR_POWER: dict[PowerKind, tuple[str, ...]] = {
    PowerKind.ELECTRIC: ("Charged drive packs in a fireproof box",),
    PowerKind.GLOW: ("Fuel, glow plug, plug spanner and starter",),
    PowerKind.PETROL: ("Fuel, spark plug and its spanner",),
    PowerKind.TURBINE: ("Fuel and gas for the turbine", "Fire extinguisher, carbon dioxide"),
    PowerKind.TOW: ("Tow line with its weak link",),
}
_ALWAYS = ("Load tester", "Transmitter, charged", "Screwdrivers, hex keys, ties and tape")


def take_rows(aircraft: Iterable[Aircraft], library: Library | None) -> tuple[TakeRow, ...]:
    """Tools by kind of aircraft (common practice, no source), and spares that lie in the bay for them."""
    chosen = tuple(aircraft)
    if not chosen:
        return ()
    all_codes = ", ".join(one.code for one in chosen)
    found: dict[str, list[str]] = {say(what): [all_codes] for what in _ALWAYS}
    for one in chosen:
        for what in _tools(one):
            found.setdefault(what, []).append(one.code)
    tools = [TakeRow(what, ", ".join(dict.fromkeys(codes))) for what, codes in found.items()]
    return (*tools, *_spares(chosen, library or Library()))


def _tools(aircraft: Aircraft) -> Iterator[str]:
    yield from (say(what) for what in _FOR_POWER.get(aircraft.airframe.power or PowerKind.NONE, ()))
    if aircraft.airframe.propeller:
        yield say("Spare propeller {size} and its spanner", size=aircraft.airframe.propeller)
    if aircraft.airframe.aircraft_class.is_helicopter:
        yield say("Pitch gauge, ball-link pliers, spare blades")
    if aircraft.airframe.aircraft_class.is_sailplane:
        yield say("Wing tape and ballast")
    chemistries = {fed.pack_type.chemistry for path in aircraft.paths for fed in path.packs}
    for chemistry in sorted(chemistries):
        yield say("Charger set up for {chemistry}", chemistry=chemistry)
        if chemistry in (Chemistry.LIPO, Chemistry.LIHV):
            yield say("Fireproof bag and sand")
    screws = {fit.servo_type.arm_screw for fit in aircraft.fits if fit.servo_type}
    for screw in sorted(screw for screw in screws if screw):
        yield say("Spare arm screws {screw}", screw=screw)


def _spares(chosen: tuple[Aircraft, ...], library: Library) -> Iterator[TakeRow]:
    used = {fit.servo_type.code: one.code for one in chosen for fit in one.fits if fit.servo_type}
    packs = {fed.pack_type.code: one.code for one in chosen for path in one.paths for fed in path.packs}
    for servo in library.spare_servos.values():
        if servo.servo_type in used:
            yield _spare(servo.tag, servo.servo_type, used[servo.servo_type], servo.bin)
    for pack in library.spare_packs.values():
        if pack.pack_type in packs:
            yield _spare(pack.tag, pack.pack_type, packs[pack.pack_type], pack.bin)
    for item in library.stock:
        code = {**used, **packs}.get(item.part_type or "")
        if item.on_hand > 0 and code is not None:
            words = say("Spare {what}, {count} in the Parts Bay")
            yield TakeRow(words.format(what=item.part_type, count=f"{item.on_hand:g}"), code, item.bin or "")


def _spare(tag: str, part_type: str, code: str, bin_name: str | None) -> TakeRow:
    return TakeRow(say("Spare {tag}, {type}", tag=tag, type=part_type), code, bin_name or "")


def take_columns() -> tuple[Column[TakeRow], ...]:
    """What, for which aircraft, where it lies."""
    return (
        Column(say("Take along"), lambda row, _units: row.what),
        Column(say("For"), lambda row, _units: row.why),
        Column(say("Bin"), lambda row, _units: row.where),
    )


@dataclass(frozen=True)
class OpenRow:
    """Something that stands open: a finding, or a thing that falls due by the day."""

    aircraft: str
    what: str
    words: str
    finding: Finding | None = None


def open_rows(judgements: Iterable[Judgement]) -> tuple[OpenRow, ...]:
    """Open warnings and cautions, gravest first."""
    found = [(one.aircraft.code, finding) for one in judgements for finding in one.open_findings]
    grave = [pair for pair in found if pair[1].level.value in ("warning", "caution")]
    grave.sort(key=lambda pair: (pair[1].level.rank, pair[0]))
    return tuple(
        OpenRow(code, ", ".join(finding.about), put(finding.message), finding) for code, finding in grave
    )


def open_columns() -> tuple[Column[OpenRow], ...]:
    """Aircraft with the level's mark, what it is about, the sentence."""
    return (
        Column(
            say("Aircraft"),
            lambda row, _units: row.aircraft,
            level=lambda row: row.finding.level if row.finding else None,
        ),
        Column(say("Concerns"), lambda row, _units: row.what, widest=24),
        Column(say("Finding"), lambda row, _units: row.words, tip=lambda row: row.words),
    )


def due_rows(judgements: Iterable[Judgement], days: int) -> tuple[OpenRow, ...]:
    """What is due by the day, the earliest first."""
    found = [(one.aircraft.code, item) for one in judgements for item in one.due if item.days <= days]
    found.sort(key=lambda pair: (pair[1].due_on, pair[0]))
    return tuple(
        OpenRow(
            code,
            say("{what} {about}", what=say(sentence_case(str(item.what))), about=put(item.about)),
            say("{left}; {why}", left=days_words(item.days), why=put(item.why)),
        )
        for code, item in found
    )


def due_columns() -> tuple[Column[OpenRow], ...]:
    """Aircraft, what, how soon and why."""
    return (
        Column(say("Aircraft"), lambda row, _units: row.aircraft),
        Column(say("Due"), lambda row, _units: row.what),
        Column(say("When and why"), lambda row, _units: row.words, tip=lambda row: row.words),
    )
