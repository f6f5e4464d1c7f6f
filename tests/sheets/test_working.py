"""The working: every figure with its value, formula, inputs and source, however few pages it takes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader

from hangar.base.errors import BadInput
from hangar.base.figure import Figure, Input
from hangar.base.text import Text, text
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.case import SheetCase
from hangar.sheets.working_blocks import Block, blocks_of, given_in, numbered, value_key
from hangar.survey import Scenario
from tests.all_cases import all_cases
from tests.sheets.cases import crowded_case, demo_case, demo_cases, empty_case
from tests.sheets.reading import text_of

STYLE = SheetStyle()


def every_case() -> list[SheetCase]:
    return [*demo_cases(), crowded_case()]


def bare(words: str) -> str:
    return re.sub(r"\s", "", words)


def number_words(style: SheetStyle, value: float | Text, unit: str) -> str:
    if isinstance(value, Text):
        return str(value)
    try:
        found = re.match(r"[-+−]?[\d.,]+(e[-+]?\d+)?", style.units.show(value, unit))
        assert found
        return found[0]
    except BadInput:
        return f"{value:g}"


def printed_figures(blocks: list[Block]) -> Iterator[tuple[Block, str, Figure]]:
    for block in blocks:
        for formula in block.formulas:
            for line in formula.lines.values():
                for column, figure in line.figures.items():
                    yield block, column, figure


@all_cases("case", every_case)
def test_no_figure_of_a_survey_is_left_out_or_changed(case: SheetCase) -> None:
    survey = case.survey
    blocks = blocks_of(survey)
    printed = [(column, figure) for _, column, figure in printed_figures(blocks)]
    for code, position in survey.positions.items():
        assert [each for each in position.figures() if (code, each[1]) not in printed] == []
    for scenario, found in survey.scenarios.items():
        assert [each for each in found.figures() if (str(scenario), each[1]) not in printed] == []
    figures = [figure for _, figure in printed]
    assert [each for each in survey.supply.figures() if each[1] not in figures] == []
    assert [each for each in survey.airframe.figures() if each[1] not in figures] == []


@all_cases("case", every_case)
def test_every_input_of_every_figure_is_given_or_is_a_numbered_figure(case: SheetCase) -> None:
    blocks = blocks_of(case.survey)
    elsewhere = numbered(blocks)
    count = 0
    for block in blocks:
        given = given_in(block, elsewhere)
        for formula in block.formulas:
            for line in formula.lines.values():
                for column, figure in line.figures.items():
                    for each in figure.working.inputs:
                        count += 1
                        assert (column, value_key(each)) in elsewhere or any(
                            one.name == each.name
                            and one.unit == each.unit
                            and formula.number in one.of
                            and one.values.get(column) == each
                            for one in given
                        ), (block.title, column, figure.name, each)
    assert count > 200


@pytest.mark.parametrize("code", ["DUNN", "PERT", "MER60"])
def test_the_pages_show_each_value_formula_source_and_input(code: str, tmp_path: Path) -> None:
    case = demo_case(code)
    write_sheet("working", [case], tmp_path / "working.pdf", STYLE)
    words = bare(" ".join(text_of(tmp_path / "working.pdf")))
    for _, _, figure in printed_figures(blocks_of(case.survey)):
        working = figure.working
        formula = str(working.formula).partition("; case: ")[0]
        wanted = [
            formula,
            str(working.source) or "no source given",
            number_words(STYLE, figure.expected, figure.unit),
        ]
        wanted += [str(each.name) for each in working.inputs]
        wanted += [number_words(STYLE, each.value, each.unit) for each in working.inputs]
        # A word may go on behind the heads of the next page, so long words are looked for by their begin.
        for each in wanted:
            assert bare(each)[:30] in words, (figure.name, each)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_an_aircraft_of_up_to_ten_servos_takes_eight_pages_at_the_most(paper: str, tmp_path: Path) -> None:
    for case in demo_cases():
        assert len(case.aircraft.fits) <= 10
        write_sheet("working", [case], tmp_path / "working.pdf", SheetStyle(paper=paper))
        assert len(PdfReader(tmp_path / "working.pdf").pages) <= 8, case.aircraft.code


def test_the_contents_and_the_bookmarks_lead_to_the_page_of_their_subject(tmp_path: Path) -> None:
    out = tmp_path / "working.pdf"
    write_sheet("working", [demo_case("MARQ")], out, STYLE)
    reader, pages = PdfReader(out), text_of(out)
    (inner,) = [entry for entry in reader.outline if isinstance(entry, list)]
    assert len(inner) >= 8
    for entry in inner:
        number = reader.get_destination_page_number(entry)  # type: ignore[arg-type]
        title = str(entry["/Title"])  # type: ignore[call-overload]
        assert number is not None
        assert title in pages[number]
        assert f"{title} page {number + 1}" in pages[0]


def test_a_figure_that_lacks_data_is_a_box_and_what_it_lacks_is_named(tmp_path: Path) -> None:
    case = demo_case("MARQ")
    position = next(each for each in case.survey.positions.values() if each.load_nm)
    bare_position = replace(position, load_nm=None, missing=(text("surface X: whole chord"),))
    positions = {**case.survey.positions, position.code: bare_position}
    survey = replace(case.survey, positions=positions)
    block = next(each for each in blocks_of(survey) if str(each.title).startswith("Load"))
    assert (position.code, "load_nm") in block.unknown
    write_sheet("working", [replace(case, survey=survey)], tmp_path / "working.pdf", STYLE)
    assert f"{position.code}: surface X: whole chord" in " ".join(text_of(tmp_path / "working.pdf"))


def test_one_value_for_all_is_given_once_and_differing_ones_apart() -> None:
    block = next(
        each for each in blocks_of(demo_case("MARQ").survey) if str(each.title).startswith("Supply, load")
    )
    given = {str(one.name): one for one in given_in(block, {})}
    charge = {each.value for each in given["charge left in the packs"].values.values()}
    assert len(charge) == 1
    temperatures = given["pack temperature"].values
    assert temperatures[str(Scenario.COLD)].value != temperatures[str(Scenario.PEAK)].value
    assert isinstance(temperatures[str(Scenario.PEAK)], Input)


def test_an_empty_aircraft_says_that_nothing_could_be_computed(tmp_path: Path) -> None:
    write_sheet("working", [empty_case()], tmp_path / "working.pdf", STYLE)
    words = " ".join(text_of(tmp_path / "working.pdf"))
    assert "No figure could be computed." in words
    assert "Not known, so not computed" in words
