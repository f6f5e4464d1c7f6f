"""How much one bring-in may hold; more is refused in a sentence instead of filling the memory."""

from __future__ import annotations

import math
from pathlib import Path

from hangar.base.errors import BadInput

FILE_MOST_BYTES = 50_000_000
UNPACKED_MOST_BYTES = 100_000_000
PARTS_MOST = 2_000
ROWS_MOST = 200_000
COLUMNS_MOST = 1_000
CELLS_MOST = 5_000_000
TEXT_MOST = 32_000
"""Characters of one text; a cell of a workbook holds 32,767."""

KEEPER_ROWS_MOST = 20_000
"""Rows of a keeper's own sheet; each is understood word by word."""

ANSWER_MOST = 1_000
"""Characters written into one box of a sheet; what is quoted of it in a sentence is far less."""

NUMBER_TEXT_MOST = 100
"""Characters of a number with its unit, of a date, or of a heading; longer ones take long to take apart."""


def refuse_large_file(path: Path) -> None:
    """Raise BadInput when a table file is larger than a bring-in takes."""
    size = path.stat().st_size
    if size > FILE_MOST_BYTES:
        # Rounded up, so that no file is called as large as what is allowed.
        tenths = math.ceil(size / 1e5)
        raise BadInput(
            "{name} is {tenths:.1f} MB large; allowed is {most:.0f} MB a file.",
            name=path.name,
            tenths=tenths / 10,
            most=FILE_MOST_BYTES / 1000000.0,
        )
