"""What an aircraft class is called on screen and on paper; the record holds its short name."""

from __future__ import annotations

CLASS_WORDS = {
    "heli-ic": "Helicopter, piston engine",
    "heli-el": "Helicopter, electric",
    "heli-turbine": "Helicopter, turbine",
    "sport": "Sport aeroplane",
    "aerobatic-3d": "3D aerobatic aeroplane",
    "giant": "Giant-scale aeroplane",
    "scale": "Scale aeroplane",
    "sail-fast": "Fast sailplane",
    "sail-thermal": "Thermal sailplane",
    "sail-scale": "Scale sailplane",
    "jet-turbine": "Turbine jet",
    "jet-edf": "Ducted-fan jet",
    "electric-small": "Small electric",
}
