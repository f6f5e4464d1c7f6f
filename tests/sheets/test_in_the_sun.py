"""What a sheet must be to be trusted on the field: who may fly, from which records, black and thick."""

from __future__ import annotations

import re
from functools import cache
from pathlib import Path
from typing import Any

import pypdfium2
import pypdfium2.raw as raw
import pytest

from hangar.parts.choices import AircraftState
from hangar.sheets import SHEETS, SheetStyle, write_sheet
from hangar.sheets.case import SheetCase, revision
from hangar.sheets.texts import cautions, footer
from tests.sheets.cases import TODAY, crowded_case, demo_case, demo_cases, empty_case, released, with_state
from tests.sheets.reading import text_boxes, text_of

SPEAKING = [kind for kind in SHEETS if kind != "labels"]
WHOLE_FLEET = [kind for kind in SPEAKING if SHEETS[kind].drawer.whole_fleet]
PAPERS = ["A4", "Letter"]
LEAST_TEXT_PT, LEAST_CONTRAST = 9.0, 4.5
"""Contrast: Web Content Accessibility Guidelines 2.1, success criterion 1.4.3."""


@cache
def cases() -> tuple[SheetCase, ...]:
    return demo_case("MARQ"), demo_case("MER60"), crowded_case(), empty_case()


def words_of(kind: str, cases: list[SheetCase], out: Path) -> str:
    write_sheet(kind, cases, out, SheetStyle())
    return " ".join(text_of(out))


@pytest.mark.parametrize("kind", SPEAKING)
def test_every_kind_says_held_and_not_released_when_it_is_so_and_only_then(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    clean = released(demo_case("CIND"))
    words = words_of(kind, [clean], out)
    assert "HELD" not in words
    assert "NOT RELEASED" not in words
    assert "HELD: spar cracked" in words_of(
        kind, [with_state(clean, AircraftState.HELD, "spar cracked")], out
    )
    warned = clean.judged(findings=demo_case("MARQ").findings)
    assert re.search(r"NOT RELEASED: \d+ warnings are open", words_of(kind, [warned], out))


@pytest.mark.parametrize("kind", WHOLE_FLEET)
def test_a_sheet_over_several_aircraft_says_which_are_not_released(kind: str, tmp_path: Path) -> None:
    warned = released(demo_case("CIND")).judged(findings=demo_case("MARQ").findings)
    words = words_of(kind, [released(demo_case("MARQ")), warned], tmp_path / "sheet.pdf")
    assert re.search(r"NOT RELEASED: CIND \(\d+ warnings are open\)|CIND NOT RELEASED: ", words)
    assert "MARQ NOT RELEASED" not in words
    assert "NOT RELEASED: MARQ" not in words


@pytest.mark.parametrize("kind", SPEAKING)
def test_every_kind_names_its_records_its_day_and_who_governs(kind: str, tmp_path: Path) -> None:
    words = words_of(kind, [demo_case("MARQ")], tmp_path / "sheet.pdf")
    assert f"printed {TODAY}" in words
    assert revision(demo_case("MARQ").aircraft) in words
    assert footer() in words


EVERYWHERE = {"failsafe", "law"}
FIELD_CAUTIONS = {
    "ALB5": {"lithium", "nickel"},
    "CIND": {"propeller", "lithium", "fuel"},
    "DUNN": {"propeller", "nickel", "fuel"},
    "MARQ": {"propeller", "nickel", "fuel"},
    "MER60": {"rotor", "nickel", "fuel"},
    "NIM7": {"rotor", "lithium"},
    "PERT": {"lithium", "turbine", "fuel"},
    "SISK": {"lithium"},
}


@pytest.mark.parametrize("code", FIELD_CAUTIONS)
def test_the_field_sheet_carries_the_cautions_of_its_class_power_and_packs(code: str, tmp_path: Path) -> None:
    words = words_of("field", [demo_case(code)], tmp_path / "sheet.pdf")
    carried = {caution.code for caution in cautions() if caution.text in words}
    assert carried == FIELD_CAUTIONS[code] | EVERYWHERE


def luminance(red: int, green: int, blue: int) -> float:
    def linear(part: int) -> float:
        share = part / 255
        return share / 12.92 if share <= 0.04045 else ((share + 0.055) / 1.055) ** 2.4

    return 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue)


def fill_of(thing: Any) -> float:
    parts = [raw.c_uint() for _ in range(4)]
    assert raw.FPDFPageObj_GetFillColor(thing, *parts)
    return luminance(*(part.value for part in parts[:3]))


@pytest.mark.parametrize("kind", SHEETS)
def test_every_word_keeps_the_contrast_of_print_against_what_lies_under_it(kind: str, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    write_sheet(kind, cases()[:2], out, SheetStyle())
    document = pypdfium2.PdfDocument(out)
    count = 0
    for page in document:
        filled: list[tuple[tuple[float, ...], float]] = []
        for thing in page.get_objects():
            if thing.type == raw.FPDF_PAGEOBJ_PATH:
                mode, stroke = raw.c_int(), raw.c_int()
                raw.FPDFPath_GetDrawMode(thing, mode, stroke)
                if mode.value:
                    filled.append((thing.get_bounds(), fill_of(thing)))
            elif thing.type == raw.FPDF_PAGEOBJ_TEXT:
                count += 1
                left, bottom, right, top = thing.get_bounds()
                x, y = (left + right) / 2, (bottom + top) / 2
                under = [shade for box, shade in filled if box[0] < x < box[2] and box[1] < y < box[3]]
                bright, dark = sorted((under[-1] if under else 1.0, fill_of(thing)), reverse=True)
                assert (bright + 0.05) / (dark + 0.05) >= LEAST_CONTRAST
    document.close()
    assert count > 20


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("fillable", [False, True])
def test_the_field_checklist_has_no_letters_under_nine_points(
    paper: str, *, fillable: bool, tmp_path: Path
) -> None:
    out = tmp_path / "field.pdf"
    style = SheetStyle(paper=paper, fillable=fillable)
    write_sheet("field", [*demo_cases(), crowded_case()], out, style)
    assert min(box.size_pt for box in text_boxes(out)) >= LEAST_TEXT_PT


def test_lengths_and_masses_stand_in_both_units(tmp_path: Path) -> None:
    words = words_of("field", [released(demo_case("MARQ"))], tmp_path / "sheet.pdf")
    # 95 mm / 25.4 = 3.740 in, 125 mm = 4.921 in; 15.2 kg / 0.45359237 = 33.51 lb (NIST SP 811).
    assert "95 to 125 mm (3.74 to 4.921 in)" in words
    assert "15.2 kg (33.51 lb)" in words
    # 1 N m = 10.197 kgf cm = 141.61 ozf in (NIST SP 811).
    build = words_of("build", [demo_case("MARQ")], tmp_path / "sheet.pdf")
    assert "1 N·m = 10.2 kgf·cm = 141.6 ozf·in; 25.4 mm = 1 in." in build


def test_torque_and_balance_stand_in_both_units_where_the_page_has_room(tmp_path: Path) -> None:
    field = words_of("field", list(map(released, demo_cases())), tmp_path / "field.pdf")
    ranges = re.findall(r"([\d.]+) to [\d.]+ mm \(([\d.]+) to [\d.]+ in\)", field)
    assert ranges
    # 1 in = 25.4 mm (NIST SP 811); inches are rounded to four figures.
    for millimetres, inches in ranges:
        assert float(millimetres) == pytest.approx(float(inches) * 25.4, rel=0.001)
    build = words_of("build", [demo_case("MARQ")], tmp_path / "build.pdf")
    pairs = re.findall(r"([\d.]+) N·m \(([\d.]+) kgf·cm\)", build)
    assert pairs
    # 1 kgf = 9.80665 N (NIST SP 811); either number is rounded to four figures at the most.
    for newton_metres, kilogram_centimetres in pairs:
        assert float(newton_metres) == pytest.approx(float(kilogram_centimetres) * 0.0980665, rel=0.01)
