"""The cut list of leads as tables, and the totals of each material."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence

from hangar.base.text import Arg, Text, text
from hangar.parts.cutting import CutRule, cut_from_stock
from hangar.parts.protection import LeadCut, wiring
from hangar.sheets.kit import TICK, Cell, Sheet, heads
from hangar.sheets.style import SheetStyle


def lead_table(sheet: Sheet, cuts: Sequence[LeadCut]) -> None:
    """One row a lead: run, what to buy, sleeve, shrinks, ties and the words of its two labels."""
    sheet.table(
        heads("Lead", "Run", "With slack", "Buy", "or extend", "Sleeve", "End shrink", "Joints", "Ties",
         "Label, twice", ""),
        [16, 17, 17, 17, 17, 25, 21, 15, 9, 33, 6],
        [_lead_row(sheet.style, cut) for cut in cuts],
    )  # fmt: skip


def _lead_row(style: SheetStyle, cut: LeadCut) -> list[Cell]:
    return [
        cut.fit.code,
        style.show(cut.run_mm, "mm"),
        style.show(cut.needed_mm, "mm"),
        style.show(cut.buy_mm, "mm"),
        text("no need") if cut.extension_mm == 0 else style.show(cut.extension_mm, "mm"),
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


def _sleeve_words(style: SheetStyle, cut: LeadCut) -> Arg:
    if cut.sleeve_mm is None:
        return None
    if not cut.sleeve_mm:
        return "-"
    bore = style.show(cut.sleeve_bore_mm, "mm") if cut.sleeve_bore_mm else "____"
    return text("{length}, bore {bore}", length=style.show(cut.sleeve_mm, "mm"), bore=bore)


def leads_to_buy(cuts: Sequence[LeadCut]) -> list[tuple[float, int | None, int]]:
    """How many leads of each length and gauge, the longest first."""
    counts = Counter((cut.buy_mm, cut.fit.lead.awg if cut.fit.lead else None) for cut in cuts)
    return sorted(
        ((length, awg, count) for (length, awg), count in counts.items()),
        key=lambda row: (-row[0], row[1] or 0),
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
