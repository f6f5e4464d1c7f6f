"""A servo type with its ratings, and a gyro, entered where they are first named."""

from __future__ import annotations

from dataclasses import replace

from hangar.base.errors import BadInput
from hangar.base.text import Text, listed, text
from hangar.parts import Position, ServoType, Stabiliser
from hangar.store import Edit


def enter_servo_type(edit: Edit, servo_type: ServoType) -> Text:
    """Enter a servo type with its ratings, all at once.

    Raises: BadInput for a type without a name, one that the library has, or two ratings at the same volts.
    """
    code = servo_type.code.strip()
    if not code:
        raise BadInput("The servo type has no name; give it the one the trade knows it by.")
    if edit.record(ServoType, code) is not None:
        raise BadInput("There is a servo type {type} already; choose it, or another name.", type=code)
    volts = [rating.rated_v for rating in servo_type.ratings]
    if len(set(volts)) < len(volts):
        raise BadInput("Servo type {type} has two ratings at the same volts.", type=code)
    ratings = tuple(replace(rating, servo_type=code) for rating in servo_type.ratings)
    edit.put(replace(servo_type, code=code, ratings=ratings))
    return text("Enter servo type {type}", type=code)


def name_gyro(edit: Edit, aircraft: str, positions: tuple[str, ...], gyro: Stabiliser) -> Text:
    """Run positions through a gyro; one that is not on record is entered, one that is takes what is new.

    Raises: BadInput for a gyro without a code.
    """
    if not gyro.code.strip():
        raise BadInput("The gyro has no code; give it one, such as GYRO.")
    there = edit.record(Stabiliser, aircraft, gyro.code)
    given = {
        name: value
        for name in ("maker", "model_type", "supply_min_v", "supply_max_v", "idle_ma", "pulse_us", "rate_hz")
        if (value := getattr(gyro, name)) is not None
    }
    edit.put(replace(there, **given) if there is not None else replace(gyro, aircraft=aircraft))
    for code in positions:
        edit.change(Position, (aircraft, code), through=gyro.code)
    if positions:
        return text("Run {places} through {gyro}", places=listed(positions, joint=","), gyro=gyro.code)
    return text("Enter gyro {gyro}", gyro=gyro.code)
