"""What the keeper asks of a refit: money, what must stay, what may change, prices and hours of small work."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.parts.choices import PlanAction
from hangar.parts.thresholds import Thresholds
from hangar.refit.hours import hours_of
from hangar.refit.partners import Partners
from hangar.survey.model import Conditions


@dataclass(frozen=True, kw_only=True)
class RefitRequest:
    """Limits and wishes of a refit; None means that there is no limit.

    Attributes:
        budget: most money to spend.
        mass_g: most mass to add.
        locked: positions and power paths that stay as they are.
        most_types: most servo types to buy.
        change_supply: whether pack, regulator and switch may be changed.
        second_pack: whether the radio may get a second pack, isolated from the first: None where the rules
            want one for the aircraft, True wherever one pack feeds it, False nowhere.
        sources: types no longer made that the keeper can still get.
        gauges: lead gauges that a lead may be changed to.
        lead_price: price of one lead in another gauge; the keeper's own figure, no source.
        arm_price: price of an arm where the library has none with a price.
        small_price: price of the small parts of one handwork: a lock, a sleeve, a set of screws.
        set_points_v: volts that an adjustable regulator may be set to.
        hours_h: hours of work of one line by its action; what is not named takes the limits.
        warning_in_cautions: how many cautions one warning outweighs where aircraft compete for one budget.
        swap_with: aircraft that servos may be swapped with; None where none is swapped.
        swaps: whether aircraft that share one budget may swap servos with each other.
        conditions: the day the refit is worked for.
        thresholds: the rules' limits in force.
    """

    budget: float | None = None
    mass_g: float | None = None
    locked: frozenset[str] = frozenset()
    most_types: int | None = None
    change_supply: bool = True
    second_pack: bool | None = None
    sources: frozenset[str] = frozenset()
    gauges: tuple[int, ...] = (22, 20)
    lead_price: float = 6.0
    arm_price: float = 5.0
    small_price: float = 2.0
    set_points_v: tuple[float, ...] = (5.0, 5.5, 6.0, 6.6, 7.4, 8.0)
    hours_h: Mapping[PlanAction, float] = field(default_factory=dict)
    warning_in_cautions: float = 10.0
    swap_with: Partners | None = None
    swaps: bool = True
    conditions: Conditions = field(default_factory=Conditions)
    thresholds: Thresholds = field(default_factory=Thresholds)

    def __post_init__(self) -> None:
        for name, value, least, most in (
            (text("budget"), self.budget, 0.0, 1e7),
            (text("most types"), self.most_types, 0, 60),
        ):
            _within(name, value, least, most)

    def hours(self, action: PlanAction) -> float:
        """Hours of work of one line.

        >>> RefitRequest().hours(PlanAction.FIT_SERVO)
        0.7
        """
        return self.hours_h.get(action, hours_of(action, self.thresholds))


def _within(name: Text, value: float | None, least: float, most: float) -> None:
    if value is not None and not least <= value <= most:
        raise BadInput(
            "The refit's {name} is {value:g}; {least:g} to {most:g} is allowed.",
            name=name,
            value=value,
            least=least,
            most=most,
        )  # fmt: skip
