"""The cut list: leads, sleeves, shrinks and labels of the chosen aircraft, and what to cut them from."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence

from hangar.base.text import Text, joined, series, text
from hangar.parts.cutting import CutBar, CutRule
from hangar.parts.protection import heat_sleeve_mm, lead_cuts, wiring
from hangar.sheets.case import SheetCase
from hangar.sheets.cut_drawing import draw_cutting
from hangar.sheets.cut_tables import cuttings, lead_table, leads_to_buy
from hangar.sheets.fit_words import aircraft_words
from hangar.sheets.kit import TICK, Cell, Sheet, heads
from hangar.sheets.sheet_head import foot_of, list_head, release_lines, revisions
from hangar.sheets.style import SheetStyle


def draw_cut_list(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """Draw a table of leads for each aircraft, then totals and the best cutting over all of them."""
    name = aircraft_words(cases)
    sheet.begin(
        text("Cut list, {name}", name=name),
        text("Cut list, {name}", name=name),
        foot_of(cases, "cuts"),
        answers="cuts",
    )
    list_head(sheet, text("CUT LIST"), name, [revisions(cases)])
    release_lines(sheet, cases)
    for case in cases:
        sheet.heading(f"{case.aircraft.airframe.name} ({case.aircraft.code})")
        cuts = lead_cuts(case.aircraft)
        if cuts:
            lead_table(sheet, cuts)
            _hot_leads(sheet, case)
        else:
            sheet.write(text("No lead is recorded for this aircraft."))
        without = [fit.code for fit in case.aircraft.fits if fit.lead is None]
        if without and cuts:
            sheet.write(text("No lead recorded: {places}.", places=series(without, ",")))
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
            text(
                "Near heat without a heat sleeve: {places}. Silicone-glass sleeve: hot length ________ and "
                "{over} more.",
                places=series(hot, ","),
                over=over,
            )
        )


def _totals(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    cuts = [cut for case in cases for cut in lead_cuts(case.aircraft)]
    if not cuts:
        return
    style = sheet.style
    sheet.heading(text("Leads in all"))
    rows: list[list[Cell]] = [
        [
            style.show(lead.length_mm, "mm"),
            text("extension") if lead.is_extension else text("whole lead"),
            f"{lead.awg} AWG" if lead.awg else None,
            str(lead.pieces),
            TICK,
        ]
        for lead in leads_to_buy(cuts)
    ]
    if rows:
        sheet.table(heads("Length to buy", "Kind", "Gauge", "Pieces", ""), [50, 40, 40, 30, 10], rows)
    else:
        sheet.write(text("Every servo's own lead reaches."))
    rules_by_cut = cuttings(cuts)
    if rules_by_cut:
        sheet.heading(text("Sleeve and shrink in all"))
        waste = wiring()["waste"]["pct"]
        sheet.table(
            [
                *heads("Material", "Pieces", "Sum"),
                text("With {waste} % waste", waste=waste),
                *heads("Buy", "Left over", ""),
            ],
            [56, 18, 22, 28, 34, 22, 8],
            [_material_row(style, name, wanted, best) for name, (wanted, best) in rules_by_cut.items()],
        )
        sheet.heading(text("How to cut them with the least bought"))
        for name, (_, best) in rules_by_cut.items():
            sheet.write(_cutting_words(style, name, best))
            draw_cutting(sheet, best)
    _too_long(sheet, rules_by_cut)
    labels = len(cuts) * wiring()["label"]["per_lead"]
    sheet.write(text("Labels: {labels}. Ties: {ties}.", labels=labels, ties=sum(cut.ties for cut in cuts)))


def _too_long(sheet: Sheet, rules_by_cut: Mapping[Text, tuple[list[int], CutRule]]) -> None:
    """Pieces longer than every sold length, which no cutting holds."""
    for name, (wanted, best) in rules_by_cut.items():
        cut = Counter(piece for bar in best.bars for piece in bar.pieces_mm)
        uncut = (Counter(wanted) - cut).elements()
        pieces = [str(sheet.style.show(piece, "mm")) for piece in uncut]
        if pieces:
            sheet.write(
                text(
                    "{material:^}: no length sold is long enough for {pieces}; order it by the metre "
                    "or join it where "
                    "it cannot chafe. It is not in Buy.",
                    material=name,
                    pieces=series(pieces, ","),
                ),
                bold=True,
            )


def _material_row(style: SheetStyle, name: Text, wanted: list[int], best: CutRule) -> list[Cell]:
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


def _stocks(best: CutRule) -> list[int]:
    return sorted({bar.stock_mm for bar in best.bars}, reverse=True)


def _cutting_words(style: SheetStyle, name: Text, best: CutRule) -> Text:
    bars = "; ".join(
        f"{f'{count} x ' if count > 1 else ''}{style.show(bar.stock_mm, 'mm')}: {_pieces_words(bar)}"
        for bar, count in Counter(best.bars).items()
    )
    proof = (
        text("less cannot be bought")
        if best.exact
        else text("at least {length} is needed", length=style.show(best.least_mm, "mm"))
    )
    return text("{material:^}: {bars} ({proof}).", material=name, bars=bars, proof=proof)


def _pieces_words(bar: CutBar) -> str:
    counts = {piece: bar.pieces_mm.count(piece) for piece in dict.fromkeys(bar.pieces_mm)}
    return " + ".join(f"{count} x {piece}" if count > 1 else str(piece) for piece, count in counts.items())


def _rules(sheet: Sheet) -> None:
    rule = wiring()
    lead, sleeve, shrink = rule["lead"], rule["sleeve"], rule["shrink"]
    sheet.heading(text("How the lengths are made"))
    sheet.write(
        joined(
            text(
                "With slack: run + {receiver} mm at the receiver + {servo} mm at the servo + {hinge} "
                "mm for each "
                "hinge crossed + {percent} % of the run; of what the servo's own lead lacks buy "
                "the next size.",
                receiver=lead["receiver_slack_mm"],
                servo=lead["servo_slack_mm"],
                hinge=lead["hinge_slack_mm"],
                percent=lead["slack_pct"],
            ),
            text(
                "Sleeve: exposed run + {over} mm inside each end, + {percent} % as braid shortens; at a bare "
                "former at least {least} mm.",
                over=sleeve["overlap_mm"],
                percent=sleeve["braid_pct"],
                least=sleeve["former_least_mm"],
            ),
            text(
                "End shrink half on the sleeve, half on the lead; over a joint {pair} mm + {over} mm "
                "each side, "
                "clear, never with adhesive where it will be undone.",
                pair=shrink["plug_pair_mm"],
                over=shrink["joint_over_mm"],
            ),
            text("The run is the recorded length of the lead: measure it with a string first."),
            text("({source:^}.)", source=text(lead["source"])),
        )
    )
