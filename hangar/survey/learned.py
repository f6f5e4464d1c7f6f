"""What the readings of a pack say together: the one place where records become an estimate.

Nothing learned is stored. Every estimate is worked from the records as they stand, so that undoing,
editing or setting aside a reading restores every figure to the bit.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from datetime import date
from functools import lru_cache

from hangar.base.errors import HangarError
from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import Text, fixed, text
from hangar.parts import (
    CapacityTest,
    Charge,
    FedPack,
    FlightLogPack,
    LoadTest,
    Pack,
    PackType,
    Record,
    SetAside,
    Tester,
)
from hangar.parts.readings import is_aside
from hangar.physics.pack import Chemistry, typical_cell_ohm
from hangar.physics.pack_verdict import (
    LEAD_SD_OHM,
    MEASURED_LEAD_SD_OHM,
    Healthy,
    PackTest,
    PackVerdict,
    healthy_by,
    pack_verdict,
)
from hangar.physics.tracking import Fate, OhmReading, ReadingVerdict, State, Track, TrackPrior, track
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts, input_of
from hangar.survey.pack_readings import (
    DAYS_A_YEAR,
    Source,
    cell_c_of,
    from_flight_logs,
    from_loads,
    from_meters,
    lead_of,
    minutes_after_charge,
    year_of,
)

_RATED_SD, _TYPICAL_SD, _LOT_SD = 0.35, 0.45, 0.10
_GROWTH_SD_SHARE = 0.8
_KELVIN = {True: (2000.0, 600.0), False: (2300.0, 400.0)}
_STILL_MEASURED_Y = 2.0
_SOURCE = text("R. E. Kalman, J. Basic Engineering 82 (1960); S. F. Schmidt (1966); errors as told with each")


@dataclass(frozen=True)
class PackReading:
    """One reading of a pack's resistance, with what became of it.

    Attributes:
        record: the test, or the pack itself for what its own record holds.
        read_on: when.
        cell_mohm: of one cell at 25 °C, by this reading alone.
        judged: beside what was expected of it; None where it was set aside or tells too little.
        is_aside: whether it was set aside.
    """

    record: Record
    read_on: date
    cell_mohm: float
    judged: ReadingVerdict | None
    is_aside: bool = False

    @property
    def name(self) -> Text:
        """What it is, with its day."""
        if isinstance(self.record, LoadTest):
            if self.record.second_v is not None and self.record.second_load_a is not None:
                return text("load test with two loads of {day}", day=self.read_on)
            return text("load test of {day}", day=self.read_on)
        if isinstance(self.record, FlightLogPack):
            return text("flight log of {day}", day=self.read_on)
        if isinstance(self.record, CapacityTest):
            return text("reading with a capacity test of {day}", day=self.read_on)
        return text("reading on the pack's own record, {day}", day=self.read_on)


@dataclass(frozen=True)
class LearnedPack:
    """The resistance of one pack's cells as everything known says.

    Attributes:
        cell_mohm: of one cell at 25 °C, with its band and working.
        new_mohm: of a new one.
        readings: every reading, oldest first.
        track: how they were joined; None without any.
        today_y: the day it holds for, in years.
        unread_ln_sd: error of what is expected before any reading, of the logarithm.
    """

    cell_mohm: Figure
    new_mohm: Figure
    readings: tuple[PackReading, ...] = ()
    track: Track | None = None
    today_y: float = 0.0
    unread_ln_sd: float = _TYPICAL_SD

    @property
    def is_measured(self) -> bool:
        """Whether it rests on a reading."""
        return self.track is not None

    @property
    def worse(self) -> State | None:
        """What a warning goes by: the worse of the two possibilities while a reading waits."""
        return None if self.track is None else self.track.worse_at(self.today_y)

    @property
    def waiting(self) -> PackReading | None:
        """The reading that does not fit and waits for another."""
        for reading in reversed(self.readings):
            if reading.judged is not None and reading.judged.fate is Fate.WAITING:
                return reading
        return None

    def is_changed(self, within_days: int) -> date | None:
        """The day on which readings said that the pack has changed, if it is no longer ago."""
        newest = max((reading.read_on for reading in self.readings), default=None)
        for reading in reversed(self.readings):
            if reading.judged is not None and reading.judged.fate is Fate.CHANGED and newest is not None:
                return reading.read_on if (newest - reading.read_on).days <= within_days else None
        return None

    @property
    def newest_on(self) -> date | None:
        """The day of the newest reading that counts."""
        return max((reading.read_on for reading in self.readings if reading.judged is not None), default=None)

    @property
    def healthy(self) -> Healthy | None:
        """Whether its resistance speaks for a healthy pack; None where it was never measured."""
        state = self.worse
        return None if state is None else healthy_by(state.share_above(1.5), state.share_above(2.0))


def pack_learned(fed: FedPack, today: date, defaults: Defaults) -> LearnedPack:
    """The resistance of a pack's cells: what was expected of them and every reading, joined."""
    return _learned(
        fed.pack, fed.pack_type, fed.load_tests, fed.capacity_tests, fed.charges, fed.testers, fed.set_aside,
        fed.flight_logs, fed.assumed_cell_mohm, today, defaults,
    )  # fmt: skip


@lru_cache(maxsize=2048)
def _learned(
    pack: Pack, kind: PackType, loads: tuple[LoadTest, ...], capacities: tuple[CapacityTest, ...],
    charges: tuple[Charge, ...], testers: tuple[Tester, ...], aside: tuple[SetAside, ...],
    logs: tuple[FlightLogPack, ...], assumed_mohm: float | None, today: date, defaults: Defaults,
) -> LearnedPack:  # fmt: skip
    new = new_cell(kind)
    unread = _unread(pack, kind, new, today, defaults)
    if assumed_mohm is not None:
        facts = Facts()
        facts.note("resistance of one cell", assumed_mohm, "mohm", Basis.LIMIT)
        tried = facts.figure("resistance of one cell", assumed_mohm, "mohm", "as tried out")
        return LearnedPack(tried, new)
    prior = _prior(pack, kind, new, today, defaults)
    sources = [
        *from_loads(loads, charges, testers, kind, prior),
        *from_meters(pack, capacities, prior),
        *from_flight_logs(logs, prior),
    ]
    sources = [source for source in sources if source[2].year <= year_of(today) + 1.0 / DAYS_A_YEAR]
    counted = [source for source in sources if not is_aside(source[0], aside)]
    if not counted:
        left = tuple(_aside_reading(source, prior) for source in sources)
        return LearnedPack(unread, new, left, unread_ln_sd=prior.ln_sd)
    if pack.bought_on is None:
        prior = _prior(pack, kind, new, today, defaults, min(source[2].year for source in counted))
    if loads and all(lead_of(test, testers)[1] < LEAD_SD_OHM for test in loads):
        prior = replace(prior, lead_sd_ohm=MEASURED_LEAD_SD_OHM)
    joined = track(prior, [reading for _, _, reading in counted])
    verdicts = {id(judged.reading): judged for judged in joined.judged}
    readings = tuple(
        sorted(
            (
                PackReading(record, on, _at_25_mohm(reading, prior), verdicts.get(id(reading)),
                            is_aside(record, aside))
                for record, on, reading in sources
            ),
            key=lambda pack_reading: (pack_reading.read_on, pack_reading.record.KIND),
        )
    )  # fmt: skip
    figure = _figure(joined, readings, unread, today)
    return LearnedPack(figure, new, readings, joined, year_of(today), prior.ln_sd)


def _aside_reading(source: Source, prior: TrackPrior) -> PackReading:
    record, on, reading = source
    return PackReading(record, on, _at_25_mohm(reading, prior), None, is_aside=True)


def _at_25_mohm(reading: OhmReading, prior: TrackPrior) -> float:
    warmth = 1.0 / (reading.cell_c + 273.15) - 1.0 / 298.15
    own_ohm = max(reading.ohm - reading.lead_ohm - reading.surface_ohm, 0.1 * reading.ohm)
    return 1000.0 * own_ohm / prior.cells / math.exp(prior.kelvin * warmth)


def new_cell(kind: PackType) -> Figure:
    """Resistance of a new cell of a type: the maker's, or typical of chemistry and size."""
    facts = Facts()
    rated = facts.known(kind, "cell_mohm", Basis.RATED)
    if rated is not None:
        return facts.figure("resistance of a new cell", rated, "mohm", "maker's figure")
    ohm = typical_cell_ohm(
        Chemistry(kind.chemistry), capacity_ah=kind.capacity_mah / kind.parallel / 1000.0
    ).expected
    facts.note("chemistry", kind.chemistry, basis=Basis.TYPICAL)
    facts.known(kind, "capacity_mah", Basis.RATED)
    return facts.figure(
        "resistance of a new cell", 1000.0 * ohm, "mohm", "typical of chemistry and size",
        "common practice and memory, unverified",
    )  # fmt: skip


def _unread(pack: Pack, kind: PackType, new: Figure, today: date, defaults: Defaults) -> Figure:
    """What is expected of a pack that nobody read."""
    facts = Facts()
    facts.use(new)
    growth = facts.assume(defaults.age_growth)
    lived = _life_used(pack, kind, today, defaults, facts)
    return facts.figure(
        "resistance of one cell",
        new.expected * (1.0 + growth * lived),
        "mohm",
        "resistance new x (1 + growth over its life x share of its life used)",
    )


def _life_used(pack: Pack, kind: PackType, today: date, defaults: Defaults, facts: Facts) -> float:
    """Share of its life that a pack has used, by years or by cycles, whichever is more."""
    life_y = facts.take(kind, "life_y", defaults.pack_life, kind.chemistry, basis=Basis.RATED)
    shares = [0.0]
    if pack.bought_on is not None:
        age_y = max(0.0, (today - pack.bought_on).days / DAYS_A_YEAR)
        facts.note("age", age_y, "y", Basis.MEASURED)
        shares.append(age_y / life_y)
    if pack.cycles is not None and kind.life_cycles:
        facts.known(pack, "cycles")
        facts.known(kind, "life_cycles", Basis.RATED)
        shares.append(pack.cycles / kind.life_cycles)
    if len(shares) == 1:
        facts.note("age not known, taken at the end of its life", 1.0, "ratio", Basis.TYPICAL)
        return 1.0
    return max(shares)


def _prior(
    pack: Pack, kind: PackType, new: Figure, today: date, defaults: Defaults, begun_y: float | None = None
) -> TrackPrior:
    """What is expected of a pack's cells before any reading, from its type and age."""
    life_y = kind.life_y or defaults.pack_life.value(kind.chemistry)
    growth = math.log(1.0 + defaults.age_growth.value())
    typical = new.basis is Basis.TYPICAL
    ln_sd = _TYPICAL_SD if typical else _RATED_SD
    ohm, a_year = new.expected / 1000.0, growth / life_y
    if pack.bought_on is None:
        # Somewhere in its life when it was first read.
        year = year_of(today) if begun_y is None else begun_y
        old_ohm, ln_sd = ohm * math.exp(0.5 * growth), math.hypot(ln_sd, 0.5 * growth)
    else:
        year, old_ohm = year_of(pack.bought_on), ohm
        lived_y = max(year_of(today) - year, 0.25)
        if pack.cycles is not None and kind.life_cycles:
            a_year = max(a_year, growth * pack.cycles / kind.life_cycles / lived_y)
    kelvin, kelvin_sd = _KELVIN[Chemistry(kind.chemistry).is_nickel]
    return TrackPrior(
        year, old_ohm, ln_sd, a_year, _GROWTH_SD_SHARE * a_year, kind.series / kind.parallel, kelvin,
        kelvin_sd, lead_sd_ohm=LEAD_SD_OHM, surface_sd=0.8, new_ohm=ohm, new_ln_sd=_LOT_SD,
        shares_new=typical,
    )  # fmt: skip


def _figure(joined: Track, readings: tuple[PackReading, ...], unread: Figure, today: date) -> Figure:
    """The figure that everything asks for, with its prior and readings as its working."""
    now = joined.at(year_of(today))
    low, high = joined.band_at(year_of(today))
    inputs = [input_of(unread.named(fixed("expected before any reading")))]
    newest = None
    for reading in readings:
        judged = reading.judged
        if judged is None:
            if reading.is_aside:
                sentence = text("{reading}: set aside", reading=reading.name)
                inputs.append(Input(sentence, reading.cell_mohm, "mohm", Basis.MEASURED))
            continue
        inputs.append(Input(told_words(reading, judged), reading.cell_mohm, "mohm", Basis.MEASURED))
        newest = reading.read_on if newest is None else max(newest, reading.read_on)
    if newest is not None:
        age = text("{day}, {days} days ago", day=newest, days=(today - newest).days)
        inputs.append(Input(text("newest reading"), age, "", Basis.MEASURED))
    old = newest is None or (today - newest).days > _STILL_MEASURED_Y * DAYS_A_YEAR
    formula = text("expected resistance and readings joined, each by its error, brought to 25 °C")
    return Figure(
        fixed("resistance of one cell"),
        1000.0 * now.cell_ohm,
        "mohm",
        1000.0 * low,
        1000.0 * high,
        Basis.COMPUTED if old else Basis.MEASURED,
        Working(formula, tuple(inputs), _SOURCE),
        newest,
    )


def expected_mohm(reading: PackReading) -> float:
    """What a cell was expected to show, in the reading's own terms; 0 where it was not judged."""
    judged = reading.judged
    if judged is None:
        return 0.0
    beside = judged.reading.lead_ohm + judged.reading.surface_ohm
    pack_ohm = max(judged.reading.ohm - beside, 0.1 * judged.reading.ohm)
    return reading.cell_mohm * max(judged.expected_ohm - beside, 0.1 * judged.expected_ohm) / pack_ohm


def told_words(reading: PackReading, judged: ReadingVerdict) -> Text:
    """A reading with what became of it."""
    if judged.fate is Fate.TAKEN:
        share = f"{100.0 * judged.weight:.0f}"
        return text(
            "{reading}: {off:+.1f} deviations off, brings {share} %",
            reading=reading.name,
            off=judged.z,
            share=share,
        )
    return text(
        "{reading}: {off:+.1f} deviations off, {told}", reading=reading.name, off=judged.z, told=judged.fate
    )


def load_test_verdict(fed: FedPack, test: LoadTest, today: date, defaults: Defaults) -> PackVerdict | None:
    """Charged and healthy by one load test, beside what every reading before it says; None where it can't."""
    earlier = tuple(load_test for load_test in fed.load_tests if load_test.tested_at < test.tested_at)
    learned = _learned(
        fed.pack, fed.pack_type, earlier, fed.capacity_tests, fed.charges, fed.testers, fed.set_aside,
        fed.flight_logs, None, max(today, test.tested_at.date()), defaults,
    )  # fmt: skip
    kind = fed.pack_type
    cells = kind.series / kind.parallel / 1000.0
    typical = learned.new_mohm.basis is Basis.TYPICAL
    ln_sd = _TYPICAL_SD if typical else _RATED_SD
    if learned.track is not None:
        ln_sd = max(0.05, learned.track.at(year_of(test.tested_at)).ln_sd)
    cell_c, sd_c = cell_c_of(test)
    lead, lead_sd, meter_v = lead_of(test, fed.testers)
    loads = [(test.loaded_v, test.load_a)]
    if test.second_v is not None and test.second_load_a is not None:
        loads.append((test.second_v, test.second_load_a))
    try:
        return pack_verdict(
            PackTest(
                Chemistry(kind.chemistry), kind.series, test.rest_v, loads,
                cells * learned.cell_mohm.expected, ln_sd, cells * learned.new_mohm.expected,
                _TYPICAL_SD if typical else _LOT_SD, cell_c, sd_c,
                minutes_after_charge(test, fed.charges, fed.pack.charged_on), lead, lead_sd, meter_v,
            )
        )  # fmt: skip
    except HangarError:
        return None
