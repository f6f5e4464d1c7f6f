"""Names in any script: printed as they are where the fonts have the signs, never as a silent empty box."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from hangar.sheets import SHEETS, SheetStyle, write_sheet
from hangar.sheets.case import SheetCase
from hangar.sheets.wrapping import NO_GLYPH, printable, register_fonts
from tests.sheets.cases import case_of, demo_case

SPOKEN = "Ανεμόπτερο Жаворонок Żółw łąka"


def named(name: str) -> SheetCase:
    aircraft = demo_case("MARQ").aircraft
    fits = tuple(replace(fit, position=replace(fit.position, name=name)) for fit in aircraft.fits)
    return case_of(replace(aircraft, airframe=replace(aircraft.airframe, name=name), fits=fits))


def words(kind: str, case: SheetCase, out: Path) -> str:
    write_sheet(kind, [case], out, SheetStyle())
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(out).pages)


@pytest.mark.parametrize("kind", SHEETS)
def test_greek_cyrillic_and_polish_names_are_printed_as_they_are(kind: str, tmp_path: Path) -> None:
    wording = words(kind, named(SPOKEN), tmp_path / "x.pdf")
    assert NO_GLYPH not in wording
    if kind not in ("cuts", "labels", "charging", "shopping"):
        assert "Ανεμόπτερο" in wording


@pytest.mark.parametrize("kind", ["field", "bench", "build", "passport"])
def test_a_sign_that_the_fonts_do_not_have_is_said_to_be_missing(kind: str, tmp_path: Path) -> None:
    wording = words(kind, named("Pelican \N{HELICOPTER}\N{CJK UNIFIED IDEOGRAPH-98DB}"), tmp_path / "x.pdf")
    assert f"Pelican {NO_GLYPH}{NO_GLYPH}" in wording
    assert f"{NO_GLYPH}: a sign that the letters of this sheet do not have." in wording


def test_signs_that_only_shape_the_one_before_are_no_signs_of_their_own() -> None:
    register_fonts()
    assert printable("\N{AIRPLANE}\N{VARIATION SELECTOR-16}") == "\N{AIRPLANE}"
