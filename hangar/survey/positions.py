"""One position put together: load, volts, torque, control, and what its mechanics do."""

from __future__ import annotations

from hangar.base.figure import Basis, Figure, Working
from hangar.base.text import Text, fixed
from hangar.base.values import value_class
from hangar.parts import Aircraft, ServoFit
from hangar.physics.air import Air
from hangar.physics.servo_rating import Rating
from hangar.survey import mechanics
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts
from hangar.survey.holding import SurfaceHold, control_figures
from hangar.survey.linkages import Drive
from hangar.survey.load_question import LoadQuestion
from hangar.survey.loads import Load
from hangar.survey.model import PositionSurvey, Scenario
from hangar.survey.pivot import Pivot, pivot_of
from hangar.survey.position_load import load_at
from hangar.survey.scenarios import LoadCases
from hangar.survey.servo_learned import servo_measured
from hangar.survey.servos import half_torque_deg, rating_at
from hangar.survey.strength import ServoSupply, delivered, loop_facts, loop_figures, loops_of
from hangar.survey.supply import SupplyModel
from hangar.survey.surface_air import WholeSurface
from hangar.survey.surface_readings import play_read

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
    question = LoadQuestion.of(around.aircraft, fit, around.air, around.defaults)
    loaded = load_at(question)
    drive, load = loaded.drive, loaded.load
    missing = list(loaded.missing)
    lacks: dict[str, tuple[Text, ...]] = {}
    figures: Found = dict(loaded.figures)
    figures |= _draws(fit, around)
    rating = rating_at(fit, Facts(missing))
    given = None
    if rating is not None:
        given = _delivered(fit, rating, around, load, missing)
        if drive is not None:
            rod, rod_lacks = mechanics.rod_figures(fit, drive, rating, around.highest_v)
            figures |= rod
            lacks |= rod_lacks
    figures |= _strength(fit, given, around)
    holding = _holding(fit, question, load, rating, given, around)
    control = () if holding is None else holding.points()
    if holding is not None:
        figures |= control_figures(holding, control)
    elif load is not None and given is not None:
        figures["torque_share"] = _share(given.torque, load.load_nm)
    figures |= _mechanics(fit, drive, given, around, lacks)
    present = {name: figure for name, figure in figures.items() if figure is not None}
    return PositionSurvey(
        code=fit.code,
        servo_v=around.cases.servo_v.get(fit.code, {}),
        missing=tuple(missing),
        missing_for={name: words for name, words in lacks.items() if words},
        control=control,
        holding=holding,
        pivot=_pivot(fit, holding),
        load_learned=loaded.learned,
        **present,
    )


def _holding(
    fit: ServoFit, question: LoadQuestion, load: Load | None, rating: Rating | None,
    given: ServoSupply | None, around: Surroundings,
) -> SurfaceHold | None:  # fmt: skip
    """The servo against the air; at its lowest rated volts where nobody can say what arrives."""
    if load is None or not load.points or rating is None:
        return None
    peak = around.cases.cases.get(Scenario.PEAK)
    if given is None and peak is not None and (peak.collapse is not None or peak.bus_v is None):
        return None
    torque_nm = rating.rows[0].stall_torque_nm if given is None else given.torque.expected
    loop, stiffer = loops_of(fit, torque_nm, around.defaults)
    if loop is None:
        return None
    measured = half_torque_deg(fit) is not None
    basis = Basis.TYPICAL if given is None or not measured else given.torque.basis
    return SurfaceHold(question, load, loop, stiffer, basis, given is not None)


def _pivot(fit: ServoFit, holding: SurfaceHold | None) -> Pivot | None:
    if holding is None or not isinstance(holding.load.shape, WholeSurface):
        return None
    load = holding.load
    if load.drive is None or load.air is None or not isinstance(load.shape, WholeSurface):
        return None
    rod = mechanics.rod_n_per_mm(fit.linkage, Facts())
    return pivot_of(fit, load.shape, load.drive, load.servos, holding.loop, rod, load.air)


def _share(torque: Figure, load: Figure) -> Figure | None:
    """Load over torque of a servo on a rotor."""
    if not torque.expected > 0.0:
        return None
    facts = Facts()
    facts.use(load)
    facts.use(torque)
    return facts.banded(
        "share of the torque asked", load.band / torque.expected, "ratio", "load / stall torque"
    )


def _draws(fit: ServoFit, around: Surroundings) -> Found:
    draw = around.model.draws.get(fit.code)
    if draw is None:
        return {}
    read = servo_measured(fit)
    as_recorded = Working(fixed("as recorded"), (draw.idle,), fixed("the record"))
    idle_on = None if read.idle_ma is None else read.idle_ma.read_on
    working = as_recorded if read.idle_ma is None else read.idle_ma.working
    draws: Found = {
        "idle_a": Figure(
            fixed("idle current"), draw.idle_a, "A", basis=draw.idle.basis, working=working, read_on=idle_on
        ),
        "average_a": draw.average,
    }
    kind = fit.servo_type
    if read.run_a is not None:
        draws["run_a"] = read.run_a.named(fixed("running current without load"))
        return draws
    if kind is not None and kind.run_a is not None:
        facts = Facts()
        facts.known(kind, "run_a", Basis.RATED)
        draws["run_a"] = Figure(
            fixed("running current without load"), kind.run_a, "A", basis=Basis.RATED,
            working=Working(fixed("as rated"), tuple(facts.inputs), fixed("maker's figure")),
        )  # fmt: skip
    return draws


def _delivered(
    fit: ServoFit, rating: Rating, around: Surroundings, load: Load | None, missing: list[Text]
) -> ServoSupply | None:
    peak = around.cases.cases.get(Scenario.PEAK)
    if peak is None:
        missing.extend(lack for lack in around.model.missing if lack not in missing)
        return None
    asked = None if load is None else load.load_nm
    return delivered(fit, rating, around.model, peak, asked, around.defaults, missing)


def _strength(fit: ServoFit, given: ServoSupply | None, around: Surroundings) -> Found:
    ohm = around.model.lead_ohm.get(fit.code)
    if given is None:
        return {"lead_ohm": ohm}
    figures: Found = {
        "lead_ohm": ohm,
        "delivered_v": given.volts,
        "torque_nm": given.torque,
        "transit_s": given.transit,
        "stall_a": given.stall,
        "lead_current_a": given.current,
        "lead_drop_v": given.drop,
    }
    loop, _ = loops_of(fit, given.torque.expected, around.defaults)
    if loop is not None:
        figures |= loop_figures(loop, loop_facts(fit, given.torque, around.defaults))
    return figures


def _mechanics(
    fit: ServoFit, drive: Drive | None, given: ServoSupply | None, around: Surroundings,
    lacks: dict[str, tuple[Text, ...]],
) -> Found:  # fmt: skip
    figures: Found = {}
    defaults = around.defaults
    figures["free_play_deg"], lacks["free_play_deg"] = mechanics.free_play(
        play_read(around.aircraft, fit), fit.surface, fit.linkage, fit.servo, drive
    )
    if drive is None:
        return figures
    figures["servo_travel_deg"], lacks["servo_travel_deg"] = mechanics.servo_travel(
        fit.code, fit.surface, fit.linkage, drive
    )
    if given is not None:
        held = mechanics.stiffness(fit, drive, given.torque, defaults)
        figures["stiffness_nm_deg"] = held
        figures["caution_speed_m_s"], lacks["caution_speed_m_s"] = mechanics.caution_speed(
            fit, drive, given.torque, figures["free_play_deg"], defaults
        )
    return figures
