"""What is to be bought over all plans, as the shopping sheet counts it, and the table of it."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from hangar.base.units import ShowsNumbers
from hangar.parts import Aircraft
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.words import put, say
from hangar.window.tables.columns import Column

if TYPE_CHECKING:
    from hangar.sheets.needs import Need

TICKED, UNTICKED = "☑", "☐"


@dataclass(frozen=True)
class NeedRow:
    """One thing to buy or to take from the bay, ticked off or not."""

    need: Need
    is_ticked: bool = False

    @property
    def key(self) -> str:
        """What the need is for."""
        return self.need.part_type

    @property
    def buy(self) -> float:
        """How much is to be bought, rounded up as the sheet prints it."""
        return math.ceil(self.need.to_buy * 100) / 100


def fleet_needs(desk: Desk) -> tuple[Need, ...]:
    """Every need of the open plans of all aircraft, and of the bay's own minimum."""
    from hangar.sheets import SheetCase
    from hangar.sheets.needs import needs_of
    from hangar.survey.model import AirframeSurvey, Conditions, SupplySurvey, Survey

    library = desk.fleet.library()

    def case(aircraft: Aircraft) -> SheetCase:
        # Needs are counted from plans and stock alone; the physics need not be worked out for them.
        bare = Survey(
            aircraft=aircraft,
            conditions=Conditions(today=desk.today),
            positions={},
            scenarios={},
            supply=SupplySurvey(),
            airframe=AirframeSurvey(),
        )
        return SheetCase(survey=bare, findings=(), library=library)

    cases = [case(aircraft) for aircraft in desk.read_all()]
    return tuple(needs_of(cases)) if cases else ()


def shopping_columns() -> tuple[Column[NeedRow], ...]:
    """Tick, supplier, what, how many, for which plans, price."""
    return (
        Column(
            say("Got it"),
            lambda row, _units: f"{TICKED} {say('yes')}" if row.is_ticked else f"{UNTICKED} {say('no')}",
            help=say("Space or a click ticks it off"),
        ),
        Column(say("Supplier"), lambda row, _units: put(row.need.supplier or say("not recorded"))),
        Column(say("What"), lambda row, _units: put(row.need.what), wraps=True),
        Column(
            say("Buy"),
            lambda row, _units: amount(row.buy, row.need.unit),
            raw=lambda row: row.buy,
            number=True,
        ),
        Column(
            say("In the Parts Bay"),
            lambda row, _units: f"{row.need.on_hand:g}",
            raw=lambda row: row.need.on_hand,
            number=True,
            gives_way=2,
        ),
        Column(say("Bin"), lambda row, _units: row.need.bin or "", gives_way=3),
        Column(say("For"), lambda row, _units: ", ".join(map(put, row.need.reasons)), wraps=True),
        Column(
            say("Each"),
            lambda row, _units: money(row.need.price),
            raw=lambda row: row.need.price,
            number=True,
            gives_way=1,
        ),
        Column(
            say("Together"),
            lambda row, _units: money(row.need.cost),
            raw=lambda row: row.need.cost,
            number=True,
        ),
    )


def bay_columns() -> tuple[Column[NeedRow], ...]:
    """What the plans take from the bay."""
    return (
        Column(say("What"), lambda row, _units: put(row.need.what), wraps=True),
        Column(
            say("Take"),
            lambda row, _units: amount(row.need.taken, row.need.unit),
            raw=lambda row: row.need.taken,
            number=True,
        ),
        Column(say("Bin"), lambda row, _units: row.need.bin or UNKNOWN),
        Column(say("For"), lambda row, _units: ", ".join(map(put, row.need.reasons)), wraps=True),
    )


def amount(number: float, unit: str) -> str:
    """A count with its unit; pieces go without saying."""
    return f"{number:g}" if unit in ("", "pieces") else f"{number:g} {unit}"


def money(price: float | None) -> str:
    """An amount of money as the sheets print it."""
    from hangar.sheets.style import SheetStyle

    return SheetStyle().price(price) or UNKNOWN


def sum_words(rows: Iterable[NeedRow]) -> str:
    """What all of it costs, and what it costs without what is ticked off."""
    all_rows = tuple(rows)
    left = [row for row in all_rows if not row.is_ticked]
    unpriced = [put(row.need.what) for row in left if row.need.price is None]
    words = say(
        "{count} still to buy, {sum} together, of {all} in all.",
        count=len(left),
        sum=money(_cost(left)),
        all=money(_cost(all_rows)),
    )
    lacking = say("Without {what}, whose price is not known.", what=", ".join(unpriced))
    return f"{words} {lacking}" if unpriced else words


def _cost(rows: Iterable[NeedRow]) -> float:
    return sum(row.need.cost or 0.0 for row in rows)


def as_csv(rows: Iterable[NeedRow], units: ShowsNumbers) -> str:
    """The list as comma-separated values, the same cells as on screen."""
    out = io.StringIO()
    writer = csv.writer(out)
    columns = shopping_columns()
    writer.writerow(column.heading for column in columns)
    for row in rows:
        writer.writerow(_plain(column.text(row, units)) for column in columns)
    return out.getvalue()


def _plain(cell: str) -> str:
    return cell.removeprefix(TICKED).removeprefix(UNTICKED).strip().replace(UNKNOWN, "")
