"""Fleets of any size, made by chance from a seed: aircraft like those of the demo fleet.

Each aircraft gets figures of its own, so that nothing is quick only because it was worked out before.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import Any

from hangar.base.places import demo_fleet_dir
from hangar.parts import Aircraft, Arm, PackType, Record, RegulatorType, ServoType, SwitchType
from hangar.parts.aircraft import PowerPath, ServoFit
from hangar.parts.fields import columns
from hangar.store import Edit, Fleet, bring_in

SPREAD = 0.06
"""How far a figure may lie from its model's, as a share of it."""
VARIED: dict[str, tuple[tuple[str, ...], ...]] = {
    "airframe": (("empty_mass_g", "all_up_mass_g"), ("level_speed_m_s", "dive_speed_m_s")),
    "surface": (("span_mm",), ("throw_up_deg",), ("throw_down_deg",)),
    "linkage": (("rod_length_mm",), ("horn_mm",)),
    "lead": (("length_mm",),),
    "feed": (("lead_length_mm",),),
    "pack": (("cell_mohm",), ("capacity_mah",)),
    "rotor": (("blade_mass_g",), ("head_rpm",)),
    "flight": (("minutes_min",),),
}
"""Figures that differ by kind of record; those in one bracket grow or shrink together, so that an aircraft
made lighter is lighter empty as well, and a slower one is slower in level flight and in the dive."""
NAMED_AFRESH = ("aircraft", "servo", "pack", "tag")
TOGETHER = 250
"""Aircraft written in one edit."""


@cache
def models() -> tuple[tuple[Record, ...], tuple[Aircraft, ...]]:
    """The type library of the demo fleet and its aircraft."""
    with Fleet.in_memory() as fleet:
        bring_in(fleet, [demo_fleet_dir()])
        kinds: tuple[type[Record], ...] = (ServoType, Arm, PackType, RegulatorType, SwitchType)
        library = tuple(record for kind in kinds for record in fleet.records(kind))
        return library, fleet.whole_fleet()


def records_of(aircraft: Aircraft) -> Iterator[Record]:
    """Every record that belongs to one aircraft, parents before what hangs on them."""
    yield aircraft.airframe
    yield from (*aircraft.rotors, *aircraft.receivers, *aircraft.stabilisers, *aircraft.accessories)
    yield from (*aircraft.channels, *aircraft.surfaces)
    for fit in aircraft.fits:
        yield from _of_fit(fit)
    regulators = {path.regulator.code: path.regulator for path in aircraft.paths if path.regulator}
    switches = {path.switch.code: path.switch for path in aircraft.paths if path.switch}
    yield from (*regulators.values(), *switches.values())
    for path in aircraft.paths:
        yield from _of_path(path)
    yield from (*aircraft.range_checks, *aircraft.flights, *aircraft.inspections, *aircraft.snags)


def _of_fit(fit: ServoFit) -> Iterator[Record]:
    found = (fit.position, fit.linkage, fit.lead, fit.servo, fit.installation, *fit.bench_checks)
    yield from (record for record in found if record is not None)


def _of_path(path: PowerPath) -> Iterator[Record]:
    yield path.feed
    for fed in path.packs:
        yield fed.pack
        if fed.fit is not None:
            yield fed.fit
        yield from (*fed.load_tests, *fed.capacity_tests, *fed.cells, *fed.charges)


def another(record: Record, number: int, chance: random.Random) -> Record:
    """The same record in another aircraft, with figures a little different."""
    values: dict[str, Any] = {}
    names = {spec.name for spec in columns(type(record))}
    fresh = [*NAMED_AFRESH, *(["code"] if record.KIND == "airframe" else [])]
    for name in fresh:
        if name in names and (old := getattr(record, name)) is not None:
            values[name] = f"{old}-{number:05d}"
    if record.KIND == "flight" and (packs := getattr(record, "packs", None)):
        values["packs"] = ", ".join(f"{tag.strip()}-{number:05d}" for tag in packs.split(","))
    for together in VARIED.get(record.KIND, ()):
        factor = chance.uniform(1 - SPREAD, 1 + SPREAD)
        for name in together:
            if (old := getattr(record, name)) is not None:
                values[name] = round(old * factor, 3)
    if record.KIND == "installation":
        values["disputed"] = False
    return replace(record, **values)  # type: ignore[type-var]


def fleet_by_chance(count: int, seed: int = 1) -> Iterator[list[Record]]:
    """The records of each aircraft of a fleet; the first list is the library they share.

    Args:
        count: how many aircraft.
        seed: the same seed gives the same fleet on the same day.
    """
    library, aircraft = models()
    yield list(library)
    chance = random.Random(seed)
    for number in range(1, count + 1):
        model = chance.choice(aircraft)
        tags: set[tuple[str, object]] = set()
        made = []
        for record in records_of(model):
            copy = another(record, number, chance)
            key = (copy.KIND, tuple(getattr(copy, name) for name in copy.KEY))
            if key not in tags:
                tags.add(key)
                made.append(copy)
        yield made


def write_fleet(path: Path, count: int, seed: int = 1) -> Path:
    """A fleet file with so many aircraft, written through the same door as a keeper's own edits."""
    with Fleet.create(path) as fleet:
        together: list[Record] = []

        def enter() -> None:
            some = together.copy()

            def work(edit: Edit) -> None:
                edit.put_all(some)

            fleet.edit("Enter aircraft", work)
            together.clear()

        for number, records in enumerate(fleet_by_chance(count, seed)):
            together += records
            if number % TOGETHER == TOGETHER - 1:
                enter()
        if together:
            enter()
    return path
