"""The commands that read and write files: sheet, bring-in, take-out and check-file."""

from __future__ import annotations

import argparse
import json
import sys
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput, HangarError, StoreFault
from hangar.base.places import COPIES_OF_SERVERS
from hangar.base.text import plural, text
from hangar.commands.opening import LOOK, NO_WARNING, TROUBLE, basis_of, chosen, fleet_at, take
from hangar.commands.speaking import reader, units_of

if TYPE_CHECKING:
    from hangar.store import Fleet


def run_sheet(arguments: argparse.Namespace) -> int:
    from hangar.answers.judging import PutAside, judge_aircraft
    from hangar.parts import Attachment
    from hangar.sheets import SHEETS, SheetCase, SheetStyle, write_sheet
    from hangar.sheets.label_grid import label_grids
    from hangar.sheets.phone_card import write_phone_card
    from hangar.sheets.photo import photos_of

    with fleet_at(arguments.fleet) as fleet:
        basis, aircraft = basis_of(fleet), chosen(fleet, arguments.aircraft)
        with_photo = SHEETS[arguments.kind].with_photo
        look = photos_of(fleet.records(Attachment), fleet.paper) if with_photo else None
        sheet_of_labels = label_grids().get(arguments.labels or "")
        style = SheetStyle(
            paper=arguments.paper or (sheet_of_labels.paper if sheet_of_labels else "A4"),
            units=units_of(basis),
            language=reader().language,
            fillable=arguments.fillable,
            prices=not arguments.no_prices,
            own_details=not arguments.no_own_details,
            club=basis.named.get("club.name", ""),
            label_grid=arguments.labels or "",
            label_start=arguments.first_label,
            label_parts=tuple(arguments.label_parts),
            colour=not arguments.grey,
        )
        day = arguments.kind == "field"
        cases = [
            SheetCase.of(
                PutAside(judge_aircraft(plane, basis, field_day=day)), basis, photo=look and look(plane.code)
            )
            for plane in aircraft
        ]
        if arguments.html:
            if arguments.kind != "field":
                raise BadInput(
                    "only the field checklist is written for a phone; {kind} was asked for.",
                    kind=arguments.kind,
                )
            write_phone_card(cases, arguments.out, style)
        else:
            write_sheet(arguments.kind, cases, arguments.out, style)
    print(arguments.out)
    return NO_WARNING


def run_bring_in(arguments: argparse.Namespace) -> int:
    from hangar.store import Fleet

    missing = next((source for source in arguments.sources if not source.exists()), None)
    if missing:
        raise BadInput(
            "{place} does not exist; give a spreadsheet or text file of your own, CSV or XLSX tables, filled "
            "sheets as PDF, or a folder of them.",
            place=str(missing),
        )
    path = Path(arguments.fleet)
    fresh = "://" not in arguments.fleet and not path.exists()
    if arguments.rehearse and fresh:
        if arguments.fleet != "-":
            path = Path()
        with Fleet.in_memory() as fleet:
            return _bring_in(fleet, arguments)
    try:
        with (
            Fleet.create(path)
            if fresh
            else fleet_at(arguments.fleet, writing=not arguments.rehearse) as fleet
        ):
            return _bring_in(fleet, arguments)
    except HangarError:
        if fresh:
            path.unlink(missing_ok=True)
        raise


def _bring_in(fleet: Fleet, arguments: argparse.Namespace) -> int:
    from hangar.store.intake.mapping import answers_from

    place: Path | None = arguments.map
    answers, name = None, ""
    if place is not None and (place.exists() or not arguments.rehearse):
        answers, name = answers_from(_text_of(place), place.name), place.name
    report = take(fleet, arguments.sources, answers, name, arguments.rehearse)
    if arguments.rehearse and place is not None and not place.exists():
        _write(place, report.mapping)
    if arguments.report is not None:
        _write(arguments.report, json.dumps(report.data(), ensure_ascii=False, indent=1) + "\n")
    print(report.text(reader().put))
    if report.refused:
        sentence = plural(
            "taken in part; {count} entry was left out, each named with its reason.",
            "taken in part; {count} entries were left out, each named with its reason.",
            count=len(report.refused),
        )
        print(f"hangar: {reader().put(sentence)}", file=sys.stderr)
    return LOOK if report.is_open else NO_WARNING


def _text_of(place: Path) -> str:
    try:
        return place.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        raise BadInput(
            "{place} cannot be read as a mapping: {fault}.", place=str(place), fault=str(fault)
        ) from fault


def _write(place: Path, text: str) -> None:
    try:
        place.write_text(text, encoding="utf-8")
    except OSError as fault:
        raise StoreFault(
            "{place} cannot be written: {fault}.", place=str(place), fault=fault.strerror or str(fault)
        ) from fault


def run_take_out(arguments: argparse.Namespace) -> int:
    from hangar.store import take_out

    with fleet_at(arguments.fleet) as fleet:
        for path in take_out(fleet, arguments.folder, reader().put):
            print(path)
    return NO_WARNING


def run_check_file(arguments: argparse.Namespace) -> int:
    from hangar.store import check_file
    from hangar.store.restore import restored

    put = reader().put
    is_far = "://" in arguments.fleet
    if arguments.keep_copy:
        print(put(text("A copy was put aside as {place}.", place=str(_kept_copy(arguments)))))
    if arguments.restore is not None:
        if is_far:
            from hangar.store.server_restore import restore_server

            folder, now = _copies_folder(arguments), datetime.now()  # noqa: DTZ005
            print(put(restore_server(arguments.fleet, arguments.restore, folder, now)))
        else:
            print(put(restored(arguments.fleet, arguments.restore)))
    report = check_file(arguments.fleet)
    print(put(report.text))
    return NO_WARNING if report.sound else TROUBLE


def _kept_copy(arguments: argparse.Namespace) -> Path:
    from hangar.store.server_copies import keep_copy

    if "://" in arguments.fleet:
        return keep_copy(arguments.fleet, _copies_folder(arguments), datetime.now())  # noqa: DTZ005
    with fleet_at(arguments.fleet) as fleet:
        kept = fleet.keep_backup()
    if kept is None:
        raise BadInput(
            "{place} is not a fleet file; give a file that ends in .hangar.", place=arguments.fleet
        )
    return kept


def _copies_folder(arguments: argparse.Namespace) -> Path:
    """Where the copies of a server's fleet lie: as asked, else among the program's own data."""
    from platformdirs import user_data_path

    if arguments.copies is not None:
        return Path(arguments.copies)
    return user_data_path("hangar", appauthor=False) / COPIES_OF_SERVERS
