"""Time and memory from ten aircraft to ten thousand, each size in a process of its own.

``python -m tests.benchmarks.growth FLEET`` is that process; it tells what it took.
"""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.benchmarks.measure import AT_LEAST, Row

ROOT = Path(__file__).resolve().parents[2]
SIZES, FULL_SIZE = (10, 100, 1000), 10_000
STRAIGHT = 1.3
"""Growth is called linear while one aircraft costs at most so many times one of a fleet of a hundred."""


def main(place: str) -> None:
    """Read and judge the fleet at that place and tell time and memory."""
    from hangar.__main__ import look_rarely_for_cycles
    from tests.benchmarks.judging import inspect_file, read_file
    from tests.benchmarks.measure import processor_s
    from tests.benchmarks.window_child import memory_mib

    look_rarely_for_cycles()
    small = Path(place).with_name("10.hangar")
    inspect_file(small)
    before = memory_mib("VmHWM")
    read = processor_s(lambda: read_file(Path(place)))
    judged = processor_s(lambda: inspect_file(Path(place)))
    print(json.dumps({"read": read, "inspect": judged, "memory": memory_mib("VmHWM") - before}))


def told_by_child(path: Path, module: str = "tests.benchmarks.growth") -> dict[str, float]:
    """What the process for one fleet tells."""
    done = subprocess.run(
        [sys.executable, "-m", module, str(path)],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=True,
    )
    seconds: dict[str, float] = json.loads(done.stdout)
    return seconds


def rows(rounds: int = AT_LEAST, *, full: bool = False) -> list[Row]:
    """What one aircraft costs in fleets of several sizes, against one in a fleet of a hundred."""
    from tests.benchmarks.fleets import write_fleet

    sizes = (*SIZES, FULL_SIZE) if full else SIZES
    with TemporaryDirectory() as folder:
        paths = {size: write_fleet(Path(folder) / f"{size}.hangar", size) for size in sizes}
        runs = [
            {size: told_by_child(path) for size, path in paths.items()} for _ in range(max(rounds, AT_LEAST))
        ]
    found = []
    for name, factor, unit in (("read", 1000, "ms"), ("inspect", 1000, "ms"), ("memory", 1024, "KiB")):
        for size in sizes:
            each = tuple(factor * run[size][name] / size for run in runs)
            found.append(Row(f"growth: {name}, one of {size} aircraft", each, unit))
        for size in sizes[2:]:
            ratios = tuple((run[size][name] / size) / (run[100][name] / 100) for run in runs)
            found.append(Row(f"growth: {name}, one of {size} / one of 100", ratios, most=STRAIGHT))
    return found


if __name__ == "__main__":
    main(sys.argv[1])
