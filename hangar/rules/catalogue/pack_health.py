"""Packs that are tired, old, hurt or uneven."""

from __future__ import annotations

from collections.abc import Iterator

from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import NOTHING, Amount, Text, joined, listed, text
from hangar.parts import CellReading, FedPack
from hangar.parts.choices import Criticality
from hangar.physics.pack_verdict import SURE_ENOUGH_TO_RETIRE
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_pack
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, Scalar, allowed, cant_tell, of_part, value_of, worked
from hangar.rules.registry import rule
from hangar.survey.figures import field_missing, input_of

_WORN = ("dcir-risen", "load-test-failed")
"""Findings that say already that a pack is worn out."""
_LIKELY = 0.5


def measured_cell_mohm(case: Case, fed: FedPack) -> float | None:
    """Resistance of one cell at 25 °C by every reading of it; None where it was never read."""
    learned = case.learned(fed)
    return learned.cell_mohm.expected if learned.is_measured else None


@rule(
    "dcir-risen",
    title="Inner resistance has risen",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_pack(ex.trainer(), pack={"cell_mohm": 24.0}),
    passes=lambda: with_pack(ex.trainer(), pack={"cell_mohm": 15.0}),
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="pack",
        quantity="resistance of one cell",
        of=lambda case, flag: _cell_mohm(case, flag),
        unit="mohm",
        at_most=True,
        words=lambda value: text("a pack of at most {value} a cell", value=value),
    ),
)
def dcir_risen(case: Case) -> Flags:
    """
    Checks: resistance of a cell by every reading of it, load tests included, brought to 25 °C, against that
        of a new one. A warning when it is three quarters sure that it is past the limit to retire, a caution
        when it is more likely than not past the limit to look. While a reading waits, the worse side counts.
    Consequence: the bus sags under every hard command, most in the cold.
    Can't tell when: a radio pack past half its life was never measured; a younger one is judged by its load
        test.
    Source: 200 % of the new resistance is the usual end-of-life mark; common practice, no source
    Remedy: Retire the pack from flying.
    """
    for fed in case.packs:
        learned = case.learned(fed)
        state = learned.worse
        if state is None:
            if fed in case.radio_packs and _is_elderly(case, fed):
                lacks = field_missing(fed.pack, "cell_mohm")
                yield cant_tell(lacks, about=(fed.pack.tag,), criticality=Criticality.FLIGHT)
            continue
        warn, look = case.limit("resistance-warn"), case.limit("resistance-look")
        if state.share_above(warn) >= SURE_ENOUGH_TO_RETIRE:
            level, limit = Level.WARNING, warn
        elif state.share_above(look) >= _LIKELY:
            level, limit = Level.CAUTION, look
        else:
            continue
        low, ratio, high = state.times_new
        cell, new = 1000.0 * state.cell_ohm, 1000.0 * state.cell_ohm / ratio
        yield Flag(
            level=level,
            about=(fed.pack.tag,),
            message=text(
                "Pack {tag} has {cell} a cell, {ratio:.1f} times the {new} of a new one.",
                tag=fed.pack.tag,
                cell=Amount(cell, "mohm"),
                ratio=ratio,
                new=Amount(new, "mohm"),
            ),
            sameness=of_part(
                "pack",
                fed.pack.tag,
                text("have {worst}{ratio:.1f} times the resistance of a new one", ratio=ratio),
                text("{cell} a cell, {new} when new", cell=Amount(cell, "mohm"), new=Amount(new, "mohm")),
            ),
            detail=_lost_volts(case, fed, cell - new),
            figures=(
                learned.cell_mohm,
                learned.new_mohm,
                Figure(
                    text("resistance over new"), ratio, "", low, high, Basis.MEASURED,
                    Working(text("by every reading, at 25 °C / new"), (input_of(learned.cell_mohm),
                            input_of(learned.new_mohm))),
                ),
                allowed("limit", limit),
            ),
            criticality=Criticality.FLIGHT,
            margin=limit / ratio,
        )  # fmt: skip


def _is_elderly(case: Case, fed: FedPack) -> bool:
    years, _ = _life(case, fed)
    return fed.pack.bought_on is not None and case.years_since(fed.pack.bought_on) > years / 2.0


def _lost_volts(case: Case, fed: FedPack, risen_cell_mohm: float) -> Text:
    for path in case.aircraft.radio_paths:
        current = case.peak.path_a.get(path.feed.code)
        if current is not None and fed in path.packs:
            lost = current.expected * risen_cell_mohm * fed.pack_type.series / fed.pack_type.parallel / 1000.0
            return text(
                "{lost} less than from a new pack at {current}",
                lost=Amount(lost, "V"),
                current=Amount(current.expected, "A"),
            )
    return NOTHING


def _capacity(fed: FedPack) -> float | None:
    tests = [(test.tested_on, test.capacity_mah) for test in fed.capacity_tests if test.capacity_mah]
    newest = max(tests, default=None)
    on = fed.pack.capacity_on
    if newest is not None and (on is None or newest[0] > on):
        return newest[1]
    return fed.pack.capacity_mah


@rule(
    "capacity-faded",
    title="Capacity has faded",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_pack(ex.trainer(), pack={"capacity_mah": 1500.0}),
    passes=lambda: with_pack(ex.trainer(), pack={"capacity_mah": 1700.0}),
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="pack",
        quantity="capacity over label",
        of="limit",
        words=lambda value: text("a pack that holds at least {value} of its label", value=value),
    ),
)
def capacity_faded(case: Case) -> Flags:
    """
    Checks: measured capacity against the label.
    Consequence: the pack is empty before the planned landing.
    Can't tell when: nothing is asked; without a measurement the endurance takes a share of the label.
    Source: method after IEC 61951-1 and -2; limits common practice, no source
    Remedy: Retire the pack from flying.
    """
    for fed in case.packs:
        measured = _capacity(fed)
        if measured is None:
            continue
        share = 100.0 * measured / fed.pack_type.capacity_mah
        for level, name in ((Level.WARNING, "capacity-warn"), (Level.CAUTION, "capacity-look")):
            limit = case.limit(name)
            if share < limit:
                yield Flag(
                    level=level,
                    about=(fed.pack.tag,),
                    message=text(
                        "Pack {tag} holds {measured} of {capacity_mah} ({share:.0f} %).",
                        tag=fed.pack.tag,
                        measured=Amount(measured, "mAh"),
                        capacity_mah=Amount(fed.pack_type.capacity_mah, "mAh"),
                        share=share,
                    ),
                    caused_by=_WORN,
                    sameness=of_part(
                        "pack",
                        fed.pack.tag,
                        text("hold {worst}{share:.0f} % of what their labels say", share=share),
                        text(
                            "{measured} of {capacity_mah}",
                            measured=Amount(measured, "mAh"),
                            capacity_mah=Amount(fed.pack_type.capacity_mah, "mAh"),
                        ),
                    ),
                    figures=(
                        worked(
                            "capacity over label",
                            share,
                            "%",
                            "measured / label",
                            Input(text("measured"), measured, "mAh", Basis.MEASURED),
                            Input(text("label"), fed.pack_type.capacity_mah, "mAh", Basis.RATED),
                            basis=Basis.MEASURED,
                        ),
                        allowed("limit", limit, "%"),
                    ),
                    criticality=Criticality.FLIGHT,
                    margin=share / limit,
                )
                break


def _life(case: Case, fed: FedPack) -> tuple[float, float]:
    chemistry = fed.pack_type.chemistry.value.lower()
    years = fed.pack_type.life_y or case.limit(f"life-years-{chemistry}")
    return years, float(fed.pack_type.life_cycles or case.limit(f"life-cycles-{chemistry}"))


_ENDING = {
    "past": text("are past the end of their life"),
    "near": text("are near the end of their life"),
}


def _reads_well(case: Case, fed: FedPack) -> bool:
    """Whether readings say that a pack is sound, whatever its age."""
    learned, capacity = case.learned(fed), _capacity(fed)
    state, look = learned.worse, case.limit("resistance-look")
    if not learned.is_measured or state is None or state.share_above(look) >= _LIKELY:
        return False
    return capacity is None or 100.0 * capacity >= case.limit("capacity-look") * fed.pack_type.capacity_mah


def _aged(
    case: Case,
    fed: FedPack,
    used: float,
    life: float,
    shown: Text,
    share: float,
    rests_on: tuple[Scalar, ...],
) -> Iterator[Flag]:
    if used > life:
        level, words = Level.ADVISORY if _reads_well(case, fed) else Level.CAUTION, "past"
    elif used > share * life:
        level, words = Level.ADVISORY, "near"
    else:
        return
    yield Flag(
        level=level,
        about=(fed.pack.tag,),
        message=text(
            "Pack {tag} is past the end of its life: {shown}."
            if used > life
            else "Pack {tag} is near the end of its life: {shown}.",
            tag=fed.pack.tag,
            shown=shown,
        ),
        criticality=Criticality.SAFETY,
        caused_by=_WORN,
        sameness=of_part("pack", fed.pack.tag, _ENDING[words], shown),
        margin=life / used,
        rests_on=(words, *rests_on),
    )


@rule(
    "pack-old",
    title="Pack is old",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_pack(ex.trainer(), pack={"bought_on": ex.ago(1900)}),
    passes=lambda: with_pack(ex.trainer(), pack={"bought_on": ex.ago(700)}),
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="pack",
        quantity="age",
        of=lambda case, flag: _life_years(case, flag),
        at_most=True,
        words=lambda value: text("a pack younger than {value} years", value=value),
    ),
)
def pack_old(case: Case) -> Flags:
    """
    Checks: age of the pack against its life in years, else that of its chemistry; past it is a caution, an
        advisory where its readings are good.
    Consequence: cells dry out and fail without warning.
    Can't tell when: nothing is asked; a pack without a date is judged by its tests.
    Source: common practice, no source
    Remedy: Plan a new pack.
    """
    share = case.limit("life-years-share")
    for fed in case.packs:
        if fed.pack.bought_on is not None:
            years, _ = _life(case, fed)
            age = case.years_since(fed.pack.bought_on)
            shown = text("{age:.1f} of {years:g} years", age=age, years=years)
            yield from _aged(case, fed, age, years, shown, share, (str(fed.pack.bought_on), years))


@rule(
    "pack-cycles",
    title="Many cycles",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: with_pack(ex.trainer(), pack={"cycles": 520}),
    passes=lambda: with_pack(ex.trainer(), pack={"cycles": 400}),
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="pack",
        quantity="cycles",
        of=lambda case, flag: _life_of_cycles(case, flag),
        at_most=True,
        words=lambda value: text("a pack of fewer than {value} cycles", value=value),
    ),
)
def pack_cycles(case: Case) -> Flags:
    """
    Checks: cycles against the pack's life in cycles, else that of its chemistry; past it is a caution, an
        advisory where its readings are good.
    Consequence: the pack gives less and sags more with every flight.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: Plan a new pack; measure capacity and resistance meanwhile.
    """
    share = case.limit("life-cycles-share")
    for fed in case.packs:
        if fed.pack.cycles is not None:
            _, life = _life(case, fed)
            shown = text("{cycles} of {life:g} cycles", cycles=fed.pack.cycles, life=life)
            yield from _aged(case, fed, fed.pack.cycles, life, shown, share, (fed.pack.cycles, life))


def _newest_cells(fed: FedPack, *, loaded: bool) -> list[CellReading]:
    readings = [reading for reading in fed.cells if reading.loaded is loaded]
    newest = max((reading.read_on for reading in readings), default=None)
    return [reading for reading in readings if reading.read_on == newest]


@rule(
    "cell-spread",
    title="Cells apart",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_pack(ex.helicopter(), cells=ex.cell_readings("EX11", 4.17, 4.10)),
    passes=lambda: with_pack(ex.helicopter(), cells=ex.cell_readings("EX11", 4.17, 4.16)),
    laid_up=True,
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="pack",
        quantity="spread of cells",
        of="limit",
        at_most=True,
        words=lambda value: text("a pack whose cells are at most {value} apart", value=value),
    ),
)
def cell_spread(case: Case) -> Flags:
    """
    Checks: difference of the newest cell readings: lithium at rest, nickel under load.
    Consequence: the weak cell goes flat first and takes the pack down.
    Can't tell when: nothing is asked; cell readings are no vital figure.
    Source: common practice, no source
    Remedy: Balance the pack; retire it if the spread comes back.
    """
    for fed in case.packs:
        nickel = fed.pack_type.chemistry.is_nickel
        readings = _newest_cells(fed, loaded=nickel)
        if len(readings) < 2:
            continue
        volts = [reading.cell_v for reading in readings]
        spread = 1000.0 * (max(volts) - min(volts))
        limits = (
            [(Level.CAUTION, "cell-spread-nickel")]
            if nickel
            else [(Level.WARNING, "cell-spread-warn"), (Level.CAUTION, "cell-spread-look")]
        )
        for level, name in limits:
            limit = case.limit(name)
            if spread > limit * 1.001:
                yield Flag(
                    level=level,
                    about=(fed.pack.tag,),
                    message=text(
                        "The cells of pack {tag} are {spread} apart; {limit} is the limit.",
                        tag=fed.pack.tag,
                        spread=Amount(spread, "mV"),
                        limit=Amount(limit, "mV"),
                    ),
                    detail=joined(
                        *(
                            text(
                                "cell {cell}: {cell_v}", cell=reading.cell, cell_v=Amount(reading.cell_v, "V")
                            )
                            for reading in readings
                        ),
                        between="{first}, {then}",
                    ),
                    figures=(
                        worked("spread of cells", spread, "mV", "highest - lowest", basis=Basis.MEASURED),
                        allowed("limit", limit, "mV"),
                    ),
                    criticality=Criticality.FLIGHT,
                    margin=limit / spread,
                )
                break


@rule(
    "pack-swollen-or-crashed",
    title="Swollen or crashed pack",
    levels=Level.WARNING,
    flags=lambda: with_pack(ex.helicopter(), pack={"swollen": True}),
    passes=ex.helicopter,
    laid_up=True,
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(part="pack", words=text("a sound pack")),
)
def pack_swollen_or_crashed(case: Case) -> Flags:
    """
    Checks: packs noted as swollen or crashed that are still fitted.
    Consequence: a hurt lithium pack can burn hours later, most of all on charge.
    Can't tell when: nothing is asked.
    Source: Academy of Model Aeronautics Safety Committee, announcement on lithium batteries, 23 April 2004
    Remedy: Do not charge it; quarantine it outside and apart, watch it, then dispose of it.
    """
    for fed in case.packs:
        signs = [
            word
            for word, is_so in ((text("swollen"), fed.pack.swollen), (text("crashed"), fed.pack.crashed))
            if is_so
        ]
        if signs:
            yield Flag(
                level=Level.WARNING,
                about=(fed.pack.tag,),
                message=text(
                    "Pack {tag} is noted as {signs}: do not charge or fly it.",
                    tag=fed.pack.tag,
                    signs=listed(signs),
                ),
                criticality=Criticality.FLIGHT,
                rests_on=tuple(signs),
            )


def _cell_mohm(_case: Case, flag: Flag) -> float | None:
    """The most that a cell may have."""
    new, limit = value_of(flag, "resistance of a new cell"), value_of(flag, "limit")
    return None if new is None or limit is None else new * limit


def _life_years(case: Case, flag: Flag) -> float | None:
    """The years up to which a pack counts as young enough."""
    years = next((_life(case, fed)[0] for fed in case.packs if fed.pack.tag in flag.about), None)
    return None if years is None else years * case.limit("life-years-share")


def _life_of_cycles(case: Case, flag: Flag) -> float | None:
    """The cycles up to which a pack counts as young enough."""
    cycles = next((_life(case, fed)[1] for fed in case.packs if fed.pack.tag in flag.about), None)
    return None if cycles is None else cycles * case.limit("life-cycles-share")
