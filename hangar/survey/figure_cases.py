"""For which case a figure of a position or of the supply is worked: how fast, at which volts, how long."""

from __future__ import annotations

from hangar.base.text import NOTHING, Amount, Text, text
from hangar.survey.holding import PointControl, scarcest
from hangar.survey.model import PositionSurvey

_AT_PEAK = text("at peak current")
_STALLED = text("stalled, at peak")
_FLIGHT = text("a whole flight")

_BY_FIELD: dict[str, Text] = {
    "delivered_v": _AT_PEAK,
    "torque_nm": _STALLED,
    "transit_s": text("without load, at peak"),
    "torque_at_1_deg_nm": _AT_PEAK,
    "deg_to_half_torque": _AT_PEAK,
    "idle_a": text("at rest"),
    "run_a": text("running free"),
    "stall_a": _STALLED,
    "lead_drop_v": _AT_PEAK,
    "rod_force_n": _STALLED,
    "rod_margin": _STALLED,
    "bus_v": _AT_PEAK,
    "peak_a": text("at the nominal volts"),
    "peak_drawn_a": _AT_PEAK,
    "mean_a": _FLIGHT,
    "endurance_min": text("a full charge"),
}
_AT_LEAST_CONTROL = ("control_left", "held_deg", "wanted_deg", "full_to_m_s")
_AT_MOST_LOAD = ("load_nm", "torque_share")


def case_of(name: str, position: PositionSurvey | None) -> Text:
    """The case of a figure by its field's name; nothing where it needs none, such as a mass.

    Figures of control name the point of flight and its speed.
    """
    points = position.control if position is not None else ()
    if name in _AT_LEAST_CONTROL:
        return _point_words(scarcest(points))
    if name in _AT_MOST_LOAD:
        return _point_words(max(points, key=lambda point: point.torque_share, default=None))
    return _BY_FIELD.get(name, NOTHING)


def _point_words(point: PointControl | None) -> Text:
    if point is None:
        return text("the most in flight")
    return text("{point} at {speed}", point=point.point, speed=Amount(point.speed_m_s, "m/s"))
