"""Fleets to try the store on: in memory, and on a server where HANGAR_TEST_SERVER names one."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.engine import make_url

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
from hangar.store.tables import METADATA

SERVER = os.environ.get("HANGAR_TEST_SERVER")


def _emptied(address: str) -> str:
    engine = create_engine(make_url(address).set(drivername="postgresql+psycopg"))
    with engine.begin() as link:
        METADATA.drop_all(link)
        link.execute(text("DROP TABLE IF EXISTS hangar_version"))
    engine.dispose()
    return address


@pytest.fixture
def server() -> str:
    """Address of an emptied database on a server."""
    if SERVER is None:
        pytest.skip("HANGAR_TEST_SERVER names no server")
    return _emptied(SERVER)


@pytest.fixture(params=["memory", "server"] if SERVER else ["memory"])
def fleet(request: pytest.FixtureRequest) -> Iterator[Fleet]:
    """An empty fleet."""
    with Fleet.in_memory() if request.param == "memory" else Fleet.open(_emptied(SERVER or "")) as made:
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
