"""The field checklist as one page for a phone: a step a screen, judged as its readings are typed.

It asks for the boxes of the printed checklist and gives back a small file with what stands in them, so that
paper, phone and what is read back are one list.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from hangar.answers.bench_bands import ReadingBand
from hangar.answers.checklists import PHASES
from hangar.answers.field_steps import LISTED, Reading, field_steps
from hangar.base.errors import BadInput
from hangar.base.places import resources_dir
from hangar.base.text import text
from hangar.base.units import convert, symbol_of
from hangar.parts.sheet_boxes import FIELD, LINE, full_name, phase_complete
from hangar.rules.releasing import hindrances_beside_the_list, unjudged_words
from hangar.sheets.case import SheetCase, accepted
from hangar.sheets.findings_part import warnings_first, warnings_under
from hangar.sheets.sheet_head import class_words
from hangar.sheets.stamps import stamp_of
from hangar.sheets.style import SheetStyle
from hangar.sheets.texts import cautions_for, footer
from hangar.sheets.whole_file import WEB_PAGE, write_whole

WORDS = {
    "held": text("HELD"),
    "released": text("RELEASED"),
    "open": text("not released"),
    "void": text("VOID"),
    "of_another_day": text(
        "This page is for another day. Figures, packs and checks are of that day; make a new one."
    ),
    "not_for_the_field": text("Not for the field. It must not fly:"),
    "save_here": text("Save what is here"),
    "list": text("List"),
    "dusk": text("Sun or dusk"),
    "back": text("Back"),
    "later": text("Later"),
    "next": text("Next"),
    "yes": text("Yes"),
    "no": text("No"),
    "not_so": text("Not so."),
    "as_wanted": text("As wanted."),
    "not_answered": text("Not answered yet."),
    "not_measured": text("Not measured yet."),
    "not_a_number": text("Not a number."),
    "no_limit": text("No limit known: kept, and it stays open."),
    "under": text("under the limit"),
    "over": text("over the limit"),
    "within": text("Within; to spare:"),
    "puts_away": text("if not so, the aircraft is put away"),
    "needed": text("Needed:"),
    "got": text("Got:"),
    "make_safe": text("Make the motor safe, take the packs out. Nothing after this step counts any more."),
    "again": text("Measure again"),
    "second_used": text("Both readings are used; each is kept."),
    "save_away": text("Save, put away"),
    "interrupted": text("Interrupted"),
    "left_at": text("You left this step some minutes ago:"),
    "minutes_ago": text("min ago"),
    "may_have_changed": text("What you saw before may no longer be so."),
    "go_on": text("Go on there"),
    "phase_again": text("Start the phase again"),
    "cautions": text("Cautions"),
    "warnings": text("Warnings accepted in writing"),
    "to_step": text("Back to the step"),
    "all_within": text("All answered, all within."),
    "some_open": text("Steps stay open."),
    "complete": text("Phase complete"),
    "release": text("Release"),
    "release_all": text("Every step within its limits."),
    "release_open": text("Not every phase is complete."),
    "name": text("Name"),
    "helper": text("Helper"),
    "release_to_fly": text("Release to fly"),
    "flight": text("Flight"),
    "minutes": text("Minutes"),
    "snag": text("Snag"),
    "keep_flight": text("Keep this flight"),
    "save_result": text("Save the result"),
    "result": text("Result"),
    "take_home": text("Save the file and bring it in at home: File, Bring in."),
    "save_file": text("Save the file"),
    "not_kept": text("This browser keeps nothing: save the file before you close the page."),
    "step": text("Step"),
}
"""What the page itself says."""


def phone_card(case: SheetCase, style: SheetStyle) -> str:
    """The page: one HTML file that needs no network."""
    template = (resources_dir() / "phone_card.html").read_text("utf-8")
    # Inside a script element only "</" ends the data; JSON may write it as "<\/".
    data = json.dumps(card_data(case, style), ensure_ascii=False, separators=(",", ":")).replace("</", "<\\/")
    title = _plain(style.put(text("{code} field checklist", code=case.aircraft.code)))
    return template.replace("@LANGUAGE@", style.language).replace("@TITLE@", title).replace("@CARD@", data)


def _plain(words: str) -> str:
    return words.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")


def write_phone_card(cases: Sequence[SheetCase], out: Path, style: SheetStyle) -> None:
    """Write the page of one aircraft.

    Raises: BadInput for more or fewer than one aircraft, or where something else lies; StoreFault when the
        file cannot be written.
    """
    if len(cases) != 1:
        raise BadInput("a page for the phone is of one aircraft; {count} were asked for.", count=len(cases))
    write_whole(phone_card(cases[0], style).encode("utf-8"), out, WEB_PAGE)


def card_data(case: SheetCase, style: SheetStyle) -> dict[str, Any]:
    """What the page holds, in the sheet's language and units: state, phases with their steps, words."""
    put, frame = style.put, case.aircraft.airframe
    warnings, cautions = warnings_first(case.findings)
    hindrances = [*hindrances_beside_the_list(case.aircraft, case.findings)]
    unjudged = unjudged_words(case.aircraft)
    if unjudged:
        hindrances.append(text("it cannot be judged: {why}", why=unjudged))
    day = style.printed_on
    steps = list(_steps(case, style))
    phases = {step["phase"] for step in steps}
    return {
        "hangar_card": 1,
        "id": f"{frame.code}-{day:%m%d}-{case.revision}",
        "aircraft": frame.code,
        "name": frame.name,
        "facts": put(class_words(frame)),
        "revision": case.revision,
        "day": day.isoformat(),
        "comma": (style.show(0.5, "V") or "0.5")[1],
        "stamp": stamp_of(style, FIELD, case).to_text(),
        "fields": {name: full_name(frame.code, FIELD, *place) for name, place in _OWN_FIELDS.items()},
        "open": [
            {"say": put(shown.sentence), "to_do": put(shown.remedy) if shown.remedy else ""}
            for finding in warnings
            if finding.is_open
            for shown in (finding, *warnings_under(finding))
        ],
        "hindrances": [put(shown) for shown in hindrances],
        "warnings": [put(shown.message) for shown in warnings if not shown.is_open],
        "cautions": [put(shown.message) for shown in cautions],
        "people": [put(text(shown)) for shown in cautions_for(case.aircraft, "field")],
        "accepted": len(accepted(case.findings)),
        "phases": [
            {
                "id": name,
                "title": put(title),
                "note": put(note),
                "tick": full_name(frame.code, FIELD, LINE, phase_complete(name)),
                "steps": [step for step in steps if step["phase"] == name],
            }
            for name, title, note in PHASES
            if name in phases
        ],
        "sums": list(_sums(case, steps)),
        "words": {name: put(words) for name, words in WORDS.items()},
        "govern": put(text(footer())),
    }


_OWN_FIELDS = {
    "pilot": ("", "Pilot"),
    "helper": ("", "Helper"),
    "date": ("", "Date, time"),
    "flights": ("", "Flights today"),
    "minutes": ("", "Minutes"),
    "snag": ("", "Snag found"),
    "held": ("", "Held"),
}
"""Boxes of the checklist that the page fills by itself."""


def _steps(case: SheetCase, style: SheetStyle) -> Iterator[dict[str, Any]]:
    """Every step in the order of doing, with the boxes of the printed card that it fills."""
    code, put = case.aircraft.code, style.put

    def name(about: str, what: str) -> str:
        return full_name(code, FIELD, about, what)

    for step in field_steps(case):
        tick = name(step.about, step.what)
        yield {
            "phase": step.phase,
            "id": tick,
            "say": put(step.say),
            "need": put(step.need) if step.need is not None else "",
            "expect": put(step.recorded) if step.recorded is not None else "",
            "stop": step.stop,
            "tick": tick,
            "line": step.line,
            "ask": [_asked(style, reading, name(step.about, reading.what)) for reading in step.readings],
            "fixed": {name(step.about, what): put(amount) for what, amount in step.known},
        }


def _asked(style: SheetStyle, reading: Reading, name: str) -> dict[str, Any]:
    """One reading: the box it fills, and its limits in the unit that is typed."""
    asked: dict[str, Any] = {"name": name, "head": style.put(reading.head), "optional": reading.optional}
    if not reading.unit:
        return {**asked, "unit": "", "words": [style.put(band.text) for band in reading.limits]}
    unit = style.units.unit_for(reading.unit)
    band = next(iter(reading.limits), ReadingBand())
    low, high = (None if end is None else convert(end, reading.unit, unit) for end in (band.low, band.high))
    return {**asked, "unit": symbol_of(unit), "lo": low, "hi": high}


def _sums(case: SheetCase, steps: Sequence[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """Boxes of the printed card that are ticked when a number of steps are: its lists, and its last phase."""
    code = case.aircraft.code
    for line in LISTED:
        of = [step["id"] for step in steps if step["line"] == line]
        yield {"tick": full_name(code, FIELD, LINE, line), "of": of}
    last = PHASES[-1][0]
    of = [step["id"] for step in steps if step["phase"] == last]
    yield {"tick": full_name(code, FIELD, LINE, phase_complete(last)), "of": of}
