"""The one table of units: what each is worth, how it is written, how keepers spell it.

Factors are exact fractions built from the definitions in NIST Special Publication 811 (Thompson and
Taylor, 2008), appendix B: inch 0.0254 m, pound 0.45359237 kg, standard gravity 9.80665 m/s2,
nautical mile 1852 m, mile 1609.344 m, thermochemical values not used.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from fractions import Fraction

Exact = Fraction
ONE = Exact(1)
ZERO = Exact(0)


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit: value in the kind's first unit = factor x value + offset.

    A ``reciprocal`` unit counts the other way round (seconds for a turn against turns a second):
    there the value in the first unit is factor / value.
    """

    key: str
    symbol: str
    kind: str
    factor: Fraction = ONE
    offset: Fraction = ZERO
    reciprocal: bool = False
    significant: int = 3
    decimals: int = 3


_INCH = Exact("0.0254")
_POUND = Exact("0.45359237")
_OUNCE = _POUND / 16
_GRAVITY = Exact("9.80665")
_PI = Exact(math.pi)

# key, symbol, factor, significant digits shown, most decimals shown; the first of a kind is its base.
_ROWS: dict[str, tuple[tuple[str, str, Fraction | int, int, int], ...]] = {
    "torque": (
        ("N m", "N·m", 1, 3, 4),
        ("N cm", "N·cm", Exact(1, 100), 3, 2),
        ("N mm", "N·mm", Exact(1, 1000), 3, 1),
        ("kgf cm", "kgf·cm", _GRAVITY / 100, 3, 3),
        ("gf cm", "gf·cm", _GRAVITY / 100_000, 3, 0),
        ("ozf in", "ozf·in", _OUNCE * _GRAVITY * _INCH, 3, 1),
        ("lbf in", "lbf·in", _POUND * _GRAVITY * _INCH, 3, 3),
        ("lbf ft", "lbf·ft", _POUND * _GRAVITY * _INCH * 12, 3, 3),
    ),
    "length": (
        ("m", "m", 1, 4, 3),
        ("mm", "mm", Exact(1, 1000), 4, 2),
        ("cm", "cm", Exact(1, 100), 4, 2),
        ("km", "km", 1000, 4, 3),
        ("in", "in", _INCH, 4, 3),
        ("ft", "ft", _INCH * 12, 4, 2),
    ),
    "mass": (
        ("kg", "kg", 1, 4, 3),
        ("g", "g", Exact(1, 1000), 3, 2),
        ("mg", "mg", Exact(1, 1_000_000), 3, 0),
        ("oz", "oz", _OUNCE, 3, 2),
        ("lb", "lb", _POUND, 4, 3),
    ),
    "speed": (
        ("m/s", "m/s", 1, 3, 2),
        ("km/h", "km/h", Exact(10, 36), 3, 1),
        ("mph", "mph", Exact("1609.344") / 3600, 3, 1),
        ("kn", "kn", Exact(1852, 3600), 3, 1),
        ("ft/s", "ft/s", _INCH * 12, 3, 1),
    ),
    "acceleration": (("m/s2", "m/s²", 1, 3, 2), ("gn", "gn", _GRAVITY, 3, 2)),
    "angle": (("deg", "°", 1, 3, 2), ("rad", "rad", 180 / _PI, 4, 4)),
    "area": (
        ("m2", "m²", 1, 3, 4),
        ("dm2", "dm²", Exact(1, 100), 3, 2),
        ("cm2", "cm²", Exact(1, 10_000), 3, 1),
        ("mm2", "mm²", Exact(1, 1_000_000), 3, 3),
        ("in2", "in²", _INCH**2, 3, 1),
        ("ft2", "ft²", (_INCH * 12) ** 2, 3, 3),
    ),
    "wing loading": (
        ("kg/m2", "kg/m²", 1, 3, 2),
        ("g/dm2", "g/dm²", Exact(1, 10), 3, 1),
        ("oz/ft2", "oz/ft²", _OUNCE / (_INCH * 12) ** 2, 3, 1),
    ),
    "voltage": (("V", "V", 1, 4, 2), ("mV", "mV", Exact(1, 1000), 4, 0)),
    "current": (("A", "A", 1, 3, 3), ("mA", "mA", Exact(1, 1000), 3, 1)),
    "charge": (("Ah", "Ah", 1, 4, 3), ("mAh", "mAh", Exact(1, 1000), 4, 0)),
    "resistance": (("ohm", "Ω", 1, 3, 4), ("mohm", "mΩ", Exact(1, 1000), 3, 2)),
    "resistance per length": (
        ("ohm/m", "Ω/m", 1, 3, 5),
        ("mohm/m", "mΩ/m", Exact(1, 1000), 3, 2),
        ("ohm/1000ft", "ohm/1000 ft", Exact(1) / (_INCH * 12 * 1000), 3, 3),
    ),
    "time": (
        ("s", "s", 1, 3, 4),
        ("ms", "ms", Exact(1, 1000), 3, 2),
        ("us", "µs", Exact(1, 1_000_000), 4, 2),
        ("min", "min", 60, 3, 1),
        ("h", "h", 3600, 3, 2),
        ("d", "d", 86_400, 4, 1),
    ),
    "age": (("y", "years", 1, 3, 1), ("month", "months", Exact(1, 12), 3, 1)),
    "servo speed": (("rad/s", "rad/s", 1, 3, 2), ("deg/s", "°/s", _PI / 180, 3, 0)),
    "angle per time": (("deg/us", "°/µs", 1, 3, 4),),
    "frequency": (
        ("Hz", "Hz", 1, 3, 2),
        ("kHz", "kHz", 1000, 3, 2),
        ("MHz", "MHz", 1_000_000, 5, 3),
        ("GHz", "GHz", 1_000_000_000, 4, 3),
        ("rpm", "rpm", Exact(1, 60), 4, 0),
    ),
    "power": (("W", "W", 1, 3, 2), ("kW", "kW", 1000, 3, 3), ("mW", "mW", Exact(1, 1000), 3, 1)),
    "energy": (("Wh", "Wh", 1, 3, 2), ("J", "J", Exact(1, 3600), 3, 2), ("kJ", "kJ", Exact(10, 36), 3, 3)),
    "force": (
        ("N", "N", 1, 3, 2),
        ("ozf", "ozf", _OUNCE * _GRAVITY, 3, 1),
        ("gf", "gf", _GRAVITY / 1000, 3, 0),
        ("kgf", "kgf", _GRAVITY, 3, 3),
        ("lbf", "lbf", _POUND * _GRAVITY, 3, 2),
    ),
    "pressure": (
        ("Pa", "Pa", 1, 4, 0),
        ("hPa", "hPa", 100, 5, 1),
        ("kPa", "kPa", 1000, 4, 2),
        ("MPa", "MPa", 1_000_000, 4, 1),
        ("GPa", "GPa", 1_000_000_000, 4, 1),
        ("bar", "bar", 100_000, 3, 2),
        ("psi", "psi", _POUND * _GRAVITY / _INCH**2, 3, 1),
    ),
    "density": (("kg/m3", "kg/m³", 1, 4, 3), ("g/cm3", "g/cm³", 1000, 3, 3)),
    "moment of inertia": (
        ("kg m2", "kg·m²", 1, 3, 9),
        ("g mm2", "g·mm²", Exact(1, 10**9), 3, 0),
        ("g cm2", "g·cm²", Exact(1, 10**7), 3, 1),
    ),
    "mass moment": (("kg m", "kg·m", 1, 3, 6), ("g mm", "g·mm", Exact(1, 10**6), 4, 0)),
    "angular stiffness": (
        ("N m/rad", "N·m/rad", 1, 3, 3),
        ("N m/deg", "N·m/°", 180 / _PI, 3, 4),
        ("N cm/deg", "N·cm/°", Exact(1, 100) * 180 / _PI, 3, 2),
        ("kgf cm/deg", "kgf·cm/°", _GRAVITY / 100 * 180 / _PI, 3, 3),
        ("ozf in/deg", "ozf·in/°", _OUNCE * _GRAVITY * _INCH * 180 / _PI, 3, 2),
    ),
    "linear stiffness": (("N/m", "N/m", 1, 3, 1), ("N/mm", "N/mm", 1000, 3, 2)),
    "per angle": (("1/rad", "/rad", 1, 3, 4), ("1/deg", "/°", 180 / _PI, 3, 5)),
    "charge rate": (("C rate", "C", 1, 3, 2),),
    "gauge": (("AWG", "AWG", 1, 2, 0),),
    "ratio": (("ratio", "", 1, 3, 4), ("%", "%", Exact(1, 100), 3, 1)),
    "count": (("count", "", 1, 9, 0),),
    "money": (("money", "", 1, 12, 2),),
}


def _built() -> dict[str, Unit]:
    units = {
        key: Unit(key, symbol, kind, Exact(factor), significant=significant, decimals=decimals)
        for kind, rows in _ROWS.items()
        for key, symbol, factor, significant, decimals in rows
    }
    units["C"] = Unit("C", "°C", "temperature", decimals=1)
    units["F"] = Unit("F", "°F", "temperature", Exact(5, 9), Exact(-160, 9), decimals=1)
    units["K"] = Unit("K", "K", "temperature", Exact(1), Exact("-273.15"), significant=5, decimals=2)
    units["s/60deg"] = Unit("s/60deg", "s/60°", "servo speed", _PI / 3, reciprocal=True, decimals=3)
    return units


UNITS: dict[str, Unit] = _built()
_BY_SYMBOL = {unit.symbol: unit.key for unit in UNITS.values() if unit.symbol}
KINDS: tuple[str, ...] = tuple(dict.fromkeys(unit.kind for unit in UNITS.values()))

# Other spellings met in notebooks and catalogues, squeezed: lower case, no spaces, dots or hyphens.
SPELLINGS: dict[str, dict[str, str]] = {
    "torque": {"nm": "N m", "ncm": "N cm", "nmm": "N mm", "kgfcm": "kgf cm", "gfcm": "gf cm",
               "kpcm": "kgf cm", "ozfin": "ozf in", "lbfin": "lbf in", "inlbf": "lbf in",
               "inozf": "ozf in", "lbfft": "lbf ft", "ftlbf": "lbf ft",
               "kgcm": "kgf cm", "gcm": "gf cm", "ozin": "ozf in", "inoz": "ozf in", "lbin": "lbf in",
               "inlb": "lbf in", "lbft": "lbf ft", "ftlb": "lbf ft", "kgfcms": "kgf cm",
               "ozinch": "ozf in", "ozinches": "ozf in"},
    "length": {"metre": "m", "metres": "m", "meter": "m", "meters": "m", "inch": "in", "inches": "in",
               '"': "in", "″": "in", "''": "in", "ins": "in", "foot": "ft", "feet": "ft", "'": "ft",
               "′": "ft", "millimetre": "mm", "millimetres": "mm", "mms": "mm", "cms": "cm"},
    "mass": {"gram": "g", "grams": "g", "gramme": "g", "grammes": "g", "gr": "g", "gm": "g", "gms": "g",
             "kilo": "kg", "kilos": "kg", "kgs": "kg", "ounce": "oz", "ounces": "oz", "lbs": "lb",
             "pound": "lb", "pounds": "lb"},
    "speed": {"ms": "m/s", "mps": "m/s", "kmh": "km/h", "kph": "km/h", "kmph": "km/h", "mi/h": "mph",
              "kt": "kn", "kts": "kn", "knot": "kn", "knots": "kn", "fps": "ft/s"},
    "acceleration": {"m/s²": "m/s2"},
    "angle": {"°": "deg", "º": "deg", "degs": "deg", "degree": "deg", "degrees": "deg"},
    "temperature": {"°c": "C", "ºc": "C", "degc": "C", "celsius": "C", "°f": "F", "ºf": "F", "degf": "F"},
    "area": {"m²": "m2", "dm²": "dm2", "cm²": "cm2", "mm²": "mm2", "in²": "in2", "ft²": "ft2",
             "sqdm": "dm2", "sqcm": "cm2", "sqin": "in2", "sqft": "ft2", "sqm": "m2"},
    "wing loading": {"g/dm²": "g/dm2", "kg/m²": "kg/m2", "oz/ft²": "oz/ft2", "oz/sqft": "oz/ft2"},
    "voltage": {"volt": "V", "volts": "V"},
    "current": {"amp": "A", "amps": "A", "milliamp": "mA", "milliamps": "mA"},
    "charge": {},
    "resistance": {"ω": "ohm", "ohms": "ohm", "mω": "mohm", "milliohm": "mohm", "milliohms": "mohm"},
    "resistance per length": {"ω/m": "ohm/m", "mω/m": "mohm/m"},
    "time": {"sec": "s", "secs": "s", "second": "s", "seconds": "s", "msec": "ms", "μs": "us", "µs": "us",
             "usec": "us", "μsec": "us", "mins": "min", "minute": "min", "minutes": "min", "hr": "h",
             "hrs": "h", "hour": "h", "hours": "h", "day": "d", "days": "d"},
    "age": {"yr": "y", "yrs": "y", "year": "y", "years": "y", "months": "month", "mo": "month"},
    "servo speed": {"s/60": "s/60deg", "s/60°": "s/60deg", "sec/60": "s/60deg", "sec/60°": "s/60deg",
                    "sec/60deg": "s/60deg", "s/60degrees": "s/60deg", "sec/60degrees": "s/60deg",
                    "s60": "s/60deg", "s": "s/60deg", "sec": "s/60deg", "°/s": "deg/s", "°/sec": "deg/s",
                    "deg/sec": "deg/s"},
    "frequency": {"revs": "rpm", "rev/min": "rpm", "r/min": "rpm"},
    "power": {"watt": "W", "watts": "W"},
    "energy": {"joule": "J", "joules": "J"},
    "force": {"kp": "kgf", "oz": "ozf", "g": "gf", "kg": "kgf", "lb": "lbf"},
    "pressure": {"mbar": "hPa"},
    "density": {"kg/m³": "kg/m3", "g/cm³": "g/cm3", "g/cc": "g/cm3"},
    "gauge": {"ga": "AWG", "gauge": "AWG", "g": "AWG"},
    "ratio": {"percent": "%", "pct": "%"},
}  # fmt: skip

# Spellings that do not say what they mean; the keeper is told how each is read.
DOUBTFUL: dict[str, dict[str, str]] = {
    "torque": {"oz": "ozf in", "kg": "kgf cm", "kgf": "kgf cm", "kg/cm": "kgf cm", "kgf/cm": "kgf cm",
               "oz/in": "ozf in", "ozf/in": "ozf in", "n/cm": "N cm", "n/m": "N m", "g": "gf cm",
               "g/cm": "gf cm", "lb/in": "lbf in", "lb": "lbf in"},
    "servo speed": {},
}  # fmt: skip

FIELD_ENDINGS: dict[str, str] = {
    "nm": "N m", "n_m": "N m", "ncm": "N cm", "nmm": "N mm", "kgf_cm": "kgf cm", "kgfcm": "kgf cm",
    "ozf_in": "ozf in", "lbf_in": "lbf in",
    "mm": "mm", "cm": "cm", "m": "m", "km": "km", "inches": "in", "ft": "ft",
    "g": "g", "kg": "kg", "mg": "mg", "oz": "oz", "lb": "lb",
    "m_s": "m/s", "km_h": "km/h", "mph": "mph", "kn": "kn", "m_s2": "m/s2",
    "deg": "deg", "rad": "rad", "c": "C", "k": "K",
    "m2": "m2", "dm2": "dm2", "cm2": "cm2", "mm2": "mm2", "in2": "in2", "g_dm2": "g/dm2", "kg_m2": "kg m2",
    "v": "V", "mv": "mV", "a": "A", "ma": "mA", "ah": "Ah", "mah": "mAh", "ohm": "ohm", "mohm": "mohm",
    "ohm_per_m": "ohm/m", "mohm_per_m": "mohm/m",
    "s": "s", "ms": "ms", "us": "us", "min": "min", "h": "h", "d": "d", "y": "y", "months": "month",
    "s60": "s/60deg", "s_60deg": "s/60deg", "rad_s": "rad/s", "deg_s": "deg/s", "deg_per_us": "deg/us",
    "hz": "Hz", "khz": "kHz", "mhz": "MHz", "rpm": "rpm", "w": "W", "kw": "kW", "wh": "Wh", "j": "J",
    "n": "N", "gf": "gf", "kgf": "kgf", "pa": "Pa", "hpa": "hPa", "kpa": "kPa", "mpa": "MPa", "gpa": "GPa",
    "kg_m3": "kg/m3", "g_cm3": "g/cm3", "g_mm2": "g mm2", "g_mm": "g mm", "kg_m": "kg m",
    "nm_rad": "N m/rad", "nm_per_rad": "N m/rad", "nm_per_deg": "N m/deg", "n_per_mm": "N/mm",
    "per_rad": "1/rad", "per_deg": "1/deg", "awg": "AWG", "pct": "%", "percent": "%", "count": "count",
}  # fmt: skip


def unit_key(name: str) -> str:
    """The key of a unit by its key or symbol; that of a plain ratio for an empty one.

    Raises:
        KeyError: when there is no such unit.

    >>> unit_key("N·m"), unit_key("")
    ('N m', 'ratio')
    """
    name = name or "ratio"
    return name if name in UNITS else _BY_SYMBOL[name]
