"""Codes for places that an aircraft does not have yet: a further power path, a board for all of them."""

from __future__ import annotations

import itertools

from hangar.parts import Aircraft


def further_path(aircraft: Aircraft) -> str:
    """A code for one more path: the next letter where the first one's ends in A, else a number.

    >>> from hangar.rules import examples
    >>> further_path(examples.trainer())
    'B'
    """
    taken = {path.feed.code for path in aircraft.paths}
    first = aircraft.radio_paths[0].feed.code if aircraft.radio_paths else "RX-A"
    wished = f"{first[:-1]}B" if first.endswith("A") else f"{first}-2"
    return wished if wished not in taken else _free(wished, taken)


def board_place(aircraft: Aircraft) -> str:
    """A place for a board that every pack runs through: no path and no regulator has its name."""
    taken = {path.feed.code for path in aircraft.paths} | {
        path.regulator.code for path in aircraft.paths if path.regulator is not None
    }
    return "BOARD" if "BOARD" not in taken else _free("BOARD", taken)


def _free(wished: str, taken: set[str]) -> str:
    return next(code for number in itertools.count(2) if (code := f"{wished}-{number}") not in taken)
