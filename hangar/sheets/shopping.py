"""The shopping list: what the plans need and the bay lacks, by supplier."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hangar.answers.needs import Need, needs_of, open_plans
from hangar.base.text import Text, series, text
from hangar.sheets.case import SheetCase
from hangar.sheets.fit_words import aircraft_words
from hangar.sheets.kit import TICK, Cell, Sheet, heads
from hangar.sheets.sheet_head import foot_of, list_head, release_lines, revisions
from hangar.sheets.style import SheetStyle


def draw_shopping_list(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """Draw the list over the open plans of all aircraft given."""
    name = aircraft_words(cases)
    sheet.begin(
        text("Shopping list, {name}", name=name),
        text("Shopping list, {name}", name=name),
        foot_of(cases, "shopping"),
        answers="shopping",
    )
    plans = [plan.code for case in cases for plan in open_plans(case.aircraft)]
    facts = [text("plans: {plans}", plans=series(plans, ",") or text("none under way")), revisions(cases)]
    list_head(sheet, text("SHOPPING LIST"), name, facts)
    release_lines(sheet, cases)
    needs = needs_of([case.aircraft for case in cases], cases[0].library)
    to_buy = [need for need in needs if need.to_buy > 0]
    if not to_buy:
        sheet.write(text("Nothing is to be bought: the plans need nothing that does not lie in Stores."))
    for supplier in dict.fromkeys(need.supplier for need in to_buy):
        sheet.heading(supplier or text("No supplier recorded"))
        _supplier_table(sheet, [need for need in to_buy if need.supplier == supplier])
    if to_buy and sheet.style.prices:
        sheet.heading(text("Together"))
        sheet.write(_sum_words(sheet.style, to_buy))
    _from_bay(sheet, [need for need in needs if need.taken > 0])


def _supplier_table(sheet: Sheet, needs: Sequence[Need]) -> None:
    style = sheet.style
    names, shares = heads("", "What", "Buy", "In Stores", "For"), [6.0, 60, 24, 22, 50]
    if style.prices:
        names, shares = [*names, *heads("Each", "Together")], [*shares, 18, 20]
    rows = [_row(style, need) for need in needs]
    if style.prices:
        total = sum(need.cost or 0.0 for need in needs)
        rows.append(["", text("Together"), "", "", "", "", style.price(total)])
    sheet.table(names, shares, rows)


def _row(style: SheetStyle, need: Need) -> list[Cell]:
    cells: list[Cell] = [
        TICK,
        need.what,
        _amount(math.ceil(need.to_buy * 100) / 100, need.unit),
        text("{count:g}", count=need.on_hand),
        series(need.reasons, ","),
    ]
    if style.prices:
        cells += [style.price(need.price), style.price(need.cost)]
    return cells


def _amount(number: float, unit: str) -> Text:
    if unit in ("", "pieces"):
        return text("{number:g}", number=number)
    return text("{number:g} {unit}", number=number, unit=unit)


def _sum_words(style: SheetStyle, needs: Sequence[Need]) -> Text:
    unpriced = [need.what for need in needs if need.price is None]
    total = style.price(sum(need.cost or 0.0 for need in needs))
    if not unpriced:
        return text("{total} in all.", total=total)
    return text(
        "{total} in all, without {what}, whose price is not known.", total=total, what=series(unpriced, ",")
    )


def _from_bay(sheet: Sheet, needs: Sequence[Need]) -> None:
    if not needs:
        return
    sheet.heading(text("To take from Stores"))
    rows: list[list[Cell]] = [
        [TICK, need.what, _amount(need.taken, need.unit), need.bin or None, series(need.reasons, ",")]
        for need in needs
    ]
    sheet.table(heads("", "What", "Take", "Bin", "For"), [6, 64, 24, 22, 60], rows)
