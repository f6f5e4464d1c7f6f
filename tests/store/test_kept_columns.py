"""What the program wrote into a record is a sentence in a table taken out, and comes back whole."""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from datetime import date
from pathlib import Path

import openpyxl
import pytest

from hangar.base.kept_text import kept_text, said_in
from hangar.base.reader import Reader
from hangar.base.text import Amount, listed, text
from hangar.parts import RECORD_KINDS, Flight, Inspection, Plan, Snag
from hangar.parts.choices import InspectionKind
from hangar.parts.fields import columns
from hangar.store import Fleet, bring_in, take_out
from tests.demo_copies import demo_copy

TODAY = date(2026, 3, 14)
REASON = text("open snag: {snags}", snags=listed(["arm, loose", 'so "said"']))
REMARKS = text(
    "Logged while not released: {reasons}.",
    reasons=text("{pack} gives {volts}", pack="=B1", volts=Amount(6.4, "V")),
)
OWN = "Bumpy, 1,5 bounces"


@pytest.fixture
def fleet() -> Iterator[Fleet]:
    flights = [
        Flight(aircraft="MARQ", flown_on=TODAY, number=1, minutes_min=5.0, remarks=kept_text(REMARKS)),
        Flight(aircraft="MARQ", flown_on=TODAY, number=2, minutes_min=5.0, remarks=OWN),
        Flight(aircraft="MARQ", flown_on=TODAY, number=3, minutes_min=5.0),
    ]
    look = Inspection(
        aircraft="MARQ", inspected_on=TODAY, kind=InspectionKind.YEARLY, findings=kept_text(REASON)
    )
    snag = Snag(aircraft="MARQ", raised_on=TODAY, text=kept_text(REASON))
    with demo_copy(TODAY) as made:
        made.edit("Put", lambda edit: edit.put_all([*flights, look, snag]))
        (plan, *_) = made.records(Plan)
        made.edit("Note", lambda edit: edit.change(Plan, (plan.code,), note=kept_text(REASON)))
        yield made


def rows_of(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8", newline="") as file:
        return [row for row in csv.DictReader(file) if row.get("flown_on") == TODAY.isoformat()]


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("name", ["tables", "fleet.xlsx"])
def test_every_kept_text_comes_back_whole(fleet: Fleet, tmp_path: Path, name: str, language: str) -> None:
    take_out(fleet, tmp_path / name, Reader(language).put)
    with Fleet.in_memory() as second:
        assert bring_in(second, [tmp_path / name], today=TODAY).refused == ()
        for kind in RECORD_KINDS:
            assert second.records(kind) == fleet.records(kind)


def test_a_keeper_reads_a_sentence_in_his_language(fleet: Fleet, tmp_path: Path) -> None:
    take_out(fleet, tmp_path, Reader("de").put)
    remarks = [row["remarks"] for row in rows_of(tmp_path / "flight.csv")]
    assert remarks == [Reader("de").put(REMARKS), OWN, ""]
    assert "=B1 gives 6,4 V" in remarks[0] or "6,4 V" in remarks[0]
    for kind in RECORD_KINDS:
        path = tmp_path / f"{kind.KIND.replace('-', '_')}.csv"
        with path.open(encoding="utf-8", newline="") as file:
            for row in csv.DictReader(file):
                for spec in columns(kind):
                    assert not row[spec.name].lstrip("'").startswith('{"key"')


def test_a_workbook_shows_the_sentence(fleet: Fleet, tmp_path: Path) -> None:
    take_out(fleet, tmp_path / "fleet.xlsx")
    tab = openpyxl.load_workbook(tmp_path / "fleet.xlsx")["flight"]
    heads = [cell.value for cell in next(tab.iter_rows())]
    assert heads[-1] == "remarks_kept"
    remarks = {row[heads.index("remarks")] for row in tab.iter_rows(min_row=2, values_only=True)}
    assert {str(REMARKS), OWN, None} <= remarks


def test_a_table_without_such_texts_has_no_column_for_them(tmp_path: Path) -> None:
    with demo_copy(TODAY) as fleet:
        take_out(fleet, tmp_path)
    assert not [path.name for path in tmp_path.glob("*.csv") if "_kept" in path.read_text("utf-8")]


def changed(path: Path, old: str, new: str) -> None:
    there = path.read_text(encoding="utf-8")
    assert old in there
    path.write_text(there.replace(old, new, 1), encoding="utf-8")


def test_a_sentence_that_the_keeper_wrote_anew_is_his(fleet: Fleet, tmp_path: Path) -> None:
    take_out(fleet, tmp_path)
    changed(tmp_path / "flight.csv", f"{REMARKS}", "All went well")
    bring_in(fleet, [tmp_path / "flight.csv"], today=TODAY)
    kept = fleet.record(Flight, "MARQ", TODAY, 1)
    assert kept is not None
    assert kept.remarks == "All went well"


def test_another_space_does_not_make_the_sentence_the_keepers(fleet: Fleet, tmp_path: Path) -> None:
    take_out(fleet, tmp_path)
    changed(tmp_path / "flight.csv", "Logged while", "Logged  while")
    bring_in(fleet, [tmp_path / "flight.csv"], today=TODAY)
    kept = fleet.record(Flight, "MARQ", TODAY, 1)
    assert kept is not None
    assert said_in(kept.remarks) == REMARKS


def test_a_table_in_which_the_text_itself_stands_still_comes_in(fleet: Fleet, tmp_path: Path) -> None:
    """So earlier tables were written."""
    cell = kept_text(REMARKS).replace('"', '""')
    (tmp_path / "flight.csv").write_text(
        f'aircraft,flown_on,number,minutes_min,remarks\nMARQ,{TODAY},4,5,"{cell}"\n', encoding="utf-8"
    )
    bring_in(fleet, [tmp_path / "flight.csv"], today=TODAY)
    kept = fleet.record(Flight, "MARQ", TODAY, 4)
    assert kept is not None
    assert said_in(kept.remarks) == REMARKS


DEEP = '{"key": "{a}", "args": {"a": ' * 400 + '{"key": "x"}' + "}}" * 400
SPOILT = [
    '{"written": "a", "text": ' + DEEP + "}",
    "[" * 5000,
    "{}",
    "7",
    '{"written": "a", "text": "b"}',
    '{"written": 1, "text": {"key": "a"}}',
    "soon",
]


@pytest.mark.parametrize("cell", SPOILT, ids=lambda cell: cell[:12])
def test_a_spoilt_cell_is_refused_by_its_place(fleet: Fleet, tmp_path: Path, cell: str) -> None:
    before = fleet.records(Flight)
    quoted = cell.replace('"', '""')
    (tmp_path / "flight.csv").write_text(
        f'aircraft,flown_on,number,minutes_min,remarks,remarks_kept\nMARQ,{TODAY},4,5,Fine,"{quoted}"\n',
        encoding="utf-8",
    )
    (note,) = bring_in(fleet, [tmp_path / "flight.csv"], today=TODAY).refused
    assert (note.file, note.row, note.column) == ("flight.csv", 2, "remarks_kept")
    assert re.search("allowed is what was taken out", str(note.text))
    assert fleet.records(Flight) == before


def test_a_text_within_a_text_without_end_is_shown_as_it_stands() -> None:
    assert said_in(DEEP) == DEEP


def test_texts_beside_no_column_of_theirs_are_refused(fleet: Fleet, tmp_path: Path) -> None:
    (tmp_path / "flight.csv").write_text(
        f"aircraft,flown_on,number,minutes_min,remarks_kept\nMARQ,{TODAY},4,5,\n", encoding="utf-8"
    )
    (note,) = bring_in(fleet, [tmp_path / "flight.csv"], today=TODAY).refused
    assert "no column remarks" in str(note.text)
