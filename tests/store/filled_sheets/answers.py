"""What is filled into the boxes of a whole sheet, and what the records then hold."""

from __future__ import annotations

from datetime import date, datetime, time
from functools import cache
from pathlib import Path
from typing import Protocol

from hangar.sheets import SheetStyle, write_sheet
from hangar.store import Fleet, take_out
from tests.sheets.cases import TODAY, demo_case, demo_cases
from tests.sheets.filling import TICK, box_names, fill

NOON = datetime.combine(TODAY, time(12))


class Sheets(Protocol):
    """Where a blank sheet of a kind lies; without a code the one of all aircraft."""

    def __call__(self, kind: str, code: str = "") -> Path: ...


@cache
def written(kind: str, code: str, folder: Path) -> Path:
    """A blank sheet, written once."""
    path = folder / f"{kind} {code or 'all'}.pdf"
    cases = [demo_case(code)] if code else list(demo_cases())
    if kind == "field":
        # As it was printed before anything was found: one on the line may be flown by it.
        cases = [case.judged(findings=()) for case in cases]
    write_sheet(kind, cases, path, SheetStyle(fillable=True, printed_on=TODAY))
    return path


def filled(sheets: Sheets, kind: str, code: str, out: Path, **texts: str) -> Path:
    """A sheet of one aircraft with these boxes filled; the names are given without the aircraft's."""
    start = {"field": code, "bench": f"{code} bench", "charging": "charge"}[kind]
    names = {name.replace("__", " "): text for name, text in texts.items()}
    return fill(sheets(kind, code), out, {f"{start} {name}": text for name, text in names.items()})


BENCH_TEXTS = {
    "Neutral": ("9,5 mA", "neutral_ma", 9.5), "Moving": ("0.12 A", "moving_ma", 120.0),
    "End A": ("41", "end_a_ma", 41.0), "End B": ("0,03 A", "end_b_ma", 30.0),
    "Low rate": ("22", "low_rate_ma", 22.0), "Case C": ("41 °C", "case_c", 41.0),
    "Up deg": ("21°", "throw_up_deg", 21.0), "Down deg": ("0.3 rad", "throw_down_deg", 17.188734),
}  # fmt: skip


def bench_answers(path: Path, today: date) -> dict[str, str]:
    """A text for every box of a bench check."""
    answers = {}
    for name, is_tick in box_names(path).items():
        what = next((words for words in BENCH_TEXTS if name.endswith(f" {words}")), None)
        if is_tick:
            answers[name] = TICK
        elif what:
            answers[name] = BENCH_TEXTS[what][0]
        elif name.endswith(" Play"):
            answers[name] = "0,4°"
        elif name.endswith(" bench Date"):
            answers[name] = f"{today:%d.%m.%Y} 12:00"
        elif name.endswith(" Bench-checked by"):
            answers[name] = "Ada"
        elif name.endswith(" B12 Range m"):
            answers[name] = "100 ft"
    return answers


def field_answers(path: Path) -> dict[str, str]:
    """A text for every box of a field checklist."""
    texts = {"At rest": "5,6 V", "Read": "5350 mV", "Pilot": "Ada", "Looked at by": "Ada",
             "flight 1 Minutes": "8", "flight 2 Minutes": "7,5", "flight 1 Snag": "left wheel loose",
             "Snag found": "left wheel loose", "Remarks": "gusty",
             "Date  time": f"{TODAY} 12:00"}  # fmt: skip
    answers = {}
    for name, is_tick in box_names(path).items():
        what = next((text for text in texts if name.endswith(f" {text}")), None)
        if is_tick:
            answers[name] = TICK
        elif what:
            answers[name] = texts[what]
    return answers


def tables_of(fleet: Fleet, folder: Path) -> dict[str, bytes]:
    """Every table of a fleet, as it is taken out."""
    return {path.name: path.read_bytes() for path in take_out(fleet, folder)}
