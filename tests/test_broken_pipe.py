"""What a command prints may find no reader, or no room: it ends quietly, or says so in a sentence."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from hangar.acts import files

ENDED_BY_SIGPIPE = 141
FULL = Path("/dev/full")
BUFFERED = pytest.mark.parametrize("unbuffered", ["", "1"], ids=["at once", "line by line"])


@pytest.fixture(scope="module")
def fleet_file(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The invented fleet as a file, so that no command need bring it in."""
    path = tmp_path_factory.mktemp("pipe") / "fleet.hangar"
    files.demo_fleet(path).close()
    return str(path)


def run(stdout: int, unbuffered: str, *words: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "hangar", *words],
        stdout=stdout,
        stderr=subprocess.PIPE,
        env={**os.environ, "PYTHONUNBUFFERED": unbuffered},
        text=True,
        check=False,
    )


@BUFFERED
@pytest.mark.skipif(os.name != "posix", reason="other systems tell of a closed pipe in their own way")
@pytest.mark.parametrize(
    "words",
    [["inspect"], ["inspect", "--json"], ["survey", "--aircraft", "DUNN"]],
    ids=" ".join,
)
def test_a_command_whose_reader_is_gone_ends_quietly(
    words: list[str], unbuffered: str, fleet_file: str
) -> None:
    reads, writes = os.pipe()
    os.close(reads)
    done = run(writes, unbuffered, words[0], fleet_file, *words[1:])
    os.close(writes)
    assert (done.returncode, done.stderr) == (ENDED_BY_SIGPIPE, "")


@pytest.mark.skipif(os.name != "posix", reason="other systems tell of a closed pipe in their own way")
def test_help_whose_reader_is_gone_ends_quietly() -> None:
    reads, writes = os.pipe()
    os.close(reads)
    done = run(writes, "", "--help")
    os.close(writes)
    assert (done.returncode, done.stderr) == (ENDED_BY_SIGPIPE, "")


@BUFFERED
@pytest.mark.skipif(not FULL.exists(), reason="there is no device that is always full")
def test_findings_that_find_no_room_are_one_sentence_and_exit_2(unbuffered: str, fleet_file: str) -> None:
    with FULL.open("w") as full:
        done = run(full.fileno(), unbuffered, "inspect", fleet_file)
    assert (done.returncode, done.stderr) == (2, "hangar: No space left on device.\n")
