"""What a command prints may find no reader, or no room: it ends quietly, or says so in a sentence."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from hangar.base.places import demo_fleet_dir

DEMO = str(demo_fleet_dir())
ENDED_BY_SIGPIPE = 141
FULL = Path("/dev/full")
BUFFERED = pytest.mark.parametrize("unbuffered", ["", "1"], ids=["at once", "line by line"])


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
    [["inspect", DEMO], ["inspect", DEMO, "--json"], ["survey", DEMO, "--aircraft", "DUNN"]],
    ids=lambda words: " ".join(word for word in words if word != DEMO),
)
def test_a_command_whose_reader_is_gone_ends_quietly(words: list[str], unbuffered: str) -> None:
    reads, writes = os.pipe()
    os.close(reads)
    done = run(writes, unbuffered, *words)
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
def test_findings_that_find_no_room_are_one_sentence_and_exit_2(unbuffered: str) -> None:
    with FULL.open("w") as full:
        done = run(full.fileno(), unbuffered, "inspect", DEMO)
    assert (done.returncode, done.stderr) == (2, "hangar: No space left on device.\n")
