"""What the load at one position rests on: a value, so that positions that are alike are worked once."""

from __future__ import annotations

from dataclasses import replace

from hangar.base.values import value_class
from hangar.parts import Aircraft, Airframe, Linkage, RemarkOnSpeed, Rotor, ServoFit, Surface
from hangar.parts.choices import Function, PackJoin, SurfaceKind
from hangar.parts.readings import is_aside
from hangar.physics.air import Air
from hangar.physics.pack import Chemistry, cell
from hangar.survey.defaults import Defaults
from hangar.survey.surface_readings import surface_as_read

ROTOR_FUNCTIONS = frozenset({Function.CYCLIC, Function.COLLECTIVE, Function.TAIL})


@value_class
class LoadQuestion:
    """Everything that the load at a position rests on, and nothing else.

    ``remarks`` is what pilots noticed of its surface with the servo ``holder`` at about ``holder_v``.
    """

    code: str
    function: Function
    surface: Surface | None
    linkage: Linkage | None
    servos: int
    airframe: Airframe
    rotors: tuple[Rotor, ...]
    air: Air
    defaults: Defaults
    remarks: tuple[RemarkOnSpeed, ...] = ()
    holder: ServoFit | None = None
    holder_v: float | None = None

    @classmethod
    def of(cls, aircraft: Aircraft, fit: ServoFit, air: Air, defaults: Defaults) -> LoadQuestion:
        """The part of an aircraft that decides the load at one of its positions."""
        remarks = _remarks(aircraft, fit) if aircraft.remarks else ()
        return cls(
            fit.code, fit.function, surface_as_read(aircraft, fit), fit.linkage,
            1 if fit.surface is None else servos_on(aircraft, fit.surface),
            aircraft.airframe, aircraft.rotors if fit.function in ROTOR_FUNCTIONS else (), air, defaults,
            remarks, _holder(fit) if remarks else None, _bus_v(aircraft) if remarks else None,
        )  # fmt: skip

    @property
    def moves_surface(self) -> bool:
        """Whether the air loads it."""
        if self.surface is None:
            return self.function.is_surface
        return self.surface.carried is not SurfaceKind.PLATE


def _remarks(aircraft: Aircraft, fit: ServoFit) -> tuple[RemarkOnSpeed, ...]:
    """What was noticed of a surface since its servo was fitted."""
    surface, since = fit.surface, fit.servo_since
    if surface is None:
        return ()
    return tuple(
        remark
        for remark in aircraft.remarks
        if remark.surface == surface.code
        and (since is None or remark.noted_on.toordinal() >= since.toordinal())
        and not is_aside(remark, aircraft.set_aside)
    )


def _holder(fit: ServoFit) -> ServoFit:
    """The servo that was flown, without what is not asked of it."""
    return replace(fit.as_flown, bench_checks=(), lead=None, linkage=None, elsewhere=(), installation=None)


def _bus_v(aircraft: Aircraft) -> float | None:
    """Volts that the bus is meant to have."""
    volts = []
    for path in aircraft.radio_paths:
        set_v = path.regulator.set_v if path.regulator is not None else None
        each_v = [
            fed.pack_type.series * cell(Chemistry(fed.pack_type.chemistry)).nominal_v for fed in path.packs
        ]
        in_series = path.feed.join is PackJoin.SERIES
        sum_v = sum(each_v) if in_series else max(each_v, default=0.0)
        volts += [set_v] if set_v is not None else [sum_v] if sum_v else []
    return max(volts, default=None)


def servos_on(aircraft: Aircraft, surface: Surface) -> int:
    """How many servos hold a surface; a position without a servo holds nothing."""
    at = [fit for fit in aircraft.fits if fit.surface is not None and fit.surface.code == surface.code]
    return sum(1 for fit in at if fit.servo_type is not None) or len(at) or 1
