"""The field checklist as one page for a phone: a step a screen, judged as its readings are typed.

It asks for the boxes of the printed checklist and gives back a small file with what stands in them, so that
paper, phone and what is read back are one list.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from hangar.answers.bench_bands import ReadingBand, bands_of
from hangar.answers.checklists import test_load_a
from hangar.answers.outputs import Output, outputs_of
from hangar.base.errors import BadInput
from hangar.base.places import resources_dir
from hangar.base.text import Arg, Text, text
from hangar.parts import FedPack, PowerPath
from hangar.parts.choices import FeedRole
from hangar.parts.sheet_boxes import FIELD, LINE, full_name
from hangar.rules.releasing import hindrances_beside_the_list, unjudged_words
from hangar.sheets.case import SheetCase, accepted
from hangar.sheets.failsafe_words import failsafe_cell
from hangar.sheets.findings_part import warnings_first, warnings_under
from hangar.sheets.fit_words import output_number, pack_words
from hangar.sheets.kit import Box
from hangar.sheets.sheet_head import class_words
from hangar.sheets.stamps import stamp_of
from hangar.sheets.style import SheetStyle
from hangar.sheets.texts import PHASES, cautions_for, check_lines, field_lines, footer
from hangar.sheets.whole_file import WEB_PAGE, write_whole
from hangar.survey.packs import load_test_lines

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
            {
                "say": put(other_finding.said),
                "to_do": put(other_finding.remedy) if other_finding.remedy else "",
            }
            for finding in warnings
            if finding.is_open
            for other_finding in (finding, *warnings_under(finding))
        ],
        "hindrances": [put(hindrance) for hindrance in hindrances],
        "warnings": [put(warning.message) for warning in warnings if not warning.is_open],
        "cautions": [put(caution.message) for caution in cautions],
        "people": [put(text(caution)) for caution in cautions_for(case.aircraft, "field")],
        "accepted": len(accepted(case.findings)),
        "phases": [
            {
                "id": name,
                "title": put(title),
                "note": put(note),
                "steps": [step for phase, step in steps if phase == name],
            }
            for name, title, note in PHASES
            if any(phase == name for phase, _ in steps)
        ],
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


def _steps(case: SheetCase, style: SheetStyle) -> Iterator[tuple[str, dict[str, Any]]]:
    """Every step with the phase it belongs to, in the order of doing."""
    code = case.aircraft.code
    lines = field_lines(case, style)
    receivers = sum(path.feed.role is FeedRole.RECEIVER for path in case.aircraft.paths)
    for line in check_lines():
        if line.id == "load-test":
            for path, fed in case.tested_packs:
                yield line.phase, _pack_step(case, style, path, fed)
            if receivers > 1:
                name = full_name(code, FIELD, LINE, "each-pack-alone")
                said = text("Each receiver pack proved alone")
                yield line.phase, _step(name, style.put(said), stop=True, tick=name)
        elif line.id == "controls":
            for output in outputs_of(case.aircraft):
                yield line.phase, _control_step(case, style, output)
        elif line.id == "failsafe":
            for output in outputs_of(case.aircraft):
                yield line.phase, _failsafe_step(case, style, output)
        elif line.id in lines:
            name = full_name(code, FIELD, LINE, line.id)
            yield line.phase, _step(name, style.put(lines[line.id]), stop=line.stop, tick=name)


def _step(
    name: str, say: str, need: str = "", *, expect: str = "", stop: bool = False, tick: str | None = None,
    ask: Sequence[dict[str, Any]] = (), fixed: dict[str, str] | None = None,
) -> dict[str, Any]:  # fmt: skip
    """A step: ``tick`` is the box a good answer ticks, ``ask`` what is typed, ``fixed`` what is known."""
    return {
        "id": name,
        "say": say,
        "need": need,
        "expect": expect,
        "stop": stop,
        "tick": tick,
        "ask": list(ask),
        "fixed": fixed or {},
    }


def _volts(style: SheetStyle, name: str, head: Arg, bands: Sequence[ReadingBand] = ()) -> dict[str, Any]:
    """One reading in volts: the box it fills, and its limits where they are known."""
    band = bands[0] if bands else ReadingBand()
    return {"name": name, "head": style.put(head), "unit": "V", "lo": band.low, "hi": band.high}


def _pack_step(case: SheetCase, style: SheetStyle, path: PowerPath, fed: FedPack) -> dict[str, Any]:
    code, tag = case.aircraft.code, fed.pack.tag
    load_a = test_load_a(case.aircraft.airframe.aircraft_class, case.thresholds)
    lines = load_test_lines(fed, load_a, case.survey.conditions)
    load = style.show(load_a, "A") or ""
    ready = (
        None
        if lines.is_typical
        else text("a ready one gives {volts}", volts=style.show(lines.ready_v, "V", 3))
    )
    said = text(
        "Pack {tag} under {load}: {what}, {role}",
        tag=tag,
        load=load,
        what=pack_words(fed.pack_type),
        role=path.feed.role,
    )
    names = {what: full_name(code, FIELD, tag, what) for what in ("Load", "At rest", "Read", "Tested")}
    bands = bands_of(FIELD, case, style.units, tag, "Read")
    at_rest = {**_volts(style, names["At rest"], text("At rest")), "optional": True}
    return _step(
        names["Tested"],
        style.put(said),
        style.put(bands[0].text) if bands else "",
        expect=style.put(ready) if ready else "",
        stop=True,
        tick=names["Tested"],
        ask=[_volts(style, names["Read"], text("Read"), bands), at_rest],
        fixed={names["Load"]: load},
    )


def _where(output: Output) -> Text:
    number = output_number(output)
    if not isinstance(number, str):
        return text("{name}", name=output.name)
    return text("{name}, channel {number}", name=output.name, number=number)


def _control_step(case: SheetCase, style: SheetStyle, output: Output) -> dict[str, Any]:
    name = full_name(case.aircraft.code, FIELD, output.about, "Control")
    stick = output.channel.stick if output.channel else None
    said = text("{what}: direction, full travel, back to centre", what=_where(output))
    return _step(name, style.put(said), style.put(stick) if stick else "", stop=True, tick=name)


def _failsafe_step(case: SheetCase, style: SheetStyle, output: Output) -> dict[str, Any]:
    name = full_name(case.aircraft.code, FIELD, output.about, "Failsafe")
    wanted = failsafe_cell(case, output)
    said = text("Transmitter off, motor made safe: {what}", what=_where(output))
    if isinstance(wanted, Box):
        bands = bands_of(FIELD, case, style.units, output.about, "No signal")
        words = [style.put(band.text) for band in bands]
        field = full_name(case.aircraft.code, FIELD, output.about, "No signal")
        ask = {"name": field, "head": style.put(text("It did")), "unit": "", "words": words}
        return _step(name, style.put(said), " / ".join(words), stop=True, tick=name, ask=[ask])
    return _step(name, style.put(said), style.put(wanted) if wanted else "", stop=True, tick=name)
