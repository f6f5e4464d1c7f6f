"""One position put together: load, volts, torque, margin, and what its mechanics do."""

from __future__ import annotations

from hangar.base.figure import Basis, Figure, Working
from hangar.base.text import Text, fixed
from hangar.base.values import value_class
from hangar.parts import Aircraft, ServoFit
from hangar.physics.air import Air
from hangar.physics.servo_rating import Rating
from hangar.survey import mechanics
from hangar.survey.blown_back import Resting
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts
from hangar.survey.linkages import Drive
from hangar.survey.load_question import LoadQuestion
from hangar.survey.loads import Load
from hangar.survey.model import PositionSurvey, Scenario
from hangar.survey.position_load import load_at
from hangar.survey.scenarios import LoadCases
from hangar.survey.servos import rating_at
from hangar.survey.strength import Delivered, delivered, enough_to, hold_figures, loop_of, margin
from hangar.survey.supply import SupplyModel

Found = dict[str, Figure | None]


@value_class
class Surroundings:
    """What every position of one aircraft shares."""

    aircraft: Aircraft
    air: Air
    model: SupplyModel
    cases: LoadCases
    highest_v: Figure | None
    defaults: Defaults


def position_survey(fit: ServoFit, around: Surroundings) -> PositionSurvey:
    """Every figure of one position; None, and the reason noted, where data are missing."""
    loaded = load_at(LoadQuestion.of(around.aircraft, fit, around.air, around.defaults))
    drive, load = loaded.drive, loaded.load
    missing = list(loaded.missing)
    lacks: dict[str, tuple[Text, ...]] = {}
    found: Found = dict(loaded.figures)
    found |= _draws(fit, around)
    rating = rating_at(fit, Facts(missing))
    given = None
    if rating is not None:
        given = _delivered(fit, rating, around, load, missing)
        if drive is not None:
            rod, rod_lacks = mechanics.rod_figures(fit, drive, rating, around.highest_v)
            found |= rod
            lacks |= rod_lacks
    found |= _strength(fit, given, load, drive, around, missing)
    found |= _mechanics(fit, drive, given, lacks)
    present = {name: figure for name, figure in found.items() if figure is not None}
    return PositionSurvey(
        code=fit.code,
        servo_v=around.cases.servo_v.get(fit.code, {}),
        missing=tuple(missing),
        missing_for={name: words for name, words in lacks.items() if words},
        resting=_resting(load, drive, given, found.get("stiffness_nm_deg")),
        **present,
    )


def _resting(
    load: Load | None, drive: Drive | None, given: Delivered | None, stiffness: Figure | None
) -> Resting | None:
    return None if drive is None or given is None else Resting.of(load, drive, stiffness, given.torque)


def _draws(fit: ServoFit, around: Surroundings) -> Found:
    draw = around.model.draws.get(fit.code)
    if draw is None:
        return {}
    as_recorded = Working(fixed("as recorded"), (draw.idle,), fixed("the record"))
    found: Found = {
        "idle_a": Figure(fixed("idle current"), draw.idle_a, "A", basis=draw.idle.basis, working=as_recorded),
        "average_a": draw.average,
    }
    kind = fit.servo_type
    if kind is not None and kind.run_a is not None:
        facts = Facts()
        facts.known(kind, "run_a", Basis.RATED)
        found["run_a"] = Figure(
            fixed("running current without load"), kind.run_a, "A", basis=Basis.RATED,
            working=Working(fixed("as rated"), tuple(facts.inputs), fixed("maker's figure")),
        )  # fmt: skip
    return found


def _delivered(
    fit: ServoFit, rating: Rating, around: Surroundings, load: Load | None, missing: list[Text]
) -> Delivered | None:
    peak = around.cases.cases.get(Scenario.PEAK)
    if peak is None:
        missing.extend(lack for lack in around.model.missing if lack not in missing)
        return None
    asked = None if load is None else load.load_nm
    return delivered(fit, rating, around.model, peak, asked, around.defaults, missing)


def _strength(
    fit: ServoFit,
    given: Delivered | None,
    load: Load | None,
    drive: Drive | None,
    around: Surroundings,
    missing: list[Text],
) -> Found:
    ohm = around.model.lead_ohm.get(fit.code)
    if given is None:
        return {"lead_ohm": ohm}
    found: Found = {
        "lead_ohm": ohm,
        "delivered_v": given.volts,
        "torque_nm": given.torque,
        "transit_s": given.transit,
        "stall_a": given.stall,
        "lead_current_a": given.current,
        "lead_drop_v": given.drop,
    }
    if load is not None:
        found["margin"] = margin(given.torque, load.load_nm)
        if drive is not None:
            found["enough_to_m_s"] = enough_to(given.torque, load, drive, Facts(missing))
    loop = loop_of(fit, given.torque, around.defaults)
    if loop is not None:
        ratio = None
        if drive is not None and load is not None:
            ratio = drive.at(load.deflection_deg).ratio
        found |= hold_figures(loop, load, ratio)
    return found


def _mechanics(
    fit: ServoFit, drive: Drive | None, given: Delivered | None, lacks: dict[str, tuple[Text, ...]]
) -> Found:
    found: Found = {}
    found["free_play_deg"], lacks["free_play_deg"] = mechanics.free_play(
        fit.surface, fit.linkage, fit.servo, drive
    )
    if drive is None:
        return found
    found["servo_travel_deg"], lacks["servo_travel_deg"] = mechanics.servo_travel(
        fit.code, fit.surface, fit.linkage, drive
    )
    if given is not None:
        held = mechanics.stiffness(fit, drive, given.torque)
        found["stiffness_nm_deg"] = held
        found["caution_speed_m_s"], lacks["caution_speed_m_s"] = mechanics.caution_speed(
            fit, held, found["free_play_deg"]
        )
    return found
