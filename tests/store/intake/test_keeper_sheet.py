"""Keepers' own sheets brought into a fleet, and again a year later."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from hangar.base.errors import BadInput
from hangar.parts import (
    Airframe,
    FieldOrigin,
    Installation,
    LoadTest,
    Pack,
    Position,
    Servo,
    ServoRating,
    ServoType,
    StockItem,
)
from hangar.parts.choices import AircraftClass, Drive, Function, PowerKind, Side
from hangar.store import BringInReport, Fleet, bring_in, check_file, take_out
from hangar.store.intake.account import State
from hangar.store.intake.mapping import answers_from
from tests.store.intake.small_ods import write_ods

TODAY = date(2026, 3, 14)
HEAD = "Modell;Kanal;Funktion;Servo;Art;Drehmoment (kgcm);Stellzeit;Volt;Eingebaut;Akku;Bemerkung"


def taken(
    folder: Path, *lines: str, name: str = "liste.csv", fleet: Fleet | None = None
) -> tuple[Fleet, BringInReport]:
    path = folder / name
    path.write_text("\n".join(lines), encoding="utf-8")
    fleet = fleet or Fleet.in_memory()
    return fleet, bring_in(fleet, [path], today=TODAY)


def state(report: BringInReport, text: str) -> State | None:
    assert report.account is not None
    return next(entry.state for entry in report.account.entries() if entry.cell.text == text)


def test_what_a_sheet_does_not_say_stays_unknown(tmp_path: Path) -> None:
    fleet, report = taken(tmp_path, "Modell;Kanal;Funktion;Servo", "Windrush;1;Querruder;Tessivar TE-20")
    airframe, servo_type = fleet.records(Airframe)[0], fleet.records(ServoType)[0]
    assert (airframe.aircraft_class, airframe.power) == (None, None)
    assert (servo_type.code, servo_type.maker, servo_type.drive) == ("TE-20", "Tessivar", None)
    assert fleet.records(Installation)[0].since_on.isoformat() == ""
    assert fleet.records(ServoRating) == ()
    assert report.is_open
    assert state(report, "Windrush") is State.DOUBTED


def test_a_day_is_kept_as_exact_as_the_sheet_has_it(tmp_path: Path) -> None:
    rows = (
        "Windrush;1;Querruder links;TE-20;dig;3,2;0,2;6;Mai 97;;",
        "Windrush;5;Querruder rechts;TE-20;dig;3,2;0,2;6;1997;;",
        "Windrush;2;Höhenruder;TE-20;dig;3,2;0,2;6;14.5.2021;;",
        "Windrush;4;Seitenruder;TE-20;dig;3,2;0,2;6;31.2.2021;;",
    )
    fleet, report = taken(tmp_path, HEAD, *rows)
    days = {
        installation.position: installation.since_on.isoformat()
        for installation in fleet.records(Installation)
    }
    assert days == {"AIL-L": "1997-05", "AIL-R": "1997", "ELE": "2021-05-14", "RUD": ""}
    assert state(report, "31.2.2021") is State.DOUBTED
    fleet.undo()
    assert fleet.records(Installation) == ()


def test_a_file_with_days_known_in_part_is_sound(tmp_path: Path) -> None:
    rows = ("Windrush;1;QR;TE-20;Mai 97", "Windrush;2;HR;TE-20;1997", "Windrush;4;SR;TE-20;")
    lines = ("Modell;Kanal;Funktion;Servo;Eingebaut", *rows)
    (tmp_path / "liste.csv").write_text("\n".join(lines), encoding="utf-8")
    with Fleet.create(tmp_path / "club.hangar") as fleet:
        bring_in(fleet, [tmp_path / "liste.csv"], today=TODAY)
        written = take_out(fleet, tmp_path / "tables")
        stays = fleet.records(Installation)
    assert check_file(tmp_path / "club.hangar").sound
    with Fleet.in_memory() as again:
        assert bring_in(again, [path.parent for path in written[:1]], today=TODAY).refused == ()
        assert again.records(Installation) == stays


def test_totals_notes_and_sold_aircraft_are_no_aircraft(tmp_path: Path) -> None:
    rows = (
        "Windrush;1;Querruder;TE-20;dig;3,2;0,2;6;1997;;",
        "VERKAUFT 2019:;;;;;;;;;;",
        "Marlet;1;Querruder;TE-20;dig;3,2;0,2;6;1997;;",
        "Summe;;;=ANZAHL2(D2:D4);;;;;;;",
    )
    fleet, report = taken(tmp_path, HEAD, *rows)
    assert [airframe.name for airframe in fleet.records(Airframe)] == ["Windrush"]
    assert state(report, "Marlet") is State.DOUBTED
    assert state(report, "=ANZAHL2(D2:D4)") is State.UNUSED


def test_a_count_makes_several_positions_whose_sides_are_asked(tmp_path: Path) -> None:
    rows = (
        "Windrush;1+5;4 Querruder;TE-20;dig;3,2;0,2;6;1997;;",
        "Windrush;4;3x SR;TE-20HV;dig;4,2;0,2;7,4;1997;;",
    )
    fleet, report = taken(tmp_path, HEAD, *rows)
    positions = fleet.records(Position)
    ailerons = [position for position in positions if position.function is Function.AILERON]
    assert sorted(str(aileron.channel) for aileron in ailerons) == ["1", "1", "5", "5"]
    assert {position.side for position in positions} == {None}
    assert state(report, "1+5") is state(report, "3x SR") is State.DOUBTED
    # Figures and suffix letters are never alike: the high-voltage variant is a type of its own.
    assert {servo_type.code for servo_type in fleet.records(ServoType)} == {"TE-20", "TE-20HV"}
    assert len(fleet.records(Servo)) == 7


def test_the_class_decides_what_rudder_means(tmp_path: Path) -> None:
    lines = (
        "Modell;Kanal;Funktion;Servo",
        "Rotor 30;1;Roll;TE-20",
        "Rotor 30;2;Nick;TE-20",
        "Rotor 30;4;Heck;TE-20",
        "Windrush;4;Seitenruder;TE-20",
    )
    fleet, _ = taken(tmp_path, *lines)
    assert [position.function for position in fleet.records(Position)] == [
        Function.CYCLIC,
        Function.CYCLIC,
        Function.TAIL,
        Function.RUDDER,
    ]


def test_a_bare_torque_is_asked_and_an_answer_settles_it(tmp_path: Path) -> None:
    lines = (
        "Model,Ch,Function,Servo,Torque,Volts",
        "Windrush,1,aileron,TE-20,25,6.0",
        "Windrush,2,elevator,TE-30,30,6.0",
    )
    fleet, report = taken(tmp_path, *lines)
    assert fleet.records(ServoRating) == ()
    assert state(report, "25") is State.DOUBTED
    answers = answers_from('torque_unit = "N·cm"\n[class]\n"Windrush" = "sport, glow"\n', "map.toml")
    with Fleet.in_memory() as other:
        bring_in_report = bring_in(
            other, [tmp_path / "liste.csv"], today=TODAY, answers=answers, answers_name="map.toml"
        )
        ratings = {rating.servo_type: rating.torque_nm for rating in other.records(ServoRating)}
        airframe = other.records(Airframe)[0]
    assert ratings == {"TE-20": pytest.approx(0.25), "TE-30": pytest.approx(0.30)}
    assert (airframe.aircraft_class, airframe.power) == (AircraftClass.SPORT, PowerKind.GLOW)
    assert not bring_in_report.is_open


def test_an_answer_that_fits_nothing_is_refused(tmp_path: Path) -> None:
    (tmp_path / "liste.csv").write_text(
        "Model,Ch,Function,Servo\nWindrush,1,aileron,TE-20\n", encoding="utf-8"
    )
    answers = answers_from('[columns]\n"Colour" = "notes"\n', "map.toml")
    with Fleet.in_memory() as fleet, pytest.raises(BadInput, match="names a column Colour"):
        bring_in(fleet, [tmp_path / "liste.csv"], today=TODAY, answers=answers, answers_name="map.toml")


def test_every_cell_is_accounted_for_in_one_state(tmp_path: Path) -> None:
    rows = ("Windrush;1;Querruder;TE-20;dig;3,2;0,2;6;1997;4S NiMH 2000;neu", "Grumpf;;;;;;;;;;")
    _, report = taken(tmp_path, "Meine Liste", HEAD, *rows)
    assert report.account is not None
    states = [entry.state for entry in report.account.entries()]
    filled = sum(bool(cell) for line in ("Meine Liste", HEAD, *rows) for cell in line.split(";"))
    assert len(states) == filled
    assert None not in states
    assert len(report.data()["cells"]) == filled  # type: ignore[arg-type]


def test_a_rehearsal_writes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "liste.csv"
    path.write_text("Model,Ch,Function,Servo\nWindrush,1,aileron,TE-20\n", encoding="utf-8")
    with Fleet.in_memory() as fleet:
        report = bring_in(fleet, [path], today=TODAY, dry_run=True)
        assert report.taken["airframe"] == 1
        assert fleet.records(Airframe) == ()


AGAIN = (
    "Model,Ch,Function,Servo,A/D,Fitted",
    "Windrush,1,L aileron,TE-20,A,9/23/2017",
    "Windrush,3,throttle,TE-20,A,9/23/2017",
    "Windrush,4,rudder,OS-44,D,4/5/2019",
    "Windrush,2,elevator,OS-44,D,4/5/2019",
)


def test_a_sheet_that_comes_again_changes_nothing(tmp_path: Path) -> None:
    fleet, _ = taken(tmp_path, *AGAIN)
    before = [fleet.records(kind) for kind in (Airframe, Position, Servo, Installation)]
    _, report = taken(tmp_path, *AGAIN, fleet=fleet)
    assert [fleet.records(kind) for kind in (Airframe, Position, Servo, Installation)] == before
    assert report.taken == {}
    assert report.changes == ()
    assert not report.is_empty


def test_a_sheet_that_comes_again_changed_is_taken_as_a_difference(tmp_path: Path) -> None:
    fleet, _ = taken(tmp_path, *AGAIN)
    later = [line for line in AGAIN if "elevator" not in line]
    later[2] = "Windrush,6,throttle,TE-20,A,9/23/2017"
    later[3] = "Windrush,4,rudder,BR-90,D,3/16/2024"
    _, report = taken(tmp_path, *later, fleet=fleet)
    positions = {position.function: position for position in fleet.records(Position)}
    assert positions[Function.THROTTLE].channel == 6
    assert Function.ELEVATOR in positions
    rudder = [installation for installation in fleet.records(Installation) if installation.position == "RUD"]
    assert sorted((stay.since_on.isoformat(), str(stay.until_on or "")) for stay in rudder) == [
        ("2019-04-05", "2024-03-16"), ("2024-03-16", ""),
    ]  # fmt: skip
    words = "\n".join(
        f"{change.record} {change.field} {change.was} {change.now}" for change in report.changes
    )
    assert "throttle middle channel 3 6" in words
    assert "elevator middle row" in words


def test_what_the_keeper_changed_in_the_fleet_is_asked_not_overwritten(tmp_path: Path) -> None:
    fleet, _ = taken(tmp_path, *AGAIN)
    code = fleet.records(Airframe)[0].code
    fleet.edit("Move", lambda edit: edit.swap_channels(code, "main", 3, 7))
    later = [line.replace(",3,throttle", ",6,throttle") for line in AGAIN]
    _, report = taken(tmp_path, *later, fleet=fleet)
    assert {position.function: position.channel for position in fleet.records(Position)}[
        Function.THROTTLE
    ] == 7
    assert state(report, "6") is State.DOUBTED


def test_a_battery_log_gives_packs_and_what_was_measured(tmp_path: Path) -> None:
    lines = (
        "Accu;Soort;Gekocht;Zit in;Getest op;Stroom [A];V rust;V belast",
        "A1;5 cellen NiMH 2000;maart 2018;Windrush;13-4-2019;2;6,71;6,33",
        "A1;;;;2-11-2019;2;6,64;6,70",
    )
    fleet, report = taken(tmp_path, *lines)
    pack = fleet.records(Pack)[0]
    assert (pack.tag, pack.bought_on and pack.bought_on.isoformat()) == ("A1", "2018-03")
    assert [load_test.loaded_v for load_test in fleet.records(LoadTest)] == [6.33]
    assert state(report, "6,70") is State.DOUBTED


def test_a_stock_list_gives_spares(tmp_path: Path) -> None:
    lines = (
        "Item No.,Description,Qty on hand,Location",
        "10,SERVO TESSIVAR TE-20 DIGITAL 3.2KG 4.8V 0.22S,5,A-01",
        "20,PACK LIFE 2S 2300MAH,3,B-01",
        "30,GLUE CA THIN 20G,6,D-01",
        ",TOTAL,14,",
    )
    fleet, _ = taken(tmp_path, *lines)
    assert {(stock_item.part_type, stock_item.on_hand) for stock_item in fleet.records(StockItem)} == {
        ("TE-20", 5.0),
        ("LiFePO4 2S 2300", 3.0),
    }
    kind = fleet.records(ServoType)[0]
    assert (kind.maker, kind.drive) == ("TESSIVAR", Drive.DIGITAL)


def test_an_open_document_is_read_like_a_text_file(tmp_path: Path) -> None:
    path = tmp_path / "lista.ods"
    write_ods(
        path,
        {
            "modelli": [
                ["Modello", "Canale", "Comando", "Servo"],
                ["Windrush", "1", "Alettone sx", "Tessivar TE-20"],
            ]
        },
    )
    with Fleet.in_memory() as fleet:
        bring_in(fleet, [path], today=TODAY)
        position = fleet.records(Position)[0]
    assert (position.function, position.side, position.channel) == (Function.AILERON, Side.LEFT, 1)


def test_doubted_fields_keep_the_cell_they_came_from(tmp_path: Path) -> None:
    fleet, _ = taken(tmp_path, "Model,Ch,Function,Servo", "Windrush,1,2x aileron,TE-20")
    origin = next(
        origin
        for origin in fleet.records(FieldOrigin)
        if origin.kind == "position" and origin.field == "function"
    )
    assert (origin.file, origin.row, origin.column, origin.text) == ("liste.csv", 2, 3, "2x aileron")
    assert origin.doubt is not None
