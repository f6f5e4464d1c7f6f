"""What the load at one position rests on: a value, so that positions that are alike are worked once."""

from __future__ import annotations

from hangar.base.values import value_class
from hangar.parts import Aircraft, Airframe, Linkage, Rotor, ServoFit, Surface
from hangar.parts.choices import Function, SurfaceKind
from hangar.physics.air import Air
from hangar.survey.defaults import Defaults

ROTOR_FUNCTIONS = frozenset({Function.CYCLIC, Function.COLLECTIVE, Function.TAIL})


@value_class
class LoadQuestion:
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
    def of(cls, aircraft: Aircraft, fit: ServoFit, air: Air, defaults: Defaults) -> LoadQuestion:
        """The part of an aircraft that decides the load at one of its positions."""
        return cls(
            fit.code, fit.function, fit.surface, fit.linkage,
            1 if fit.surface is None else servos_on(aircraft, fit.surface),
            aircraft.airframe, aircraft.rotors if fit.function in ROTOR_FUNCTIONS else (), air, defaults,
        )  # fmt: skip

    @property
    def moves_surface(self) -> bool:
        """Whether the air loads it."""
        if self.surface is None:
            return self.function.is_surface
        return self.surface.carried is not SurfaceKind.PLATE


def servos_on(aircraft: Aircraft, surface: Surface) -> int:
    """How many servos hold a surface; a position without a servo holds nothing."""
    at = [fit for fit in aircraft.fits if fit.surface is not None and fit.surface.code == surface.code]
    return sum(1 for fit in at if fit.servo_type is not None) or len(at) or 1
