"""Words and code of a label made to fit it, or the sentence that says why they do not."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.base.text import Text, series, text
from hangar.sheets.label_grid import LabelGrid, label_grids
from hangar.sheets.qr_code import QUIET_MODULES, modules_across
from hangar.sheets.wrapping import BODY, BOLD, register_fonts, wrapped

LEAST_PT = 6.0
"""No label carries smaller letters."""

LEAST_MODULE_MM = 0.33
"""Four dots of a usual printer of 300 dots an inch; a smaller square of a code is not sure to be read."""

CODE_GAP_MM = 1.2
_MOST_CODE_MM, _MOST_CODE_SHARE = 24.0, 0.42
_TAG_PT = (13.0, 11.0, 9.0, 8.0, 7.0, LEAST_PT)
_LINES_PT = (9.0, 8.5, 8.0, 7.5, 7.0, 6.5, LEAST_PT)
_APART_FROM_PT = 8.0
_LEADING = 1.12
_NAMED_AT_MOST = 4


@dataclass(frozen=True, kw_only=True)
class Label:
    """One sticky label: its tag in bold, lines under it, and what its QR code holds (the tag alone).

    A ``flag`` is folded round a lead: its words stand on both halves, without a code. ``part`` says what
    it is stuck on.
    """

    tag: str
    lines: tuple[str, ...] = ()
    flag: bool = False
    part: str = ""


@dataclass(frozen=True, kw_only=True)
class LabelPicture:
    """A label as it is drawn: side of its code, 0 without one, and its lines with their sizes."""

    code_mm: float
    lines: tuple[tuple[str, float, bool], ...]


def line_mm(size_pt: float) -> float:
    """Height of one line on a label."""
    return size_pt * _LEADING * 25.4 / 72


def fit(label: Label, grid: LabelGrid) -> LabelPicture | None:
    """The label with letters as large as its place allows, 6 pt at the least; None when it holds it not."""
    register_fonts()
    width, height = grid.room_mm
    if label.flag:
        width = (grid.width_mm / 2) - 2 * grid.inset_mm
    sides = [0.0] if label.flag else list(_code_sides(label.tag, width, height))
    for size_pt, texts in _ways(label):
        for side in sides:
            room = width - (side + CODE_GAP_MM if side else 0.0)
            lines = _lines_within(label.tag, texts, room, height, size_pt) if room > 0 else None
            if lines is not None:
                return LabelPicture(code_mm=side, lines=lines)
    return None


def _ways(label: Label) -> Iterator[tuple[float, tuple[str, ...]]]:
    """Sizes and arrangements in the order of trying: a fact a line, if need be all facts run together."""
    for size_pt in _LINES_PT:
        if size_pt >= _APART_FROM_PT:
            yield size_pt, label.lines
    for size_pt in _LINES_PT:
        yield size_pt, (" · ".join(label.lines),)
        yield size_pt, label.lines


def _code_sides(tag: str, width_mm: float, height_mm: float) -> Iterator[float]:
    """Sides that the code may have, the largest first; none where even the least is too large."""
    least = (modules_across(tag) + 2 * QUIET_MODULES) * LEAST_MODULE_MM
    largest = min(_MOST_CODE_MM, height_mm, _MOST_CODE_SHARE * width_mm)
    if min(height_mm, width_mm) >= least:
        yield max(largest, least)
        if largest > (largest + least) / 2 > least:
            yield (largest + least) / 2
        if largest > least:
            yield least


def _lines_within(
    tag: str, texts: Sequence[str], room_mm: float, height_mm: float, size_pt: float
) -> tuple[tuple[str, float, bool], ...] | None:
    """Every word at one size, or None when that does not go in."""
    tag_pt = next(
        (size for size in _TAG_PT if size >= size_pt and len(wrapped(tag, BOLD, size, room_mm)) == 1), size_pt
    )
    tags = wrapped(tag, BOLD, tag_pt, room_mm)
    lines = [line for text in texts if text for line in wrapped(text, BODY, size_pt, room_mm)]
    tall = len(tags) * line_mm(tag_pt) + len(lines) * line_mm(size_pt)
    broken = _broken(tag, tags) or _broken(" ".join(texts), lines)
    if tall > height_mm or (broken and size_pt > LEAST_PT):
        return None
    return (*((line, tag_pt, True) for line in tags), *((line, size_pt, False) for line in lines))


def _broken(words: str, lines: Sequence[str]) -> bool:
    """Whether a word was cut in two."""
    return " ".join(lines).split() != words.split()


def refuse_what_does_not_fit(labels: Sequence[Label], grid: LabelGrid, name: str) -> None:
    """Look at every label before the first is printed.

    Raises: BadInput saying which size is too small for which label, and which sheets would do.
    """
    small = [label for label in labels if fit(label, grid) is None]
    if not small:
        return
    more = (
        [text("and {count} more", count=len(small) - _NAMED_AT_MOST)] if len(small) > _NAMED_AT_MOST else []
    )
    larger = [
        other
        for other, label_grid in label_grids().items()
        if label_grid.paper == grid.paper and all(fit(label, label_grid) is not None for label in small)
    ]
    help_words = (
        text("these sheets hold them: {sheets}", sheets=series(larger, ","))
        if larger
        else text("shorten these words")
    )
    which = text("label sheet {name}", name=name) if name else text("plain paper")
    raise BadInput(
        "a label of {size} ({which}) is too small, even with letters of {least:g} pt, for {labels}; "
        "{advice}, or "
        "choose other parts to label.",
        size=grid.size_words,
        which=which,
        least=LEAST_PT,
        labels=series([*map(_content, small[:_NAMED_AT_MOST]), *more]),
        advice=help_words,
    )


def _content(label: Label) -> Text:
    named = f"{label.tag} ({', '.join(label.lines)})"
    return text("{part} {label}", part=text(label.part), label=named) if label.part else series([named])
