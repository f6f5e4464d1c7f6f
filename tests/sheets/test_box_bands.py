"""The bands that a typed reading is held against are the figures that the sheet prints."""

from __future__ import annotations

import math

import pytest

from hangar.answers.bench_bands import ReadingBand, bands_of, expected_case
from hangar.base.errors import BadInput
from hangar.base.units import IMPERIAL, SI_TRADE
from hangar.parts.choices import FailsafeAction
from hangar.parts.sheet_boxes import BENCH, FIELD, READ_BACK
from hangar.sheets import SheetStyle
from hangar.sheets.box_list import ListedRow, listed_boxes
from hangar.sheets.case import SheetCase
from tests.all_cases import all_cases
from tests.sheets.cases import crowded_case, demo_case, demo_cases, empty_case

STYLE = SheetStyle()


def rows_of(kind: str, case: SheetCase) -> list[ListedRow]:
    parts, _ = listed_boxes(kind, case, STYLE)
    return [row for part in parts for row in part.rows]


@all_cases("case", demo_cases)
def test_what_is_typed_is_held_against_what_is_printed_in_the_same_row(case: SheetCase) -> None:
    held = 0
    for kind, head, what in ((BENCH, "End limit", "End A"), (FIELD, "Not below", "Read")):
        after = expected_case(kind, case)
        for row in rows_of(kind, case):
            printed = next((str(put) for name, put in row.words if str(name) == head), None)
            for box in row.boxes:
                if box.what == what and printed not in (None, "____"):
                    (band,) = bands_of(kind, after, SI_TRADE, box.about, box.what)
                    value = float(printed.split()[0])
                    end = band.high if kind == BENCH else band.low
                    assert end == pytest.approx(value, rel=0.01)
                    held += 1
    assert held


def test_a_throw_may_differ_by_a_degree_or_two_millimetres() -> None:
    # By hand: 22 degrees at a chord of 78 mm go 2 x 78 x sin(11 deg) = 29.8 mm.
    case = demo_case("MARQ")
    (angle,) = bands_of(BENCH, case, SI_TRADE, "AIL-L", "Up deg")
    assert (angle.low, angle.high) == (21, 23)
    (length,) = bands_of(BENCH, case, SI_TRADE, "AIL-L", "Up mm")
    assert length.high == pytest.approx(2 * 78 * math.sin(math.radians(11)) + 2)
    assert length.holds("30")
    assert length.holds("3 cm")
    assert not length.holds("26,9 mm")


def test_free_play_is_held_against_its_limit_as_an_angle_or_as_a_length() -> None:
    # By hand: 1 degree at a chord of 78 mm is 78 x pi / 180 = 1.361 mm.
    length, angle = bands_of(BENCH, demo_case("MARQ"), SI_TRADE, "AIL-L", "Play")
    assert length.high == pytest.approx(1.3614, abs=1e-4)
    assert (length.holds("1.36"), length.holds("1.4 mm"), length.holds("0.05 in")) == (True, False, True)
    assert (angle.holds("1°"), angle.holds("1.01 deg")) == (True, False)
    with pytest.raises(BadInput):
        angle.holds("1")


def test_a_bare_number_is_in_the_unit_that_the_paper_names() -> None:
    (neutral,) = bands_of(BENCH, demo_case("MARQ"), IMPERIAL, "AIL-L", "Neutral")
    assert neutral.holds("9.5")
    length, _ = bands_of(BENCH, demo_case("MARQ"), IMPERIAL, "AIL-L", "Play")
    assert length.holds("0.05")
    assert not length.holds("0.06")


def test_a_band_says_in_words_what_it_allows() -> None:
    assert str(ReadingBand("mA", high=46).text) == "46 mA or less"
    assert str(ReadingBand("V", low=4.8).text) == "4.8 V or more"
    assert str(ReadingBand("mm", low=95, high=125).text) == "95 to 125 mm"
    assert str(ReadingBand(action=FailsafeAction.IDLE).text) == "idle"
    assert ReadingBand(action=FailsafeAction.IDLE).holds(" Idle ")
    assert ReadingBand(action=FailsafeAction.IDLE).holds("Leerlauf")


@pytest.mark.parametrize("case", [empty_case(), crowded_case()], ids=["empty", "crowded"])
@pytest.mark.parametrize("kind", READ_BACK)
def test_an_aircraft_with_nothing_or_too_much_in_it_has_its_boxes(kind: str, case: SheetCase) -> None:
    for row in rows_of(kind, case):
        for box in row.boxes:
            assert all(str(band.text) for band in bands_of(kind, case, SI_TRADE, box.about, box.what))


@pytest.mark.parametrize("kind", READ_BACK)
def test_every_box_of_a_sheet_that_is_read_back_has_a_name_of_its_own(kind: str) -> None:
    for case in demo_cases():
        names = [(box.about, box.what) for row in rows_of(kind, case) for box in row.boxes]
        assert len(names) == len(set(names))


def test_only_sheets_that_are_read_back_are_listed() -> None:
    with pytest.raises(BadInput, match="'passport' is not read back; allowed is field, bench, charging"):
        listed_boxes("passport", demo_case("MARQ"), STYLE)
