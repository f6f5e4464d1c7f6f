"""The commands that enter much at once: an aircraft by its layout, a copy, a type at several places."""

from __future__ import annotations

import argparse
from typing import TYPE_CHECKING

from hangar.base.errors import BadInput
from hangar.base.text import listed
from hangar.base.units import SI_TRADE
from hangar.commands.acting import do_and_tell
from hangar.commands.opening import NO_WARNING, fleet_at
from hangar.commands.speaking import reader

if TYPE_CHECKING:
    from hangar.parts.choices import SwitchKind


def run_new_aircraft(arguments: argparse.Namespace) -> int:
    from hangar.acts.new_aircraft import enter_kit
    from hangar.acts.session import Session
    from hangar.answers.kits import make_kit
    from hangar.parts.choices import AircraftClass

    kind = next((kind for kind in AircraftClass if kind == arguments.kind), None)
    if kind is None:
        raise BadInput(
            'There is no class "{kind}"; the classes are {known}.',
            kind=arguments.kind,
            known=listed(list(AircraftClass), joint=",", most=0),
        )
    kit = make_kit(kind, _answers(arguments.layout or ()))
    with fleet_at(arguments.fleet, writing=True) as fleet:
        session = Session(fleet)
        do_and_tell(session, enter_kit, kit, arguments.aircraft, arguments.name or "", reader().put)
    return NO_WARNING


def _answers(words: list[str] | tuple[str, ...]) -> dict[str, tuple[str, ...]]:
    """Words such as ``swashplate=120`` or ``also=retracts,tow`` by what they answer."""
    answers: dict[str, tuple[str, ...]] = {}
    for word in words:
        ask, sign, keys = word.partition("=")
        if not sign or not ask or not keys:
            raise BadInput('--layout: found "{word}"; a word such as swashplate=120 is wanted.', word=word)
        answers[ask] = tuple(keys.split(","))
    return answers


def run_copy_aircraft(arguments: argparse.Namespace) -> int:
    from hangar.acts.copying import copy_aircraft
    from hangar.acts.session import Session

    with fleet_at(arguments.fleet, writing=True) as fleet:
        session = Session(fleet)
        do_and_tell(session, copy_aircraft, arguments.aircraft, arguments.to, arguments.name or "")
    return NO_WARNING


def run_fit_type(arguments: argparse.Namespace) -> int:
    from hangar.acts.fit_several import SeveralFit, fit_several
    from hangar.acts.session import Session

    what = SeveralFit(
        servo_type=arguments.servo_type,
        first_tag=arguments.first_tag or "",
        arm_mm=_length_mm(arguments.arm),
        lead_mm=_length_mm(arguments.lead),
        lead_awg=arguments.lead_awg,
    )
    with fleet_at(arguments.fleet, writing=True) as fleet:
        session = Session(fleet)
        aircraft = session.aircraft(arguments.aircraft)
        do_and_tell(session, fit_several, aircraft, arguments.position, what, session.today)
    return NO_WARNING


def run_fit_pack(arguments: argparse.Namespace) -> int:
    from hangar.acts.fit_pack import PackWork, fit_pack
    from hangar.acts.session import Session

    work = PackWork(
        pack=arguments.pack or "",
        pack_type=arguments.pack_type or "",
        path=arguments.path or "",
        switch_type=arguments.switch or "",
        switch_kind=_switch_kind(arguments.switch_kind),
        regulator_type=arguments.regulator or "",
        set_v=arguments.set_v,
        lead_mm=_length_mm(arguments.lead),
        lead_awg=arguments.lead_awg,
    )
    with fleet_at(arguments.fleet, writing=True) as fleet:
        session = Session(fleet)
        do_and_tell(session, fit_pack, session.aircraft(arguments.aircraft), work, session.today)
    return NO_WARNING


def _switch_kind(word: str | None) -> SwitchKind | None:
    from hangar.parts.choices import SwitchKind

    if word is None:
        return None
    kind = next((kind for kind in SwitchKind if kind == word), None)
    if kind is None:
        known = listed(list(SwitchKind), joint=",", most=0)
        raise BadInput('There is no kind of switch "{kind}"; allowed is {known}.', kind=word, known=known)
    return kind


def _length_mm(words: str | None) -> float | None:
    """A length as typed: ``300``, ``12 in``."""
    return None if words is None else SI_TRADE.parse(words, "mm")


def add_new_aircraft(command: argparse.ArgumentParser) -> None:
    command.add_argument("--aircraft", metavar="CODE", required=True, help="its code, 2 to 6 characters")
    command.add_argument("--name", metavar="WORDS", help="what it is called; the code without it")
    command.add_argument(
        "--class", dest="kind", metavar="CLASS", required=True, help="its class, such as heli-ic or giant"
    )
    command.add_argument(
        "--layout", metavar="WHAT=HOW", nargs="+", action="extend",
        help="what of it is not as usual, such as swashplate=140 drive=glow also=retracts,tow",
    )  # fmt: skip


def add_copy_aircraft(command: argparse.ArgumentParser) -> None:
    command.add_argument("--aircraft", metavar="CODE", required=True, help="the aircraft, by its code")
    command.add_argument("--to", metavar="CODE", required=True, help="code of the new aircraft")
    command.add_argument("--name", metavar="WORDS", help="what it is called; the code without it")


def add_fit_type(command: argparse.ArgumentParser) -> None:
    command.add_argument("--aircraft", metavar="CODE", required=True, help="the aircraft, by its code")
    command.add_argument(
        "--position", metavar="POS", nargs="+", required=True, help="the servo positions, by their codes"
    )
    command.add_argument("--servo-type", metavar="TYPE", required=True, help="the servo type, by its name")
    command.add_argument(
        "--first-tag", metavar="TAG", help="tag of the first servo; the others count on from it"
    )
    command.add_argument("--arm", metavar="LENGTH", help="radius of the servo arms, mm unless a unit is said")
    _add_lead(command)


def add_fit_pack(command: argparse.ArgumentParser) -> None:
    command.add_argument("--aircraft", metavar="CODE", required=True, help="the aircraft, by its code")
    command.add_argument("--pack", metavar="TAG", help="the pack's tag; the next free one without it")
    command.add_argument(
        "--pack-type", metavar="TYPE", help="its type, or words such as 'NiMH 5 cells 1500 mAh'"
    )
    command.add_argument("--path", metavar="CODE", help="the power path; the first without it")
    command.add_argument("--switch", metavar="TYPE", help="the switch in the path, by type")
    command.add_argument("--switch-kind", metavar="KIND", help="what a switch that is not known is")
    command.add_argument("--regulator", metavar="TYPE", help="the regulator in the path, by type")
    command.add_argument("--set-v", metavar="VOLTS", type=float, help="what the regulator is set to")
    _add_lead(command)


def _add_lead(command: argparse.ArgumentParser) -> None:
    command.add_argument("--lead", metavar="LENGTH", help="length of the lead, mm unless a unit is said")
    command.add_argument("--lead-awg", metavar="AWG", type=int, help="gauge of the lead")
