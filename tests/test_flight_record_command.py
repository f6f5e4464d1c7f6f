"""A flight log is read, kept with its aircraft, taken back, and never kept twice."""

from __future__ import annotations

import json
import random
from datetime import date
from pathlib import Path

import pytest

from hangar.answers.flight_logs import Course, course_of, events_of, packed, unpacked
from hangar.base.places import demo_fleet_dir
from hangar.commands.running import main
from hangar.parts import FlightLog, FlightLogPack, FlightLogTrace, Pack, PackFit
from hangar.parts.fields import key_of
from hangar.parts.flight_logs import TRACE_MOST
from hangar.store import Edit, Fleet, bring_in

AIRCRAFT = "DUNN"


@pytest.fixture
def place(tmp_path: Path) -> Path:
    """A file with the invented fleet."""
    path = tmp_path / "fleet.hangar"
    with Fleet.create(path) as fleet:
        bring_in(fleet, [demo_fleet_dir()])
    return path


@pytest.fixture
def log(tmp_path: Path) -> Path:
    """Five minutes of a flight whose headings nobody knows, with a wait of half a minute in it."""
    draw = random.Random(4)
    rows, amps = [], 0.3
    for at in range(3000):
        amps = 0.3 if draw.random() < 0.3 else max(0.3, amps + draw.uniform(-0.9, 1.0))
        volts = 5.3 - 0.0001 * at - 0.18 * amps + draw.gauss(0, 0.004)
        if not 1500 <= at < 1800:
            rows.append(f"{0.1 * at:.1f},{volts:.3f},{amps:.2f}")
    path = tmp_path / "sortie.csv"
    path.write_text("\n".join(["alpha,beta,gamma", *rows]), encoding="utf-8")
    return path


def kept(place: Path) -> tuple[tuple[FlightLog, ...], tuple[FlightLogTrace, ...]]:
    """The logs of the file and their courses."""
    with Fleet.open(place, read_only=True) as fleet:
        own = {"aircraft": AIRCRAFT}
        return fleet.records(FlightLog, **own), fleet.records(FlightLogTrace, **own)


def command(place: Path, log: Path, *words: str) -> list[str]:
    """The words of the command."""
    return ["flight-record", str(place), str(log), "--aircraft", AIRCRAFT, *words]


def test_nothing_is_written_without_being_asked(
    place: Path, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(command(place, log, "--json", "--below", "4.8")) == 1
    found = json.loads(capsys.readouterr().out)
    assert [one["kind"] for one in found["events"]] == ["gap"]
    assert found["path_mohm"]["low"] < 180.0 < found["path_mohm"]["high"]
    assert found["below"][0]["seconds"] > 0
    assert kept(place) == ((), ())


def test_a_log_is_kept_with_its_aircraft_and_taken_back(place: Path, log: Path) -> None:
    assert main(command(place, log, "--keep", "--pack-c", "12")) == 1
    (flight_log,), (trace,) = kept(place)
    assert (flight_log.aircraft, flight_log.number, flight_log.file_name, flight_log.pack_c) == (
        AIRCRAFT,
        1,
        "sortie.csv",
        12.0,
    )
    assert flight_log.minimum_v is not None
    assert [event.kind for event in events_of(flight_log)] == ["gap"]
    assert len(trace.trace) <= TRACE_MOST
    course = unpacked(trace.trace)
    assert course is not None
    assert min(volts for volts in course.low_v if volts is not None) == pytest.approx(
        flight_log.minimum_v, abs=0.001
    )
    highest = max(amps for amps in course.high_a if amps is not None)
    assert highest == pytest.approx(flight_log.peak_a, abs=0.01)
    with Fleet.open(place) as fleet:
        whole = fleet.aircraft(AIRCRAFT)
        assert [flight_log.file_name for flight_log in whole.flight_logs] == ["sortie.csv"]
        fleet.undo()
    assert kept(place) == ((), ())


def test_each_pack_gets_its_reading_and_takes_it_along(place: Path, log: Path) -> None:
    main(command(place, log, "--keep"))
    with Fleet.open(place) as fleet:
        (reading,) = fleet.records(FlightLogPack, aircraft=AIRCRAFT)
        assert reading.pack_mohm is not None
        assert reading.pack_low_mohm is not None
        assert reading.pack_high_mohm is not None
        assert reading.pack_low_mohm <= reading.pack_mohm <= reading.pack_high_mohm
        fed = next(
            pack
            for path in fleet.aircraft(AIRCRAFT).paths
            for pack in path.packs
            if pack.pack.tag == reading.pack
        )
        assert fed.flight_logs == (reading,)

        def remove(edit: Edit) -> None:
            for fit in edit.records(PackFit, pack=reading.pack):
                edit.remove(PackFit, key_of(fit))
            edit.remove(Pack, (reading.pack,))

        fleet.edit("Remove", remove)
        assert fleet.records(FlightLogPack, aircraft=AIRCRAFT) == ()
        assert len(fleet.records(FlightLog, aircraft=AIRCRAFT)) == 1


def test_the_same_file_is_not_kept_twice(place: Path, log: Path, capsys: pytest.CaptureFixture[str]) -> None:
    main(command(place, log, "--keep"))
    assert main(command(place, log, "--keep")) == 2
    assert "kept already" in capsys.readouterr().err
    assert len(kept(place)[0]) == 1


def test_what_columns_were_taken_for_is_remembered(
    place: Path, log: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(command(place, log, "--keep", "--json")) == 1
    first = json.loads(capsys.readouterr().out)
    assert any("beta" in doubt for doubt in first["doubts"])
    other = log.with_name("next.csv")
    other.write_text(log.read_text(encoding="utf-8").replace("0.30\n", "0.31\n"), encoding="utf-8")
    main(command(place, other, "--json"))
    second = json.loads(capsys.readouterr().out)
    assert second["columns"] == first["columns"]
    assert second["doubts"] == []


@pytest.mark.parametrize("words", [["--below", "0"], ["--below", "nan"], ["--pack-c", "300"]])
def test_impossible_words_are_refused(
    place: Path, log: Path, words: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(command(place, log, *words)) == 2
    assert "allowed" in capsys.readouterr().err


def test_a_file_that_is_no_log_is_told_and_ends_with_two(
    place: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = tmp_path / "letter.csv"
    wrong.write_text("Dear keeper,\nplease bring the trainer.\n", encoding="utf-8")
    assert main(command(place, wrong)) == 2
    assert "letter.csv" in capsys.readouterr().err


def test_a_damaged_course_is_no_course() -> None:
    course = Course((1.0, 2.0), (6.5, None), (None, 6.3), (0.2, 1.5))
    whole = packed(course)
    assert unpacked(whole) == course
    assert unpacked(whole[:-3]) is None
    assert unpacked("") is None
    assert unpacked("~~~") is None


def test_the_day_is_the_loggers_own_or_today(place: Path, log: Path) -> None:
    dated = log.with_name("dated.csv")
    rows = [f"2026-03-0{4}T10:{at // 60:02d}:{at % 60:02d},5.{at % 9},{at % 5}.0" for at in range(300)]
    dated.write_text("\n".join(["Time,Volts,Amps", *rows]), encoding="utf-8")
    main(command(place, dated, "--keep"))
    assert [flight_log.flown_on for flight_log in kept(place)[0]] == [date(2026, 3, 4)]


def test_a_course_keeps_every_minimum_and_peak(place: Path, log: Path) -> None:
    from hangar.acts.flight_record import read_log
    from hangar.survey import Conditions, survey

    with Fleet.open(place, read_only=True) as fleet:
        read = read_log(log, survey(fleet.aircraft(AIRCRAFT), Conditions()))
    for points in (600, 40):
        course = course_of(read, points)
        assert len(course.until_s) <= points
        assert min(volts for volts in course.low_v if volts is not None) == read.report.minimum_v
        assert max(amps for amps in course.high_a if amps is not None) == read.report.peak_a
