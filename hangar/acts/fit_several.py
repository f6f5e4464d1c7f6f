"""One servo type fitted at several positions, with arm and lead, by one edit; its tags count on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any

from hangar.acts.new_parts import enter_servo_type
from hangar.acts.stock import take_from_stock
from hangar.answers.bay import tags_from
from hangar.base.errors import BadInput
from hangar.base.text import Text, listed, text
from hangar.parts import (
    Aircraft,
    Channel,
    Installation,
    Lead,
    Linkage,
    Position,
    Servo,
    ServoFit,
    ServoType,
)
from hangar.store import Edit


@dataclass(frozen=True, kw_only=True)
class SeveralFit:
    """What is fitted at each of several positions; None leaves a thing as it is recorded.

    Attributes:
        servo_type: the type, by its code in the library.
        first_tag: the tag of the first; the others count on from it. Empty takes spares of the type first,
            then new tags.
        arm_mm: radius at which the rod holds on to the servo arm.
        horn_mm: radius at the other end.
        arm_teeth: teeth of the arm's spline.
        lead_mm: length of each lead, tail and extensions.
        lead_awg: gauge of the leads.
        rate_hz: rate of the pulses on their channels.
        new_type: the type itself with its ratings, where the library lacks it.
    """

    servo_type: str
    first_tag: str = ""
    arm_mm: float | None = None
    horn_mm: float | None = None
    arm_teeth: int | None = None
    lead_mm: float | None = None
    lead_awg: int | None = None
    rate_hz: float | None = None
    new_type: ServoType | None = None


def fit_several(edit: Edit, aircraft: Aircraft, codes: Sequence[str], what: SeveralFit, today: date) -> Text:
    """Fit one type at several positions; what is there goes to Stores, a spare comes out of it.

    Raises: BadInput for no position, one that is not there, a type the library lacks, a tag that another
        type or another place has.
    """
    fits = places_of(aircraft, codes)
    if what.new_type is not None and edit.record(ServoType, what.servo_type) is None:
        enter_servo_type(edit, what.new_type)
    if edit.record(ServoType, what.servo_type) is None:
        raise BadInput(
            "{type} is no servo type in the library; enter it first, or choose another one.",
            type=what.servo_type or '""',
        )
    tags = tags_from(edit, what.servo_type, len(fits), what.first_tag.strip())
    for fit, tag in zip(fits, tags, strict=True):
        _have(edit, tag, what.servo_type, {place.code for place in fits}, aircraft.code)
        stay: dict[str, Any] = {} if what.arm_teeth is None else {"arm_teeth": what.arm_teeth}
        edit.fit_servo(tag, aircraft.code, fit.code, today, **stay)
    for fit in fits:
        _write_around(edit, fit, what)
    return text(
        "Fit {type} {tags} at {places}",
        type=what.servo_type,
        tags=listed(tags, joint=","),
        places=listed((fit.code for fit in fits), joint=","),
    )


def places_of(aircraft: Aircraft, codes: Sequence[str]) -> tuple[ServoFit, ...]:
    """The positions of these codes, in the order given.

    Raises: BadInput for none, or one that the aircraft has not.
    """
    if not codes:
        raise BadInput("No position is chosen; choose one or more first.")
    fits = []
    for code in dict.fromkeys(codes):
        fit = aircraft.fit(code)
        if fit is None:
            raise BadInput(
                '{aircraft} has no position "{code}"; its positions: {known}.',
                aircraft=aircraft.code,
                code=code,
                known=listed((fit.code for fit in aircraft.fits), joint=",", most=0),
            )
        fits.append(fit)
    return tuple(fits)


def _have(edit: Edit, tag: str, servo_type: str, here: set[str], aircraft: str) -> None:
    """See to it that there is a servo of that tag and type, free or at one of these places."""
    servo = edit.record(Servo, tag)
    if servo is None:
        edit.put(Servo(tag=tag, servo_type=servo_type))
        take_from_stock(edit, servo_type)
        return
    if servo.servo_type != servo_type:
        raise BadInput(
            "Tag {tag} is a {other}, not a {type}; choose another first tag.",
            tag=tag,
            other=servo.servo_type,
            type=servo_type,
        )
    for stay in edit.records(Installation, servo=tag, until_on=None):
        if stay.aircraft != aircraft or stay.position not in here:
            raise BadInput(
                "Servo {tag} is fitted in {aircraft} at {position}; choose another first tag.",
                tag=tag,
                aircraft=stay.aircraft,
                position=stay.position,
            )


def _write_around(edit: Edit, fit: ServoFit, what: SeveralFit) -> None:
    key = (fit.position.aircraft, fit.code)
    arms = {"arm_mm": what.arm_mm, "horn_mm": what.horn_mm}
    given: dict[str, Any] = {name: value for name, value in arms.items() if value is not None}
    if given:
        linkage = edit.record(Linkage, *key) or Linkage(aircraft=key[0], position=key[1])
        edit.put(replace(linkage, **given))
    lead = edit.record(Lead, *key)
    if what.lead_mm is not None:
        lead = replace(lead or Lead(aircraft=key[0], position=key[1], length_mm=what.lead_mm),
                       length_mm=what.lead_mm)  # fmt: skip
    if what.lead_awg is not None:
        if lead is None:
            raise BadInput("No lead is recorded at {position}; enter its length first.", position=fit.code)
        lead = replace(lead, awg=what.lead_awg)
    if lead is not None:
        edit.put(lead)
    position = edit.record(Position, *key)
    if what.rate_hz is not None and position is not None and position.channel is not None:
        channel = (position.aircraft, position.port, position.channel)
        edit.change(Channel, channel, rate_hz=what.rate_hz)
