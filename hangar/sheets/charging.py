"""The charging card: mode, cells, greatest rate and end volts of every pack, and what to leave it at."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.parts import Pack, PackType
from hangar.parts.choices import PackState
from hangar.parts.sheet_boxes import CHARGING, answers_of
from hangar.sheets.case import SheetCase
from hangar.sheets.fit_words import cell_volts, pack_words
from hangar.sheets.kit import Box, Cell, Sheet
from hangar.sheets.sheet_head import foot_of, list_head, release_lines, revisions
from hangar.sheets.stamps import card_stamp
from hangar.sheets.style import SheetStyle

BLANKS = ("Charged by", "Date")
_NEVER = (PackState.QUARANTINE, PackState.RETIRED)


def draw_charging_card(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """Draw one card for the packs of all aircraft given, and the spare ones when it is the fleet's."""
    name = cases[0].aircraft.airframe.name if len(cases) == 1 else f"{len(cases)} aircraft"
    sheet.begin(
        f"Charging card, {name}",
        f"Charging card, {name}",
        foot_of(cases, "charging"),
        answers=answers_of("", CHARGING),
    )
    sheet.stamp(card_stamp(sheet.style, [pack.tag for _, pack, _ in _packs(cases)]))
    list_head(
        sheet, "CHARGING CARD", name, [f"packs of {cases[0].survey.conditions.today}", revisions(cases)]
    )
    release_lines(sheet, cases)
    rows = _rows(sheet.style, cases)
    if not rows:
        sheet.write("No pack is recorded.")
        return
    sheet.heading("Before each charge: read the label, the mode and the cell count, all three")
    sheet.table(
        ["Pack", "Where", "Mode, cells", "At most", "Ends at", "Not below", "Store at", "Last", "Put back",
         ""],
        [14, 24, 31, 14, 25, 14, 25, 22, 14, 6],
        rows,
    )  # fmt: skip
    _refused(sheet, cases)
    sheet.write(
        "At most: the maker's greatest rate; an empty box is not known: take a tenth of the capacity and "
        "look it up. Ends at: volts of the whole pack. Not below: end of discharge. Cell volts: common "
        "practice, no source; the pack maker's sheet governs."
    )
    sheet.blanks([*BLANKS])


def _packs(cases: Sequence[SheetCase]) -> list[tuple[str, Pack, PackType]]:
    found = {
        fed.pack.tag: (f"{case.aircraft.code} {path.feed.code}", fed.pack, fed.pack_type)
        for case in cases
        for path, fed in case.fed_packs
    }
    if len(cases) > 1:
        library = cases[0].library
        for tag, pack in library.spare_packs.items():
            kind = library.pack_types.get(pack.pack_type)
            if kind and tag not in found:
                found[tag] = (f"spare {pack.bin or ''}".strip(), pack, kind)
    return list(found.values())


def must_not_charge(pack: Pack) -> str | None:
    """Why a pack is never charged, or None."""
    reasons = [word for word, true in (("swollen", pack.swollen), ("crashed", pack.crashed)) if true]
    if pack.state in _NEVER:
        reasons.append(str(pack.state))
    return ", ".join(reasons) or None


def _rows(style: SheetStyle, cases: Sequence[SheetCase]) -> list[list[Cell]]:
    return [_row(style, *each) for each in _packs(cases)]


def _row(style: SheetStyle, where: str, pack: Pack, kind: PackType) -> list[Cell]:
    if why := must_not_charge(pack):
        return [pack.tag, where, pack_words(kind), f"NEVER: {why}", "-", "-", "-", "-", "-", "-"]
    volts = cell_volts(kind)
    rate_a = None if kind.charge_c is None else kind.charge_c * kind.capacity_mah / 1000
    end = style.show(kind.series * volts.charge_limit_v, "V", 3)
    return [
        pack.tag,
        where,
        pack_words(kind),
        style.show(rate_a, "A"),
        f"peak, below {end}" if kind.chemistry.is_nickel else end,
        style.show(kind.series * volts.never_below_v, "V", 3),
        _storage_words(style, kind),
        str(pack.charged_on) if pack.charged_on else Box(about=pack.tag, what="Last"),
        Box(about=pack.tag, what="Put back"),
        Box(tick=True, about=pack.tag, what="Charged"),
    ]


def _storage_words(style: SheetStyle, kind: PackType) -> str:
    volts = cell_volts(kind)
    if volts.storage_low_v is None or volts.storage_high_v is None:
        return "any charge"
    low, high = kind.series * volts.storage_low_v, kind.series * volts.storage_high_v
    return f"{(style.show(low, 'V', 3) or '').removesuffix(' V')} to {style.show(high, 'V', 3)}"


def _refused(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    refused = [pack.tag for _, pack, _ in _packs(cases) if must_not_charge(pack)]
    if refused:
        sheet.banner(f"NEVER CHARGE: {', '.join(refused)}", dark=True)
