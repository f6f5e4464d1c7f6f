"""A new aircraft with everything its layout implies, entered by one edit."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from hangar.answers.kits import Kit
from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.parts import (
    Airframe,
    Channel,
    Feed,
    Linkage,
    Position,
    Receiver,
    Record,
    Rotor,
    Stabiliser,
    Surface,
)
from hangar.parts.choices import RotorKind
from hangar.store import Edit

PORT = "main"


def enter_kit(edit: Edit, kit: Kit, code: str, name: str, say: Callable[[Text], str]) -> Text:
    """Enter an aircraft with positions, channels, surfaces, linkages and power paths as the draft has them.

    Args:
        edit: where it is entered.
        kit: the draft, as corrected.
        code: 2 to 6 characters that no other aircraft has.
        name: what the keeper calls it; the code where it is empty.
        say: puts the names of positions into the keeper's language; from then on they are the keeper's.

    Raises: BadInput for a code that is empty or in use, or two places on one channel.
    """
    code = code.strip()
    free_code(edit, code)
    taken: dict[int, str] = {}
    for place in kit.places:
        if place.channel is None:
            continue
        if place.channel in taken:
            raise BadInput(
                "{first} and {other} are both on channel {channel}; give one of them another.",
                first=taken[place.channel],
                other=place.code,
                channel=place.channel,
            )
        taken[place.channel] = place.code
    for record in kit_records(kit, code, name.strip() or code, say):
        edit.put(record)
    return text("Enter {aircraft} from its layout", aircraft=code)


def free_code(edit: Edit, code: str) -> None:
    """Refuse a code that is empty, too short or too long, or that an aircraft has.

    Raises: BadInput.
    """
    if not code:
        raise BadInput("The aircraft has no code yet; give it 2 to 6 characters, such as MER60.")
    if not 2 <= len(code) <= 6:
        raise BadInput('Code: found "{code}"; 2 to 6 characters are wanted, such as MER60.', code=code)
    if edit.record(Airframe, code) is not None:
        raise BadInput("There is an aircraft {code} already; choose another code.", code=code)


def kit_records(kit: Kit, code: str, name: str, say: Callable[[Text], str]) -> Iterator[Record]:
    """The records of a draft; what nobody said is not known in them."""
    yield Airframe(
        code=code,
        name=name,
        aircraft_class=kit.aircraft_class,
        power=kit.power,
        wing_count=kit.wing_count,
        span_mm=None if kit.rotor is not None else kit.span_mm,
        all_up_mass_g=kit.all_up_mass_g,
    )
    if kit.rotor is not None:
        yield Rotor(aircraft=code, rotor=RotorKind.MAIN, diameter_mm=kit.span_mm, **kit.rotor)
    if kit.has_tail_rotor:
        yield Rotor(aircraft=code, rotor=RotorKind.TAIL, blades=None)
    yield Receiver(aircraft=code, pulse_us=None)
    for gyro in kit.gyros:
        yield Stabiliser(aircraft=code, code=gyro)
    for place in kit.places:
        if place.channel is not None:
            yield Channel(aircraft=code, port=PORT, number=place.channel, function=place.function)
    for surface, place in kit.surfaces.items():
        yield Surface(
            aircraft=code,
            code=surface,
            name=say(place.name),
            function=place.function,
            side=place.side,
            carried=place.carried,
        )
    for place in kit.positions:
        at = place.at or (None, None)
        yield Position(
            aircraft=code,
            code=place.code,
            name=say(place.name),
            function=place.function,
            side=place.side,
            port=PORT,
            channel=place.channel,
            through=place.through,
            surface=place.surface,
            plan_x=at[0],
            plan_y=at[1],
        )
        if place.linkage is not None:
            yield Linkage(aircraft=code, position=place.code, kind=place.linkage)
    for path in kit.paths:
        yield Feed(aircraft=code, code=path, role=kit.role)
