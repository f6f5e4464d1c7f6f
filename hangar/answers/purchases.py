"""What refits of a fleet buy and what they take from the bay: one list, each row with its supplier."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from hangar.answers.needs import need_of_line, part_of
from hangar.base.text import Text, text
from hangar.parts import Library, PlanLine

if TYPE_CHECKING:
    from hangar.refit.fleet import FleetAnswer


@dataclass(frozen=True, kw_only=True)
class Purchase:
    """One thing to buy for one or more aircraft.

    Attributes:
        what: the part, or the small parts of a handwork.
        count: how many.
        price: of one; None where it is not known.
        supplier: where to buy it; None where nobody said.
        aircraft: the aircraft it is for.
    """

    what: Text | str
    count: float
    price: float | None
    supplier: Text | str | None
    aircraft: tuple[str, ...]

    @property
    def cost(self) -> float | None:
        """Price of all of them."""
        return None if self.price is None else round(self.price * self.count, 2)


def purchases_of(answer: FleetAnswer, library: Library) -> tuple[Purchase, ...]:
    """What the plans of a fleet buy; the costs add up to the money that is spent."""
    return purchases(((part.aircraft.code, part.lines) for part in answer.parts), library)


def purchases(plans: Iterable[tuple[str, Iterable[PlanLine]]], library: Library) -> tuple[Purchase, ...]:
    """What lines buy, equal things at an equal price in one row, by supplier and name.

    Args:
        plans: the code of each aircraft with the lines that are to be done on it.
        library: tells suppliers and makers.
    """
    purchases: dict[tuple[str, float | None], Purchase] = {}
    for code, lines in plans:
        for line in lines:
            if line.price == 0.0 or line.from_stock or line.done_on:
                continue
            part = part_of(line)
            if part is None and line.price is None:
                continue
            key = (part or line.action.value, line.price)
            row = purchases.get(key) or _fresh(library, part, line)
            aircraft = tuple(dict.fromkeys((*row.aircraft, code)))
            purchases[key] = replace(row, count=row.count + line.quantity, aircraft=aircraft)
    return tuple(sorted(purchases.values(), key=lambda row: (str(row.supplier or "~"), str(row.what))))


def _fresh(library: Library, part: str | None, line: PlanLine) -> Purchase:
    if part is None:
        what = text("small parts: {action}", action=line.action)
        return Purchase(what=what, count=0.0, price=line.price, supplier=None, aircraft=())
    need = need_of_line(library, part, line)
    return Purchase(what=need.what, count=0.0, price=line.price, supplier=need.supplier, aircraft=())


def purchases_as_json(rows: Iterable[Purchase]) -> list[dict[str, Any]]:
    """The list as plain objects for scripts."""
    return [
        {
            "what": str(row.what),
            "count": row.count,
            "price": row.price,
            "cost": row.cost,
            "supplier": None if row.supplier is None else str(row.supplier),
            "aircraft": list(row.aircraft),
        }
        for row in rows
    ]
