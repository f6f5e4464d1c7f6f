"""A fleet on a server: several seats, one fleet. Every test of the door runs there too when one is named."""

from __future__ import annotations

from datetime import date

import pytest
from sqlalchemy import create_engine, text
from sqlalchemy.engine import make_url

from hangar.base.errors import StoreFault
from hangar.base.places import demo_fleet_dir
from hangar.parts import Servo, ServoType
from hangar.parts.choices import Drive
from hangar.store import Fleet, bring_in

DAY = date(2026, 3, 14)


def test_two_seats_see_the_same_fleet_and_each_others_edits(server: str) -> None:
    with Fleet.open(server) as first, Fleet.open(server) as second:
        first.edit("Put", lambda edit: edit.put(ServoType(code="TS-31", drive=Drive.ANALOG)))
        assert [kind.code for kind in second.records(ServoType)] == ["TS-31"]
        second.edit("Put", lambda edit: edit.put(Servo(tag="0801", servo_type="TS-31")))
        assert str(first.undo_label) == "Put"
        first.undo()
        assert second.records(Servo) == ()


def test_the_demo_fleet_reads_the_same_from_a_server_as_from_memory(server: str) -> None:
    with Fleet.open(server) as far, Fleet.in_memory() as near:
        for fleet in (far, near):
            bring_in(fleet, [demo_fleet_dir()], today=DAY)
        assert far.whole_fleet(DAY) == near.whole_fleet(DAY)
        assert far.library() == near.library()
        far.undo()
        assert far.whole_fleet(DAY) == ()


def test_a_fleet_of_another_version_is_refused(server: str) -> None:
    Fleet.open(server).close()
    engine = create_engine(make_url(server).set(drivername="postgresql+psycopg"))
    with engine.begin() as link:
        link.execute(text("UPDATE hangar_version SET version = 99"))
    engine.dispose()
    with pytest.raises(StoreFault, match="is of version 99"):
        Fleet.open(server)


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("mysql://nobody@localhost/fleet", "use postgresql"),
        ("postgresql://nobody@127.0.0.1:1/fleet?connect_timeout=1", "The server cannot be reached"),
        ("odd://", "cannot be used|cannot be kept"),
    ],
)
def test_an_address_that_leads_nowhere_is_told(address: str, words: str) -> None:
    with pytest.raises(StoreFault, match=words):
        Fleet.open(address)
