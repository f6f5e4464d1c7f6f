"""Fleets to try the store on: in memory, and on a server of our own where PostgreSQL is installed."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest

from hangar.parts import (
    Airframe,
    Channel,
    Feed,
    Linkage,
    Pack,
    PackFit,
    PackType,
    Position,
    Servo,
    ServoRating,
    ServoType,
    Surface,
)
from hangar.parts.choices import AircraftClass, Chemistry, Drive, Function
from hangar.store import Edit, Fleet
from tests.store.server import database_beside, emptied, programs, running_cluster, short_folder

HAS_SERVER = bool(os.environ.get("HANGAR_TEST_SERVER")) or programs() is not None


@pytest.fixture(scope="session")
def server_address() -> Iterator[str]:
    """Address of a database that belongs to this process of the tests.

    It is the one named by HANGAR_TEST_SERVER, or where several processes share the tests one beside it;
    else it is in a cluster of our own.
    """
    named = os.environ.get("HANGAR_TEST_SERVER")
    process = os.environ.get("PYTEST_XDIST_WORKER")
    if named and process:
        with database_beside(named, process) as address:
            yield address
        return
    if named:
        yield named
        return
    if programs() is None:
        pytest.skip("PostgreSQL's initdb is not installed; on Debian: apt-get install postgresql")
    with short_folder() as folder, running_cluster(Path(folder)) as address:
        yield address


@pytest.fixture
def server(server_address: str) -> str:
    """Address of a database on a server with an empty fleet in it."""
    return emptied(server_address)


@pytest.fixture(params=["memory", "server"] if HAS_SERVER else ["memory"])
def fleet(request: pytest.FixtureRequest) -> Iterator[Fleet]:
    """An empty fleet."""
    if request.param == "memory":
        with Fleet.in_memory() as made:
            yield made
    else:
        with Fleet.open(request.getfixturevalue("server")) as made:
            yield made


def put_trainer(edit: Edit) -> None:
    """A small aircraft with two positions, one servo type, three servos and a pack."""
    edit.put(
        ServoType(
            code="TS-31",
            maker="Tessivar",
            drive=Drive.ANALOG,
            ratings=(ServoRating(servo_type="TS-31", rated_v=4.8, torque_nm=0.31, transit_s=0.22),),
        )
    )
    edit.put(Airframe(code="DUN", name="Dunnalow", aircraft_class=AircraftClass.SPORT))
    edit.put(Channel(aircraft="DUN", number=1, function=Function.AILERON))
    edit.put(Channel(aircraft="DUN", number=2, function=Function.ELEVATOR))
    edit.put(
        Surface(
            aircraft="DUN",
            code="AIL",
            name="aileron",
            function=Function.AILERON,
            span_mm=600,
            root_chord_mm=40,
        )
    )
    edit.put(
        Position(
            aircraft="DUN", code="AIL", name="aileron", function=Function.AILERON, channel=1, surface="AIL"
        )
    )
    edit.put(Position(aircraft="DUN", code="ELE", name="elevator", function=Function.ELEVATOR, channel=2))
    edit.put(Linkage(aircraft="DUN", position="AIL", arm_mm=12))
    for tag in ("0801", "0802", "0803"):
        edit.put(Servo(tag=tag, servo_type="TS-31"))
    edit.put(PackType(code="NL4-20", chemistry=Chemistry.NIMH_LSD, series=4, capacity_mah=2000))
    edit.put(Feed(aircraft="DUN", code="RX"))
    edit.put(Pack(tag="B061", pack_type="NL4-20"))
    edit.put(PackFit(pack="B061", aircraft="DUN", feed="RX", since_on=date(2024, 1, 1)))
    edit.fit_servo("0801", "DUN", "AIL", date(2024, 1, 1), "first fit", arm_teeth=23)


@pytest.fixture
def trainer(fleet: Fleet) -> Fleet:
    """A fleet with one small aircraft."""
    fleet.edit("Build the trainer", put_trainer)
    return fleet


@pytest.fixture
def fleet_file(tmp_path: Path) -> Path:
    """A fleet file with one small aircraft, closed."""
    path = tmp_path / "club.hangar"
    with Fleet.create(path) as made:
        made.edit("Build the trainer", put_trainer)
    return path


@pytest.fixture(scope="session")
def keeper_sheet() -> Path:
    """A wide sheet with the habits of twenty years in it."""
    return Path(__file__).parent / "data" / "keeper_sheet.csv"


@pytest.fixture
def write(tmp_path: Path) -> Callable[..., Path]:
    """Writes a table file."""

    def write_file(name: str, *lines: str, encoding: str = "utf-8") -> Path:
        path = tmp_path / name
        path.write_bytes("\r\n".join(lines).encode(encoding))
        return path

    return write_file
