"""A surface as the air sees it: its shape, what it is turned in, and its moment at a point of flight."""

from __future__ import annotations

from functools import lru_cache

from hangar.base.figure import Band, Basis
from hangar.base.values import value_class
from hangar.parts import Airframe, Surface
from hangar.parts.choices import AircraftClass, Function, PowerKind, SurfaceKind
from hangar.physics.air import GRAVITY_M_S2, Air, Airflow
from hangar.physics.allmoving import turning_coefficients
from hangar.physics.hinge_balance import NO_BALANCE, Nose, NoseBalance, nose_balance
from hangar.physics.hinge_band import (
    LOW_SHARE,
    Coefficients,
    Profile,
    between,
    bubble_allowance,
    coefficients,
    compressed,
)
from hangar.physics.hinge_moment import chord_moment_m3
from hangar.survey.defaults import Defaults
from hangar.survey.figures import Facts, field_missing
from hangar.survey.flight_points import TAIL, Way
from hangar.survey.propeller import Propeller, Wash

_PROPELLER = {PowerKind.ELECTRIC, PowerKind.GLOW, PowerKind.PETROL}


@value_class
class HingedSurface:
    """A surface hinged behind a fixed part."""

    profile: Profile
    chord_moment_m3: float
    whole_chord_m: float
    wash: Wash

    def table(self, greatest_deg: float, way: Way) -> Coefficients:
        """Its coefficients to a deflection one way."""
        return coefficients(self.profile, greatest_deg, trailing_edge_down=way is Way.DOWN)


@value_class
class WholeSurface:
    """A surface that turns whole about a pivot."""

    pivot: float
    aspect_ratio: float
    chord_moment_m3: float
    whole_chord_m: float
    wash: Wash

    def table(self, greatest_deg: float, way: Way) -> Coefficients:  # noqa: ARG002
        """Its coefficients to a deflection; both ways are alike."""
        return turning_coefficients(self.pivot, self.aspect_ratio, greatest_deg)


Shape = HingedSurface | WholeSurface


@value_class
class Moments:
    """Moment that closes a surface over its deflection at one point of flight [N m]."""

    angles_deg: tuple[float, ...]
    expected: tuple[float, ...]
    high: tuple[float, ...]
    low_share: float


@lru_cache(maxsize=8192)
def moments(shape: Shape, air: Air, speed_m_s: float, greatest_deg: float, way: Way) -> Moments:
    """Moments at a speed: with wash, low takes none, expected half of the static thrust, high all of it."""
    table = shape.table(greatest_deg, way)
    wash = shape.wash.at_pa(speed_m_s)
    still, half, full = (Airflow(speed_m_s, air, share * wash) for share in (0.0, 0.5, 1.0))
    per_expected = half.dynamic_pressure_pa * shape.chord_moment_m3 * compressed(half.mach)
    per_high = full.dynamic_pressure_pa * shape.chord_moment_m3 * compressed(full.mach)
    highs = table.highs(bubble_allowance(full.reynolds(shape.whole_chord_m)))
    share = 1.0
    if per_expected:
        per_still = still.dynamic_pressure_pa * shape.chord_moment_m3 * compressed(still.mach)
        share = per_still / per_expected
    return Moments(
        table.angles_deg,
        tuple(per_expected * value for value in table.expected),
        tuple(per_high * high for high in highs),
        LOW_SHARE * share,
    )


def shape_of(
    airframe: Airframe, surface: Surface, air: Air, defaults: Defaults, facts: Facts
) -> Shape | None:
    """A surface's shape; None with what is missing noted, such as its chord or an all-moving one's pivot."""
    span = facts.need(surface, "span_mm")
    root = facts.need(surface, "root_chord_mm")
    tip = facts.known(surface, "tip_chord_mm")
    if span is None or root is None:
        return None
    root_m, tip_m = root / 1000.0, (root if tip is None else tip) / 1000.0
    mean_m, span_m = 0.5 * (root_m + tip_m), span / 1000.0
    wash = _wash(airframe, surface, air, defaults, facts)
    aspect = _aspect_ratio(airframe, surface, defaults, facts)
    if surface.carried is SurfaceKind.ALL_MOVING:
        pivot = facts.need(surface, "pivot_pct")
        if pivot is None:
            return None
        return WholeSurface(pivot / 100.0, aspect, span_m * mean_m * mean_m, mean_m, wash)
    whole = facts.known(surface, "whole_chord_mm")
    if whole is None:
        ratio = facts.assume(defaults.usual_chord_share)
        whole_m = mean_m / max(ratio, 0.02)
    else:
        whole_m = whole / 1000.0
    profile = Profile(
        mean_m / whole_m, aspect, _camber(airframe, surface, defaults, facts),
        defaults.expected_incidence.value("tail" if surface.function in TAIL else "wing"),
        facts.take(surface, "incidence_deg", defaults.adding_incidence, _adverse_key(airframe, surface)),
        balance=_balance(surface, facts),
    )  # fmt: skip
    return HingedSurface(profile, chord_moment_m3(span_m, root_m, tip_m), whole_m, wash)


def _aspect_ratio(airframe: Airframe, surface: Surface, defaults: Defaults, facts: Facts) -> float:
    if surface.function is Function.RUDDER:
        key = "fin"
    elif surface.function in TAIL:
        key = "tailplane"
    else:
        key = "sailplane wing" if airframe.is_sailplane else "wing"
    return facts.take(surface, "aspect_ratio", defaults.usual_aspect_ratio, key)


def _camber(airframe: Airframe, surface: Surface, defaults: Defaults, facts: Facts) -> float:
    if surface.function in TAIL:
        key = "tail"
    elif airframe.aircraft_class is AircraftClass.AEROBATIC_3D:
        key = "aerobatic wing"
    else:
        key = "sailplane wing" if airframe.is_sailplane else "wing"
    return facts.take(surface, "camber_pct", defaults.usual_camber, key) / 100.0


def _adverse_key(airframe: Airframe, surface: Surface) -> str:
    aerobatic = airframe.aircraft_class is AircraftClass.AEROBATIC_3D
    return "aerobatic tail" if aerobatic and surface.function in TAIL else "any"


def _balance(surface: Surface, facts: Facts) -> NoseBalance:
    share = facts.known(surface, "balance_pct")
    if not share:
        return NO_BALANCE
    # The shape of the nose is not recorded, so the one that relieves least is credited.
    return nose_balance(share / 100.0, Nose.SHARP)


def _wash(airframe: Airframe, surface: Surface, air: Air, defaults: Defaults, facts: Facts) -> Wash:
    """What the propeller adds over the washed share of a surface."""
    if not surface.wash_pct or airframe.power not in _PROPELLER:
        return Wash()
    propeller = Propeller.of_size(airframe.propeller)
    if propeller is None:
        facts.lack(field_missing(airframe, "propeller"))
        return Wash()
    mass_g = facts.need(airframe, "all_up_mass_g")
    if mass_g is None:
        return Wash()
    share = facts.known(surface, "wash_pct") or 0.0
    thrust_to_weight = facts.assume(defaults.thrust_to_weight, airframe.aircraft_class)
    facts.note("propeller diameter", 1000.0 * propeller.diameter_m, "mm", Basis.MEASURED)
    basis = Basis.MEASURED if propeller.pitch_told else Basis.TYPICAL
    facts.note("propeller pitch", 1000.0 * propeller.pitch_m, "mm", basis)
    thrust_n = thrust_to_weight * mass_g / 1000.0 * GRAVITY_M_S2
    return Wash.of(propeller, thrust_n, air.density_kg_m3, share / 100.0)


def band_at(table: Moments, deflection_deg: float) -> Band:
    """The three moments at a deflection within a table [N m]."""
    expected = between(table.angles_deg, table.expected, deflection_deg)
    high = between(table.angles_deg, table.high, deflection_deg)
    return Band(table.low_share * expected, expected, max(expected, high))
