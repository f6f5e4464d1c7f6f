"""The invented fleet in memory, and its sheets written once each."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from hangar.base.places import demo_fleet_dir
from hangar.store import Fleet, bring_in
from tests.store.filled_sheets.answers import Sheets, written


@pytest.fixture
def fleet() -> Iterator[Fleet]:
    """The invented fleet."""
    with Fleet.in_memory() as made:
        bring_in(made, [demo_fleet_dir()])
        yield made


@pytest.fixture(scope="session")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Sheets:
    """Writes a sheet of one aircraft, or of all where no code is given."""
    folder = tmp_path_factory.mktemp("sheets")
    return lambda kind, code="": written(kind, code, folder)
