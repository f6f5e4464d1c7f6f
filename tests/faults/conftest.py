"""Fleet files to do harm to."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from hangar.store import Fleet
from tests.store.conftest import put_trainer


@pytest.fixture
def fast_folder() -> Iterator[Path]:
    """A folder in memory where there is one: a kill tests the order of writes, not the disk's patience."""
    memory = Path("/dev/shm")
    place = memory if memory.is_dir() and os.access(memory, os.W_OK) else None
    folder = Path(tempfile.mkdtemp(prefix="hangar-", dir=place))
    yield folder
    shutil.rmtree(folder, ignore_errors=True)


def make_fleet(path: Path) -> Path:
    """A fleet file with one small aircraft, closed."""
    with Fleet.create(path) as made:
        made.edit("Build the trainer", put_trainer)
    return path


@pytest.fixture
def fleet_file(tmp_path: Path) -> Path:
    """A fleet file with one small aircraft, closed."""
    return make_fleet(tmp_path / "club.hangar")
