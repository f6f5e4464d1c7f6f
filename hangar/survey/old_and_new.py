"""The servo that is fitted against another one, each on the bus it would really have."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.figure import Basis, Figure, Working
from hangar.base.text import NOTHING, ItemList, Text, fixed, text
from hangar.parts import Aircraft, Servo, ServoFit, ServoType
from hangar.survey.airframe import balance_after
from hangar.survey.brown_out import BrownOut, brown_out
from hangar.survey.energy import PEAK_ASKED
from hangar.survey.figure_cases import case_of
from hangar.survey.model import Conditions, PositionSurvey, Scenario, Survey
from hangar.survey.strength import TRANSIT
from hangar.survey.surveying import survey


@dataclass(frozen=True, slots=True)
class ComparedFigure:
    """One figure of the fitted servo beside the new one's; None where it is not known.

    ``case`` is what both are worked for: a point of flight, the peak, a whole flight.
    """

    name: Text
    unit: str
    old: Figure | None
    new: Figure | None
    more_is_better: bool | None
    case: Text = NOTHING

    @property
    def change(self) -> float | None:
        """New less old, in the figure's unit."""
        return None if self.old is None or self.new is None else self.new.expected - self.old.expected


@dataclass(frozen=True, slots=True)
class Comparison:
    """Old against new at one position, with both whole surveys behind it.

    ``old_fails`` and ``new_fails`` say how the bus fails with either; no figure that rests on the volts at
    the servo is given then.
    """

    position: str
    old_type: ServoType | None
    new_type: ServoType
    figures: tuple[ComparedFigure, ...]
    before: Survey
    after: Survey
    missing: tuple[Text, ...]
    old_fails: BrownOut | None = None
    new_fails: BrownOut | None = None


TORQUE = text("torque")
MARGIN = text("share of the torque asked")
CONTROL = text("control left")
STALLED = text("current stalled")
BUS_PEAK = text("bus volts in the peak")
PEAK_DRAWN = text("current drawn at peak, at the volts there then")

# Field of the position survey, words, whether more is better (None: neither).
_COMPARED: tuple[tuple[str, Text, bool | None], ...] = (
    ("delivered_v", text("volts at the servo"), True),
    ("torque_nm", TORQUE, True),
    ("transit_s", TRANSIT, False),
    ("torque_at_1_deg_nm", text("torque at one degree of error"), True),
    ("deg_to_half_torque", text("error at half the stall torque"), False),
    ("load_nm", text("load by the air or rotor"), None),
    ("torque_share", MARGIN, False),
    ("held_deg", text("deflection held in the air"), True),
    ("control_left", CONTROL, True),
    ("full_to_m_s", text("full throw up to"), True),
    ("idle_a", text("current at rest"), False),
    ("run_a", text("current running free"), False),
    ("stall_a", STALLED, False),
    ("lead_drop_v", text("drop in its lead"), False),
    ("rod_force_n", text("rod force at stall"), False),
    ("rod_margin", text("buckling load over rod force"), True),
)

MORE_IS_BETTER: dict[str, bool | None] = {
    **{name: better for name, _words, better in _COMPARED},
    "bus_v": True,
    "peak_a": False,
    "endurance_min": True,
}
"""Of a figure by its field's name; None: neither."""

_BY_VOLTS = ("torque_nm", "transit_s", "torque_at_1_deg_nm", "torque_share", "held_deg", "wanted_deg",
             "control_left", "run_a", "stall_a", "lead_drop_v", "rod_force_n", "rod_margin",
             "stiffness_nm_deg")  # fmt: skip


def compare(
    aircraft: Aircraft,
    position: str,
    new_type: ServoType,
    conditions: Conditions | None = None,
    *,
    servo: Servo | None = None,
) -> Comparison:
    """Put another servo type at a position and compare everything that matters there.

    Both aircraft are surveyed whole, so the new servo is judged on the bus volts that it itself
    brings about.

    Args:
        aircraft: the aircraft as it is.
        position: code of the position.
        new_type: servo type to put there, with its ratings.
        conditions: day, air and packs; the same for both.
        servo: a servo of that type with what was measured on it; None takes one fresh from the maker.

    Returns:
        The figures side by side and both surveys.

    Raises:
        BadInput: no such position; names those there are.
    """
    fit = aircraft.fit(position)
    if fit is None:
        codes = tuple(fit.code for fit in aircraft.fits)
        known = ItemList(codes, ",") if codes else fixed("none")
        raise BadInput(
            '"{position}" is no position of {code}; there are {known}.',
            position=position,
            code=aircraft.code,
            known=known,
        )
    changed = with_type(aircraft, fit, new_type, servo)
    before, after = survey(aircraft, conditions), survey(changed, conditions)
    fails = (brown_out(before), brown_out(after))
    old, new = (
        without_volts(other_survey.positions[position]) if failing else other_survey.positions[position]
        for other_survey, failing in zip((before, after), fails, strict=True)
    )
    balance, lacks = balance_after(aircraft, changed)
    figures = [
        _pair(
            words, getattr(old, name), getattr(new, name), better, case_of(name, old if old.control else new)
        )
        for name, words, better in _COMPARED
        if getattr(old, name) is not None or getattr(new, name) is not None
    ]
    figures += _supply(before, after)
    figures += _catalogue(fit.servo_type, new_type)
    if balance is not None:
        figures.append(ComparedFigure(fixed("balance"), "mm", before.airframe.balance_mm, balance, None))
    missing = tuple(dict.fromkeys((*old.missing, *new.missing, *lacks)))
    return Comparison(position, fit.servo_type, new_type, tuple(figures), before, after, missing, *fails)


def without_volts(figures: PositionSurvey) -> PositionSurvey:
    """A position without what rests on its volts: no rating holds on a bus that fails."""
    blank: dict[str, Any] = dict.fromkeys(_BY_VOLTS)
    return replace(figures, control=(), holding=None, pivot=None, **blank)


def with_type(aircraft: Aircraft, fit: ServoFit, new_type: ServoType, servo: Servo | None = None) -> Aircraft:
    """The aircraft with a servo of another type at a position: a fresh one unless one is given."""
    fresh = servo or Servo(tag=f"new {new_type.code}", servo_type=new_type.code)
    changed = replace(fit, servo=fresh, servo_type=new_type, elsewhere=())
    return replace(
        aircraft,
        fits=tuple(changed if servo_fit.code == fit.code else servo_fit for servo_fit in aircraft.fits),
    )


def _pair(
    words: Text, old: Figure | None, new: Figure | None, better: bool | None, case: Text
) -> ComparedFigure:
    unit = (old or new).unit if old or new else ""  # type: ignore[union-attr]  # one of them is there
    return ComparedFigure(words, unit, old, new, better, case)


def _supply(before: Survey, after: Survey) -> list[ComparedFigure]:
    peaks = [other_survey.scenarios.get(Scenario.PEAK) for other_survey in (before, after)]
    volts = [None if peak is None else peak.bus_v for peak in peaks]
    drawn = [None if peak is None else peak.total_a for peak in peaks]
    return [
        _pair(BUS_PEAK, volts[0], volts[1], True, case_of("bus_v", None)),
        _pair(PEAK_ASKED, before.supply.peak_a, after.supply.peak_a, False, case_of("peak_a", None)),
        _pair(PEAK_DRAWN, drawn[0], drawn[1], False, case_of("peak_drawn_a", None)),
        _pair(
            fixed("mean current of the radio"),
            before.supply.mean_a,
            after.supply.mean_a,
            False,
            case_of("mean_a", None),
        ),
        _pair(
            fixed("endurance"),
            before.supply.endurance_min,
            after.supply.endurance_min,
            True,
            case_of("endurance_min", None),
        ),
    ]


def _catalogue(old: ServoType | None, new: ServoType) -> list[ComparedFigure]:
    """Mass and price as recorded."""
    compared = []
    for field, words, unit in (("mass_g", fixed("mass"), "g"), ("price", fixed("price"), "money")):
        figures = [_recorded(kind, field, words, unit) for kind in (old, new)]
        compared.append(ComparedFigure(words, unit, figures[0], figures[1], False))
    return compared


def _recorded(kind: ServoType | None, field: str, words: Text, unit: str) -> Figure | None:
    value = None if kind is None else getattr(kind, field)
    if value is None:
        return None
    return Figure(
        words, value, unit, basis=Basis.RATED, working=Working(fixed("as recorded"), (), fixed("the record"))
    )
