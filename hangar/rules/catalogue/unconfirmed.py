"""What was read from a keeper's own sheet and is not confirmed yet."""

from __future__ import annotations

import dataclasses

from hangar.base.text import ItemList, plural, text
from hangar.parts import Aircraft, FieldOrigin
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.cures import Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags
from hangar.rules.origins import NOT_CONFIRMED, origin_field, origin_words
from hangar.rules.registry import rule

_MOST_NAMED = 3


def _doubted() -> Aircraft:
    """The trainer with a channel that its keeper's sheet left in doubt."""
    trainer = ex.trainer()
    origin = FieldOrigin(
        kind="position", record=f"{trainer.code}|RUD", field="channel", file="list.csv", row=4,
        column=2, text="4?",
        doubt="is no channel",
    )  # fmt: skip
    return dataclasses.replace(trainer, origins=(origin,))


@rule(
    NOT_CONFIRMED,
    title="Read from a sheet, not confirmed",
    levels=Level.CAUTION,
    flags=_doubted,
    passes=ex.trainer,
    laid_up=True,
    cures=(),
    worse=Worse.FIXED,
)
def not_confirmed(case: Case) -> Flags:
    """
    Checks: fields of the aircraft and its parts that were read from a keeper's own sheet with a doubt, and
        that nobody has confirmed or written anew since.
    Consequence: what is judged by them may be judged by a wrong reading.
    Can't tell when: never.
    Source: logic: what is doubted is not known
    Remedy: Look at the part, then confirm what was read or write what is right.
    """
    origins = case.aircraft.origins
    if origins:
        fields = tuple(dict.fromkeys(origin_field(origin) for origin in origins))
        more = len(fields) - _MOST_NAMED
        named = ItemList(fields[:_MOST_NAMED], ";")
        yield Flag(
            level=Level.CAUTION,
            about=(),
            message=plural(
                "{count:word} field read from your sheet is not confirmed.",
                "{count:word} fields read from your sheet are not confirmed.",
                count=len(origins),
            ),
            detail=text("{fields} and {more} more", fields=named, more=more)
            if more > 0
            else text("{fields}", fields=named),
            missing=tuple(origin_words(origin) for origin in origins),
            rests_on=tuple(origin_words(origin) for origin in origins),
        )
