"""The command line: every command takes a fleet file, a server address or a folder of tables."""

from __future__ import annotations

import argparse
import json
import sys
from collections.abc import Callable, Sequence
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any

from hangar import __version__
from hangar.base.errors import BadInput, HangarError, StoreFault

if TYPE_CHECKING:
    from hangar.base.units import UnitChoice
    from hangar.parts import Aircraft
    from hangar.refit import Front
    from hangar.rules import Thresholds
    from hangar.rules.finding import Finding
    from hangar.store import Fleet
    from hangar.survey import Survey

SHEET_KINDS = (
    "field", "bench", "build", "cuts", "labels", "charging", "shopping", "passport", "fleet", "working",
)  # fmt: skip
LABEL_GRIDS = ("3x7", "3x8", "5x13", "3x10")
NO_WARNING, WARNING_OPEN, TROUBLE = 0, 1, 2


class _Parser(argparse.ArgumentParser):
    """Says in one sentence what is wrong with the words of a command."""

    def error(self, message: str) -> Any:
        print(f"hangar: {message}; see hangar --help.", file=sys.stderr)
        raise SystemExit(TROUBLE)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code.

    0 = done (for inspect: no warning open), 1 = at least one warning open, 2 = told why not.
    """
    words = list(sys.argv[1:] if argv is None else argv)
    try:
        if not words or words[0] not in {*_COMMANDS, "-h", "--help", "--version"}:
            return _open_window(words)
        arguments = _parser().parse_args(words)
        return int(arguments.run(arguments))
    except HangarError as fault:
        print(f"hangar: {fault}", file=sys.stderr)
    except BrokenPipeError:
        sys.stderr.close()
    except OSError as fault:
        place = f"{fault.filename}: " if fault.filename else ""
        print(f"hangar: {place}{fault.strerror or fault}.", file=sys.stderr)
    return TROUBLE


def _parser() -> _Parser:
    parser = _Parser(
        prog="hangar",
        description="Keep a fleet of radio-controlled model aircraft, see what does not match, plan refits. "
        "Without a command it opens the window: hangar [FLEET]. "
        "FLEET is a fleet file, a server address (postgresql+psycopg://...) or a folder of tables. "
        "Computed loads are estimates; the maker's manual, club rules and law govern.",
        epilog="exit code: 0 done, 1 a warning is open (inspect), 2 something is wrong and was told",
    )
    parser.add_argument("--version", action="version", version=f"hangar {__version__}")
    commands = parser.add_subparsers(metavar="COMMAND", parser_class=_Parser)
    for name, (about, add, run) in _COMMANDS.items():
        command = commands.add_parser(name, help=about, description=about)
        command.set_defaults(run=run)
        add(command)
    return parser


def _open_window(words: list[str]) -> int:
    unknown = [word for word in words if word.startswith("-")]
    if unknown or len(words) > 1:
        raise BadInput(
            f"found {' '.join(words)!r}; expected one fleet or one of the commands {', '.join(_COMMANDS)}."
        )
    from hangar.window.start import run

    return run(words[0] if words else None)


def _fleet_at(place: str, *, writing: bool = False) -> Fleet:
    """The fleet at that place; a folder of tables or a spreadsheet is read into memory."""
    from hangar.store import Fleet

    if "://" in place:
        return Fleet.open(place, read_only=not writing)
    path = Path(place)
    if path.is_dir() or path.suffix.lower() in {".csv", ".xlsx"}:
        if writing:
            raise BadInput(f"{place} is not a fleet file; give a file that ends in .hangar.")
        fleet = Fleet.in_memory()
        _take(fleet, [path])
        return fleet
    if not path.exists():
        raise StoreFault(f"{place} does not exist; give a fleet file or a folder of tables.")
    return Fleet.open(path, read_only=not writing)


def _take(fleet: Fleet, sources: Sequence[Path]) -> str:
    from hangar.store import bring_in

    report = bring_in(fleet, list(sources))
    if not report.taken:
        first = f" {report.refused[0]}" if report.refused else ""
        raise BadInput(f"nothing was brought in from {', '.join(map(str, sources))}.{first}")
    return report.text()


def _chosen(fleet: Fleet, code: str | None) -> tuple[Aircraft, ...]:
    return fleet.whole_fleet() if code is None else (fleet.aircraft(code),)


def _judged(
    fleet: Fleet, aircraft: Aircraft, *, field_day: bool = False
) -> tuple[Survey, tuple[Finding, ...]]:
    from hangar.rules import inspect
    from hangar.survey import Conditions, survey

    surveyed = survey(aircraft, Conditions(today=date.today(), field_day=field_day))
    return surveyed, inspect(aircraft, surveyed, _thresholds(fleet), _units(fleet), fleet.library())


def _thresholds(fleet: Fleet) -> Thresholds:
    from hangar.parts import Setting
    from hangar.rules import Thresholds

    return Thresholds.from_settings(fleet.records(Setting))


def _units(fleet: Fleet) -> UnitChoice:
    from hangar.base.units import UnitChoice
    from hangar.parts import Setting

    return UnitChoice.from_settings({each.name: each.value for each in fleet.records(Setting)})


def _club(fleet: Fleet) -> str:
    from hangar.parts import Setting

    setting = fleet.record(Setting, "club.name")
    return setting.value if setting else ""


def _print_json(thing: object) -> None:
    print(json.dumps(thing, indent=2, ensure_ascii=False))


def _inspect(arguments: argparse.Namespace) -> int:
    from hangar.rules import findings_as_json
    from hangar.rules.finding import Level

    with _fleet_at(arguments.fleet) as fleet:
        chosen = _chosen(fleet, arguments.aircraft)
        judged = [
            (aircraft, _judged(fleet, aircraft, field_day=arguments.field_day)[1]) for aircraft in chosen
        ]
    if arguments.json:
        _print_json(findings_as_json([finding for _, findings in judged for finding in findings]))
    else:
        for aircraft, findings in judged:
            _print_findings(aircraft, findings)
    warning_open = any(
        finding.level is Level.WARNING and finding.is_open for _, findings in judged for finding in findings
    )
    return WARNING_OPEN if warning_open else NO_WARNING


def _print_findings(aircraft: Aircraft, findings: Sequence[Finding]) -> None:
    from hangar.rules import summary

    print(f"{aircraft.code}  {aircraft.airframe.name}: {summary(findings)}")
    for finding in findings:
        until = f" (accepted until {finding.accepted_until})" if finding.accepted_until else ""
        print(f"  {finding.level.upper():10} {finding.rule}: {finding.message}{until}")
        for line in (finding.detail, finding.remedy and f"To do: {finding.remedy}"):
            if line:
                print(f"             {line}")


def _survey(arguments: argparse.Namespace) -> int:
    from hangar.survey.as_json import survey_json

    with _fleet_at(arguments.fleet) as fleet:
        surveyed, _ = _judged(fleet, fleet.aircraft(arguments.aircraft))
        units = _units(fleet)
    if arguments.json:
        _print_json(survey_json(surveyed))
        return NO_WARNING
    print(f"{surveyed.aircraft.code}  {surveyed.aircraft.airframe.name}")
    for name, figure in surveyed.figures():
        band = (
            f" ({units.show(figure.low, figure.unit)} to {units.show(figure.design, figure.unit)})"
            if figure.low is not None and figure.design is not None
            else ""
        )
        print(f"  {name}: {units.show(figure.expected, figure.unit)}{band}, {figure.basis}")
        print(f"      {figure.working.formula}; {figure.working.source}")
    return NO_WARNING


def _refit(arguments: argparse.Namespace) -> int:
    from hangar.refit import Limits, front_as_json, plan

    with _fleet_at(arguments.fleet) as fleet:
        aircraft = fleet.aircraft(arguments.aircraft)
        library, thresholds = fleet.library(), _thresholds(fleet)
    front = plan(aircraft, library, limits=Limits(budget=arguments.budget, thresholds=thresholds))
    if arguments.json:
        _print_json(front_as_json(front))
    else:
        _print_front(front)
    return NO_WARNING


def _print_front(front: Front) -> None:
    from hangar.refit.front import line_words

    print(
        f"{front.aircraft.code}  {front.aircraft.airframe.name}: {len(front.points)} refits that none beats"
    )
    for point in front.points:
        margin = "not known" if point.weakest_margin is None else f"{point.weakest_margin:.2f}"
        bus = "not known" if point.worst_bus_v is None else f"{point.worst_bus_v:.2f} V"
        print(
            f"  price {point.price:g}, {point.mass_change_g:+.0f} g, weakest margin {margin}, peak bus {bus}"
        )
        for line in point.changes:
            print(f"      {line_words(line)}")
        if not point.changes:
            print("      as it is")
    for words in front.doubts:
        print(f"  {words}")


def _sheet(arguments: argparse.Namespace) -> int:
    from hangar.sheets import SheetCase, SheetStyle, write_sheet

    with _fleet_at(arguments.fleet) as fleet:
        style = SheetStyle(
            paper=arguments.paper or ("Letter" if arguments.labels == "3x10" else "A4"),
            units=_units(fleet),
            fillable=arguments.fillable,
            prices=not arguments.no_prices,
            own_details=not arguments.no_own_details,
            club=_club(fleet),
            label_grid=arguments.labels or "",
        )
        library, thresholds = fleet.library(), _thresholds(fleet)
        judged = [
            _judged(fleet, aircraft, field_day=arguments.kind == "field")
            for aircraft in _chosen(fleet, arguments.aircraft)
        ]
    cases = [
        SheetCase(survey=surveyed, findings=findings, library=library, thresholds=thresholds)
        for surveyed, findings in judged
    ]
    write_sheet(arguments.kind, cases, arguments.out, style)
    print(arguments.out)
    return NO_WARNING


def _bring_in(arguments: argparse.Namespace) -> int:
    from hangar.store import Fleet

    path = Path(arguments.fleet)
    fresh = "://" not in arguments.fleet and not path.exists()
    missing = next((source for source in arguments.sources if not source.exists()), None)
    if missing:
        raise BadInput(f"{missing} does not exist; give CSV or XLSX tables or a folder of them.")
    try:
        with Fleet.create(path) if fresh else _fleet_at(arguments.fleet, writing=True) as fleet:
            print(_take(fleet, arguments.sources))
    except HangarError:
        if fresh:
            path.unlink(missing_ok=True)
        raise
    return NO_WARNING


def _take_out(arguments: argparse.Namespace) -> int:
    from hangar.store import take_out

    with _fleet_at(arguments.fleet) as fleet:
        for path in take_out(fleet, arguments.folder):
            print(path)
    return NO_WARNING


def _check_file(arguments: argparse.Namespace) -> int:
    from hangar.store import check_file
    from hangar.store.restore import restored

    if arguments.restore is not None:
        print(restored(arguments.fleet, arguments.restore))
    print(check_file(arguments.fleet))
    return NO_WARNING


def _add_fleet(command: argparse.ArgumentParser) -> None:
    command.add_argument("fleet", metavar="FLEET", help="fleet file, server address or folder of tables")


def _add_inspect(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", help="one aircraft only")
    command.add_argument("--field-day", action="store_true", help="judge as on a flying day")
    command.add_argument("--json", action="store_true", help="print a list of objects")


def _add_survey(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", required=True)
    command.add_argument("--json", action="store_true", help="print an object")


def _add_refit(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", required=True)
    command.add_argument("--budget", metavar="MONEY", type=float, help="most money to spend")
    command.add_argument("--json", action="store_true", help="print an object")


def _add_sheet(command: argparse.ArgumentParser) -> None:
    command.add_argument("kind", metavar="KIND", choices=SHEET_KINDS, help=", ".join(SHEET_KINDS))
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", help="one aircraft only; all without it")
    command.add_argument("--out", metavar="FILE.pdf", type=Path, required=True)
    command.add_argument("--paper", choices=("A4", "Letter"), help="A4 without it")
    command.add_argument("--fillable", action="store_true", help="boxes are fields to fill on a tablet")
    command.add_argument("--no-prices", action="store_true", help="leave prices and costs out")
    command.add_argument("--no-own-details", action="store_true", help="leave mark, numbers and notes out")
    command.add_argument(
        "--labels", choices=LABEL_GRIDS, help="label sheet, columns by rows; 3x10 is Letter; plain without it"
    )


def _add_bring_in(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("sources", metavar="SOURCE", nargs="+", type=Path, help="CSV or XLSX, or a folder")


def _add_take_out(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("folder", metavar="FOLDER", type=Path)


def _add_check_file(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--restore", metavar="BACKUP", help="put a backup in its place: a file, or newest")


_Command = tuple[str, Callable[[argparse.ArgumentParser], None], Callable[[argparse.Namespace], int]]
_COMMANDS: dict[str, _Command] = {
    "inspect": ("findings: what does not match, with numbers, remedy and source", _add_inspect, _inspect),
    "survey": ("every computed figure of one aircraft with band, basis and working", _add_survey, _survey),
    "refit": ("refits of one aircraft that none beats, each proved by survey and rules", _add_refit, _refit),
    "sheet": ("print a sheet as PDF", _add_sheet, _sheet),
    "bring-in": (
        "read tables into a fleet file; makes the file if it is not there",
        _add_bring_in,
        _bring_in,
    ),
    "take-out": ("write a fleet's tables into a folder", _add_take_out, _take_out),
    "check-file": ("integrity, version and backups of a fleet file", _add_check_file, _check_file),
}
