"""Throws and free play as they were read at a surface: the newest valid reading goes before the record."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import Text, fixed, text
from hangar.parts import Aircraft, BenchCheck, ServoFit, Surface
from hangar.parts.readings import is_aside

VALID_FLIGHTS = 25
"""Flights after which throws and play are to be read again; common practice, no source."""


@dataclass(frozen=True)
class PlayRead:
    """Free play that was read.

    Attributes:
        play_deg: at the surface.
        read_on: when; None where nobody noted it.
        lapsed: why it is to be read again; it then is the least that the play can be.
    """

    play_deg: float
    read_on: date | None
    lapsed: Text | None = None

    @property
    def figure(self) -> Figure:
        """The play with its day."""
        inputs = [Input(fixed("free play measured"), self.play_deg, "deg", Basis.MEASURED)]
        if self.read_on is not None:
            inputs.append(Input(text("read on"), text("{day}", day=self.read_on), "", Basis.MEASURED))
        if self.lapsed is not None:
            inputs.append(Input(text("to be read again"), self.lapsed, ""))
        working = Working(text("measured at the surface"), tuple(inputs))
        basis = Basis.COMPUTED if self.lapsed is not None else Basis.MEASURED
        return Figure(
            fixed("free play"), self.play_deg, "deg", basis=basis, working=working, read_on=self.read_on
        )


def play_read(aircraft: Aircraft, fit: ServoFit) -> PlayRead | None:
    """The newest free play of the surface at a position; None where nobody read it."""
    surface = fit.surface
    check = _newest(fit, "play_deg")
    on_record = None if surface is None else surface.play_deg
    record_on = None if surface is None else surface.play_on
    if check is not None and (on_record is None or record_on is None or check.checked_at.date() > record_on):
        day = check.checked_at.date()
        return PlayRead(check.play_deg or 0.0, day, _lapsed(aircraft, day))
    if on_record is None:
        return None
    return PlayRead(on_record, record_on, None if record_on is None else _lapsed(aircraft, record_on))


def surface_as_read(aircraft: Aircraft, fit: ServoFit) -> Surface | None:
    """The surface at a position with the throws read last; those of the record where none are valid."""
    surface = fit.surface
    if surface is None:
        return None
    throws = {}
    for name in ("throw_up_deg", "throw_down_deg"):
        check = _newest(fit, name)
        if check is not None and _lapsed(aircraft, check.checked_at.date()) is None:
            throws[name] = getattr(check, name)
    changed = {name: deg for name, deg in throws.items() if deg != getattr(surface, name)}
    return replace(surface, **changed) if changed else surface


def _newest(fit: ServoFit, name: str) -> BenchCheck | None:
    """The newest check of the servo that is here which holds a reading and counts."""
    if fit.is_changed or not fit.bench_checks:
        return None
    since = fit.servo_since
    checks = [
        check
        for check in fit.bench_checks
        if getattr(check, name) is not None
        and (since is None or check.checked_at.date().toordinal() >= since.toordinal())
        and not is_aside(check, fit.set_aside)
    ]
    return max(checks, key=lambda check: check.checked_at, default=None)


def _lapsed(aircraft: Aircraft, day: date) -> Text | None:
    """What has happened since a reading so that it is to be made again; None where nothing."""
    since = [flight for flight in aircraft.flights if flight.flown_on > day]
    hard = next((flight for flight in since if flight.hard_landing or flight.crashed), None)
    if hard is not None:
        return text("hard landing of {day}", day=hard.flown_on)
    if len(since) > VALID_FLIGHTS:
        return text("{count} flights since", count=len(since))
    return None
