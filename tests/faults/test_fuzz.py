"""Hostile tables, over 4,000 in a run: each is read or refused in words, none is half taken."""

from __future__ import annotations

import gc
import io
import os
import time
import zipfile
from dataclasses import replace
from datetime import date
from pathlib import Path
from random import Random
from typing import Any

import pytest

from hangar.base.errors import BadInput, HangarError
from hangar.parts import RECORD_KINDS, Record, Setting
from hangar.parts.fields import columns, key_of
from hangar.store import Fleet, bring_in, take_out
from hangar.store.cells import Habits
from hangar.store.intake.reading import read_file
from hangar.store.intake.text_file import grid_of_text
from hangar.store.limits import COLUMNS_MOST, KEEPER_ROWS_MOST, ROWS_MOST
from hangar.store.own_tables import Intake, read_table
from hangar.store.tables_read import read_sheets, sheet_of_text
from tests.faults.fuzz import hostile_text, hostile_workbook, name_of_table, random_grid, workbook_parts
from tests.store.conftest import put_trainer

pytestmark = pytest.mark.slow
DAY = date(2026, 3, 14)
TIMES = int(os.environ.get("HANGAR_TEST_FUZZ", "1"))
"""How many times the usual number of inputs are tried; each time other ones."""

TEXTS, BOOKS, WHOLE = 4_000 * TIMES, 240 * TIMES, 160 * TIMES
PARTS = 4
"""The texts are dealt out in so many tests, which may run beside each other."""
LONGEST_S = 10.0
"""No single small input may take so long, even on a machine that does other work."""


def check_words(fault: HangarError, file: str) -> None:
    """A refusal names the file and is one readable sentence."""
    assert file in str(fault)
    assert 10 < len(str(fault)) < 1_000
    assert str(fault).endswith(".")


def read_as_keepers(path: Path, content: bytes) -> bool:
    """Read a keeper's own sheet; every cell ends in one state."""
    try:
        grid = grid_of_text(path.name, content)
    except BadInput as fault:
        check_words(fault, path.name)
        return False
    account = read_file([grid], DAY).account
    assert all(entry.state is not None for entry in account.entries())
    return account.has_tables


def read_as_table(kind: type[Record] | None, path: Path, content: bytes) -> bool:
    """Take the bytes of a file through all that happens before the fleet is touched."""
    if kind is None:
        return read_as_keepers(path, content)
    try:
        sheet = sheet_of_text(path, content)
    except BadInput as fault:
        check_words(fault, path.name)
        return False
    intake = Intake()
    read_table(sheet, kind, Habits(DAY), {}, intake)
    assert all(note.file == path.name and note.reason for note in (*intake.refused, *intake.doubtful))
    for record in intake.records.get(kind, {}).values():
        for spec in columns(kind):
            spec.check(getattr(record, spec.name))
        assert key_of(record) is not None
    return bool(intake.records)


@pytest.mark.parametrize("part", range(PARTS))
def test_hostile_texts_are_read_or_refused_in_words(part: int) -> None:
    numbers = range(part, TEXTS, PARTS)
    taken = 0
    for number in numbers:
        kind, content = hostile_text(Random(number))
        started = time.process_time()
        try:
            taken += read_as_table(kind, Path(f"{name_of_table(kind)}.csv"), content)
        except Exception as fault:  # noqa: BLE001  every other kind is a crash
            pytest.fail(f"text {number} ({kind}): {type(fault).__name__}: {fault}")
        assert time.process_time() - started < LONGEST_S, number
    assert len(numbers) // 50 < taken < len(numbers)


def test_hostile_workbooks_are_read_or_refused_in_words(fast_folder: Path) -> None:
    path = fast_folder / "hostile.xlsx"
    chance = Random(11)
    books = [
        (kind, workbook_parts(random_grid(chance, kind), name_of_table(kind)))
        for kind in (*chance.sample(RECORD_KINDS, 20), None, None)
    ]
    taken = 0
    for number in range(BOOKS):
        own = Random(number)
        _, parts = own.choice(books)
        path.write_bytes(hostile_workbook(own, parts))
        started = time.process_time()
        try:
            taken += bool(read_sheets(path))
        except BadInput as fault:
            check_words(fault, path.name)
        except Exception as fault:  # noqa: BLE001  every other kind is a crash
            pytest.fail(f"workbook {number}: {type(fault).__name__}: {fault}")
        assert time.process_time() - started < LONGEST_S, number
    assert BOOKS // 20 < taken < BOOKS


def everything(fleet: Fleet) -> dict[str, tuple[Record, ...]]:
    return {kind.KIND: fleet.records(kind) for kind in RECORD_KINDS}


def test_a_hostile_bring_in_is_taken_whole_or_leaves_everything_as_it_was(fast_folder: Path) -> None:
    taken = 0
    with Fleet.in_memory() as fleet:
        fleet.edit("Build the trainer", put_trainer)
        before = everything(fleet)
        for number in range(WHOLE):
            kind, content = hostile_text(Random(-number - 1))
            path = fast_folder / f"{name_of_table(kind)}.csv"
            path.write_bytes(content)
            try:
                rehearsal = bring_in(fleet, [path], today=DAY, dry_run=True)
                assert str(fleet.undo_label) == "Build the trainer"
                report = bring_in(fleet, [path], today=DAY)
            except HangarError as fault:
                check_words(fault, "")
                continue
            except Exception as fault:  # noqa: BLE001  every other kind is a crash
                pytest.fail(f"bring-in {number} ({kind}): {type(fault).__name__}: {fault}")
            finally:
                path.unlink()
            assert replace(report, account=None) == replace(rehearsal, account=None), number
            if kind is not None and report.refused:
                assert report.taken == {}, number
            if str(fleet.undo_label) != "Build the trainer":
                taken += 1
                fleet.undo()
            # What one input spoiled would still be spoiled later.
            assert number % 10 or everything(fleet) == before, number
        assert everything(fleet) == before
    assert taken > WHOLE // 100


def packed(parts: dict[str, bytes]) -> bytes:
    made = io.BytesIO()
    with zipfile.ZipFile(made, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in parts.items():
            archive.writestr(name, content)
    return made.getvalue()


def small_book() -> dict[str, bytes]:
    return workbook_parts([["tag", "servo_type"], ["0801", "TS-31"]], "servo")


def sheet_name(parts: dict[str, bytes]) -> str:
    return next(name for name in parts if name.startswith("xl/worksheets/"))


def bomb_of_spaces() -> bytes:
    parts = small_book()
    filled = b"<sheetData>" + b" " * 150_000_000
    parts[sheet_name(parts)] = parts[sheet_name(parts)].replace(b"<sheetData>", filled)
    return packed(parts)


def bomb_of_parts() -> bytes:
    return packed(small_book() | {f"xl/media/{number}.xml": b"" for number in range(3_000)})


def bomb_of_entities() -> bytes:
    parts = small_book()
    laughs = b"".join(b'<!ENTITY l%d "%s">' % (n + 1, b"&l%d;" % n * 10) for n in range(9))
    declared = b'<!DOCTYPE x [<!ENTITY l0 "lol">' + laughs + b"]><worksheet"
    parts[sheet_name(parts)] = parts[sheet_name(parts)].replace(b"<worksheet", declared, 1)
    return packed(parts)


def bomb_of_one_far_cell() -> bytes:
    parts = small_book()
    name = sheet_name(parts)
    far = b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row></sheetData>'
    parts[name] = parts[name].replace(b"</sheetData>", far)
    return packed(parts)


def bomb_of_wide_rows() -> bytes:
    parts = small_book()
    name = sheet_name(parts)
    wide = b"".join(b'<row r="%d"><c r="XFD%d"><v>1</v></c></row>' % (row, row) for row in range(3, 3_000))
    parts[name] = parts[name].replace(b"</sheetData>", wide + b"</sheetData>")
    return packed(parts)


def lie_about_the_size() -> bytes:
    whole = bytearray(bomb_of_spaces())
    at = 0
    while (at := whole.find(b"PK\x01\x02", at)) >= 0:
        whole[at + 24 : at + 28] = (1_000).to_bytes(4, "little")
        at += 4
    return bytes(whole)


def test_a_workbook_that_cannot_be_read_is_not_held_open(fast_folder: Path) -> None:
    path = fast_folder / "servo.xlsx"
    parts = small_book()
    del parts["xl/workbook.xml"]
    path.write_bytes(packed(parts))
    with pytest.raises(BadInput, match="is no readable workbook") as fault:
        read_sheets(path)
    held = [
        get_object
        for get_object in gc.get_objects()
        if isinstance(get_object, io.BufferedReader) and get_object.name == str(path)
    ]
    assert all(one.closed for one in held), fault


BOMBS = [
    (bomb_of_spaces, r"unpacks to 15\d MB in \d+ parts; allowed is 100 MB"),
    (bomb_of_parts, "in 30.. parts; allowed is 100 MB in 2000 parts"),
    (bomb_of_entities, "holds what no table needs"),
    (bomb_of_one_far_cell, "is too large at row 200001; allowed are 200000 rows"),
    (bomb_of_wide_rows, f"is too large at row 3; allowed are 200000 rows, {COLUMNS_MOST} columns"),
    (lie_about_the_size, "is no readable workbook"),
]


@pytest.mark.parametrize(("bomb", "words"), BOMBS, ids=[bomb.__name__ for bomb, _ in BOMBS])
def test_a_workbook_that_would_fill_the_memory_is_refused_in_a_sentence(
    fast_folder: Path, bomb: Any, words: str
) -> None:
    path = fast_folder / "servo.xlsx"
    path.write_bytes(bomb())
    assert path.stat().st_size < 1_000_000
    started = time.process_time()
    with Fleet.in_memory() as fleet:
        report = bring_in(fleet, [path], today=DAY)
        assert report.taken == {}
        with pytest.raises(BadInput, match=words):
            read_sheets(path)
    assert time.process_time() - started < 60


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"tag\n" * (ROWS_MOST + 1), "is too large at row 200001"),
        (b"a," * 1_001 + b"\n", "is too large at row 1"),
        (b'tag\n"' + b"x" * 200_000, "is no readable table"),
        (bytes(50_000_001), "is 50.1 MB large; allowed is 50 MB a file"),
    ],
    ids=["rows", "columns", "cell", "bytes"],
)
def test_a_text_that_is_too_large_is_refused_in_a_sentence(
    fast_folder: Path, content: bytes, words: str
) -> None:
    path = fast_folder / "servo.csv"
    path.write_bytes(content)
    with pytest.raises(BadInput, match=words):
        read_sheets(path)


def test_a_keepers_sheet_with_too_many_rows_is_refused(fast_folder: Path) -> None:
    path = fast_folder / "mine.csv"
    rows = [f"Dunnalow,{1 + number % 8},aileron,Tessivar {number}" for number in range(KEEPER_ROWS_MOST)]
    path.write_text("\n".join(["Model,Ch,Function,Servo", *rows]))
    with Fleet.in_memory() as fleet:
        report = bring_in(fleet, [path], today=DAY)
        assert f"allowed in a keeper's own sheet are {KEEPER_ROWS_MOST}" in str(report.refused[0])


def test_a_cell_of_many_characters_costs_no_time(fast_folder: Path) -> None:
    path = fast_folder / "mine.csv"
    worst = ("1" * 30_000, "2x" * 15_000, "1/" * 15_000, "aileron " * 4_000, "(" * 30_000, "4,8V " * 6_000)
    rows = [",".join(text for _ in range(4)) for text in worst]
    path.write_text("\n".join(["Model,Ch,Function,Servo", *rows]))
    started = time.process_time()
    with Fleet.in_memory() as fleet:
        bring_in(fleet, [path], today=DAY)
    assert time.process_time() - started < LONGEST_S


def test_a_formula_in_a_workbook_is_never_computed_and_never_written(fast_folder: Path) -> None:
    import openpyxl

    path = fast_folder / "setting.xlsx"
    book = openpyxl.Workbook()
    tab = book.active
    assert tab is not None
    tab.title = "setting"
    tab.append(["name", "value"])
    tab.append(["a", '=HYPERLINK("http://example.invalid","x")'])
    book.save(path)
    with Fleet.in_memory() as fleet:
        report = bring_in(fleet, [path], today=DAY)
        assert report.taken == {}
        dangerous = ["=1+1", "+44", "-3", "@x", "\t=1", "'=1", "#REF!", "=cmd|' /C calc'!A0", "_x0041_"]
        fleet.edit("Put", put_trainer)
        some = [Setting(name=f"s{number}", value=text) for number, text in enumerate(dangerous)]
        fleet.edit("Put", lambda edit: edit.put_all(some))
        (out,) = take_out(fleet, fast_folder / "out.xlsx")
        written = openpyxl.load_workbook(out)
        cells = [cell for tab in written.worksheets for row in tab.iter_rows() for cell in row]
        assert not [cell for cell in cells if cell.data_type in "fe"]
        risky = [cell.value for cell in cells if isinstance(cell.value, str) and cell.value[:1] in "=+-@\t\r"]
        assert risky == []
        with Fleet.in_memory() as second:
            assert bring_in(second, [out], today=DAY).refused == ()
            assert everything(second) == everything(fleet)
