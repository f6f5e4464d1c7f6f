"""A pack that flew in two aircraft on one day is found from the file, from either of them."""

from __future__ import annotations

from datetime import date, datetime

from hangar.base.places import demo_fleet_dir
from hangar.parts import Charge, Flight, Record
from hangar.rules import Level, look
from hangar.store import Fleet
from hangar.store.tables_io import bring_in
from hangar.survey import Conditions
from tests.all_cases import all_cases

TODAY = date(2026, 3, 14)


def _put(fleet: Fleet, record: Record) -> None:
    fleet.edit("entered", lambda edit: edit.put(record))


@all_cases("charges, level", [(1, Level.CAUTION), (2, Level.ADVISORY)])
def test_a_pack_is_counted_over_all_aircraft_of_the_day(charges: int, level: Level) -> None:
    with Fleet.in_memory() as fleet:
        bring_in(fleet, [demo_fleet_dir()], today=TODAY)
        for code in ("MARQ", "ALB5"):
            _put(fleet, Flight(aircraft=code, flown_on=TODAY, minutes_min=12.0, packs="B021, X1"))
        for hour in range(charges):
            _put(fleet, Charge(pack="B021", charged_at=datetime(2026, 3, 14, 9 + hour)))  # noqa: DTZ001
        for aircraft in (fleet.aircraft("MARQ", TODAY), fleet.whole_fleet(TODAY)[3]):
            assert aircraft.code == "MARQ"
            findings = [
                finding
                for finding in look(aircraft, Conditions(today=TODAY))
                if finding.rule == "pack-in-two-models"
            ]
            assert [finding.level for finding in findings] == [level]
            assert "ALB5 and MARQ" in str(str(findings[0].message))
            assert "24 min" in str(str(findings[0].message))


def test_a_pack_that_flew_in_one_aircraft_is_not_named() -> None:
    with Fleet.in_memory() as fleet:
        bring_in(fleet, [demo_fleet_dir()], today=TODAY)
        rules = {finding.rule for finding in look(fleet.aircraft("MARQ", TODAY), Conditions(today=TODAY))}
        assert "pack-in-two-models" not in rules
