"""Where the bus sinks so far that servos stall in the peak, a front does not claim to be proved best.

Source of the stall: a motor's current cannot exceed volts over winding resistance (Ohm's law); the tables
count a fixed share of the stall current at the nominal volts whatever the bus.
"""

from __future__ import annotations

import dataclasses

from hangar.base.text import Text
from hangar.parts import Aircraft
from hangar.refit import Limits, plan
from hangar.refit.bay import bay_of
from hangar.refit.fleet_plan import plan_fleet
from hangar.refit.soft_packs import soft_pack_doubts
from hangar.refit.table_making import tables_of
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe
from hangar.survey import survey
from hangar.survey.model import Scenario
from tests.all_cases import all_cases
from tests.refit.generator import DAY
from tests.refit.test_planning import LIBRARY

LIMITS = Limits(conditions=DAY)


def with_pack_of(cell_mohm: float) -> Aircraft:
    """The helicopter with this resistance in each cell of its pack, and a receiver that bears low volts."""
    aircraft = ex.helicopter()
    path = aircraft.paths[0]
    fed = path.packs[0]
    pack = dataclasses.replace(fed.pack, cell_mohm=cell_mohm, cell_mohm_on=DAY.today)
    packs = (dataclasses.replace(fed, pack=pack, load_tests=()),)
    receivers = tuple(dataclasses.replace(each, supply_min_v=2.6) for each in aircraft.receivers)
    paths = (dataclasses.replace(path, packs=packs), *aircraft.paths[1:])
    return dataclasses.replace(aircraft, paths=paths, receivers=receivers)


def doubts_of(aircraft: Aircraft) -> tuple[Text, ...]:
    return soft_pack_doubts(
        tables_of(aircraft, LIBRARY, bay_of(LIBRARY, {}, aircraft), LIMITS, waive_all=True)
    )


def test_a_servo_that_stalls_in_the_peak_takes_the_proof_away() -> None:
    aircraft = with_pack_of(75.0)
    seen = survey(aircraft, DAY)
    (nominal,) = seen.supply.path_nominal_v.values()
    assert seen.positions["TAIL"].servo_v[Scenario.PEAK].expected < 0.6 * nominal.expected
    (told,) = doubts_of(aircraft)
    assert str(told).startswith("Not proved best: with the bus at ")
    assert "TAIL" in str(told)
    front = plan(aircraft, LIBRARY, {}, LIMITS)
    assert not front.exact
    assert [doubt for doubt in front.doubts if str(doubt).startswith("Not proved best:")]


@all_cases("cell_mohm", [3.0, 20.0, 40.0])
def test_a_pack_that_holds_the_servos_above_their_stall_leaves_the_proof(cell_mohm: float) -> None:
    aircraft = with_pack_of(cell_mohm)
    seen = survey(aircraft, DAY)
    (nominal,) = seen.supply.path_nominal_v.values()
    least_v = min(each.servo_v[Scenario.PEAK].expected for each in seen.positions.values())
    assert least_v > 0.6 * nominal.expected
    assert doubts_of(aircraft) == ()
    assert plan(aircraft, LIBRARY, {}, LIMITS).exact


def test_the_plan_of_the_fleet_tells_of_which_aircraft_servos_stall() -> None:
    soft, firm = with_pack_of(75.0), with_airframe(with_pack_of(20.0), code="FIRM")
    plans = [plan_fleet(fleet, LIBRARY, 0.0, {}, LIMITS) for fleet in ([soft, firm], [firm])]
    assert [each.exact for each in plans] == [False, True]
    (told,) = [note for note in plans[0].notes if "Not proved best:" in str(note)]
    assert str(told).startswith(f"{soft.code}: Not proved best: with the bus at ")
    assert "TAIL" in str(told)
    assert not any("Not proved best:" in str(note) for note in plans[1].notes)
