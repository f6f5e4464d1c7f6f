"""Positions that are refitted together: swashplate servos, servos on one surface, left and right."""

from __future__ import annotations

from dataclasses import dataclass

from hangar.parts import Aircraft, ServoFit
from hangar.rules.case import Case
from hangar.survey.model import Survey
from hangar.survey.servos import NOT_A_SERVO


@dataclass(frozen=True)
class Group:
    """Positions that get one servo type; ``strict`` where unlike servos must not even stay."""

    fits: tuple[ServoFit, ...]
    strict: bool = False

    @property
    def codes(self) -> tuple[str, ...]:
        """Codes of its positions."""
        return tuple(fit.code for fit in self.fits)

    @property
    def name(self) -> str:
        """The positions in a row."""
        return ", ".join(self.codes)


def groups_of(aircraft: Aircraft, survey: Survey) -> tuple[Group, ...]:
    """The aircraft's servo positions by group, in the order of its first position.

    Positions that hold no servo by nature (gain, lights) are left out, and so are empty ones that the
    aircraft can fly without.
    """
    case = Case(aircraft, survey)
    fits = [fit for fit in aircraft.fits if fit.function not in NOT_A_SERVO]
    fits = [fit for fit in fits if fit.servo_type is not None or fit.function.is_flight]
    home = {fit.code: fit.code for fit in fits}

    def root(code: str) -> str:
        while home[code] != code:
            code = home[code]
        return code

    strict: set[str] = set()
    for joined, is_strict in (
        *((group, True) for group in (case.swash, *case.ganged) if group),
        *((pair, False) for pair in case.pairs),
    ):
        first = root(joined[0].code)
        for fit in joined[1:]:
            home[root(fit.code)] = first
        strict |= {fit.code for fit in joined} if is_strict else set()
    members: dict[str, list[ServoFit]] = {}
    for fit in fits:
        members.setdefault(root(fit.code), []).append(fit)
    return tuple(Group(tuple(group), any(fit.code in strict for fit in group)) for group in members.values())
