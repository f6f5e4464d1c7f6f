"""The same flight as loggers of many kinds would write it: headings, units, times, separators, encodings."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from random import Random

_HEADINGS = {
    "time": ["Time", "time_s", "Zeit", "Elapsed", "t", "Temps", "Tempo", "Tijd", "Tiempo", "Timestamp",
             "Laufzeit"],
    "volts": ["Voltage", "Bus volts", "RxBatt", "Spannung", "U", "Tension", "Tensione", "Spanning", "Voltaje",
              "Empfängerspannung", "Rx Volt"],
    "amps": ["Current", "Curr", "Strom", "I", "Courant", "Corrente", "Stroom", "Corriente", "Amps", "Load"],
}  # fmt: skip
_OTHERS = {
    "Altitude (m)": "{:.1f}", "RPM": "{:.0f}", "RSSI (dB)": "{:.0f}", "Temp [°C]": "{:.0f}",
    "GPS speed (km/h)": "{:.1f}",
    "Höhe [m]": "{:.1f}", "Throttle %": "{:.0f}", "Remark": "",
}  # fmt: skip
_TIMES = ("seconds", "ms", "minutes", "clock", "half_clock", "elapsed", "iso", "zone", "german", "american",
          "apart", "epoch_ms", "bare_ms", "days")  # fmt: skip


@dataclass
class Written:
    """A log as bytes with how it was written."""

    content: bytes
    how: str
    order: list[str]


def written(
    time_s: list[float], volts: list[float], amps: list[float], draw: Random, times: str | None = None
) -> Written:
    """Write a flight in a style drawn at random."""
    times = times or draw.choice(_TIMES)
    comma = draw.random() < 0.4
    separator = draw.choice([";", "\t"] if comma else [",", ";", "\t"])
    milli = draw.random() < 0.3
    where = draw.choice(["(%s)", " [%s]", " %s", "row", "cell", "none"])
    columns: list[tuple[str, str, list[str]]] = []
    start = datetime(2026, 9, 19, draw.choice([10, 14, 23]), 58, 30)  # noqa: DTZ001
    heads_units, cells = _times(time_s, times, start, comma)
    for at, (unit, column) in enumerate(zip(heads_units, cells, strict=True)):
        name = draw.choice(_HEADINGS["time"]) if at == len(cells) - 1 else "Date"
        if unit and name == "t":
            name = "Time"
        columns.append((name, unit, column))
    for name, values, unit in (("volts", volts, "V"), ("amps", amps, "A")):
        word = draw.choice(_HEADINGS[name])
        shown = f"m{unit}" if milli else unit
        digits, times_by = (0, 1000.0) if milli else (3, 1.0)
        column = [f"{value * times_by:.{digits}f}" for value in values]
        if where == "cell":
            column = [f"{words} {shown}" for words in column]
        columns.append((word, shown, column))
    columns += [
        (name, "", [_OTHERS[name].format(draw.uniform(1, 99)) for _ in time_s])
        for name in draw.sample(list(_OTHERS), draw.randint(0, 3))
    ]
    body = columns[len(cells) :]
    draw.shuffle(body)
    columns = [*columns[: len(cells)], *body]
    return _file(
        columns, draw, separator, comma, where, f"{times} comma={comma} milli={milli} unit={where!r}"
    )


def _file(
    columns: list[tuple[str, str, list[str]]], draw: Random, separator: str, comma: bool, where: str, how: str
) -> Written:
    heads = [
        name
        + (
            where % unit
            if "%" in where and unit and len(name) > 1
            else f" ({unit})"
            if unit in ("min", "ms") and where != "row"
            else ""
        )
        for name, unit, _ in columns
    ]
    titles = ["# logger 3.1", "Log of Saturday flight", ""]
    lines = [draw.choice(titles) for _ in range(draw.choice([0, 0, 1, 2]))]
    lines.append(separator.join(heads))
    if where == "row":
        lines.append(separator.join(unit for _, unit, _ in columns))
    rows = zip(*(column for _, _, column in columns), strict=True)
    lines += [separator.join(_shown(cell, comma) for cell in row) for row in rows]
    end = draw.choice(["\n", "\r\n"])
    encoding = draw.choice(["utf-8", "utf-8-sig", "cp1252", "utf-16"])
    return Written(
        (end.join(lines) + end).encode(encoding),
        f"{how} {separator!r} {encoding}",
        [name for name, _, _ in columns],
    )


def _shown(cell: str, comma: bool) -> str:
    return cell.replace(".", ",") if comma and cell.count(".") == 1 else cell


def _times(time_s: list[float], form: str, start: datetime, comma: bool) -> tuple[list[str], list[list[str]]]:
    moments = [start + timedelta(seconds=value) for value in time_s]
    if form == "seconds":
        return ["s"], [[f"{value:.3f}" for value in time_s]]
    if form in ("ms", "bare_ms"):
        return ["ms" if form == "ms" else ""], [[f"{1000 * value:.0f}" for value in time_s]]
    if form == "minutes":
        return ["min"], [[f"{value / 60:.6f}" for value in time_s]]
    if form == "clock":
        return [""], [[f"{moment:%H:%M:%S}.{moment.microsecond // 1000:03d}" for moment in moments]]
    if form == "half_clock":
        return [""], [
            [f"{moment:%I:%M:%S}.{moment.microsecond // 1000:03d} {moment:%p}" for moment in moments]
        ]
    if form == "elapsed":
        return [""], [[f"{int(value // 60)}:{value % 60:06.3f}" for value in time_s]]
    if form == "iso":
        return [""], [[moment.isoformat(timespec="milliseconds") for moment in moments]]
    if form == "zone":
        return [""], [[moment.isoformat(timespec="milliseconds") + "+02:00" for moment in moments]]
    if form == "german":
        return [""], [[f"{moment:%d.%m.%Y %H:%M:%S}.{moment.microsecond // 1000:03d}" for moment in moments]]
    if form == "american":
        return [""], [[f"{moment:%m/%d/%Y %H:%M:%S}.{moment.microsecond // 1000:03d}" for moment in moments]]
    if form == "apart":
        clock = [f"{moment:%H:%M:%S}.{moment.microsecond // 1000:03d}" for moment in moments]
        return ["", ""], [[f"{moment:%Y-%m-%d}" for moment in moments], clock]
    if form == "epoch_ms":
        epoch = datetime(1970, 1, 1)  # noqa: DTZ001
        return [""], [[f"{(moment - epoch).total_seconds() * 1000:.0f}" for moment in moments]]
    serial = datetime(1899, 12, 30)  # noqa: DTZ001
    return [""], [[f"{(moment - serial).total_seconds() / 86400:.9f}" for moment in moments]]
