"""The same position with everything that nobody entered at its mild end: whether a verdict is a guess."""

from __future__ import annotations

from dataclasses import replace
from functools import lru_cache
from types import MappingProxyType

from hangar.base.text import Text
from hangar.parts import ServoFit
from hangar.physics.servo_loop import ServoLoop
from hangar.survey.defaults import Defaults, Typical
from hangar.survey.figures import field_missing
from hangar.survey.holding import SurfaceHold
from hangar.survey.load_question import LoadQuestion
from hangar.survey.position_load import load_at

_MILD = {
    "dive_speed": 0.85,
    "usual_throw": 0.75,
    "dead_band": 0.5,
    "usual_aspect_ratio": 0.7,
    "arm_at_throw": 1.5,
}
"""Mild end over typical value; ranges common practice, no source."""


@lru_cache(maxsize=16)
def mild(defaults: Defaults) -> Defaults:
    """Typical values at their mild end, for what a record could tell."""
    return replace(defaults, **{name: _scaled(getattr(defaults, name), by) for name, by in _MILD.items()})


def _scaled(typical: Typical, by: float) -> Typical:
    return replace(typical, by=MappingProxyType({key: by * value for key, value in typical.by.items()}))


def milder(holding: SurfaceHold, fit: ServoFit) -> SurfaceHold | None:
    """A position with its blanks at their mild end; None where nothing is blank."""
    if not blanks(fit, holding.question):
        return None
    question = holding.question
    soft = mild(question.defaults)
    load = load_at(
        LoadQuestion(
            question.code, question.function, question.surface, question.linkage, question.servos,
            question.airframe, question.rotors, question.air, soft, question.remarks, question.holder,
            question.holder_v,
        )
    ).load  # fmt: skip
    if load is None or not load.points:
        return None
    return replace(holding, load=load, loop=_milder_loop(holding.loop, fit))


def _milder_loop(loop: ServoLoop, fit: ServoFit) -> ServoLoop:
    kind = fit.servo_type
    if kind is None or kind.dead_band_us is not None:
        return loop
    return ServoLoop.of(loop.stall_torque_nm, _MILD["dead_band"] * loop.dead_band_deg, loop.full_drive_deg)


def blanks(fit: ServoFit, question: LoadQuestion) -> tuple[Text, ...]:
    """The fields that nobody entered and whose typical value a verdict rests on, the weightiest first."""
    kinder = []
    airframe, surface, linkage = question.airframe, question.surface, question.linkage
    if airframe.dive_speed_m_s is None:
        kinder.append(field_missing(airframe, "dive_speed_m_s"))
    if surface is not None:
        if surface.throw_up_deg is None and surface.throw_down_deg is None:
            kinder.append(field_missing(surface, "throw_up_deg"))
        elif None in (surface.throw_up_deg, surface.throw_down_deg):
            blank = "throw_up_deg" if surface.throw_up_deg is None else "throw_down_deg"
            kinder.append(field_missing(surface, blank))
    if linkage is not None:
        kinder += [field_missing(linkage, name) for name in _lever_blanks(question)]
    if fit.servo_type is not None and fit.servo_type.dead_band_us is None:
        kinder.append(field_missing(fit.servo_type, "dead_band_us"))
    if surface is not None and surface.aspect_ratio is None:
        kinder.append(field_missing(surface, "aspect_ratio"))
    return tuple(kinder)


def _lever_blanks(question: LoadQuestion) -> tuple[str, ...]:
    linkage = question.linkage
    if linkage is None or linkage.kind == "direct":
        return ()
    return tuple(name for name in ("arm_mm", "horn_mm") if getattr(linkage, name) is None)
