"""The field sheet of an aircraft that must not fly is no list to fly by; its front has every warning."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from hangar.answers.checklists import check_lines
from hangar.parts import Snag
from hangar.parts.choices import AircraftState, Severity
from hangar.rules.finding import Level
from hangar.rules.releasing import flight_hindrances
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.case import SheetCase
from tests.sheets.cases import TODAY, case_of, demo_case, demo_cases, empty_case, released, with_state
from tests.sheets.reading import text_of

IN_THE_AIR = ("spool-up", "hover", "first-flight", "after-flight", "arm-last")
CLEAN = ("CIND", "PERT", "NIM7", "SISK")


def pages_of(kind: str, case: SheetCase, tmp_path: Path, style: SheetStyle | None = None) -> list[str]:
    write_sheet(kind, [case], tmp_path / "sheet.pdf", style or SheetStyle())
    return text_of(tmp_path / "sheet.pdf")


def assert_no_list_to_fly_by(words: str) -> None:
    assert "RECTIFICATION CARD: must not fly" in words
    assert "This card cannot release the aircraft." in words
    assert "FIELD CHECKLIST" not in words
    assert "At the line" not in words
    assert "Released to fly" not in words
    assert "Snag at landing" not in words
    assert not any(line.say in words for line in check_lines() if line.id in IN_THE_AIR)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("fillable", [False, True])
def test_every_warning_of_every_aircraft_stands_on_the_front(
    paper: str, *, fillable: bool, tmp_path: Path
) -> None:
    for case in demo_cases():
        front = pages_of("field", case, tmp_path, SheetStyle(paper=paper, fillable=fillable))[0]
        for finding in case.findings:
            for each in finding.with_folded():
                assert each.level is not Level.WARNING or str(each.message) in front, (
                    case.aircraft.code,
                    each,
                )


def test_a_warning_that_is_accepted_stands_on_the_list_to_fly_by_with_its_reason(tmp_path: Path) -> None:
    warnings = [finding for finding in demo_case("CIND").findings if finding.level is Level.WARNING]
    accepted = [replace(warning, accepted_until=TODAY, accepted_because="seen") for warning in warnings]
    case = released(demo_case("CIND"))
    front = pages_of("field", case.judged(findings=(*accepted, *case.findings)), tmp_path)[0]
    assert "FIELD CHECKLIST" in front
    for warning in warnings:
        assert f"{warning.message} Accepted to {TODAY}. Accepted because: seen" in front


@pytest.mark.parametrize("code", CLEAN)
def test_a_held_aircraft_has_no_list_to_fly_by(code: str, tmp_path: Path) -> None:
    clean = released(demo_case(code))
    assert "FIELD CHECKLIST" in pages_of("field", clean, tmp_path)[0]
    held = with_state(clean, AircraftState.HELD, "spar cracked")
    words = " ".join(pages_of("field", held, tmp_path))
    assert_no_list_to_fly_by(words)
    assert "It is held: spar cracked." in words


def test_open_warnings_and_grounding_snags_hold_it_too(tmp_path: Path) -> None:
    clean = released(demo_case("CIND"))
    warned = clean.judged(findings=demo_case("CIND").findings)
    snag = Snag(aircraft="CIND", raised_on=TODAY, text="wing loose", severity=Severity.GROUNDS)
    snagged = clean.judged(replace(clean.survey, aircraft=replace(clean.aircraft, snags=(snag,))))
    for case in (warned, snagged, with_state(clean, AircraftState.WRITTEN_OFF)):
        assert_no_list_to_fly_by(" ".join(pages_of("field", case, tmp_path)))


def test_what_hinders_a_flight_is_one_function() -> None:
    clean = released(demo_case("CIND"))
    assert flight_hindrances(clean.aircraft, clean.findings) == ()
    held = with_state(clean, AircraftState.HELD, "spar cracked")
    hindrances = flight_hindrances(held.aircraft, demo_case("CIND").findings)
    assert [str(hindrance) for hindrance in hindrances] == ["held: spar cracked", "5 warnings are open"]


def test_the_bench_sheet_sends_nothing_back_on_the_line_while_a_warning_is_open(tmp_path: Path) -> None:
    for code in ("PERT", "CIND", "MER60", "ALB5"):
        words = " ".join(pages_of("bench", demo_case(code), tmp_path))
        assert "goes back on the line" not in words
        assert "It does not go back on the line yet" in words
    clean = released(demo_case("CIND"))
    assert "goes back on the line" in " ".join(pages_of("bench", clean, tmp_path))
    held = with_state(clean, AircraftState.HELD, "spar cracked")
    words = " ".join(pages_of("bench", held, tmp_path))
    assert "goes back on the line" not in words
    assert "It is held: spar cracked." in words


@pytest.mark.parametrize("kind", ["field", "bench", "build", "passport", "fleet"])
def test_an_aircraft_of_which_nothing_is_known_is_not_told_calmly(kind: str, tmp_path: Path) -> None:
    known = with_state(empty_case(), AircraftState.ON_THE_LINE)
    words = " ".join(pages_of(kind, known, tmp_path))
    assert (
        "no all-up mass, no pack, no servo, no kind of motor, no failsafe of the throttle on record" in words
    )
    assert "no motor" not in words
    assert "NOT JUDGED" in words
    assert "No open warnings on the data entered" not in words


def test_the_bench_sheet_of_an_aircraft_that_cannot_be_judged_releases_nothing(tmp_path: Path) -> None:
    words = " ".join(pages_of("bench", empty_case(), tmp_path))
    assert "goes back on the line" not in words
    assert "It cannot be judged: no all-up mass" in words


@pytest.mark.parametrize("kind", ["build", "passport", "fleet"])
def test_a_warning_folded_under_another_is_on_every_sheet_that_lists_findings(
    kind: str, tmp_path: Path
) -> None:
    words = " ".join(pages_of(kind, demo_case("PERT"), tmp_path))
    assert "The throttle's failsafe (channel 3) is set to hold; idle or off is wanted." in words


def test_a_motor_nobody_entered_may_be_any(tmp_path: Path) -> None:
    words = " ".join(pages_of("field", empty_case(), tmp_path))
    assert "Restrain the aircraft first." in words
    assert "Fuel vapour catches fire" in words
    assert "motor not known" in words


def test_a_pack_nobody_entered_may_be_a_lithium_pack(tmp_path: Path) -> None:
    words = " ".join(pages_of("field", empty_case(), tmp_path))
    assert "Lithium packs burn" in words
    assert "Nickel packs" in words


def test_one_path_without_a_pack_is_enough_for_every_caution(tmp_path: Path) -> None:
    case = demo_case("MER60")
    first, *others = case.aircraft.paths
    bare = replace(case.aircraft, paths=(replace(first, packs=()), *others))
    assert "Lithium packs burn" in " ".join(pages_of("field", case_of(bare), tmp_path))
