"""What the air or a rotor asks of one position, worked once for all aircraft that are alike there."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache

from hangar.base.figure import Figure, Working
from hangar.base.text import Text, fixed
from hangar.base.values import value_class
from hangar.survey.figures import OWN_ARITHMETIC, Facts, input_of
from hangar.survey.linkages import Drive, drive_of
from hangar.survey.load_question import ROTOR_FUNCTIONS, LoadQuestion
from hangar.survey.loads import Load, surface_load
from hangar.survey.loads_learned import load_learned, scaled, scaled_band
from hangar.survey.remarks import LearnedLoad
from hangar.survey.rotor_loads import rotor_load


@value_class
class PositionLoad:
    """The drive of a position, its load, the figures of both, and what they lacked."""

    drive: Drive | None
    load: Load | None
    figures: tuple[tuple[str, Figure], ...]
    missing: tuple[Text, ...]
    learned: LearnedLoad | None = None


# An edit changes one position; the others, and those of every changed tree of a plan, ask the same again.
@lru_cache(maxsize=2048)
def load_at(question: LoadQuestion) -> PositionLoad:
    """Load at a position and the drive that carries it."""
    facts = Facts()
    figures: dict[str, Figure] = {}
    drive, load, learned = None, None, None
    if question.moves_surface:
        drive = drive_of(question, question.defaults, facts)
    if question.function in ROTOR_FUNCTIONS:
        needed = rotor_load(question, question.air.density_kg_m3, question.defaults, facts)
        load = None if needed is None else Load(needed)
    elif question.moves_surface:
        moment, load = surface_load(question, drive, question.air, question.defaults, facts)
        learned = None if load is None or not question.remarks else load_learned(question, load)
        if load is not None and learned is not None:
            load = scaled(load, learned)
            figures["load_times"] = learned.figure
            if moment is not None:
                band = scaled_band(moment.band, learned)
                moment = replace(moment, expected=band.expected, low=band.low, design=band.design)
        if moment is not None:
            figures["surface_moment_nm"] = moment
    if load is not None:
        figures["load_nm"] = load.load_nm
        if question.function not in ROTOR_FUNCTIONS:
            figures |= _case_figures(load)
    return PositionLoad(drive, load, tuple(figures.items()), tuple(facts.missing), learned)


def _case_figures(load: Load) -> dict[str, Figure]:
    """Deflection and speed that an air load was worked at."""
    worst = load.worst
    if worst is None:
        return {}
    where = fixed("at the point of flight where the load at the servo is most")
    return {
        "load_deflection_deg": _from_load(
            fixed("deflection of the load"), worst.asked.wanted_deg, "deg", load, where
        ),
        "load_speed_m_s": _from_load(fixed("speed of the load"), worst.asked.speed_m_s, "m/s", load, where),
    }


def _from_load(name: Text, value: float, unit: str, load: Load, formula: Text) -> Figure:
    working = Working(formula, (input_of(load.load_nm),), OWN_ARITHMETIC)
    return Figure(name, value, unit, basis=load.load_nm.basis, working=working)
