"""From one language or unit to another, with forty aircraft judged: all that is on view in the other one.

``python -m tests.benchmarks.switching FLEET`` is the process that does it; it tells what it took.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.benchmarks.growth import told_by_child
from tests.benchmarks.measure import AT_LEAST, Row, processor_s

AIRCRAFT, MOST_MS = 40, 100
PAGES = {"Flight Line": 0, "Airframe": 1, "Findings": 2}


def main(place: str) -> None:
    """Switch to and fro on some pages, and tell the processor time of each switch."""
    with TemporaryDirectory() as folder:
        print(json.dumps(switched(Path(place), Path(folder))))


def switched(place: Path, folder: Path) -> dict[str, float]:
    """Seconds of processor time by page and by what was switched, the redraw with it."""
    from PySide6.QtCore import QEvent

    from hangar.window.kit.view_settings import UNIT_WORDS
    from hangar.window.start import application, open_window

    app = application()
    window = open_window(None, folder, folder)
    window.resize(1400, 900)
    if not window.files.open_place(str(place)) or window.desk is None:
        raise RuntimeError(f"{place} cannot be opened")
    for code in window.desk.codes():
        window.desk.judgement(code)

    def seconds(switch: Callable[[], object]) -> float:
        taken = processor_s(lambda: (switch(), app.processEvents()))
        app.sendPostedEvents(None, QEvent.Type.DeferredDelete)
        app.processEvents()
        return taken

    figures: dict[str, float] = {}
    for page, number in PAGES.items():
        assert window.rooms is not None
        window.rooms.enter(number)
        app.processEvents()
        for name in (*list(UNIT_WORDS)[-1:], *UNIT_WORDS):
            action = window.menus.actions[f"units {name}"]
            figures[f"{page}, units"] = seconds(action.trigger)
        for language in ("de", "en", "de", "en"):
            window.view.choose_language(language)
            figures[f"{page}, language"] = seconds(window.speak_anew)
            assert window.follower is not None
            window = window.follower
    window.close()
    return figures


def rows(rounds: int = AT_LEAST) -> list[Row]:
    """Processor time, so that a busy machine counts less."""
    from tests.benchmarks.fleets import write_fleet

    with TemporaryDirectory() as folder:
        path = write_fleet(Path(folder) / "forty.hangar", AIRCRAFT)
        runs = [told_by_child(path, "tests.benchmarks.switching") for _ in range(max(rounds, AT_LEAST))]
    return [
        Row(
            f"switch: {name}, {AIRCRAFT} aircraft",
            tuple(1000 * run[name] for run in runs),
            "ms",
            most=MOST_MS,
            note="the page on view, in processor time",
        )
        for name in runs[0]
    ]


if __name__ == "__main__":
    main(sys.argv[1])
