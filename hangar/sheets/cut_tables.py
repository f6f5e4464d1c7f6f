"""The cut list of leads as tables, and the totals of each material."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from typing import NamedTuple

from hangar.base.text import Amount, Arg, Text, text
from hangar.parts.cutting import CutRule, cut_from_stock
from hangar.parts.protection import LeadCut, wiring
from hangar.sheets.kit import TICK, Cell, Sheet, heads
from hangar.sheets.style import SheetStyle


def lead_table(sheet: Sheet, cuts: Sequence[LeadCut]) -> None:
    """One row a lead: run, what to buy, sleeve, shrinks, ties and the words of its two labels."""
    sheet.table(
        heads("Lead", "Run", "With slack", "Own lead", "Buy", "Sleeve", "End shrink", "Joints", "Ties",
         "Label, twice", ""),
        [16, 16, 16, 16, 23, 25, 20, 15, 9, 31, 6],
        [_lead_row(sheet.style, cut) for cut in cuts],
    )  # fmt: skip


def _lead_row(style: SheetStyle, cut: LeadCut) -> list[Cell]:
    return [
        cut.fit.code,
        style.show(cut.run_mm, "mm"),
        style.show(cut.needed_mm, "mm"),
        style.show(cut.own_mm, "mm"),
        buy_words(cut),
        _sleeve_words(style, cut),
        text(
            "{count} of {length}",
            count=cut.end_shrinks,
            length=style.show(wiring()["shrink"]["end_mm"], "mm"),
        )
        if cut.end_shrinks
        else "-",
        None if cut.joint_shrinks is None else (str(cut.joint_shrinks) if cut.joint_shrinks else "-"),
        str(cut.ties),
        cut.label,
        TICK,
    ]


def buy_words(cut: LeadCut) -> Text:
    """What is bought of a lead: an extension of the servo's own, nothing, or the whole of it."""
    if cut.is_extension:
        return text("extension {length}", length=Amount(cut.buy_mm, "mm"))
    return text("whole {length}", length=Amount(cut.buy_mm, "mm")) if cut.buy_mm else text("nothing")


def _sleeve_words(style: SheetStyle, cut: LeadCut) -> Arg:
    if cut.sleeve_mm is None:
        return None
    if not cut.sleeve_mm:
        return "-"
    bore = style.show(cut.sleeve_bore_mm, "mm") if cut.sleeve_bore_mm else "____"
    return text("{length}, bore {bore}", length=style.show(cut.sleeve_mm, "mm"), bore=bore)


class LeadToBuy(NamedTuple):
    """So many leads of one length and gauge; an extension or a whole one."""

    length_mm: float
    awg: int | None
    is_extension: bool
    pieces: int


def leads_to_buy(cuts: Sequence[LeadCut]) -> list[LeadToBuy]:
    """How many leads of each kind, the longest first; of those that reach by themselves none."""
    counts = Counter(
        (cut.buy_mm, cut.fit.lead.awg if cut.fit.lead else None, cut.is_extension)
        for cut in cuts
        if cut.buy_mm
    )
    return sorted(
        (LeadToBuy(*kind, count) for kind, count in counts.items()),
        key=lambda row: (-row.length_mm, row.awg or 0, row.is_extension),
    )


def _whole_mm(length_mm: float) -> int:
    """The next whole millimetre; the last bit of a sum does not make another one."""
    return math.ceil(length_mm - 1e-6)


def sleeve_pieces(cuts: Sequence[LeadCut]) -> dict[Text, list[int]]:
    """Whole millimetres of sleeve wanted by bore; a bore that is not known stands by itself."""
    pieces: dict[Text, list[int]] = {}
    for cut in cuts:
        if cut.sleeve_mm:
            name = (
                text("sleeve, bore {bore_mm:g} mm", bore_mm=cut.sleeve_bore_mm)
                if cut.sleeve_bore_mm
                else text("sleeve, bore ____")
            )
            pieces.setdefault(name, []).append(_whole_mm(cut.sleeve_mm))
    return pieces


def shrink_pieces(cuts: Sequence[LeadCut]) -> dict[Text, list[int]]:
    """Whole millimetres of shrink wanted by bore before shrinking; joints take clear shrink."""
    rule, pieces = wiring()["shrink"], dict[Text, list[int]]()
    for cut in cuts:
        if cut.end_shrinks:
            name = (
                text("shrink, {bore_mm:g} mm before", bore_mm=cut.end_bore_mm)
                if cut.end_bore_mm
                else text("shrink, ____ mm before")
            )
            pieces.setdefault(name, []).extend([rule["end_mm"]] * cut.end_shrinks)
        if cut.joint_shrinks:
            name = text("clear shrink, {bore_mm:g} mm before", bore_mm=rule["plug_bore_mm"])
            pieces.setdefault(name, []).extend([_whole_mm(cut.joint_mm)] * cut.joint_shrinks)
    return pieces


def cuttings(cuts: Sequence[LeadCut]) -> dict[Text, tuple[list[int], CutRule]]:
    """Each material with its pieces and the best way to cut them from the lengths sold."""
    stock = wiring()["stock"]
    by_cut = {}
    for pieces, sold in (
        (sleeve_pieces(cuts), stock["sleeve_mm"]),
        (shrink_pieces(cuts), stock["shrink_mm"]),
    ):
        for name, wanted in pieces.items():
            fitting = [piece for piece in wanted if piece <= max(sold)]
            by_cut[name] = (wanted, cut_from_stock(fitting, sold))
    return by_cut
