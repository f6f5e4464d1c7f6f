"""The charging card: mode, cells, greatest rate and end volts of every pack, and what to leave it at."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.answers.field_steps import pack_words
from hangar.base.text import Arg, Text, series, text
from hangar.parts import Pack, PackType
from hangar.parts.choices import PackState
from hangar.parts.sheet_boxes import CHARGING, answers_of
from hangar.sheets.boxes import Box
from hangar.sheets.case import SheetCase
from hangar.sheets.fit_words import aircraft_words, cell_volts
from hangar.sheets.kit import Cell, Sheet, heads
from hangar.sheets.sheet_head import foot_of, list_head, release_lines, revisions
from hangar.sheets.stamps import card_stamp
from hangar.sheets.style import SheetStyle

BLANKS = WORDS_OF_TABLES = ("Charged by", "Date")
_NEVER = (PackState.QUARANTINE, PackState.RETIRED)


def draw_charging_card(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    """Draw one card for the packs of all aircraft given, and the spare ones when it is the fleet's."""
    name = aircraft_words(cases)
    sheet.begin(
        text("Charging card, {name}", name=name),
        text("Charging card, {name}", name=name),
        foot_of(cases, "charging"),
        answers=answers_of("", CHARGING),
    )
    sheet.stamp(card_stamp(sheet.style, [pack.tag for _, pack, _ in _packs(cases)]))
    list_head(
        sheet,
        text("CHARGING CARD"),
        name,
        [text("packs of {today}", today=cases[0].conditions.today), revisions(cases)],
    )
    release_lines(sheet, cases)
    rows = _rows(sheet.style, cases)
    if not rows:
        sheet.write(text("No pack is recorded."))
        return
    sheet.heading(text("Before each charge: read the label, the mode and the cell count, all three"))
    sheet.table(
        heads("Pack", "Where", "Mode, cells", "At most", "Ends at", "Not below", "Store at", "Last",
              "Put back", ""),
        [14, 24, 31, 14, 25, 14, 25, 22, 14, 6],
        rows,
    )  # fmt: skip
    _refused(sheet, cases)
    sheet.write(
        text(
            "At most: the maker's greatest rate; an empty box is not known: take a tenth of the capacity and "
            "look it up. Ends at: volts of the whole pack. Not below: end of discharge. Cell volts: common "
            "practice, no source; the pack maker's sheet governs."
        )
    )
    sheet.blanks(heads(*BLANKS))


def _packs(cases: Sequence[SheetCase]) -> list[tuple[Arg, Pack, PackType]]:
    by_tag: dict[str, tuple[Arg, Pack, PackType]] = {
        fed.pack.tag: (
            f"{case.aircraft.code} {path.feed.code}",
            fed.pack,
            fed.pack_type,
        )
        for case in cases
        for path, fed in case.fed_packs
    }
    if len(cases) > 1:
        library = cases[0].library
        for tag, pack in library.spare_packs.items():
            kind = library.pack_types.get(pack.pack_type)
            if kind and tag not in by_tag:
                by_tag[tag] = (series([text("spare"), *([pack.bin] if pack.bin else [])], ""), pack, kind)
    return list(by_tag.values())


def must_not_charge(pack: Pack) -> Text | None:
    """Why a pack is never charged, or None."""
    marks = ((text("swollen"), pack.swollen), (text("crashed"), pack.crashed))
    reasons: list[Arg] = [words for words, is_true in marks if is_true]
    if pack.state in _NEVER:
        reasons.append(pack.state)
    return series(reasons, ",") or None


def _rows(style: SheetStyle, cases: Sequence[SheetCase]) -> list[list[Cell]]:
    return [_row(style, *pack) for pack in _packs(cases)]


def _row(style: SheetStyle, where: Arg, pack: Pack, kind: PackType) -> list[Cell]:
    if why := must_not_charge(pack):
        return [
            pack.tag,
            where,
            pack_words(kind),
            text("NEVER: {why}", why=why),
            *["-"] * 6,
        ]
    volts = cell_volts(kind)
    rate_a = None if kind.charge_c is None else kind.charge_c * kind.capacity_mah / 1000
    end = style.show(kind.series * volts.charge_limit_v, "V", 3)
    return [
        pack.tag,
        where,
        pack_words(kind),
        style.show(rate_a, "A"),
        text("peak, below {end}", end=end) if kind.chemistry.is_nickel else end,
        style.show(kind.series * volts.never_below_v, "V", 3),
        _storage_words(style, kind),
        pack.charged_on or Box(about=pack.tag, what="Last"),
        Box(about=pack.tag, what="Put back"),
        Box(tick=True, about=pack.tag, what="Charged"),
    ]


def _storage_words(style: SheetStyle, kind: PackType) -> Text:
    volts = cell_volts(kind)
    if volts.storage_low_v is None or volts.storage_high_v is None:
        return text("any charge")
    low, high = kind.series * volts.storage_low_v, kind.series * volts.storage_high_v
    return text(
        "{low} to {high}",
        low=(style.show(low, "V", 3) or "").removesuffix(" V"),
        high=style.show(high, "V", 3),
    )


def _refused(sheet: Sheet, cases: Sequence[SheetCase]) -> None:
    refused = [pack.tag for _, pack, _ in _packs(cases) if must_not_charge(pack)]
    if refused:
        sheet.banner(text("NEVER CHARGE: {packs}", packs=series(refused, ",")), dark=True)
