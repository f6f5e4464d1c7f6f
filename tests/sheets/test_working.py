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
        match = re.match(r"[-+−]?[\d.,]+(e[-+]?\d+)?", style.units.show(value, unit))
        assert match
        return match[0]
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
        assert [figure for figure in position.figures() if (code, figure[1]) not in printed] == []
    for scenario, scenario_survey in survey.scenarios.items():
        assert [
            figure for figure in scenario_survey.figures() if (str(scenario), figure[1]) not in printed
        ] == []
    figures = [figure for _, figure in printed]
    assert [figure for figure in survey.supply.figures() if figure[1] not in figures] == []
    assert [figure for figure in survey.airframe.figures() if figure[1] not in figures] == []


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
                            input_row.name == each.name
                            and input_row.unit == each.unit
                            and formula.number in input_row.of
                            and input_row.values.get(column) == each
                            for input_row in given
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
        wanted += [str(other_input.name) for other_input in working.inputs]
        wanted += [number_words(STYLE, other_input.value, other_input.unit) for other_input in working.inputs]
        # A word may go on behind the heads of the next page, so long words are looked for by their begin.
        for wording in wanted:
            assert bare(wording)[:30] in words, (figure.name, wording)


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
    position = next(position for position in case.survey.positions.values() if position.load_nm)
    bare_position = replace(position, load_nm=None, missing=(text("surface X: whole chord"),))
    positions = {**case.survey.positions, position.code: bare_position}
    survey = replace(case.survey, positions=positions)
    block = next(block for block in blocks_of(survey) if str(block.title).startswith("Load"))
    assert (position.code, "load_nm") in block.unknown
    write_sheet("working", [case.judged(survey)], tmp_path / "working.pdf", STYLE)
    assert f"{position.code}: surface X: whole chord" in " ".join(text_of(tmp_path / "working.pdf"))


def test_one_value_for_all_is_given_once_and_differing_ones_apart() -> None:
    block = next(
        block for block in blocks_of(demo_case("MARQ").survey) if str(block.title).startswith("Supply, load")
    )
    given = {str(input_row.name): input_row for input_row in given_in(block, {})}
    charge = {other_input.value for other_input in given["charge left in the packs"].values.values()}
    assert len(charge) == 1
    temperatures = given["pack temperature"].values
    assert temperatures[str(Scenario.COLD)].value != temperatures[str(Scenario.PEAK)].value
    assert isinstance(temperatures[str(Scenario.PEAK)], Input)


def test_an_empty_aircraft_says_that_nothing_could_be_computed(tmp_path: Path) -> None:
    write_sheet("working", [empty_case()], tmp_path / "working.pdf", STYLE)
    words = " ".join(text_of(tmp_path / "working.pdf"))
    assert "No figure could be computed." in words
    assert "Not known, so not computed" in words
