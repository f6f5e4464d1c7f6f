"""The cut list: leads, sleeves, shrinks and labels of the chosen aircraft, and what to cut them from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from hangar.parts.cutting import CutBar, Cutting
from hangar.parts.protection import heat_sleeve_mm, lead_cuts, wiring
from hangar.sheets.case import SheetCase
from hangar.sheets.cut_drawing import draw_cutting
from hangar.sheets.cut_tables import cuttings, lead_table, leads_to_buy
from hangar.sheets.kit import TICK, Cell, Sheet
from hangar.sheets.sheet_head import foot_of, list_head, release_lines, revisions
from hangar.sheets.style import SheetStyle


def draw_cut_list(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """Draw a table of leads for each aircraft, then totals and the best cutting over all of them."""
    codes = ", ".join(case.aircraft.code for case in cases)
    name = cases[0].aircraft.airframe.name if len(cases) == 1 else f"{len(cases)} aircraft"
    sheet.begin(f"Cut list {codes}", f"Cut list, {name}", foot_of(cases, "cuts"), answers="cuts")
    list_head(sheet, "CUT LIST", name, [revisions(cases)])
    release_lines(sheet, cases)
    for case in cases:
        sheet.heading(f"{case.aircraft.airframe.name} ({case.aircraft.code})")
        cuts = lead_cuts(case.aircraft)
        if cuts:
            lead_table(sheet, cuts)
            _hot_leads(sheet, case)
        else:
            sheet.write("No lead is recorded for this aircraft.")
        without = [fit.code for fit in case.aircraft.fits if fit.lead is None]
        if without and cuts:
            sheet.write(f"No lead recorded: {', '.join(without)}.")
    _totals(sheet, cases)
    _rules(sheet)


def _hot_leads(sheet: Sheet, case: SheetCase) -> None:
    limit = case.threshold("heat-look")
    hot = [
        fit.code
        for fit in case.aircraft.fits
        if fit.lead and fit.lead.heat_mm is not None and fit.lead.heat_mm < limit and not fit.lead.heat_sleeve
    ]
    if hot:
        over = sheet.style.show(heat_sleeve_mm(0.0), "mm")
        sheet.write(
            f"Near heat without a heat sleeve: {', '.join(hot)}. Silicone-glass sleeve: hot length "
            f"________ and {over} more."
        )


def _totals(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    cuts = [cut for case in cases for cut in lead_cuts(case.aircraft)]
    if not cuts:
        return
    style = sheet.style
    sheet.heading("Leads in all")
    rows: list[list[Cell]] = [
        [style.show(length, "mm"), f"{awg} AWG" if awg else None, str(count), TICK]
        for length, awg, count in leads_to_buy(cuts)
    ]
    sheet.table(["Length to buy", "Gauge", "Pieces", ""], [60, 50, 50, 10], rows)
    found = cuttings(cuts)
    if found:
        sheet.heading("Sleeve and shrink in all")
        waste = wiring()["waste"]["pct"]
        sheet.table(
            ["Material", "Pieces", "Sum", f"With {waste} % waste", "Buy", "Left over", ""],
            [56, 18, 22, 28, 34, 22, 8],
            [_material_row(style, name, wanted, best) for name, (wanted, best) in found.items()],
        )
        sheet.heading("How to cut them with the least bought")
        for name, (_, best) in found.items():
            sheet.write(_cutting_words(style, name, best))
            draw_cutting(sheet, best)
    _too_long(sheet, found)
    labels = len(cuts) * wiring()["label"]["per_lead"]
    sheet.write(f"Labels: {labels}. Ties: {sum(cut.ties for cut in cuts)}.")


def _too_long(sheet: Sheet, found: Mapping[str, tuple[list[int], Cutting]]) -> None:
    """Pieces longer than every sold length, which no cutting holds."""
    for name, (wanted, best) in found.items():
        cut = Counter(piece for bar in best.bars for piece in bar.pieces_mm)
        left = (Counter(wanted) - cut).elements()
        pieces = [str(sheet.style.show(piece, "mm")) for piece in left]
        if pieces:
            sheet.write(
                f"{name[:1].upper()}{name[1:]}: no length sold is long enough for {', '.join(pieces)}; order "
                "it by the metre or join it where it cannot chafe. It is not in Buy.",
                bold=True,
            )


def _material_row(style: SheetStyle, name: str, wanted: list[int], best: Cutting) -> list[Cell]:
    waste = 1 + wiring()["waste"]["pct"] / 100
    counts = {stock: sum(bar.stock_mm == stock for bar in best.bars) for stock in _stocks(best)}
    bought = ", ".join(f"{count} x {style.show(stock, 'mm')}" for stock, count in counts.items())
    return [
        name,
        str(len(wanted)),
        style.show(sum(wanted) / 1000, "m"),
        style.show(sum(wanted) * waste / 1000, "m"),
        bought,
        style.show(best.waste_mm, "mm"),
        TICK,
    ]


def _stocks(best: Cutting) -> list[int]:
    return sorted({bar.stock_mm for bar in best.bars}, reverse=True)


def _cutting_words(style: SheetStyle, name: str, best: Cutting) -> str:
    bars = "; ".join(f"{style.show(bar.stock_mm, 'mm')}: {_pieces_words(bar)}" for bar in best.bars)
    proof = "less cannot be bought" if best.exact else f"at least {style.show(best.least_mm, 'mm')} is needed"
    return f"{name[:1].upper()}{name[1:]}: {bars} ({proof})."


def _pieces_words(bar: CutBar) -> str:
    counts = {piece: bar.pieces_mm.count(piece) for piece in dict.fromkeys(bar.pieces_mm)}
    return " + ".join(f"{count} x {piece}" if count > 1 else str(piece) for piece, count in counts.items())


def _rules(sheet: Sheet) -> None:
    rule = wiring()
    lead, sleeve, shrink = rule["lead"], rule["sleeve"], rule["shrink"]
    sheet.heading("How the lengths are made")
    sheet.write(
        f"With slack: run + {lead['receiver_slack_mm']} mm at the receiver + {lead['servo_slack_mm']} mm at "
        f"the servo + {lead['hinge_slack_mm']} mm for each hinge crossed + {lead['slack_pct']} % of the run; "
        "buy the next size. Sleeve: exposed run + "
        f"{sleeve['overlap_mm']} mm inside each end, + {sleeve['braid_pct']} % as braid shortens; at a bare "
        f"former at least {sleeve['former_least_mm']} mm. End shrink half on the sleeve, half on the lead; "
        f"over a joint {shrink['plug_pair_mm']} mm + {shrink['joint_over_mm']} mm each side, clear, never "
        "with adhesive where it will be undone. The run is the recorded length of the lead: measure it with "
        f"a string first. ({lead['source'].capitalize()}.)"
    )
