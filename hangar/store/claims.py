"""Records against each other before they are written: what they name must be there, one place at a time."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterable
from enum import StrEnum
from typing import Any

from hangar.base.text import text
from hangar.parts import KIND_BY_NAME, Installation, PackFit, Record
from hangar.store.codec import Key, name_of
from hangar.store.own_tables import Intake


def _plain(value: Any) -> Any:
    return value.value if isinstance(value, StrEnum) else value


def check_links(intake: Intake, present: Callable[[type[Record]], set[Key]]) -> None:
    """Refuse every record that names something neither the files nor the fleet have."""
    for kind, records in intake.records.items():
        for link in kind.LINKS:
            target = KIND_BY_NAME[link.kind]
            known = present(target) | set(intake.records.get(target, {}))
            for key, record in records.items():
                named = tuple(_plain(getattr(record, name)) for name in link.fields)
                if None not in named and named not in known:
                    reason = text(
                        "{record} is neither in these tables nor in the fleet.",
                        record=name_of(target, named),
                    )
                    intake.refused.append(intake.places[kind, key].note(link.fields, named[-1], reason))


def settle_stays(intake: Intake, present: Iterable[Installation]) -> None:
    """Mark the second open claim on a servo or a position as disputed, and say so.

    The file keeps the contradiction: which paper is right is for the keeper to say.
    """
    incoming = intake.records.get(Installation, {})
    servo_at: dict[str, Installation] = {}
    held: dict[tuple[str, str], Installation] = {}
    for stay in present:
        if _key(stay) not in incoming and stay.until_on is None and not stay.disputed:
            servo_at[stay.servo] = held[stay.aircraft, stay.position] = stay
    for key, record in incoming.items():
        if not isinstance(record, Installation) or record.until_on is not None or record.disputed:
            continue
        other = servo_at.get(record.servo)
        sitting = held.get((record.aircraft, record.position))
        if other is not None:
            where = text(
                "servo {servo} is recorded at {aircraft} {position} already",
                servo=other.servo,
                aircraft=other.aircraft,
                position=other.position,
            )
        elif sitting is not None:
            where = text(
                "{aircraft} {position} holds servo {servo} already",
                aircraft=record.aircraft,
                position=record.position,
                servo=sitting.servo,
            )
        else:
            servo_at[record.servo] = held[record.aircraft, record.position] = record
            continue
        incoming[key] = dataclasses.replace(record, disputed=True)
        place = intake.places[Installation, key]
        intake.doubtful.append(
            place.note(("servo",), record.servo, text("{where}; taken as disputed.", where=where))
        )


def refuse_double_packs(intake: Intake, present: Iterable[PackFit]) -> None:
    """Refuse the second open stay of a pack."""
    incoming = intake.records.get(PackFit, {})
    fitted = {stay.pack: stay for stay in present if stay.until_on is None and _key(stay) not in incoming}
    for key, record in incoming.items():
        if not isinstance(record, PackFit) or record.until_on is not None:
            continue
        other = fitted.setdefault(record.pack, record)
        if other is not record:
            where = text(
                "pack {pack} is in {aircraft} {feed} already",
                pack=record.pack,
                aircraft=other.aircraft,
                feed=other.feed,
            )
            reason = text("{where}; enter the day it was taken out there first.", where=where)
            intake.refused.append(intake.places[PackFit, key].note(("pack",), record.pack, reason))


def _key(record: Record) -> Key:
    return tuple(_plain(getattr(record, name)) for name in record.KEY)
