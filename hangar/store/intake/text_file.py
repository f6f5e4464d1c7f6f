"""Text files as grids: encoding and separator are found out, whatever program wrote them."""

from __future__ import annotations

import csv
import io
import re
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from pathlib import Path

from hangar.base.errors import BadInput
from hangar.store.intake.grid import Cell, Grid
from hangar.store.limits import CELLS_MOST, COLUMNS_MOST, ROWS_MOST, refuse_large_file

_SEPARATORS = ";\t,|"
_LINES_LOOKED_AT = 400
_LOOKED_AT = 20_000
_ODD = re.compile(r"(?<=[a-zß-ÿ])[À-ÞŠŽŒŸ]|[^\x00-\x7fÀ-ÿŠšŽžŒœŸ°º²³ªµμΩ½¼€£–—‘’‚“”„…·×±§«»¿¡´`¨™®©\xa0]")
"""A capital with an accent behind a small letter, and signs outside those of Western Europe."""

_LEGACY = ("cp1252", "cp850", "mac_roman")


def read_text(path: Path, known: Callable[[str], int] | None = None) -> Grid:
    """The table in a text file.

    ``known`` counts the words of a text that the vocabulary knows; it settles the encoding where the
    bytes alone do not.

    Raises: BadInput when the file is no table or too large a one.
    """
    refuse_large_file(path)
    return grid_of_text(path.name, path.read_bytes(), known)


def grid_of_text(name: str, content: bytes, known: Callable[[str], int] | None = None) -> Grid:
    """The table in the bytes of a text file called ``name``; raises BadInput as :func:`read_text`."""
    text = decoded(content, known)
    separator = separator_of(text)
    if text[:4].lower() == "sep=":
        text = "\n" + text.partition("\n")[2]
    grid = Grid(name, "")
    for number, row in rows_within_limits(name, io.StringIO(text, newline=""), separator):
        for column, words in enumerate(row, start=1):
            plain = words.strip().replace("\x00", "")
            if plain:
                is_formula = _is_formula(plain)
                value = None if is_formula else plain
                grid.put(Cell(number, column, plain, value, is_formula, formula=plain if is_formula else ""))
    return grid


def rows_within_limits(name: str, lines: Iterable[str], separator: str) -> Iterator[tuple[int, list[str]]]:
    """The rows of separated values with their numbers, counted from 1.

    Raises: BadInput naming the file when it is no readable table or too large a one.
    """
    cells = 0
    try:
        for number, row in enumerate(csv.reader(lines, delimiter=separator), start=1):
            cells += len(row)
            if number > ROWS_MOST or len(row) > COLUMNS_MOST or cells > CELLS_MOST:
                raise BadInput(
                    "{file} is too large at row {row}; allowed are {rows} rows, {columns} columns"
                    " and {cells} cells.",
                    file=name,
                    row=number,
                    rows=ROWS_MOST,
                    columns=COLUMNS_MOST,
                    cells=CELLS_MOST,
                )
            yield number, row
    except csv.Error as fault:
        raise BadInput("{file} is no readable table: {fault}.", file=name, fault=str(fault)) from fault


def _is_formula(words: str) -> bool:
    return words.startswith("=") and bool(re.match(r"=[\w.$(+-]", words))


def decoded(content: bytes, known: Callable[[str], int] | None = None) -> str:
    """The text of a file, in whatever of the usual encodings it was written."""
    if content.startswith((b"\xff\xfe", b"\xfe\xff")):
        return content.decode("utf-16", "replace")
    head = content[:4000]
    if head and head.count(0) > len(head) // 4:
        return content.decode("utf-16-be" if head[:1] == b"\x00" else "utf-16-le", "replace")
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError:
        pass
    if known is None:
        return content.decode("cp1252", "replace")
    readings = [content.decode(name, "replace") for name in _LEGACY]
    # On a tie the first stands: nearly every such file comes from a Western office program.
    return max(readings, key=lambda text: (known(text) - 2 * _odd_letters(text), -readings.index(text)))


def _odd_letters(text: str) -> int:
    """How often a wrong decoding shows: an accented capital inside a word, a sign that nobody writes.

    >>> _odd_letters("Numéro"), _odd_letters("NumÈro"), _odd_letters("N░")
    (0, 1, 1)
    """
    return len(_ODD.findall(text[:_LOOKED_AT]))


def separator_of(text: str) -> str:
    """What stands between the columns: the sign that gives most lines the same, greatest width.

    >>> separator_of("My planes, 2024\\nA;B;C\\n1,5;2;3\\n2,5;4;5\\n")
    ';'
    """
    hint = re.match(r"sep=(.)", text, re.IGNORECASE)
    if hint:
        return hint[1]
    lines = [line for line in text.splitlines()[:_LINES_LOOKED_AT] if line.strip()]
    bare = [re.sub(r'"[^"]*"', "", line) for line in lines]
    return max(_SEPARATORS, key=lambda sign: _evenness([line.count(sign) for line in bare]))


def _evenness(counts: list[int]) -> float:
    filled = [count for count in counts if count]
    if not filled:
        return 0.0
    width, often = max(
        Counter(filled).items(), key=lambda counted: (counted[1] * (counted[0] + 1) ** 0.5, counted[0])
    )
    return float(often / len(counts) * (width + 1) ** 0.5)
