"""What is done with a sheet that was filled in by hand and typed into the window."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from hangar.acts.hindrances import Hindrances
from hangar.acts.sheet_limits import SheetLimits
from hangar.base.errors import BadInput
from hangar.base.text import Text, fixed, listed, text
from hangar.parts.sheet_boxes import CHARGING, READ_BACK
from hangar.store import Edit
from hangar.store.filled_sheet import Answer, Outcome, Remark
from hangar.store.sheet_answers import take_answers

if TYPE_CHECKING:
    from hangar.store import Fleet


@dataclass
class TypedSheet:
    """The boxes of one sheet as they were typed, and once it is entered what became of them.

    Attributes:
        kind: field, bench or charging.
        aircraft: whose sheet it is.
        answers: every box, the blank ones with an empty text.
        plan: the refit whose stages a bench check ticks.
        outcome: what was taken, doubted and said.
    """

    kind: str
    aircraft: str
    answers: Sequence[Answer]
    plan: str | None = None
    outcome: Outcome = field(default_factory=Outcome)


class EntryFault(BadInput):
    """Boxes of a sheet cannot be understood, so nothing of it was entered.

    Attributes:
        refused: each with the reason.
    """

    def __init__(self, refused: Sequence[Remark]) -> None:
        boxes = [remark.answer.box for remark in refused if remark.answer]
        super().__init__(
            "Nothing was entered yet; boxes to look at: {boxes}.", boxes=listed(boxes, joint=",", most=0)
        )
        self.refused = tuple(refused)


def enter_sheet(edit: Edit, fleet: Fleet, sheet: TypedSheet, today: date) -> Text:
    """Write every box of a sheet as records, or nothing where one cannot be understood.

    Raises: EntryFault naming the boxes.
    """
    sheet.outcome = take_answers(
        edit,
        "" if sheet.kind == CHARGING else sheet.aircraft,
        sheet.kind,
        sheet.answers,
        today,
        plan=sheet.plan,
        hindrances=Hindrances(fleet, today).on,
        limits=SheetLimits(fleet, today).of(sheet.aircraft, sheet.kind) if sheet.kind != CHARGING else None,
    )
    if sheet.outcome.refused:
        raise EntryFault(sheet.outcome.refused)
    return text("Enter {sheet} of {code}", sheet=fixed(READ_BACK[sheet.kind]), code=sheet.aircraft)
