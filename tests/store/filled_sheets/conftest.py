"""The invented fleet in memory, and its sheets written once each."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from hangar.store import Fleet
from tests.demo_copies import demo_copy
from tests.store.filled_sheets.answers import Sheets, written


@pytest.fixture
def fleet() -> Iterator[Fleet]:
    """The invented fleet."""
    with demo_copy(date.today()) as made:
        yield made


@pytest.fixture(scope="session")
def sheets(tmp_path_factory: pytest.TempPathFactory) -> Sheets:
    """Writes a sheet of one aircraft, or of all where no code is given."""
    folder = tmp_path_factory.mktemp("sheets")
    return lambda kind, code="": written(kind, code, folder)
