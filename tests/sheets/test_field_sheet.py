"""The field checklist: one page, the aircraft's own figures, and held or not released in words."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from hangar.answers.checklists import check_lines, lines_for
from hangar.answers.checklists import test_load_a as load_of
from hangar.base.text import fixed
from hangar.parts import Setting, Snag
from hangar.parts.choices import AircraftState, Severity
from hangar.rules import Thresholds
from hangar.rules.finding import Level
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.case import SheetCase, revision
from hangar.sheets.step_rows import STEP_PT
from hangar.sheets.style import MM
from hangar.sheets.wrapping import BODY, BOLD, register_fonts, width_of_mm
from hangar.survey.packs import load_test_lines
from tests.sheets.cases import (
    TODAY,
    case_of,
    crowded_case,
    demo_case,
    demo_cases,
    empty_case,
    released,
    with_state,
)
from tests.sheets.reading import drawn_bounds, text_boxes, text_of


def words_of(kind: str, case: SheetCase, tmp_path: Path, style: SheetStyle | None = None) -> str:
    write_sheet(kind, [case], tmp_path / "sheet.pdf", style or SheetStyle())
    return " ".join(text_of(tmp_path / "sheet.pdf"))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_card_is_three_pages_at_most_and_every_page_says_whose_it_is(paper: str, tmp_path: Path) -> None:
    for case in map(released, demo_cases(field_day=True)):
        write_sheet("field", [case], tmp_path / "field.pdf", SheetStyle(paper=paper))
        pages = text_of(tmp_path / "field.pdf")
        assert len(pages) <= 3
        assert all(f"({case.aircraft.code})" in page for page in pages)


def test_print_is_large_enough_and_nothing_is_shrunk_to_fit(tmp_path: Path) -> None:
    # NASA CR 177605 asks for an x height of 0.10 inch, 2.54 mm; lower case of these letters is 0.547 of the
    # size (its OS/2 table), so that steps must be 13.2 pt or more.
    for code in ("MARQ", "NIM7", "PERT"):
        case = released(demo_case(code))
        write_sheet("field", [case], tmp_path / "field.pdf", SheetStyle())
        boxes = text_boxes(tmp_path / "field.pdf")
        for line in lines_for(case.aircraft):
            first = line.say.split()[0]
            sizes = {box.size_pt for box in boxes if box.text.startswith(first) and box.left < 40}
            assert max(sizes) * 0.547 / MM >= 2.54, line.say
        listed = {box.text: box.size_pt for box in boxes if "throttle" in box.text}
        assert min(listed.values()) >= 11.0


def test_a_line_of_the_list_fits_its_line_in_every_language() -> None:
    register_fonts()
    for language in ("en", "de"):
        put = SheetStyle(language=language).put
        for line in check_lines():
            assert width_of_mm(put(fixed(line.say)), BODY, STEP_PT) <= 62.5, (language, line.say)
            assert width_of_mm(put(fixed(line.need)), BOLD, STEP_PT) <= 99.5, (language, line.need)
            assert line.need.lower() not in ("checked", "set", "ok", "fine", "good")


def test_boxes_are_six_millimetres_and_a_caution_stands_before_its_step(tmp_path: Path) -> None:
    write_sheet("field", [released(demo_case("PERT"))], tmp_path / "field.pdf", SheetStyle())
    squares = [
        (right - left, top - bottom)
        for _, left, bottom, right, top in drawn_bounds(tmp_path / "field.pdf")
        if 5.0 < right - left < 8.0 and 5.0 < top - bottom < 8.0
    ]
    assert len(squares) > 40
    assert all(min(square) >= 6.0 for square in squares)
    words = " ".join(words_of("field", released(demo_case("PERT")), tmp_path).split())
    fire, step = words.index("Fire: extinguisher open"), words.index("Fire extinguisher")
    assert fire < step < words.index("Tail; people; nose")
    assert words.index("Prove the failsafe with the engine") < words.index("Transmitter off: every output")


def test_each_of_a_pair_is_told_its_own_way(tmp_path: Path) -> None:
    words = " ".join(words_of("field", released(demo_case("DUNN")), tmp_path).split())
    assert "rolling right" not in words, "one servo for both ailerons has no side"
    words = " ".join(words_of("field", released(demo_case("CIND")), tmp_path).split())
    left, right = words.index("left aileron,"), words.index("right aileron,")
    assert left < words.index("rolling right: this one down") < right < words.index("this one up", right)


def test_a_figure_beyond_its_limit_says_so(tmp_path: Path) -> None:
    # Siskarel's play was last read at 0.9 degrees; a fast sailplane may have 0.5.
    words = " ".join(words_of("field", released(demo_case("SISK")), tmp_path).split())
    assert "0.5° or less" in words
    assert "was 0.9° OUT" in words
    frame = replace(demo_case("MARQ").aircraft.airframe, cg_measured_mm=131.0)
    aircraft = replace(demo_case("MARQ").aircraft, airframe=frame)
    words = " ".join(words_of("field", released(case_of(aircraft)), tmp_path).split())
    assert "95 to 125 mm" in words
    assert "was 131 mm OUT" in words


def test_the_list_follows_the_work_from_home_to_after_the_flight(tmp_path: Path) -> None:
    for code in ("DUNN", "NIM7", "MARQ"):
        words = " ".join(words_of("field", released(demo_case(code)), tmp_path).split())
        order = [words.index(head) for head in (
            "Home the evening before", "Home complete", "Pits nothing switched on; motor made safe",
            "Pits complete", "Power on motor still made safe", "Every control, each way",
            "Power on complete", "At the line motor armed here", "Released to fly on this day",
            "After after each flight", "Snag at landing", "Stick: answer",
        )]  # fmt: skip
        assert order == sorted(order), code


@pytest.mark.parametrize("kind", ["field", "bench", "build", "passport", "fleet"])
def test_held_and_not_released_stand_there_when_they_must_and_only_then(kind: str, tmp_path: Path) -> None:
    clean = released(demo_case("MARQ"))
    words = words_of(kind, clean, tmp_path)
    assert "HELD" not in words
    assert "NOT RELEASED" not in words
    held = with_state(clean, AircraftState.HELD, "spar cracked")
    assert "HELD: spar cracked" in words_of(kind, held, tmp_path)
    assert "HELD: reason not written down" in words_of(kind, with_state(clean, AircraftState.HELD), tmp_path)
    warned = clean.judged(findings=demo_case("MARQ").findings)
    count = sum(finding.level is Level.WARNING and finding.is_open for finding in warned.findings)
    assert f"NOT RELEASED: {count} warnings are open" in words_of(kind, warned, tmp_path)
    benched = with_state(clean, AircraftState.ON_THE_BENCH, "back from a refit")
    assert "NOT RELEASED: on the bench (back from a refit)" in words_of(kind, benched, tmp_path)
    snag = Snag(aircraft="MARQ", raised_on=TODAY, text="left flap slow", severity=Severity.GROUNDS)
    snagged = clean.judged(replace(clean.survey, aircraft=replace(clean.aircraft, snags=(snag,))))
    assert "NOT RELEASED: open snag: left flap slow" in words_of(kind, snagged, tmp_path)


def test_accepted_warnings_do_not_hold_the_release_back_but_are_told(tmp_path: Path) -> None:
    case = released(demo_case("CIND"))
    warning = next(finding for finding in demo_case("CIND").findings if finding.level is Level.WARNING)
    accepted = replace(warning, accepted_until=TODAY, accepted_because="seen on the bench")
    case = case.judged(findings=(accepted, *case.findings))
    words = words_of("field", case, tmp_path)
    assert "NOT RELEASED" not in words
    assert "1 accepted in writing" in words
    build = words_of("build", case, tmp_path)
    assert f"accepted to {TODAY}" in build
    assert "Accepted because: seen on the bench" in build
    assert "Accepted to" in words_of("fleet", case, tmp_path)


def test_each_pack_has_its_least_loaded_volts_beside_a_blank(tmp_path: Path) -> None:
    # LiPo field minimum 3.80 V a cell (common practice, no source): two cells, 7.6 V under 1 A when new.
    case = demo_case("PERT")
    fed = next(fed for _, fed in case.tested_packs if fed.pack.tag == "B038")
    load_a = load_of(case.aircraft.airframe.aircraft_class, case.thresholds)
    least_v = load_test_lines(fed, load_a, case.survey.conditions).least_v
    assert 7.4 < least_v < 7.6
    words = words_of("field", demo_case("PERT"), tmp_path)
    assert "B038 under 5 A, 10 s" in words
    assert "LiPo 2 cells, 2600 mAh, receiver" in words
    assert f"{least_v:.3g} V or more" in words
    assert "Each receiver pack by itself" in words


def test_a_throttle_without_a_servo_is_proved_like_every_output(tmp_path: Path) -> None:
    for code in ("PERT", "NIM7"):
        assert "throttle, no servo" in words_of("field", demo_case(code), tmp_path)
        assert "throttle, no servo" in words_of("bench", demo_case(code), tmp_path)


def test_what_nobody_knows_is_a_blank_and_never_a_zero(tmp_path: Path) -> None:
    for kind in ("field", "bench", "passport"):
        words = words_of(kind, empty_case(), tmp_path)
        assert "all-up mass ______" in words
        assert " 0 V" not in words
        assert " 0 g" not in words
        assert " 0 A" not in words
    assert "not on record: find it" in words_of("field", empty_case(), tmp_path)


def test_an_aircraft_with_too_much_for_a_page_goes_on_with_its_name(tmp_path: Path) -> None:
    write_sheet("field", [crowded_case()], tmp_path / "field.pdf", SheetStyle())
    pages = text_of(tmp_path / "field.pdf")
    assert len(pages) > 1
    assert all(f"page {number}" in page for number, page in enumerate(pages[1:], start=2))
    letters = re.sub(r"[^0-9A-Z]", "", "".join(pages))
    assert all(f"SERVO{number:04d}" in letters for number in range(1, 25))
    assert "15 things cannot be judged" in " ".join(pages)
    assert all(f"Finding {number:02d}" in pages[0] for number in range(15))


def test_the_build_sheet_prints_all_sixty_findings(tmp_path: Path) -> None:
    words = words_of("build", crowded_case(), tmp_path)
    assert all(f"Finding {number:02d}" in words for number in range(60))


def test_cautions_are_those_of_class_power_and_chemistry(tmp_path: Path) -> None:
    heli = words_of("field", demo_case("MER60"), tmp_path)
    assert "Turning blades maim" in heli
    assert "Nickel packs" in heli
    assert "Lithium packs burn" not in heli
    jet = words_of("field", demo_case("PERT"), tmp_path)
    assert "extinguisher open and in hand, no dry grass" in jet
    assert "Lithium packs burn" in jet
    assert "Turning blades" not in jet
    assert "Restrain the aircraft" in words_of("bench", demo_case("MARQ"), tmp_path)


def test_the_revision_changes_with_the_records_and_not_with_the_day_of_reading() -> None:
    aircraft = demo_case("MARQ").aircraft
    frame = replace(aircraft.airframe, all_up_mass_g=15300.0)
    assert revision(aircraft) == revision(replace(aircraft, read_on=TODAY.replace(year=2000)))
    assert revision(aircraft) != revision(replace(aircraft, airframe=frame))


def test_packs_are_tested_at_the_load_the_keeper_set(tmp_path: Path) -> None:
    case = demo_case("MARQ")
    assert re.search(r"\b2 A\b", words_of("field", case, tmp_path))
    own = Thresholds.from_settings([Setting(name="threshold.test-load", value="3.3")])
    words = words_of("field", replace(case, thresholds=own), tmp_path)
    assert words.count("3.3 A") == len(case.tested_packs)


def test_a_helicopter_is_asked_for_its_rotor_and_canopy_not_for_speed_and_wings(tmp_path: Path) -> None:
    heli = words_of("field", released(demo_case("NIM7")), tmp_path)
    assert "Rotor speed, highest" in heli
    assert "rpm" in heli
    assert "Frame, canopy" in heli
    assert "Greatest speed" not in heli
    assert "ing joiner" not in heli
    glider = words_of("field", released(demo_case("SISK")), tmp_path)
    assert "Greatest speed" in glider
    assert "Wing joiner" in glider


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ("CIND", "3D aerobatic aeroplane, petrol"),
        ("NIM7", "Helicopter, electric ·"),
        ("PERT", "Turbine jet ·"),
        ("SISK", "Fast sailplane, no motor"),
    ],
)
def test_class_and_power_stand_there_in_words_and_once(code: str, words: str, tmp_path: Path) -> None:
    assert words in words_of("field", demo_case(code), tmp_path)


@pytest.mark.parametrize("kind", ["field", "bench", "build", "passport", "working"])
def test_every_page_says_whose_it_is_of_which_records_and_whether_it_may_fly(
    kind: str, tmp_path: Path
) -> None:
    for case in (demo_case("PERT"), demo_case("DUNN")):
        write_sheet(kind, [case], tmp_path / "a.pdf", SheetStyle())
        pages = [" ".join(page.split()) for page in text_of(tmp_path / "a.pdf")]
        for number, page in enumerate(pages, start=1):
            assert f"page {number} of {len(pages)}" in page
            assert case.aircraft.code in page
            assert f"revision {case.revision}" in page
            assert ("NOT RELEASED" in page) == (case.aircraft.code == "PERT")
