"""Any logger's table is read: its columns, their units, its times; what is none is refused in a sentence."""

from __future__ import annotations

import os
from pathlib import Path
from random import Random

import pytest

from hangar.base.errors import BadInput
from hangar.store.intake.flight_log import flight_log_of, read_flight_log
from tests.all_cases import all_cases
from tests.store.intake.flight_log_forge import written

CASES = int(os.environ.get("HANGAR_LOG_FORMS", "80"))


def flight(
    draw: Random, count: int = 400, step_s: float = 0.1
) -> tuple[list[float], list[float], list[float]]:
    """Times, volts and amps that hang together as those of a flight do."""
    time_s = [round(step_s * at, 3) for at in range(count)]
    amps, now = [], 0.2
    for _ in time_s:
        now = 0.2 if draw.random() < 0.3 else max(0.2, now + draw.uniform(-0.8, 1.0))
        amps.append(round(now, 3))
    volts = [round(6.6 - 0.2 * amp + draw.gauss(0, 0.004), 3) for amp in amps]
    return time_s, volts, amps


@all_cases("seed", range(CASES))
def test_a_log_of_any_form_gives_the_flight_that_was_written(seed: int) -> None:
    draw = Random(seed)
    time_s, volts, amps = flight(draw)
    made = written(time_s, volts, amps, draw)
    log = flight_log_of("log.csv", made.content, 6.0)
    words = f"{made.how}: {log.mapping()}"
    assert [len(log.with_role(role)) for role in ("time", "bus", "amps")] == [1, 1, 1], words
    assert log.time_s == pytest.approx(time_s, abs=0.03), words
    assert log.with_role("bus")[0].values == pytest.approx(volts, abs=0.001), words
    assert log.with_role("amps")[0].values == pytest.approx(amps, abs=0.001), words


def rows(lines: list[str]) -> bytes:
    """A small file of these lines."""
    return ("\n".join(lines) + "\n").encode()


def plain(count: int = 60) -> list[str]:
    """Rows of seconds, volts and amps."""
    return [f"{0.1 * at:.1f},{6.6 - 0.2 * (at % 7) / 5:.3f},{(at % 7) / 5 + 0.2:.2f}" for at in range(count)]


def test_columns_without_headings_are_known_by_what_stands_in_them() -> None:
    log = flight_log_of("bare.csv", rows(plain()), 6.0)
    assert [column.role for column in log.columns] == ["time", "bus", "amps"]
    assert len(log.doubts) == 2


def test_a_mapping_that_was_remembered_is_used() -> None:
    content = rows(["x,y,z", *plain()])
    first = flight_log_of("one.csv", content, 6.0)
    kept = {first.heading_line: {"x": "time [s]", "y": "bus [V]", "z": "amps [A]"}}
    again = flight_log_of("two.csv", content, 6.0, kept)
    assert [column.role for column in again.columns] == ["time", "bus", "amps"]
    assert again.doubts == []


def test_rows_out_of_order_are_sorted_and_said() -> None:
    lines = plain()
    for at in range(5, 55, 5):
        lines[at], lines[at + 1] = lines[at + 1], lines[at]
    log = flight_log_of("mixed.csv", rows(["Time,Volts,Amps", *lines]))
    assert log.time_s == sorted(log.time_s)
    assert len(log.time_s) == 60
    assert "sorted" in str(log.doubts[0])


def test_of_two_flights_in_one_file_the_longest_is_read_and_said() -> None:
    head = "Time,Volts,Amps"
    log = flight_log_of("two.csv", rows([head, *plain(80), head, *plain(50)]))
    assert len(log.time_s) == 80
    assert "2 flights" in str(log.doubts[0])


def test_a_clock_passes_midnight() -> None:
    lines = [
        f"23:59:{50 + at // 10}.{at % 10}" if at < 100 else f"00:00:{(at - 100) // 10:02d}.{at % 10}"
        for at in range(150)
    ]
    data = [f"{clock},6.{at % 7},{at % 5}.0" for at, clock in enumerate(lines)]
    log = flight_log_of("night.csv", rows(["Time,Volts,Amps", *data]))
    assert log.time_s[-1] == pytest.approx(14.9)


def test_many_rows_of_one_second_are_spread_over_it() -> None:
    data = [f"10:00:{at // 5:02d},6.{at % 7},{at % 5}.0" for at in range(100)]
    log = flight_log_of("coarse.csv", rows(["Time,Volts,Amps", *data]))
    assert log.time_s == pytest.approx([0.2 * at for at in range(100)], abs=0.01)


def test_numbered_rows_need_a_stated_interval() -> None:
    data = [f"{at},6.{at % 7},{at % 5}.0" for at in range(60)]
    log = flight_log_of("numbered.csv", rows(["# interval 0.2 s", "Sample,Volts,Amps", *data]))
    assert log.time_s[-1] == pytest.approx(11.8)
    with pytest.raises(BadInput, match="no column of time"):
        flight_log_of("numbered.csv", rows(["Sample,Volts,Amps", *data]))


def test_two_packs_and_a_bus() -> None:
    head = "Time,Pack A V,Pack A A,Pack B V,Pack B A,Bus V"
    data = [f"{at / 10},8.2{at % 7},{at % 5}.0,8.1{at % 5},{at % 3}.5,7.9{at % 7}" for at in range(60)]
    log = flight_log_of("twins.csv", rows([head, *data]))
    assert [column.words for column in log.columns] == [
        "time [s]", "pack 1 [V]", "amps 1 [A]", "pack 2 [V]", "amps 2 [A]", "bus [V]",
    ]  # fmt: skip


_HOSTILE = {
    "empty": b"", "blank": b"\n \n\t\n", "binary": bytes(range(256)) * 40,
    "one row": b"Time,Volts,Amps\n0,6,1\n",
    "words": b"this is a letter\nwith two lines\n" * 40,
    "nan": rows(["Time,Volts,Amps", *["nan,nan,nan"] * 60]),
    "infinite": rows(["Time,Volts,Amps", *["inf,-inf,1e999"] * 60]), "quotes": b'"' * 5000,
    "same time": rows(["Time,Volts,Amps", *["0,6,1"] * 60]), "zeros": b"\0" * 4000,
    "long line": b"1," * 400_000,
    "picture": b"\x89PNG\r\n\x1a\n" + bytes(range(256)) * 20,
    "falling": rows(["T,V,A", *(f"{-at},6,1" for at in range(60))]),
}  # fmt: skip


@all_cases("name", sorted(_HOSTILE))
def test_what_is_no_log_is_refused_in_one_sentence(name: str) -> None:
    with pytest.raises(BadInput) as refused:
        flight_log_of("strange.csv", _HOSTILE[name], 6.0)
    assert "strange.csv" in str(refused.value)
    assert len(str(refused.value)) < 600


def test_a_file_too_large_is_refused_before_it_is_read(tmp_path: Path) -> None:
    path = tmp_path / "huge.csv"
    with path.open("wb") as file:
        file.truncate(60_000_000)
    with pytest.raises(BadInput, match=r"huge\.csv is 60"):
        read_flight_log(path)
    with pytest.raises(BadInput, match="cannot be read"):
        read_flight_log(tmp_path / "none.csv")
