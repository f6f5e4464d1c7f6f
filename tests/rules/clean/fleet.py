"""Clean aircraft of many classes: plausible, complete, tested today, and nothing on them to be flagged."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from hangar.parts import Aircraft
from hangar.rules import examples as ex
from tests.rules.clean.big_aeroplanes import giant_biplane, turbine_jet
from tests.rules.clean.helicopters import electric_helicopter, glow_helicopter
from tests.rules.clean.small_aeroplanes import park_model, thin_sailplane

CLEAN: Mapping[str, Callable[[], Aircraft]] = {
    "glow helicopter": glow_helicopter,
    "giant biplane": giant_biplane,
    "thin-wing sailplane": thin_sailplane,
    "turbine jet": turbine_jet,
    "electric 3D helicopter": electric_helicopter,
    "park model": park_model,
    "trainer": ex.trainer,
    "small helicopter": ex.helicopter,
    "giant": ex.giant,
    "jet": ex.jet,
}
