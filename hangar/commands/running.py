"""The command line: every command takes a fleet file, a server address or a folder of tables."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from io import TextIOWrapper
from pathlib import Path
from typing import Any

from hangar import __version__
from hangar.base.errors import BadInput, HangarError, StoreFault
from hangar.base.text import series
from hangar.commands.acting import run_carry_out, run_fit, run_log, run_take_off
from hangar.commands.answers import run_inspect, run_survey
from hangar.commands.entering import (
    add_copy_aircraft,
    add_fit_pack,
    add_fit_type,
    add_new_aircraft,
    run_copy_aircraft,
    run_fit_pack,
    run_fit_type,
    run_new_aircraft,
)
from hangar.commands.files import run_bring_in, run_check_file, run_sheet, run_take_out
from hangar.commands.flights import run_flight_record
from hangar.commands.opening import TROUBLE
from hangar.commands.refits import run_refit
from hangar.commands.speaking import OPTION, command_first, fault_words, say, speak

SHEET_KINDS = (
    "field", "bench", "build", "cuts", "labels", "charging", "shopping", "passport", "fleet", "working",
)  # fmt: skip
LABEL_GRIDS = (
    "3x7", "3x8", "5x13", "3x10", "2x4", "2x7", "2x8", "2x5-105", "3x4", "3x6", "3x8-70", "4x10", "4x10-52",
    "4x12", "7x27", "2x5-letter", "2x7-letter", "2x10-letter", "4x15-letter", "4x20-letter",
)  # fmt: skip
LABEL_PARTS = ("pack", "servo", "lead")
READ_NO_FURTHER = 128 + 13
"""What a shell says of a program that a broken pipe has ended: its signal, SIGPIPE, over 128."""


class _Parser(argparse.ArgumentParser):
    """Says in one sentence what is wrong with the words of a command."""

    def error(self, message: str) -> Any:
        words = say("{fault}; see hangar --help.", fault=message)
        print(f"hangar: {words}", file=sys.stderr)
        raise SystemExit(TROUBLE)

    def add_argument(self, *names: Any, **options: Any) -> argparse.Action:
        """Its help is said in the language spoken."""
        if isinstance(options.get("help"), str):
            options["help"] = say(options["help"])
        return super().add_argument(*names, **options)


def main(argv: Sequence[str] | None = None) -> int:
    """Run one command and return its exit code.

    0 = done (for inspect: no warning open), 1 = done, but something is to be looked at (a warning is
    open, a part was not taken), 2 = told why not, 141 = whoever read what is printed read no further.
    """
    words = list(sys.argv[1:] if argv is None else argv)
    _say_every_sign()
    try:
        try:
            speak(words)
            return _answer(command_first(words))
        finally:
            _print_the_rest()
    except HangarError as fault:
        print(f"hangar: {fault_words(fault)}", file=sys.stderr)
    except BrokenPipeError:
        return READ_NO_FURTHER
    except OSError as fault:
        place = f"{fault.filename}: " if fault.filename else ""
        print(f"hangar: {place}{fault.strerror or fault}.", file=sys.stderr)
    return TROUBLE


def _answer(words: list[str]) -> int:
    if any("\0" in word for word in words):
        raise BadInput("found a word with the sign for the end of a text in it; no file is named so.")
    if not words or words[0] not in {*COMMANDS, "-h", "--help", "--version"}:
        return _open_window(words)
    arguments = _parser().parse_args(words)
    return int(arguments.run(arguments))


def _print_the_rest() -> None:
    """Print what still waits while a failure can be told; at its end Python could only complain of it."""
    if sys.stdout is None:  # a program without a terminal on Windows
        return
    try:
        sys.stdout.flush()
    except OSError:
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)
        raise


def _say_every_sign() -> None:
    """A terminal or a pipe of few signs shows the others by their numbers instead of ending the command."""
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, TextIOWrapper):
            stream.reconfigure(errors="backslashreplace")


_OF_ARGPARSE = (
    *("usage: ", "options", "positional arguments", "show this help message and exit"),
    *("show program's version number and exit", "the following arguments are required: %s"),
    *("unrecognized arguments: %s", "argument %(argument_name)s: %(message)s", "expected one argument"),
    *("expected at least one argument", "invalid choice: %(value)r (choose from %(choices)s)"),
    "invalid %(type)s value: %(value)r",
)
"""What the library that reads a command's words says itself."""


def _parser() -> _Parser:
    # The library asks for its own words by this name, at the moment it says them.
    setattr(argparse, "_", say)  # noqa: B010 the name is none of its public ones
    parser = _Parser(
        prog="hangar",
        description=say(
            "Keep a fleet of radio-controlled model aircraft, see what does not match, plan refits. "
            "Without a command it opens the window: hangar [FLEET]. "
            "FLEET is a fleet file, the address of a club's server (postgresql://...) or a folder of tables. "
            "Computed loads are estimates; the maker's manual, the club's rules and the law govern."
        ),
        epilog=say(
            "exit code: 0 done, 1 a warning is open (inspect) or a part was not taken (bring-in), "
            "2 something is wrong and was told"
        ),
    )
    parser.add_argument("--version", action="version", version=f"hangar {__version__}")
    commands = parser.add_subparsers(metavar="COMMAND", parser_class=_Parser)
    for name, (about, add, run) in COMMANDS.items():
        command = commands.add_parser(name, help=say(about), description=say(about))
        command.set_defaults(run=run)
        add(command)
        command.add_argument(OPTION, metavar="CODE", help="language of what is printed, such as de")
    return parser


def _open_window(words: list[str]) -> int:
    unknown = [word for word in words if word.startswith("-")]
    if unknown or len(words) > 1:
        raise BadInput(
            "found '{words}'; expected one fleet or one of the commands {commands}.",
            words=" ".join(words),
            commands=series(COMMANDS, ","),
        )
    from hangar.window.screen import screen_trouble

    trouble = screen_trouble()
    if trouble is not None:
        raise StoreFault(trouble)
    from hangar.window.start import run

    return run(words[0] if words else None)


def _add_fleet(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "fleet", metavar="FLEET", help="fleet file, address of a club's server, or folder of tables"
    )


def _add_inspect(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", help="one aircraft only")
    command.add_argument("--field-day", action="store_true", help="judge as on a flying day")
    command.add_argument("--json", action="store_true", help="print JSON: a list of findings")


def _add_survey(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", required=True, help="one aircraft, by its code")
    command.add_argument("--json", action="store_true", help="print JSON: an object")


def _add_refit(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", help="the refit of one aircraft")
    command.add_argument("--whole-fleet", action="store_true", help="one budget over all aircraft")
    command.add_argument(
        "--clear", action="store_true",
        help="the least that clears every warning a plan can cure; so without any other question",
    )  # fmt: skip
    command.add_argument(
        "--budget", metavar="MONEY", type=float, help="the best for this money, nothing made worse"
    )
    command.add_argument("--next", action="store_true", help="the next worthwhile step")
    command.add_argument(
        "--stages", metavar="MONEY", type=float, nargs="+",
        help="money of each stage: most warnings gone first, no stage worse than today",
    )  # fmt: skip
    command.add_argument("--plan", metavar="PLAN", help="with --stages: the open lines of this kept plan")
    command.add_argument(
        "--second-pack", action="store_true",
        help="offer a second pack, isolated from the first, wherever one feeds the radio",
    )  # fmt: skip
    command.add_argument(
        "--swaps", action="store_true",
        help="let servos and packs be swapped with other aircraft where that makes nothing worse on them; "
        "--whole-fleet does so in any case",
    )  # fmt: skip
    command.add_argument("--json", action="store_true", help="print JSON: an object")


def _add_place(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", required=True, help="the aircraft, by its code")
    command.add_argument("--position", metavar="POS", required=True, help="the servo position, by its code")


def _add_fit(command: argparse.ArgumentParser) -> None:
    _add_place(command)
    command.add_argument(
        "--servo",
        metavar="TAG",
        required=True,
        help="the servo that goes in; the one there goes to Stores",
    )


def _add_take_off(command: argparse.ArgumentParser) -> None:
    _add_place(command)
    command.add_argument("--to-bin", metavar="BIN", help="the bin of Stores it goes to")


def _add_log(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", required=True, help="the aircraft, by its code")
    command.add_argument("--minutes", metavar="N", type=float, required=True, help="minutes flown")
    command.add_argument("--pack", metavar="TAG", nargs="+", help="packs used")
    command.add_argument("--remarks", metavar="WORDS", help="remarks of the flight")
    command.add_argument(
        "--although-held",
        metavar="REASON",
        help="log it of an aircraft that must not fly; kept with the flight",
    )


def _add_carry_out(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument(
        "--plan", metavar="CODE", required=True, help="the plan, which must be at the fitting"
    )
    command.add_argument(
        "--line", metavar="N", type=int, nargs="+",
        help="lines to carry out, each an edit of its own; all open ones without it",
    )  # fmt: skip


def _add_sheet(command: argparse.ArgumentParser) -> None:
    command.add_argument("kind", metavar="KIND", choices=SHEET_KINDS, help=", ".join(SHEET_KINDS))
    _add_fleet(command)
    command.add_argument("--aircraft", metavar="CODE", help="one aircraft only; all without it")
    command.add_argument("--out", metavar="FILE", type=Path, required=True, help="file to write")
    command.add_argument("--paper", choices=("A4", "Letter"), help="A4 without it")
    command.add_argument("--fillable", action="store_true", help="boxes are fields to fill on a tablet")
    command.add_argument(
        "--html", action="store_true", help="the field checklist as one page for a phone; needs no network"
    )
    command.add_argument("--no-prices", action="store_true", help="leave prices and costs out")
    command.add_argument("--no-own-details", action="store_true", help="leave mark, numbers and notes out")
    command.add_argument(
        "--labels", metavar="SHEET", choices=LABEL_GRIDS,
        help=say(
            "label sheet, columns by rows; plain paper without it; one of {sheets}",
            sheets=series(LABEL_GRIDS, ","),
        ),
    )  # fmt: skip
    command.add_argument(
        "--first-label", metavar="NUMBER", type=int, default=1, help="first free label of a part-used sheet"
    )
    command.add_argument(
        "--label-parts", metavar="PART", nargs="+", choices=LABEL_PARTS, default=LABEL_PARTS,
        help="what gets a label: pack, servo, lead; all without it",
    )  # fmt: skip
    command.add_argument("--grey", action="store_true", help="photos in grey")


def _add_bring_in(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument(
        "sources", metavar="SOURCE", nargs="+", type=Path,
        help="a keeper's own sheet (CSV, TSV, TXT, XLSX, ODS), tables, a filled sheet as PDF, or a folder",
    )  # fmt: skip
    command.add_argument(
        "--rehearse", action="store_true", help="read and report, write nothing; FLEET may be -"
    )
    command.add_argument(
        "--map", metavar="FILE", type=Path,
        help="how the sheet is to be read; with --rehearse it is written if it is not there",
    )  # fmt: skip
    command.add_argument(
        "--report", metavar="FILE", type=Path, help="write what became of every cell, as JSON"
    )


def _add_flight_record(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument(
        "log", metavar="FILE", type=Path, help="a logger's table of a flight (CSV, TSV, TXT)"
    )
    command.add_argument("--aircraft", metavar="CODE", required=True, help="the aircraft that flew it")
    command.add_argument(
        "--below",
        metavar="VOLTS",
        type=float,
        nargs="+",
        action="extend",
        help="count the time below these volts",
    )
    command.add_argument(
        "--flight", metavar="N", type=int, help="which flight of a file that holds several; else the longest"
    )
    command.add_argument("--pack-c", metavar="DEGREES", type=float, help="temperature of the packs, in °C")
    command.add_argument("--keep", action="store_true", help="keep its summary with the aircraft")
    command.add_argument("--json", action="store_true", help="print a plain object for scripts")


def _add_take_out(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("folder", metavar="FOLDER", type=Path, help="a folder, or a file ending in .xlsx")


def _add_check_file(command: argparse.ArgumentParser) -> None:
    _add_fleet(command)
    command.add_argument("--restore", metavar="BACKUP", help="put a backup in its place: a file, or newest")
    command.add_argument("--keep-copy", action="store_true", help="put a dated copy aside first")
    command.add_argument(
        "--copies", metavar="FOLDER", type=Path,
        help="where the copies of a server's fleet lie; else with the program's own data",
    )  # fmt: skip


def _with_fleet(
    add: Callable[[argparse.ArgumentParser], None],
) -> Callable[[argparse.ArgumentParser], None]:
    """The fleet first, then what a command asks besides."""

    def add_both(command: argparse.ArgumentParser) -> None:
        _add_fleet(command)
        add(command)

    return add_both


_Command = tuple[str, Callable[[argparse.ArgumentParser], None], Callable[[argparse.Namespace], int]]
COMMANDS: dict[str, _Command] = {
    "inspect": ("findings: what does not match, with numbers, remedy and source", _add_inspect, run_inspect),
    "survey": ("every computed figure of one aircraft with band, basis and working", _add_survey, run_survey),
    "refit": (
        "the refit that clears an aircraft, is best for money or comes next, checked in full",
        _add_refit,
        run_refit,
    ),
    "sheet": ("print a sheet as PDF", _add_sheet, run_sheet),
    "bring-in": (
        "read tables or filled sheets into a fleet file; makes the file if it is not there",
        _add_bring_in,
        run_bring_in,
    ),
    "take-out": ("write a fleet's tables into a folder", _add_take_out, run_take_out),
    "new-aircraft": (
        "enter an aircraft with the positions, channels and surfaces of its layout",
        _with_fleet(add_new_aircraft),
        run_new_aircraft,
    ),
    "copy-aircraft": (
        "enter another aircraft with the layout, arms and leads of one there is",
        _with_fleet(add_copy_aircraft),
        run_copy_aircraft,
    ),
    "fit-type": (
        "fit one servo type at several positions; their tags count on",
        _with_fleet(add_fit_type),
        run_fit_type,
    ),
    "fit-pack": (
        "fit a pack with switch, regulator and lead",
        _with_fleet(add_fit_pack),
        run_fit_pack,
    ),
    "fit": ("fit a servo at a position", _add_fit, run_fit),
    "take-off": ("take the servo off a position", _add_take_off, run_take_off),
    "log": ("log a flight of today", _add_log, run_log),
    "flight-record": (
        "read a logger's file of a flight: volts, currents, charge, resistance, and what happened",
        _add_flight_record,
        run_flight_record,
    ),
    "carry-out": ("do the lines of a refit plan in the records", _add_carry_out, run_carry_out),
    "check-file": (
        "whether a fleet file is sound, its version and its backups",
        _add_check_file,
        run_check_file,
    ),
}
WORDS_OF_TABLES = (*_OF_ARGPARSE, *(about for about, _add, _run in COMMANDS.values()))
