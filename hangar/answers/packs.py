"""Every pack with its type, place and tests, and what the tests say: is it charged, is it healthy."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from typing import TYPE_CHECKING, Any

from hangar.answers.reading import Records
from hangar.base.figure import Basis
from hangar.parts import (
    CapacityTest,
    CellReading,
    Charge,
    FedPack,
    FlightLogPack,
    LoadTest,
    Pack,
    PackFit,
    PackType,
    SetAside,
    Tester,
)

if TYPE_CHECKING:
    from hangar.physics.pack_health import HealthVerdict
    from hangar.physics.pack_verdict import PackVerdict
    from hangar.survey.learned import LearnedPack

_DAYS_A_YEAR = 365.25


@dataclass(frozen=True)
class PackCase:
    """One pack with everything recorded of it, tests oldest first; ``place`` is its stay today."""

    pack: Pack
    pack_type: PackType
    place: PackFit | None = None
    load_tests: tuple[LoadTest, ...] = ()
    capacity_tests: tuple[CapacityTest, ...] = ()
    cells: tuple[CellReading, ...] = ()
    charges: tuple[Charge, ...] = ()
    flight_logs: tuple[FlightLogPack, ...] = ()
    testers: tuple[Tester, ...] = ()
    set_aside: tuple[SetAside, ...] = ()

    @property
    def tag(self) -> str:
        """The pack's tag."""
        return self.pack.tag

    @property
    def fed(self) -> FedPack:
        """The pack as the survey knows it."""
        return FedPack(
            pack=self.pack,
            pack_type=self.pack_type,
            fit=self.place,
            load_tests=self.load_tests,
            capacity_tests=self.capacity_tests,
            cells=self.cells,
            charges=self.charges,
            flight_logs=self.flight_logs,
            testers=self.testers,
            set_aside=self.set_aside,
        )

    @property
    def place_words(self) -> str:
        """Where it is: aircraft and power path, or its bin."""
        if self.place is not None:
            return f"{self.place.aircraft} {self.place.feed}"
        return self.pack.bin or ""

    @property
    def newest_test(self) -> LoadTest | None:
        """The load test made last that was not set aside."""
        return self.fed.newest_test


def pack_cases(fleet: Records) -> tuple[PackCase, ...]:
    """Every pack of the fleet, by chemistry and tag."""
    types = {pack_type.code: pack_type for pack_type in fleet.records(PackType)}
    places = {pack_fit.pack: pack_fit for pack_fit in fleet.records(PackFit) if pack_fit.until_on is None}
    tests = _by_pack(sorted(fleet.records(LoadTest), key=lambda load_test: load_test.tested_at))
    capacity = _by_pack(
        sorted(fleet.records(CapacityTest), key=lambda capacity_test: capacity_test.tested_on)
    )
    cells = _by_pack(
        sorted(fleet.records(CellReading), key=lambda cell_reading: (cell_reading.read_on, cell_reading.cell))
    )
    charges = _by_pack(sorted(fleet.records(Charge), key=lambda charge: charge.charged_at))
    logs = _by_pack(sorted(fleet.records(FlightLogPack), key=lambda log: (log.flown_on, log.number)))
    testers, aside = tuple(fleet.records(Tester)), tuple(fleet.records(SetAside))
    cases = [
        PackCase(
            pack,
            types[pack.pack_type],
            places.get(pack.tag),
            tuple(tests[pack.tag]),
            tuple(capacity[pack.tag]),
            tuple(cells[pack.tag]),
            tuple(charges[pack.tag]),
            tuple(logs[pack.tag]),
            testers,
            tuple(reading for reading in aside if pack.tag in reading.record.split("|")),
        )
        for pack in fleet.records(Pack)
        if pack.pack_type in types
    ]
    return tuple(sorted(cases, key=lambda case: (case.pack_type.chemistry, case.tag)))


def _by_pack(records: Iterable[Any]) -> dict[str, list[Any]]:
    by_pack: dict[str, list[Any]] = defaultdict(list)
    for record in records:
        by_pack[record.pack].append(record)
    return by_pack


def learned_of(case: PackCase, today: date) -> LearnedPack:
    """What every reading of the pack says of its resistance."""
    from hangar.survey.defaults import class_defaults
    from hangar.survey.learned import pack_learned

    return pack_learned(case.fed, today, class_defaults())


def verdict_of(case: PackCase, test: LoadTest, today: date) -> PackVerdict | None:
    """Charged and healthy by one test; None where it cannot be judged."""
    from hangar.survey.defaults import class_defaults
    from hangar.survey.learned import load_test_verdict

    return load_test_verdict(case.fed, test, today, class_defaults())


def health_of(case: PackCase, today: date) -> HealthVerdict:
    """Whether the pack is healthy by what was measured of it; what was never measured adds no sign."""
    from hangar.physics.pack_health import HealthRecord, HealthSign, HealthVerdict, Light, health_verdict
    from hangar.physics.pack_verdict import Healthy
    from hangar.survey.defaults import class_defaults
    from hangar.survey.packs import pack_figures

    pack, kind = case.pack, case.pack_type
    holds = pack_figures(case.fed, today, class_defaults()).capacity_mah
    is_held = holds.basis is Basis.MEASURED
    verdict = health_verdict(
        kind.chemistry,
        HealthRecord(
            capacity_ah=holds.expected / 1000.0 if is_held else None,
            rated_ah=kind.capacity_mah / 1000.0 if is_held else None,
            resting_spread_v=cell_spread_v(case, loaded=False),
            loaded_spread_v=cell_spread_v(case, loaded=True),
            age_years=(today - pack.bought_on).days / _DAYS_A_YEAR if pack.bought_on else None,
            is_damaged=_damaged(pack),
        ),
    )
    learned = learned_of(case, today)
    state = learned.worse
    if state is None or learned.healthy is None:
        return verdict
    light = {Healthy.RETIRE: Light.RED, Healthy.YES: Light.GREEN}.get(learned.healthy, Light.AMBER)
    sign = HealthSign("resistance over baseline", state.times_new[1], light)
    return HealthVerdict(max(verdict.light, light), (sign, *verdict.signs))


def _damaged(pack: Pack) -> bool | None:
    """Hurt as soon as one thing says so; unhurt only when both are known to be well."""
    if pack.swollen or pack.crashed:
        return True
    return False if pack.swollen is False and pack.crashed is False else None


def newest_cells(case: PackCase, *, loaded: bool) -> tuple[CellReading, ...]:
    """The cell readings of the last day on which they were taken so."""
    readings = [cell for cell in case.cells if cell.loaded is loaded]
    newest = max((reading.read_on for reading in readings), default=None)
    return tuple(reading for reading in readings if reading.read_on == newest)


def cell_spread_v(case: PackCase, *, loaded: bool) -> float | None:
    """Highest less lowest cell of the last readings; None with fewer than two cells read."""
    volts = [newest_cell.cell_v for newest_cell in newest_cells(case, loaded=loaded)]
    return max(volts) - min(volts) if len(volts) > 1 else None
