"""What the keeper asks of a refit: limits, wishes, prices of small parts, and the fineness of the answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from hangar.base.errors import BadInput
from hangar.base.text import text
from hangar.parts.thresholds import Thresholds
from hangar.refit.request import RefitRequest
from hangar.refit.risk import RiskMeasure
from hangar.survey.model import Conditions

MOST_RESERVE = 1.5
"""More than half as much again as is wanted counts as equal: nobody can use it."""


@dataclass(frozen=True, kw_only=True)
class Limits(RefitRequest):
    """Limits and wishes of one refit; None means that there is no limit.

    Attributes:
        budget: most money to spend.
        mass_g: most mass to add.
        margin_factor: times the torque margin that the thresholds ask of each position; 0.1 to 10.
        bus_v: least bus volts at peak current.
        locked: positions whose servo and lead stay.
        most_types: most servo types to buy.
        transit_s: longest time for 60 degrees, by position code or by function.
        change_supply: whether pack, regulator and switch may be changed.
        second_pack: whether the radio may get a second pack, isolated from the first: None where the rules
            want one for the aircraft, True wherever one pack feeds it, False nowhere.
        mix_new_and_used: whether a matched set may be made of spares and new servos of one type.
        gauges: lead gauges that a lead may be changed to.
        lead_price: price of one lead in another gauge; the keeper's own figure, no source.
        arm_price: price of an arm for another spline where the library has none with a price.
        set_points_v: volts that an adjustable regulator may be set to.
        price_step: prices are rounded up to whole steps of this.
        mass_step_g: so is mass.
        margin_step_pct: margins are rounded down to steps of this; 1 to 50.
        margin_cap_pct: margins above it count as equal.
        level_step_v: spacing of the levels of bus volts; 0.01 to 1.
        most_shown: most points that are proved and shown.
        conditions: the day the refit is worked for.
        thresholds: the rules' limits in force.
        risk: how risk is counted.
    """

    budget: float | None = None
    mass_g: float | None = None
    margin_factor: float = 1.0
    bus_v: float | None = None
    locked: frozenset[str] = frozenset()
    most_types: int | None = None
    transit_s: Mapping[str, float] = field(default_factory=dict)
    change_supply: bool = True
    second_pack: bool | None = None
    mix_new_and_used: bool = True
    gauges: tuple[int, ...] = (22, 20)
    lead_price: float = 6.0
    arm_price: float = 5.0
    set_points_v: tuple[float, ...] = (5.0, 5.5, 6.0, 6.6, 7.4, 8.0)
    price_step: float = 0.01
    mass_step_g: int = 1
    margin_step_pct: int = 5
    margin_cap_pct: int = 300
    level_step_v: float = 0.1
    most_shown: int = 60
    conditions: Conditions = field(default_factory=Conditions)
    thresholds: Thresholds = field(default_factory=Thresholds)
    risk: RiskMeasure = field(default_factory=RiskMeasure)

    def __post_init__(self) -> None:
        for name, value, least, most in (
            (text("budget"), self.budget, 0.0, 1e7),
            (text("margin factor"), self.margin_factor, 0.1, 10.0),
            (text("most types"), self.most_types, 0, 60),
            (text("price step"), self.price_step, 0.01, 1000.0),
            (text("mass step"), self.mass_step_g, 1, 1000),
            (text("margin step"), self.margin_step_pct, 1, 50),
            (text("level step"), self.level_step_v, 0.01, 1.0),
            (text("points shown"), self.most_shown, 1, 10000),
        ):
            if value is not None and not least <= value <= most:
                raise BadInput(
                    "The refit's {name} is {value:g}; {least:g} to {most:g} is allowed.",
                    name=name,
                    value=value,
                    least=least,
                    most=most,
                )

    @property
    def level_step_mv(self) -> int:
        """Spacing of the levels of bus volts in millivolts."""
        return round(1000.0 * self.level_step_v)

    def price_units(self, price: float) -> int:
        """A price in hundredths, rounded up to whole steps."""
        step = max(1, round(100.0 * self.price_step))
        return _up(100.0 * price, step)

    def mass_units(self, mass_g: float) -> int:
        """A change of mass in grams, rounded up to whole steps."""
        return _up(mass_g, self.mass_step_g)


def _up(value: float, step: int) -> int:
    return -int(-(value - 1e-6) // step) * step
