"""What the air or a rotor asks of one position, worked once for all aircraft that are alike there."""

from __future__ import annotations

from functools import lru_cache

from hangar.base.figure import Figure, Working
from hangar.base.text import Text, fixed
from hangar.base.values import value_class
from hangar.parts import Aircraft, Airframe, Linkage, Rotor, ServoFit, Surface
from hangar.parts.choices import Function
from hangar.physics.air import Air
from hangar.survey.defaults import Defaults
from hangar.survey.figures import OWN_ARITHMETIC, Facts, input_of
from hangar.survey.linkages import Drive, drive_of
from hangar.survey.loads import Load, servos_on, surface_load
from hangar.survey.rotor_loads import ROTOR_FUNCTIONS, rotor_load


@value_class
class Asking:
    """Everything that the load at a position rests on, and nothing else."""

    code: str
    function: Function
    surface: Surface | None
    linkage: Linkage | None
    servos: int
    airframe: Airframe
    rotors: tuple[Rotor, ...]
    air: Air
    defaults: Defaults

    @classmethod
    def of(cls, aircraft: Aircraft, fit: ServoFit, air: Air, defaults: Defaults) -> Asking:
        """The part of an aircraft that decides the load at one of its positions."""
        return cls(
            fit.code, fit.function, fit.surface, fit.linkage,
            1 if fit.surface is None else servos_on(aircraft, fit.surface),
            aircraft.airframe, aircraft.rotors if fit.function in ROTOR_FUNCTIONS else (), air, defaults,
        )  # fmt: skip

    @property
    def moves_surface(self) -> bool:
        """Whether the air loads it."""
        return self.surface is not None or self.function.is_surface


@value_class
class Asked:
    """The drive of a position, its load, the figures of both, and what they lacked."""

    drive: Drive | None
    load: Load | None
    figures: tuple[tuple[str, Figure], ...]
    missing: tuple[Text, ...]


# An edit changes one position; the others, and those of every changed tree of a plan, ask the same again.
@lru_cache(maxsize=2048)
def asked(asking: Asking) -> Asked:
    """Load at a position and the drive that carries it."""
    facts = Facts()
    figures: dict[str, Figure] = {}
    drive, load = None, None
    if asking.moves_surface:
        drive = drive_of(asking, asking.defaults, facts)
    if asking.function in ROTOR_FUNCTIONS:
        needed = rotor_load(asking, asking.air.density_kg_m3, asking.defaults, facts)
        load = None if needed is None else Load(needed)
    elif asking.moves_surface:
        moment, load = surface_load(asking, drive, asking.air, asking.defaults, facts)
        if moment is not None:
            figures["surface_moment_nm"] = moment
    if load is not None:
        figures["load_nm"] = load.load_nm
        if asking.function not in ROTOR_FUNCTIONS:
            figures |= _case_figures(load)
    return Asked(drive, load, tuple(figures.items()), tuple(facts.missing))


def _case_figures(load: Load) -> dict[str, Figure]:
    """Deflection and speed that an air load was worked at."""
    found = {
        "load_deflection_deg": _from_load(
            fixed("deflection of the load"),
            abs(load.deflection_deg),
            "deg",
            load,
            fixed("where the load at the servo is most"),
        )
    }
    if load.case is not None:
        found["load_speed_m_s"] = _from_load(
            fixed("speed of the load"),
            load.case.stream.speed_m_s,
            "m/s",
            load,
            fixed("speed the load is worked for"),
        )
    return found


def _from_load(name: Text, value: float, unit: str, load: Load, formula: Text) -> Figure:
    working = Working(formula, (input_of(load.load_nm),), OWN_ARITHMETIC)
    return Figure(name, value, unit, basis=load.load_nm.basis, working=working)
