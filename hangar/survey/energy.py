"""The supply as a whole: highest volts, peak and mean current, heat of regulators, endurance."""

from __future__ import annotations

from hangar.base.figure import Basis, Figure, Working
from hangar.base.text import Text, text
from hangar.parts import Aircraft
from hangar.parts.choices import FeedRole
from hangar.physics.endurance import endurance_min, flight_charge_ah, flights_per_charge
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts, input_of, made
from hangar.survey.lazy_mapping import LazyMapping
from hangar.survey.model import Scenario, SupplySurvey
from hangar.survey.packs import capacity_of
from hangar.survey.paths import PathModel
from hangar.survey.scenarios import LoadCases
from hangar.survey.supply import SupplyModel

CHARGE_SOURCE = text("charge is current x time; usable share common practice, no source")
PEAK_ASKED = text("current asked at peak, at the nominal volts")
"""What the servos would draw if the bus held its volts; what flows at the volts it then has is drawn."""


def supply_survey(
    aircraft: Aircraft, model: SupplyModel, cases: LoadCases, defaults: Defaults
) -> SupplySurvey:
    """Every figure of the supply that belongs to no single load case."""
    paths = model.paths
    mean = _mean(model)
    radio_mah, radio_pct = _radio_share(aircraft, model, cases, defaults)
    flight, minutes, flights = _charge(aircraft, model, cases, defaults)
    return SupplySurvey(
        full_v=_highest([path.full_v for path in paths]),
        rested_full_v=_highest([path.rested_v for path in paths]),
        bus_full_v=_highest([path.set_v or path.full_v for path in paths], text("highest bus volts")),
        bus_nominal_v=model.nominal_v,
        peak_a=_peak(aircraft, model, defaults),
        mean_a=mean,
        current_times=None if model.learned is None else model.learned.mean.figure,
        peak_times=None if model.learned is None else model.learned.peak.figure,
        flight_mah=flight,
        endurance_min=minutes,
        flights_per_charge=flights,
        path_full_v={path.code: path.full_v for path in paths},
        path_rested_v={path.code: path.rested_v for path in paths},
        path_nominal_v={path.code: path.nominal_v for path in paths},
        path_land_v={path.code: path.land_v for path in paths},
        path_ohm={path.code: _path_ohm(path) for path in paths},
        path_radio_mah=radio_mah,
        path_radio_pct=radio_pct,
        path_alone_a=LazyMapping(lambda: _alone_a(cases)),
        path_alone_w=LazyMapping(lambda: _alone_w(cases)),
        pack_cell_mohm={pack.tag: pack.cell_mohm for path in paths for pack in path.packs},
        pack_new_mohm={pack.tag: pack.new_mohm for path in paths for pack in path.packs},
        pack_mah={pack.tag: pack.capacity_mah for path in paths for pack in path.packs},
        missing=model.missing,
    )  # fmt: skip


def _alone_a(cases: LoadCases) -> dict[str, Figure]:
    """Current in the peak of each path that carries everything."""
    return {code: alone.peak.path_a[code] for code, alone in cases.alone.items() if code in alone.peak.path_a}


def _alone_w(cases: LoadCases) -> dict[str, Figure]:
    """Heat of each path's regulator when it carries brisk flying by itself."""
    return {
        code: alone.brisk.regulator_w[code]
        for code, alone in cases.alone.items()
        if alone.brisk is not None and code in alone.brisk.regulator_w
    }


def _highest(figures: list[Figure], name: Text | None = None) -> Figure | None:
    if not figures:
        return None
    top = max(figures, key=lambda figure: figure.expected)
    if name is None:
        return top
    return made(
        name, top.expected, "V", "highest of the power paths", [input_of(figure) for figure in figures]
    )


def _path_ohm(path: PathModel) -> Figure:
    """Packs, switch and lead of a path at 25 C."""
    facts = Facts()
    facts.use(path.outside_ohm)
    ohms = []
    for pack in path.packs:
        facts.use(pack.cell_mohm)
        ohms.append(pack.ohm(25.0))
    packs = sum(ohms) if path.in_series else 1.0 / sum(1.0 / ohm for ohm in ohms)
    return facts.figure(
        "resistance of the path", packs + path.outside_ohm.expected, "ohm",
        "cells x resistance of one cell + switch + lead", "resistances in series and side by side",
    )  # fmt: skip


def _peak(aircraft: Aircraft, model: SupplyModel, defaults: Defaults) -> Figure | None:
    if model.unrated or model.nominal_v is None:
        return None
    facts = Facts()
    facts.use(model.nominal_v)
    facts.inputs.append(model.stall_sum)
    share = facts.assume(defaults.peak_share, aircraft.airframe.aircraft_class)
    if model.learned is not None and model.learned.peak.figure is not None:
        share = min(1.0, share * facts.use(model.learned.peak.figure))
    steady_a = model.standing_a + sum(draw.idle_a for draw in model.draws.values())
    facts.note("current with every servo at rest", steady_a, "A")
    return facts.figure(
        PEAK_ASKED, steady_a + share * model.stall_sum_a, "A",
        "current with every servo at rest + coincidence factor of the class x sum of all stall currents at "
        "the nominal bus volts",
        defaults.peak_share.source,
    )  # fmt: skip


def _mean(model: SupplyModel) -> Figure | None:
    if model.network is None and not model.draws:
        return None
    facts = Facts()
    for draw in model.draws.values():
        facts.use(draw.average.named(text("average current at {position}", position=draw.code)))
    facts.inputs.extend(model.standing)
    total = model.standing_a + sum(draw.average_a for draw in model.draws.values())
    mean = facts.figure(
        "mean current", total, "A", "average currents of servos, receivers, gyros and devices"
    )
    learned = None if model.learned is None else model.learned.mean.figure
    if learned is None:
        return mean
    facts.use(learned)
    resting = model.standing_a + sum(draw.idle_a for draw in model.draws.values())
    low, high = (
        resting + (total - resting) * times / learned.expected
        for times in (learned.band.low, learned.band.design)
    )
    working = Working(mean.working.formula, tuple(facts.inputs), mean.working.source)
    return Figure(mean.name, total, "A", low, high, Basis.MEASURED, working, learned.read_on)


def _radio_share(
    aircraft: Aircraft, model: SupplyModel, cases: LoadCases, defaults: Defaults
) -> tuple[dict[str, Figure], dict[str, Figure]]:
    """What the radio takes from each drive pack in a flight, as charge and as share of the pack."""
    cruise = cases.cases.get(Scenario.CRUISE)
    taken: dict[str, Figure] = {}
    shares: dict[str, Figure] = {}
    for path in model.paths:
        amps = None if cruise is None else cruise.path_a.get(path.code)
        capacity = capacity_of(path.path, path.packs)
        if path.path.feed.role is not FeedRole.DRIVE or amps is None or capacity is None:
            continue
        airframe, facts, both = aircraft.airframe, Facts(), Facts()
        current_a = facts.use(amps)
        length = facts.take(airframe, "flight_min", defaults.flight_time, airframe.aircraft_class)
        charge = facts.figure(
            text("charge the radio takes from {path}", path=path.code),
            1000.0 * flight_charge_ah(current_a, length), "mAh",
            "current out of the path's packs x length of a flight; the motor's is not in it", CHARGE_SOURCE,
        )  # fmt: skip
        taken[path.code] = charge
        shares[path.code] = both.figure(
            text("share of {path} that the radio takes", path=path.code),
            100.0 * both.use(charge) / both.use(capacity), "%",
            "charge of the radio in a flight / capacity of the packs", CHARGE_SOURCE,
        )  # fmt: skip
    return taken, shares


def _charge(
    aircraft: Aircraft, model: SupplyModel, cases: LoadCases, defaults: Defaults
) -> tuple[Figure | None, Figure | None, Figure | None]:
    """Charge of a flight, minutes and flights on a charge.

    Drive packs are left out: how long they last is the motor's affair.
    """
    cruise = cases.cases.get(Scenario.CRUISE)
    if cruise is None or not cruise.path_a or any(p.path.feed.role is FeedRole.DRIVE for p in model.paths):
        return None, None, None
    capacities = [capacity_of(path.path, path.packs) for path in model.paths]
    facts = Facts()
    capacity_ah = sum(facts.use(capacity) for capacity in capacities if capacity is not None) / 1000.0
    amps = sum(facts.use(figure) for figure in cruise.path_a.values())
    usable = facts.assume(defaults.usable_charge)
    minutes = facts.figure(
        "endurance", endurance_min(capacity_ah, amps, reserve=1.0 - usable), "min",
        "usable share of the charge of all packs / current out of them in ordinary flying", CHARGE_SOURCE,
    )  # fmt: skip
    airframe = aircraft.airframe
    flight_facts = Facts()
    for figure in cruise.path_a.values():
        flight_facts.use(figure)
    length = flight_facts.take(airframe, "flight_min", defaults.flight_time, airframe.aircraft_class)
    flight_ah = flight_charge_ah(amps, length)
    flight = flight_facts.figure(
        "charge of one flight", 1000.0 * flight_ah, "mAh", "current out of the packs x length of a flight",
        CHARGE_SOURCE,
    )  # fmt: skip
    if not flight_ah > 0.0:
        return flight, minutes, None
    both = Facts()
    both.inputs.extend(facts.inputs)
    both.use(flight)
    count = flights_per_charge(capacity_ah, flight_ah, reserve=1.0 - usable)
    flights = both.figure(
        "flights on a charge", float(count), "count", "usable charge / charge of one flight, rounded down",
        CHARGE_SOURCE,
    )  # fmt: skip
    return flight, minutes, flights
