"""The air a model flies in: density, pressure, viscosity, sound, and what a speed makes of them.

Source: ISO 2533 standard atmosphere and the perfect gas; Sutherland's law for viscosity.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from hangar.base.errors import BadInput, OutOfValidity
from hangar.base.values import value_class
from hangar.physics.checks import finite

SEA_LEVEL_PRESSURE_PA = 101325.0
SEA_LEVEL_TEMPERATURE_K = 288.15
LAPSE_K_PER_M = 0.0065
GAS_CONSTANT_J_PER_KG_K = 287.05287
GRAVITY_M_S2 = 9.80665
EARTH_RADIUS_M = 6356766.0
HEAT_RATIO = 1.4

LOWEST_M = -2000.0
HIGHEST_M = 11000.0
COLDEST_C = -90.0
HOTTEST_C = 60.0
LEAST_PRESSURE_PA = 20_000.0
MOST_PRESSURE_PA = 120_000.0

_ZERO_C_IN_K = 273.15
_PRESSURE_POWER = GRAVITY_M_S2 / (GAS_CONSTANT_J_PER_KG_K * LAPSE_K_PER_M)
_SUTHERLAND_FACTOR = 1.458e-6
_SUTHERLAND_K = 110.4


def geopotential_m(altitude_m: float) -> float:
    """Geopotential height of a geometric altitude: what the standard atmosphere is written in.

    Args:
        altitude_m: height above mean sea level as a tape would measure it [m], about -2000 to 11 000.

    Returns:
        Geopotential height [m].

    Raises:
        OutOfValidity: outside the lower air the formulas below hold in.

    Valid for: the lower air, below 11 000 m geopotential.
    Source: ISO 2533 (its formula, as both cited by and programmed in the packages of the tests).

    >>> geopotential_m(3000.0)
    2998.58
    """
    if not math.isfinite(altitude_m) or altitude_m <= -EARTH_RADIUS_M:
        raise BadInput(
            "Altitude is {altitude} m; {lowest:g} to {highest:g} m is allowed.",
            altitude=altitude_m,
            lowest=LOWEST_M,
            highest=HIGHEST_M,
        )
    height_m = EARTH_RADIUS_M * altitude_m / (EARTH_RADIUS_M + altitude_m)
    _refuse_height(height_m)
    return height_m


def _refuse_height(height_m: float) -> None:
    if not LOWEST_M <= height_m <= HIGHEST_M:
        raise OutOfValidity(
            "Altitude is {height:.0f} m; air is computed from {lowest:g} to {highest:g} m.",
            height=height_m,
            lowest=LOWEST_M,
            highest=HIGHEST_M,
        )


def _kelvin(temperature_c: float) -> float:
    if not COLDEST_C <= temperature_c <= HOTTEST_C:
        raise OutOfValidity(
            "Air temperature is {temperature} °C; {coldest:g} to {hottest:g} °C is allowed.",
            temperature=temperature_c,
            coldest=COLDEST_C,
            hottest=HOTTEST_C,
        )
    return temperature_c + _ZERO_C_IN_K


def _standard_kelvin(height_m: float) -> float:
    _refuse_height(height_m)
    return SEA_LEVEL_TEMPERATURE_K - LAPSE_K_PER_M * height_m


def standard_temperature_c(altitude_m: float) -> float:
    """Standard-day temperature [°C] at a geometric altitude [m].

    >>> standard_temperature_c(1000.0)
    8.501
    """
    return _standard_kelvin(geopotential_m(altitude_m)) - _ZERO_C_IN_K


def pressure_pa(altitude_m: float) -> float:
    """Standard-day static pressure [Pa] at a geometric altitude [m].

    >>> pressure_pa(1000.0)
    89876.3
    """
    return pressure_geopotential_pa(geopotential_m(altitude_m))


def pressure_geopotential_pa(height_m: float) -> float:
    """Standard-day static pressure [Pa] at a geopotential height [m].

    >>> pressure_geopotential_pa(11000.0)
    22632.1
    """
    ratio = _standard_kelvin(height_m) / SEA_LEVEL_TEMPERATURE_K
    return SEA_LEVEL_PRESSURE_PA * math.pow(ratio, _PRESSURE_POWER)


def measured_density_kg_m3(pressure_pa: float, temperature_c: float) -> float:
    """Density from station pressure and temperature as read on the field (dry air).

    Moist air is at most about one per cent lighter, so dry air is the safe side for loads.

    Args:
        pressure_pa: station pressure, not reduced to sea level [Pa], 20 000 to 120 000.
        temperature_c: air temperature [°C], -90 to 60.

    Returns:
        Density [kg/m³].

    Raises:
        OutOfValidity: a pressure or temperature outside those bounds.

    Valid for: dry air as a perfect gas.
    Source: the gas law with the ISO 2533 gas constant.

    >>> measured_density_kg_m3(103000.0, -10.0)
    1.3636
    """
    if not LEAST_PRESSURE_PA <= pressure_pa <= MOST_PRESSURE_PA:
        raise OutOfValidity(
            "Air pressure is {pressure:g} Pa; {least:g} to {most:g} Pa is allowed.",
            pressure=pressure_pa,
            least=LEAST_PRESSURE_PA,
            most=MOST_PRESSURE_PA,
        )
    return pressure_pa / (GAS_CONSTANT_J_PER_KG_K * _kelvin(temperature_c))


def density_kg_m3(altitude_m: float, temperature_c: float | None = None) -> float:
    """Air density at a geometric altitude, on a standard day or at a measured temperature.

    Args:
        altitude_m: geometric height above mean sea level [m], about -2000 to 11 000.
        temperature_c: temperature measured there [°C], -90 to 60; None for the standard day.
            The pressure stays the standard one of that altitude.

    Returns:
        Density [kg/m³].

    Raises:
        OutOfValidity: an altitude or temperature outside those bounds.

    Valid for: the lower air (dry).
    Source: ISO 2533 standard atmosphere; perfect gas.

    >>> density_kg_m3(1000.0)
    1.11166
    """
    return density_geopotential_kg_m3(geopotential_m(altitude_m), temperature_c)


def density_geopotential_kg_m3(height_m: float, temperature_c: float | None = None) -> float:
    """Like :func:`density_kg_m3` with the height given as geopotential [m].

    >>> density_geopotential_kg_m3(1000.0)
    1.11164
    """
    kelvin = _standard_kelvin(height_m) if temperature_c is None else _kelvin(temperature_c)
    return pressure_geopotential_pa(height_m) / (GAS_CONSTANT_J_PER_KG_K * kelvin)


# A whole fleet is judged in the air of one day.
@lru_cache(maxsize=64)
def viscosity_pa_s(temperature_c: float) -> float:
    """Dynamic viscosity of air [Pa s] at a temperature [°C], -90 to 60.

    Source: Sutherland's law with the constants of the US Standard Atmosphere 1976.

    >>> round(viscosity_pa_s(15.0) * 1e6, 3)
    17.894
    """
    kelvin = _kelvin(temperature_c)
    return _SUTHERLAND_FACTOR * kelvin * math.sqrt(kelvin) / (kelvin + _SUTHERLAND_K)


@lru_cache(maxsize=64)
def speed_of_sound_m_s(temperature_c: float) -> float:
    """Speed of sound in air [m/s] at a temperature [°C], -90 to 60.

    >>> speed_of_sound_m_s(15.0)
    340.294
    """
    return math.sqrt(HEAT_RATIO * GAS_CONSTANT_J_PER_KG_K * _kelvin(temperature_c))


def dynamic_pressure_pa(speed_m_s: float, density_kg_m3: float) -> float:
    """Dynamic pressure [Pa] of a speed [m/s] in air of a density [kg/m³].

    Raises:
        BadInput: a density not above zero, or a speed that is not finite.

    >>> dynamic_pressure_pa(35.0, 1.225)
    750.3
    """
    if not (density_kg_m3 > 0.0 and math.isfinite(density_kg_m3) and math.isfinite(speed_m_s)):
        raise BadInput(
            "Air density is {density} kg/m³ at {speed} m/s; a density above zero and a finite speed "
            "are wanted.",
            density=density_kg_m3,
            speed=speed_m_s,
        )
    return 0.5 * density_kg_m3 * speed_m_s * speed_m_s


def reynolds_number(
    speed_m_s: float, chord_m: float, *, density_kg_m3: float, viscosity_pa_s: float
) -> float:
    """Reynolds number on a whole chord [m] (fixed part and flap together), at a speed [m/s].

    Raises:
        BadInput: a chord, density or viscosity not above zero, or a speed that is not finite.

    >>> round(reynolds_number(35.0, 0.30, density_kg_m3=1.225, viscosity_pa_s=1.7894e-5), -3)
    719000.0
    """
    finite(speed_m_s=speed_m_s, viscosity_pa_s=viscosity_pa_s, density_kg_m3=density_kg_m3)
    if not (chord_m > 0.0 and density_kg_m3 > 0.0 and viscosity_pa_s > 0.0):
        raise BadInput(
            "Chord is {chord} m, density {density} kg/m³, viscosity {viscosity} Pa s; each must be "
            "above zero.",
            chord=chord_m,
            density=density_kg_m3,
            viscosity=viscosity_pa_s,
        )
    return density_kg_m3 * abs(speed_m_s) * chord_m / viscosity_pa_s


def mach_number(speed_m_s: float, temperature_c: float = 15.0) -> float:
    """Speed [m/s] over the speed of sound at a temperature [°C].

    Raises:
        BadInput: a speed that is not finite.

    >>> mach_number(130.0)
    0.382
    """
    finite(speed_m_s=speed_m_s)
    return abs(speed_m_s) / speed_of_sound_m_s(temperature_c)


@dataclass(frozen=True, slots=True)
class Air:
    """The air of one place and day.

    Attributes:
        density_kg_m3: density [kg/m³], above zero.
        temperature_c: temperature [°C], -90 to 60; sets viscosity and speed of sound.
    """

    density_kg_m3: float
    temperature_c: float

    def __post_init__(self) -> None:
        if not (self.density_kg_m3 > 0.0 and math.isfinite(self.density_kg_m3)):
            raise BadInput(
                "Air density is {density} kg/m³; it must be above zero.", density=self.density_kg_m3
            )
        _kelvin(self.temperature_c)

    @classmethod
    def at(cls, altitude_m: float, temperature_c: float | None = None) -> Air:
        """The air at a geometric altitude [m], standard or with the temperature measured there [°C].

        >>> Air.at(0.0).density_kg_m3
        1.2250
        """
        measured = standard_temperature_c(altitude_m) if temperature_c is None else temperature_c
        return cls(density_kg_m3(altitude_m, measured), measured)

    @classmethod
    def measured(cls, pressure_pa: float, temperature_c: float) -> Air:
        """The air of a station pressure [Pa] and temperature [°C] read on the field."""
        return cls(measured_density_kg_m3(pressure_pa, temperature_c), temperature_c)

    @property
    def viscosity_pa_s(self) -> float:
        """Dynamic viscosity [Pa s]."""
        return viscosity_pa_s(self.temperature_c)

    @property
    def speed_of_sound_m_s(self) -> float:
        """Speed of sound [m/s]."""
        return speed_of_sound_m_s(self.temperature_c)


@value_class
class Airflow:
    """Air meeting a surface: the flying speed, and what a propeller adds to it.

    Attributes:
        speed_m_s: flying speed [m/s], zero or more.
        air: the air flown in.
        wash_pa: dynamic pressure a propeller adds over the whole surface [Pa], zero or more.
    """

    speed_m_s: float
    air: Air
    wash_pa: float = 0.0

    def __post_init__(self) -> None:
        if not (self.speed_m_s >= 0.0 and math.isfinite(self.speed_m_s)):
            raise BadInput("Speed is {speed} m/s; it must be zero or more.", speed=self.speed_m_s)
        if not (self.wash_pa >= 0.0 and math.isfinite(self.wash_pa)):
            raise BadInput("Propeller wash is {wash} Pa; it must be zero or more.", wash=self.wash_pa)

    @property
    def dynamic_pressure_pa(self) -> float:
        """Dynamic pressure at the surface, wash included [Pa]."""
        return dynamic_pressure_pa(self.speed_m_s, self.air.density_kg_m3) + self.wash_pa

    @property
    def local_speed_m_s(self) -> float:
        """Speed of the air at the surface, wash included [m/s]."""
        return math.sqrt(2.0 * self.dynamic_pressure_pa / self.air.density_kg_m3)

    @property
    def mach(self) -> float:
        """Mach number at the surface."""
        return self.local_speed_m_s / self.air.speed_of_sound_m_s

    def reynolds(self, chord_m: float) -> float:
        """Reynolds number at the surface on a whole chord [m]."""
        return reynolds_number(
            self.local_speed_m_s,
            chord_m,
            density_kg_m3=self.air.density_kg_m3,
            viscosity_pa_s=self.air.viscosity_pa_s,
        )
