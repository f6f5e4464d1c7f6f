"""Writes the flight log of the invented fleet anew: on the Marquess a joint behind the switch goes bad.

python -m tests.demo.make_flight_log
"""

from __future__ import annotations

import csv
import tempfile
from datetime import date, timedelta
from pathlib import Path

import numpy as np

from hangar.acts.flight_record import keep_log, read_log
from hangar.base.places import demo_fleet_dir
from hangar.parts import FlightLog, FlightLogPack, FlightLogTrace, Record
from hangar.parts.fields import columns
from hangar.store import Fleet, bring_in
from hangar.survey import Conditions, survey
from tests.physics.flight_forge import FINE_S, currents, second_falls

CODE, DAYS_AGO = "MARQ", 34
JOINT_S, JOINT_OHM = 370.0, 0.070
PACK_OHM, LEADS_OHM = 0.058, 0.086
TODAY = date(2026, 3, 14)


def logger_file(path: Path) -> None:
    """Nine minutes at ten rows a second: idle, ordinary flying, busy minutes, a landing."""
    draw = np.random.default_rng(31)
    fine = np.arange(0.0, 540.0, FINE_S)
    amps = np.minimum(currents(draw, fine, 1.75), 4.6)
    leads = np.where(fine >= JOINT_S, LEADS_OHM + JOINT_OHM, LEADS_OHM)
    used_mah = np.concatenate(([0.0], np.cumsum(amps[:-1]))) * FINE_S / 3.6
    rest = 5.27 - 0.35 * used_mah / 960.0 + 0.05 * np.exp(-fine / 90.0)
    volts = rest - PACK_OHM * second_falls(amps, 1.2, 15.0) - leads * amps
    start = TODAY - timedelta(days=DAYS_AGO)
    lines = ["Time,Bus volts (V),Current (A)"]
    for at in range(0, fine.size, 5):
        seconds = float(fine[at])
        clock = f"{start}T15:{20 + int(seconds // 60):02d}:{seconds % 60:06.3f}"
        shown_v = volts[at] + draw.normal(0.0, 0.004)
        shown_a = max(0.0, amps[at] + draw.normal(0.0, 0.01))
        lines.append(f"{clock},{shown_v:.2f},{shown_a:.2f}")
    path.write_text("\n".join(lines) + "\n", encoding="utf-8")


def write(kind: type[Record], records: tuple[Record, ...]) -> None:
    """One table of the invented fleet, its day told from the day it is opened."""
    names = [spec.name for spec in columns(kind)]
    with (demo_fleet_dir() / f"{kind.KIND.replace('-', '_')}.csv").open(
        "w", encoding="utf-8", newline=""
    ) as file:
        table = csv.writer(file, lineterminator="\n")
        table.writerow(names)
        for record in records:
            values = {name: getattr(record, name) for name in names} | {"flown_on": f"D-{DAYS_AGO}"}
            table.writerow([_shown(values[name]) for name in names])


def _shown(value: object) -> str:
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:.4g}" if isinstance(value, float) else str(value)


def main() -> None:
    """Forge the logger's file, read it, and write what is kept of it into the tables."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "marquess-afternoon.csv"
        logger_file(path)
        fleet = Fleet.in_memory()
        kinds = (FlightLog, FlightLogPack, FlightLogTrace)
        own = {f"{kind.KIND.replace('-', '_')}.csv" for kind in kinds}
        tables = [path for path in sorted(demo_fleet_dir().glob("*.csv")) if path.name not in own]
        bring_in(fleet, tables, today=TODAY)
        surveyed = survey(fleet.aircraft(CODE, today=TODAY), Conditions(today=TODAY))
        read = read_log(path, surveyed, pack_c=14.0)
        fleet.do(keep_log, read, TODAY)
        for kind in kinds:
            write(kind, fleet.records(kind))
            print(kind.KIND, *fleet.records(kind))


if __name__ == "__main__":
    main()
