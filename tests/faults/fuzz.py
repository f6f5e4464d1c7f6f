"""Seeded makers of hostile tables: odd bytes, encodings, formulas, wrong columns, broken workbooks."""

from __future__ import annotations

import csv
import io
import zipfile
from collections.abc import Sequence
from random import Random

from hangar.parts import RECORD_KINDS, Record
from hangar.parts.fields import columns
from hangar.store.tables import table_name

CELLS = (
    "", " ", "0", "-0", "1", "5", "1.5", "1,5", "1.500,25", "1,234", "12 V", "6.0V", "43 g", "25 kgcm", "1/0",
    "4.1 kg", "aileron", "yes", "2026-03-14", "DUN", "elevator", "analog", "digital", "0801", "TS-31", "AIL",
    "nan", "inf", "-inf", "1e308", "1e309", "1e-400", "9" * 40, "0x10", "١٢", "½", "1_000", "1 1/2 in", "--5",
    "=1+1", "=cmd|' /C calc'!A0", "+44", "-3", "@SUM(A1:A9)", "\t=1", "\r=1", "'=1", "''", "'", "5 %",
    '=HYPERLINK("x")', "#REF!", "no", "maybe", "TRUE", "D-12", "D+3", "D-999999", "D-12 09:30", "D+",
    "2026-02-30", "0000-00-00", "9999-12-31", "10000-01-01", "2026-03-14 25:61", "14/3/26", "12 parsec", "V",
    "2026-03-14T10:00:00+23:59", "\x00", "a\x00b", "\x07", "\ufeff", "\u202e", "\ud7ff", "\U0001f6e9",
    '"', '""', "a\nb", "a\r\nb", ",", ";", "|", "None", "null", "../../etc", "DROP TABLE", "°", "[", '3-1/8"',
    "sport", "in the bay", "inside", "torque [ozf in]", "é" * 40,
)  # fmt: skip
LONG_CELLS = ("a" * 33_000, "9" * 5_000, "1 " * 2_000, "(" * 3_000, "é" * 20_000)
HEADERS = (
    "torque [ozf in]", "torque [parsec]", "span [in]", "mass [lb]", "bogus", "", " ", "tag", "tag [g]", "id",
    "Model", "Ch", "Servo", "Function", "Torque", "Speed", "Volts", "Fitted", "Pack", "Cells", "mAh", "Lead",
    "Notes", "aircraft", "[", "]", "a]b[", "x" * 500, "=1+1", "\x00",
)  # fmt: skip
ENCODINGS = ("utf-8", "utf-8-sig", "utf-16", "utf-16-le", "cp1252", "latin-1", "utf-7", "cp437", "utf-32")


def random_cell(chance: Random) -> str:
    if chance.random() < 0.002:
        return chance.choice(LONG_CELLS)
    if chance.random() < 0.85:
        return chance.choice(CELLS[:26] if chance.random() < 0.3 else CELLS)
    letters = (chance.randrange(1, chance.choice((128, 0xD800))) for _ in range(chance.randrange(12)))
    return "".join(map(chr, letters))


def random_grid(chance: Random, kind: type[Record] | None) -> list[list[str]]:
    """Rows under the headings of a kind, or of a keeper's sheet, with some of them wrong."""
    names = [spec.name for spec in columns(kind)] if kind else list(HEADERS[10:23])
    headers = [name for name in names if chance.random() < 0.9]
    while chance.random() < 0.25:
        headers.insert(chance.randrange(len(headers) + 1), chance.choice(HEADERS))
    rows = []
    for _ in range(chance.choice((0, 1, 1, 2, 3))):
        width = max(0, len(headers) + chance.choice((0, 0, 0, 0, -1, 1, 5)))
        full = chance.random()
        rows.append([random_cell(chance) if chance.random() < full else "" for _ in range(width)])
    return [headers, *rows]


def hostile_text(chance: Random) -> tuple[type[Record] | None, bytes]:
    """The bytes of a CSV file and the kind it is meant for (None: a keeper's sheet)."""
    kind = chance.choice(RECORD_KINDS) if chance.random() < 0.8 else None
    text = io.StringIO(newline="")
    separator = chance.choice(",,,,;\t|")
    writer = csv.writer(text, delimiter=separator, lineterminator=chance.choice(("\n", "\r\n", "\r")))
    writer.writerows(random_grid(chance, kind))
    words = text.getvalue()
    if chance.random() < 0.05:
        words = f"sep={chance.choice(',;|x')}\n{words}"
    content = words.encode(chance.choice(ENCODINGS) if chance.random() < 0.3 else "utf-8", "replace")
    if chance.random() < 0.35:
        content = spoiled(chance, content)
    return kind, content


def spoiled(chance: Random, content: bytes) -> bytes:
    """Some bytes changed, taken away, doubled or thrown in."""
    made = bytearray(content)
    for _ in range(chance.choice((1, 1, 2, 8))):
        at = chance.randrange(len(made) + 1)
        what = chance.randrange(4)
        if what == 0:
            made[at:at] = chance.randbytes(chance.choice((1, 2, 30)))
        elif what == 1:
            del made[at : at + chance.choice((1, 5, 200))]
        elif what == 2:
            made[at:at] = made[at : at + 40]
        elif made:
            made[at % len(made)] ^= 1 << chance.randrange(8)
    return bytes(made)


def workbook_parts(grid: Sequence[Sequence[str]], title: str) -> dict[str, bytes]:
    """The parts of a small workbook written by the library that reads it."""
    import openpyxl

    book = openpyxl.Workbook()
    tab = book.active
    assert tab is not None
    tab.title = title
    for row in grid:
        tab.append(["".join(letter for letter in cell if letter.isprintable())[:2000] for cell in row])
    made = io.BytesIO()
    book.save(made)
    with zipfile.ZipFile(made) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


XML_SPOILS: tuple[tuple[bytes, bytes], ...] = (
    (b"<row", b"<row r='999999999999'"), (b'r="A2"', b'r="XFD1048576"'), (b'r="A2"', b'r="ZZZZ2"'),
    (b'r="A1"', b'r=""'),
    (b"<v>", b"<v>1e999"), (b't="s"', b't="d"'), (b't="s"', b't="e"'), (b't="s"', b't="zz"'),
    (b"<v>0</v>", b"<v>99999</v>"), (b"<v>0</v>", b"<v>-7</v>"), (b"<sheetData>", b"<sheetData><sheetData>"),
    (b"</worksheet>", b""), (b"UTF-8", b"UTF-16"), (b"UTF-8", b"no-such"), (b"<t>", b"<t>&bomb;"),
    (b"<worksheet", b"<!DOCTYPE x [<!ENTITY a 'aaaa'>]><worksheet"), (b"worksheet", b"worksheat"),
    (b"<v>0</v>", b"<f>1+1</f><v>2</v>"), (b"sheet1.xml", b"sheet9.xml"), (b"sheet1.xml", b"../../x.xml"),
    (b'ref="A1', b'ref="A1:XFD1048576" x="'), (b"<t>", b"<t>" + b"a" * 50_000), (b"<t>", b"<t>_x0000_"),
)  # fmt: skip


def hostile_workbook(chance: Random, parts: dict[str, bytes]) -> bytes:
    """The bytes of a workbook with broken XML, missing parts or a broken archive."""
    made = dict(parts)
    for _ in range(chance.choice((0, 1, 1, 2))):
        name = chance.choice(sorted(made))
        what = chance.randrange(4)
        if what == 0:
            made[name] = spoiled(chance, made[name])
        elif what == 1 and len(made) > 1:
            del made[name]
        else:
            sheet = next((words for words in made if words.startswith("xl/worksheets/")), name)
            target = chance.choice((name, sheet, sheet, sheet))
            made[target] = made[target].replace(*chance.choice(XML_SPOILS), chance.choice((1, -1)))
    packed = io.BytesIO()
    way = chance.choice((zipfile.ZIP_DEFLATED, zipfile.ZIP_DEFLATED, zipfile.ZIP_STORED, zipfile.ZIP_BZIP2))
    with zipfile.ZipFile(packed, "w", way) as archive:
        for name, content in made.items():
            archive.writestr(name, content)
    content = packed.getvalue()
    return spoiled(chance, content) if chance.random() < 0.4 else content


def name_of_table(kind: type[Record] | None) -> str:
    return table_name(kind) if kind else "my servos"
