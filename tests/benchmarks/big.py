"""A large fleet in the window, each size in a process of its own: opened, searched, judged, edited, printed.

``python -m tests.benchmarks.big FLEET`` is that process; it tells what it took.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from tests.benchmarks.growth import FULL_SIZE, STRAIGHT, told_by_child
from tests.benchmarks.measure import AT_LEAST, Row, processor_s

SIZES, FULL_SIZES = (100, 500), (100, 1000, FULL_SIZE)
FOLLOWED = 50
"""Aircraft judged while the Flight Line follows; the others are judged without it."""
PRINTED = ("fleet", "charging", "cuts")
"""Sheets over all aircraft."""
STEPS = (
    "open",
    "show",
    "search first",
    "search again",
    "read the library",
    "judge, followed",
    "judge",
    "follow an edit",
    *(f"print, {kind}" for kind in PRINTED),
)
KIB_AN_AIRCRAFT = 175
"""Most memory for one aircraft of the largest fleet, judged and printed, as the guide says it."""


def main(place: str) -> None:
    """Work with the fleet at that place as the window does, and tell time and memory."""
    from hangar.__main__ import look_rarely_for_cycles
    from tests.benchmarks.window_child import memory_mib

    look_rarely_for_cycles()
    with TemporaryDirectory() as folder:
        before = memory_mib("VmRSS")
        figures = worked_with(Path(place), Path(folder))
        figures["memory"] = memory_mib("VmHWM") - before
    print(json.dumps(figures))


def worked_with(place: Path, folder: Path) -> dict[str, float]:
    """Seconds of processor time by step; those of judging for one aircraft."""
    from hangar.sheets import SheetCase, SheetStyle, write_sheet
    from hangar.store import Fleet
    from hangar.window.kit.desk import Desk
    from hangar.window.kit.view_settings import ViewSettings
    from hangar.window.kit.words import speak
    from hangar.window.rooms import Rooms
    from hangar.window.search_page import SearchPage
    from hangar.window.start import application

    app = application()
    view = ViewSettings(folder / "window.ini")
    speak(app, "en")
    figures: dict[str, float] = {}

    def step(name: str, work: Callable[[], Any]) -> None:
        figures[name] = processor_s(lambda: (work(), app.processEvents()))

    fleet = Fleet.open(place)
    opened: list[Desk] = []
    step("open", lambda: opened.append(Desk(fleet, view, read=fleet.whole_fleet())))
    (desk,) = opened
    rooms = Rooms(desk)
    rooms.resize(1400, 860)
    step("show", rooms.show)
    page = SearchPage(desk)
    step("search first", lambda: page.look_for("2000"))
    step("search again", lambda: page.look_for("200"))
    codes = desk.codes()
    followed, others = codes[:FOLLOWED], codes[FOLLOWED:]
    step("read the library", desk.basis)

    def follow() -> None:
        for code in followed:
            desk.judgement(code)
            app.processEvents()

    step("judge, followed", follow)

    def judge() -> None:
        # Nobody else holds what the session puts aside.
        for code in others:
            desk.session.judgement(code)

    step("judge", judge)
    figures["judge, followed"] *= len(codes) / len(followed)
    figures["judge"] *= len(codes) / len(others)
    airframe = desk.aircraft(codes[0]).airframe
    changed = replace(airframe, name="Another name")
    step("follow an edit", lambda: desk.edit("Name it", lambda edit: edit.put(changed)))
    judgements = [judgement for judgement in map(desk.known, codes) if judgement is not None]
    basis = desk.basis()

    def printed(kind: str) -> None:
        cases = [SheetCase.of(judgement, basis) for judgement in judgements]
        write_sheet(kind, cases, folder / f"{kind}.pdf", SheetStyle())

    for kind in PRINTED:
        step(f"print, {kind}", partial(printed, kind))
    desk.stop()
    rooms.close()
    fleet.close()
    return figures


def rows(rounds: int = AT_LEAST, *, full: bool = False) -> list[Row]:
    """What one aircraft costs in a large fleet against one in a fleet of a hundred; the largest once."""
    from tests.benchmarks.fleets import write_fleet

    sizes = FULL_SIZES if full else SIZES
    times = 1 if full else max(rounds, AT_LEAST)
    with TemporaryDirectory() as folder:
        paths = {size: write_fleet(Path(folder) / f"{size}.hangar", size) for size in sizes}
        runs = [
            {size: told_by_child(path, "tests.benchmarks.big") for size, path in paths.items()}
            for _ in range(times)
        ]
    table = []
    for size in sizes[1:]:
        for name in STEPS:
            ratios = tuple((run[size][name] / size) / (run[sizes[0]][name] / sizes[0]) for run in runs)
            note = f"{run_ms(runs, size, name):.3g} ms an aircraft"
            table.append(
                Row(f"big: {name}, one of {size} / one of {sizes[0]}", ratios, most=STRAIGHT, note=note)
            )
        memory = tuple(run[size]["memory"] for run in runs)
        most = KIB_AN_AIRCRAFT * size / 1024 if size == FULL_SIZE else None
        table.append(Row(f"big: memory for {size} aircraft, judged and printed", memory, "MiB", most=most))
    return table


def run_ms(runs: list[dict[int, dict[str, float]]], size: int, name: str) -> float:
    """The least that a step took for one aircraft of a fleet of that size."""
    return min(1000 * run[size][name] / size for run in runs)


if __name__ == "__main__":
    main(sys.argv[1])
