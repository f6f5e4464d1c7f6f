"""Packs joined together, single packs, and a drive pack that feeds the radio."""

from __future__ import annotations

import itertools
from dataclasses import replace

from hangar.base.figure import Basis, Figure
from hangar.base.text import NOTHING, Amount, Text, listed, plural, text
from hangar.parts import FedPack, PowerPath
from hangar.parts.choices import AircraftClass, Chemistry, Criticality, FeedRole, PackJoin, PowerKind
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.catalogue.pack_health import measured_cell_mohm
from hangar.rules.changing import with_pack, with_path, with_records
from hangar.rules.cures import Cure, SupplyPart, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, rated, read, worked
from hangar.rules.registry import rule
from hangar.rules.words import packs
from hangar.survey.model import Scenario

_JETS = (AircraftClass.JET_TURBINE,)
_MONTH_DAYS = 30.4


def _tags(path: PowerPath) -> tuple[str, ...]:
    return tuple(fed.pack.tag for fed in path.packs)


def _unlike_on_y(case: Case, fed_pack: FedPack, other: FedPack) -> tuple[Level, Text] | None:
    kind, second = fed_pack.pack_type, other.pack_type
    if kind.chemistry is not second.chemistry:
        return Level.WARNING, text(
            "{chemistry} and {chemistry_2}", chemistry=kind.chemistry, chemistry_2=second.chemistry
        )
    if kind.series != second.series:
        return Level.WARNING, text(
            "{series} and {series_2} cells", series=kind.series, series_2=second.series
        )
    if kind.chemistry.is_lithium:
        volts, other_v = fed_pack.pack.rest_v, other.pack.rest_v
        if volts is not None and other_v is not None and abs(volts - other_v) > case.limit("plain-y-volts"):
            return Level.WARNING, text(
                "{volts} and {other_v} at rest", volts=Amount(volts, "V"), other_v=Amount(other_v, "V")
            )
        return None
    if kind.capacity_mah != second.capacity_mah:
        sizes = text(
            "{capacity_mah} and {capacity}",
            capacity_mah=Amount(kind.capacity_mah, "mAh"),
            capacity=Amount(second.capacity_mah, "mAh"),
        )
        return Level.CAUTION, sizes
    return None


@rule(
    "parallel-unlike",
    title="Unlike packs joined directly",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_path(ex.trainer(), **ex.on_a_y(replace(ex.NICKEL_4, chemistry=Chemistry.NICD))),
    passes=lambda: with_path(ex.trainer(), **ex.on_a_y(ex.NICKEL_4)),
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(part="pack", words=text("packs of one type and age")),
)
def parallel_unlike(case: Case) -> Flags:
    """
    Checks: packs on a plain Y, and packs of power paths that are not isolated from one another: chemistry
        and cells, resting volts of lithium packs, capacity of nickel packs.
    Consequence: the fuller pack charges the other without any limit, and one may burn.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: An isolating board, or equal packs.
    """
    groups = [path.packs for path in case.aircraft.paths if path.feed.join is PackJoin.PLAIN_Y]
    open_paths = [
        path.packs[0]
        for path in case.aircraft.radio_paths
        if path.feed.isolated is False and path.packs and path.regulator is None
    ]
    groups.append(tuple(open_paths))
    for group in groups:
        for fed_pack, other in itertools.combinations(group, 2):
            fault = _unlike_on_y(case, fed_pack, other)
            if fault is not None:
                level, words = fault
                yield Flag(
                    level=level,
                    about=(fed_pack.pack.tag, other.pack.tag),
                    message=text(
                        "Packs {one} and {other} are joined directly: {words}.",
                        one=fed_pack.pack.tag,
                        other=other.pack.tag,
                        words=words,
                    ),
                    criticality=Criticality.FLIGHT,
                    rests_on=(level.value, words),
                )


def _wants_two(case: Case) -> Text | None:
    if case.kind is AircraftClass.GIANT:
        return text("a giant-scale aircraft")
    if case.kind in _JETS:
        return text("a turbine jet")
    if case.mass_g is not None and case.mass_g > case.limit("second-pack-mass"):
        return text("an aircraft of {mass_g}", mass_g=Amount(case.mass_g / 1000.0, "kg"))
    return None


@rule(
    "single-pack-giant",
    title="One pack on a big or fast aircraft",
    levels=Level.CAUTION,
    flags=lambda: with_records(ex.giant(), paths=lambda paths: paths[:1]),
    passes=ex.giant,
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(part="pack", words=text("a second pack, isolated from the first")),
    of_supply=frozenset({SupplyPart.PACK}),
)
def single_pack_giant(case: Case) -> Flags:
    """
    Checks: whether giant-scale, turbine-jet and other heavy aircraft have a second radio pack.
    Consequence: one plug or one cell that lets go ends the flight.
    Can't tell when: nothing is asked; without a mass only the class counts.
    Source: International Miniature Aircraft Association safety code recommends redundant packs; mass
        common practice, no source
    Remedy: A second pack, isolated from the first.
    """
    who = _wants_two(case)
    packs = case.radio_packs
    if who is not None and len(packs) == 1:
        yield Flag(
            level=Level.CAUTION,
            about=(packs[0].pack.tag,),
            message=text("Pack {tag} alone feeds the radio of {who}.", tag=packs[0].pack.tag, who=who),
            criticality=Criticality.FLIGHT,
            rests_on=(who,),
        )


@rule(
    "twin-pack-one-fails",
    title="One pack alone cannot carry it",
    levels=Level.CAUTION,
    flags=lambda: with_pack(ex.giant(), pack_type={"continuous_a": 9.0, "burst_a": 10.0}),
    passes=ex.giant,
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.MORE_PEAK,
    wants=(
        Wants(
            part="pack",
            quantity="current alone",
            of="current of the path left",
            words=lambda value: text("a pack that alone may give {value}", value=value),
        ),
        Wants(part="pack", words=text("packs of which each alone carries the radio")),
    ),
)
def twin_pack_one_fails(case: Case) -> Flags:
    """
    Checks: with two power paths, the load case in which one of them is lost: volts at the receiver, and
        the current of the path that is left against its pack.
    Consequence: when one pack fails the other cannot carry the aircraft home.
    Can't tell when: nothing is asked; the check of the receiver's volts asks for what the load case needs.
    Source: load case worked on the supply network; reserve common practice, no source
    Remedy: Bigger packs or regulators, so that either side carries all, or servos that draw less.
    """
    if len(case.aircraft.radio_paths) < 2:
        return
    lost = case.scenario(Scenario.ONE_LOST)
    least = case.aircraft.receivers_least_v
    tags = tuple(fed.pack.tag for fed in case.radio_packs)
    about = tags + tuple(path.feed.regulator for path in case.aircraft.radio_paths if path.feed.regulator)
    figures: tuple[Figure, ...]
    if lost.collapse is not None:
        words, figures, margin = (
            text("the supply collapses: {why}", why=lost.collapse.as_clause()),
            (),
            0.0,
        )
    elif (
        lost.receiver_v is not None
        and least is not None
        and lost.receiver_v.expected < least + case.limit("receiver-reserve")
    ):
        gets, down_to = Amount(lost.receiver_v.expected, "V"), Amount(least, "V")
        words = text("the receiver gets {gets}; it works down to {down_to}", gets=gets, down_to=down_to)
        figures, margin = (
            (lost.receiver_v, rated("least volts", least, "V")),
            lost.receiver_v.expected / least,
        )
    else:
        over = _overrun_alone(case)
        if over is None:
            return
        words, amps, limit = over
        figures, margin = (
            (read("current of the path left", amps, "A", Basis.COMPUTED), rated("limit", limit, "A")),
            limit / amps,
        )
    yield Flag(
        level=Level.CAUTION,
        about=about,
        message=text(
            "With one of {counted} lost, {words}.",
            counted=plural(
                "{count:word} power path", "{count:word} power paths", count=len(case.aircraft.radio_paths)
            ),
            words=words,
        ),
        caused_by=("regulator-current",),
        figures=figures,
        criticality=Criticality.FLIGHT,
        margin=margin,
    )


def _overrun_alone(case: Case) -> tuple[Text, float, float] | None:
    for code, current in case.scenario(Scenario.ONE_LOST).path_a.items():
        path = next(
            (radio_path for radio_path in case.aircraft.radio_paths if radio_path.feed.code == code), None
        )
        if path is None or not path.packs:
            continue
        amps = current.expected
        kind = path.regulator_type
        limits = [(fed.pack_type.burst_a, text("pack {tag}", tag=fed.pack.tag)) for fed in path.packs]
        limits.append(
            (kind.burst_a if kind else None, text("regulator {regulator}", regulator=path.feed.regulator))
        )
        for limit, name in limits:
            if limit is not None and amps > limit:
                return (
                    text(
                        "{name} is asked for {amps} and gives {limit}",
                        name=name,
                        amps=Amount(amps, "A"),
                        limit=Amount(limit, "A"),
                    ),
                    amps,
                    limit,
                )
    return None


@rule(
    "dual-use-drive-pack",
    title="Drive pack is also the only radio supply",
    levels=(Level.CAUTION, Level.ADVISORY),
    flags=lambda: ex.driven_only(mass_g=3000.0),
    passes=ex.helicopter,
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(part="pack", words=text("a pack for the radio alone")),
)
def dual_use_drive_pack(case: Case) -> Flags:
    """
    Checks: electric aircraft above a mass whose radio is fed by the drive pack alone; a caution from a
        greater mass upward.
    Consequence: an empty or unplugged drive pack takes every control with it.
    Can't tell when: nothing is asked; without a mass it is an advisory.
    Source: common practice, no source
    Remedy: A backup pack for the radio.
    """
    if case.airframe.power is not PowerKind.ELECTRIC:
        return
    paths = case.aircraft.radio_paths
    if not paths or any(path.feed.role is not FeedRole.DRIVE for path in paths):
        return
    mass_g = case.mass_g
    heavy = mass_g is not None and mass_g > case.limit("second-supply-mass")
    if mass_g is not None and mass_g <= case.limit("second-supply-notice"):
        return
    tags = tuple(tag for path in paths for tag in _tags(path))
    mass = (
        text(" at {mass_g}", mass_g=Amount(case.mass_g / 1000.0, "kg"))
        if case.mass_g is not None
        else NOTHING
    )
    yield Flag(
        level=Level.CAUTION if heavy else Level.ADVISORY,
        about=tags,
        message=text(
            "Drive {packs} the radio{mass}.", packs=packs(tags, "alone feeds", "alone feed"), mass=mass
        ),
        criticality=Criticality.FLIGHT,
        rests_on=("heavy" if heavy else "light",),
    )


def _unlike_in_series(case: Case, fed_pack: FedPack, other: FedPack) -> tuple[Level, Text] | None:
    kind, second = fed_pack.pack_type, other.pack_type
    if (kind.chemistry, kind.capacity_mah) != (second.chemistry, second.capacity_mah):
        return Level.WARNING, text("{one} and {other}", one=kind.code, other=second.code)
    words = []
    bought = [fed.pack.bought_on for fed in (fed_pack, other) if fed.pack.bought_on is not None]
    if len(bought) == 2:
        months = abs((bought[0] - bought[1]).days) / _MONTH_DAYS
        if months > case.limit("series-age-months"):
            words.append(text("{months:.0f} months apart in age", months=months))
    cycles = [fed.pack.cycles for fed in (fed_pack, other) if fed.pack.cycles is not None]
    if len(cycles) == 2 and abs(cycles[0] - cycles[1]) > case.limit("series-cycles"):
        words.append(text("{cycles} against {cycles_2} cycles", cycles=cycles[0], cycles_2=cycles[1]))
    ohms = [mohm for mohm in (measured_cell_mohm(case, fed) for fed in (fed_pack, other)) if mohm]
    if len(ohms) == 2 and max(ohms) > case.limit("series-resistance") * min(ohms):
        words.append(
            text(
                "{ohms} against {ohms_2} a cell", ohms=Amount(ohms[0], "mohm"), ohms_2=Amount(ohms[1], "mohm")
            )
        )
    return (Level.CAUTION, text("{differences}", differences=listed(words))) if words else None


@rule(
    "series-unlike",
    title="Unlike packs joined in series",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_path(ex.trainer(), **ex.in_series(bought_on=ex.ago(1000))),
    passes=lambda: with_path(ex.trainer(), **ex.in_series()),
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(part="pack", words=text("packs of one type and age")),
)
def series_unlike(case: Case) -> Flags:
    """
    Checks: packs joined in series: chemistry and capacity, age, cycles, and resistance of a cell.
    Consequence: the weaker pack is run flat while the sum still looks well.
    Can't tell when: nothing is asked; what is not known is not compared.
    Source: common practice, no source
    Remedy: Pair packs that are alike.
    """
    for path in case.aircraft.paths:
        if path.feed.join is not PackJoin.SERIES:
            continue
        for fed_pack, other in itertools.combinations(path.packs, 2):
            fault = _unlike_in_series(case, fed_pack, other)
            if fault is not None:
                level, words = fault
                yield Flag(
                    level=level,
                    about=(fed_pack.pack.tag, other.pack.tag),
                    message=text(
                        "Packs {one} and {other} in series are unlike: {words}.",
                        one=fed_pack.pack.tag,
                        other=other.pack.tag,
                        words=words,
                    ),
                    figures=tuple(
                        worked(
                            text("{tag} resistance of a cell", tag=fed.pack.tag),
                            mohm,
                            "mohm",
                            "measured, at 25 °C",
                        )
                        for fed in (fed_pack, other)
                        if (mohm := measured_cell_mohm(case, fed)) is not None
                    ),
                    criticality=Criticality.FLIGHT,
                    rests_on=(level.value, words),
                )
