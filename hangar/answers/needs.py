"""What plans need and the bay is short of, counted over several aircraft."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from hangar.answers.reading import FleetReading
from hangar.base.text import Text, text
from hangar.parts import Aircraft, Library, Plan, PlanLine, StockItem
from hangar.parts.choices import PlanAction, PlanState

_DONE = (PlanState.DROPPED, PlanState.FLOWN_IN)


@dataclass(frozen=True, kw_only=True)
class Need:
    """A part that is needed: how many, how many lie in the bay, where to buy it and for what.

    ``wanted`` counts the plans and what the bay shall always hold; ``price`` is for one, None when not
    known.
    """

    what: Text | str
    part_type: str
    wanted: float = 0.0
    on_hand: float = 0.0
    kept: float = 0.0
    unit: str = ""
    supplier: Text | str | None = None
    price: float | None = None
    bin: str | None = None
    reasons: tuple[Text | str, ...] = ()

    @property
    def to_buy(self) -> float:
        """What the bay lacks for the plans and for its own minimum."""
        return max(0.0, self.wanted + self.kept - self.on_hand)

    @property
    def taken(self) -> float:
        """What the plans take from the bay."""
        return min(self.wanted, self.on_hand)

    @property
    def cost(self) -> float | None:
        """Price of what is to be bought."""
        return None if self.price is None else self.price * self.to_buy


def open_plans(aircraft: Aircraft) -> list[Plan]:
    """The plans of an aircraft that are neither dropped nor flown in."""
    return [plan for plan in aircraft.plans if plan.state not in _DONE]


def needs_of(fleet: Sequence[Aircraft], library: Library) -> list[Need]:
    """Every need of the open plans, and for a whole fleet the minimum of each stock item as well."""
    needs: dict[str, Need] = {}
    for aircraft in fleet:
        for plan in open_plans(aircraft):
            for line in plan.lines:
                _add(needs, library, plan, line)
    if len(fleet) > 1:
        for item in library.stock:
            _add_minimum(needs, library, item)
    return sorted(needs.values(), key=lambda need: (str(need.supplier or "~"), str(need.what)))


def fleet_needs(fleet: FleetReading) -> tuple[Need, ...]:
    """Every need of the open plans of all aircraft, and of the bay's own minimum."""
    aircraft = fleet.read_all()
    return tuple(needs_of(aircraft, fleet.library())) if aircraft else ()


def _add(needs: dict[str, Need], library: Library, plan: Plan, line: PlanLine) -> None:
    """A line that is done, or takes a tagged part or one off another aircraft, needs nothing."""
    part = part_of(line)
    if part is None or line.done_on or line.from_stock or line.from_aircraft:
        return
    need = needs.get(part) or need_of_line(library, part, line)
    reasons = tuple(dict.fromkeys((*need.reasons, plan.code)))
    price = need.price if need.price is not None else line.price
    needs[part] = replace(need, wanted=need.wanted + line.quantity, reasons=reasons, price=price)


def part_of(line: PlanLine) -> str | None:
    """The part type a line takes, or the kind of lead; a setting and handwork take none."""
    if line.action is PlanAction.CHANGE_LEAD:
        return f"lead, {line.awg} AWG" if line.awg else "lead"
    return line.part_type


def need_of_line(library: Library, part: str, line: PlanLine) -> Need:
    """The need of a line's part, none counted yet: what it is, where to buy it, what lies in the bay."""
    item = next((stock_item for stock_item in library.stock if stock_item.part_type == part), None)
    return Need(
        what=_what(line, part),
        part_type=part,
        on_hand=library.stocked(part),
        unit=item.unit if item else "pieces",
        supplier=(item.supplier if item else None) or _maker(library, part),
        price=line.price if line.price is not None else (item.price if item else None),
        bin=item.bin if item else None,
    )


def _what(line: PlanLine, part: str) -> Text | str:
    """The part with the kind of thing it is, where its name does not begin with that already."""
    if line.action is PlanAction.CHANGE_LEAD:
        return text("lead, {awg} AWG", awg=line.awg) if line.awg else text("lead")
    noun = "pack" if line.action is PlanAction.JOIN_PACKS else line.action.value.split()[-1]
    return part if part.startswith(noun) else text("{noun} {part}", noun=text(noun), part=part)


def _maker(library: Library, part: str) -> Text | None:
    shelves = (library.servo_types, library.pack_types, library.regulator_types, library.switch_types)
    kind = next((shelf[part] for shelf in shelves if part in shelf), None)
    return text("{maker} (maker)", maker=kind.maker) if kind and kind.maker else None


def _add_minimum(needs: dict[str, Need], library: Library, item: StockItem) -> None:
    if not item.wanted:
        return
    part = item.part_type or item.code
    known = needs.get(part)
    if known is None and item.on_hand >= item.wanted:
        return
    need = known or Need(
        what=item.text or item.code,
        part_type=part,
        on_hand=library.stocked(part) if item.part_type else item.on_hand,
        unit=item.unit,
        supplier=item.supplier,
        price=item.price,
        bin=item.bin,
    )
    needs[part] = replace(need, kept=item.wanted, reasons=(*need.reasons, text("minimum of Stores")))
