"""Large invented aircraft that lack something at every place, with libraries to mend them from."""

from __future__ import annotations

import dataclasses
import random

from hangar.parts import (
    Aircraft,
    FedPack,
    Library,
    PackType,
    PowerPath,
    Regulator,
    RegulatorType,
    ServoFit,
    Switch,
    SwitchType,
)
from hangar.parts.choices import Chemistry, RegulatorKind, SwitchKind
from hangar.rules import examples as ex
from hangar.survey import survey
from tests.refit.generator import ARMS, DAY, large_aircraft, servo_types

_LEAST_NM, _MOST_NM = 0.9, 2.2
"""Between which the torque lies that a group is made to need; servo types have 0.25 to 3 at 6 V."""


def short_aircraft(seed: int, groups: int = 6, each: int = 2) -> Aircraft:
    """A giant whose servos are all too weak, on arms of another spline, fed by too small a pack and switch.

    Surfaces are stretched until each group needs a torque that only some types of a library give.
    """
    rng = random.Random(f"short {seed}")
    aircraft = large_aircraft(seed, groups, each)
    loads = survey(aircraft, DAY).positions
    names = list(dict.fromkeys(fit.code[:5] for fit in aircraft.fits))
    wanted = {name: rng.uniform(_LEAST_NM, _MOST_NM) for name in names}
    fits = []
    for fit in aircraft.fits:
        load = loads[fit.code].load_nm
        assert load is not None
        fits.append(_short(fit, wanted[fit.code[:5]] / load.expected, rng))
    surfaces = tuple(fit.surface for fit in fits if fit.surface is not None)
    return dataclasses.replace(aircraft, fits=tuple(fits), surfaces=surfaces, paths=(_small_path(aircraft),))


def _short(fit: ServoFit, times: float, rng: random.Random) -> ServoFit:
    assert fit.surface is not None
    assert fit.surface.span_mm is not None
    assert fit.installation is not None
    weak = dataclasses.replace(
        ex.STRONG, code="EX-weak", price=20.0, ratings=ex.weaker(ex.STRONG, 0.2), spline_teeth=24
    )
    return dataclasses.replace(
        fit,
        surface=dataclasses.replace(fit.surface, span_mm=round(fit.surface.span_mm * times, 1)),
        servo_type=weak,
        servo=None if fit.servo is None else dataclasses.replace(fit.servo, servo_type=weak.code),
    )


def _small_path(aircraft: Aircraft) -> PowerPath:
    (path,) = aircraft.paths
    kind = dataclasses.replace(
        ex.LITHIUM_2, code="EX-small", capacity_mah=1000.0, continuous_a=8.0, burst_a=12.0, cell_mohm=12.0
    )
    (fed,) = path.packs
    pack = dataclasses.replace(fed.pack, pack_type=kind.code)
    code = aircraft.code
    return dataclasses.replace(
        path,
        packs=(FedPack(pack=pack, pack_type=kind),),
        feed=dataclasses.replace(path.feed, regulator="REG", switch="SW"),
        regulator=Regulator(aircraft=code, code="REG", regulator_type="EX-little", set_v=6.0),
        regulator_type=_regulator("EX-little", 5.0, 8.0, 15.0),
        switch=Switch(aircraft=code, code="SW", switch_type="EX-slide"),
        switch_type=SwitchType(
            code="EX-slide", switch=SwitchKind.SLIDE, continuous_a=4.0, burst_a=6.0, contact_mohm=15.0,
            mass_g=10.0, price=8.0,
        ),
    )  # fmt: skip


def _regulator(code: str, continuous_a: float, burst_a: float, price: float) -> RegulatorType:
    return RegulatorType(
        code=code, maker="Hollin", regulator=RegulatorKind.SWITCHING, input_max_v=13.0, output_min_v=5.0,
        output_max_v=8.0, continuous_a=continuous_a, burst_a=burst_a, burst_s=10.0, drop_out_v=0.2,
        efficiency_pct=92.0, shed_w=10.0, mass_g=20.0, price=price, fails_through=False, isolated=True,
    )  # fmt: skip


def short_library(seed: int, types: int) -> Library:
    """Servo types by chance, packs, regulators and switches from too small to ample, the ample ones dear."""
    rng = random.Random(f"short {seed}")
    packs = [
        PackType(
            code=f"P{number}", maker="Lumbry", chemistry=Chemistry.LIPO, series=2,
            capacity_mah=1500.0 * (number + 1), continuous_a=10.0 * (number + 1), burst_a=18.0 * (number + 1),
            charge_c=2.0, cell_mohm=round(9.0 / (number + 1), 1), connector="bullet", lead_awg=16,
            mass_g=90.0 * (number + 1), price=float(12 * (number + 1) + rng.randrange(9)), life_y=4.0,
            life_cycles=300,
        )
        for number in range(4)
    ]  # fmt: skip
    regulators = [
        _regulator(f"R{number}", amps, 2.0 * amps, price + rng.randrange(9))
        for number, (amps, price) in enumerate(((8.0, 22.0), (15.0, 40.0), (25.0, 75.0)))
    ]
    switches = [
        SwitchType(
            code=f"S{number}", maker="Hollin", switch=SwitchKind.ELECTRONIC, continuous_a=amps,
            burst_a=2.0 * amps, contact_mohm=4.0, mass_g=15.0, price=price + rng.randrange(5),
        )
        for number, (amps, price) in enumerate(((8.0, 14.0), (20.0, 30.0)))
    ]  # fmt: skip
    return Library(
        servo_types=servo_types(rng, types),
        arms=ARMS,
        pack_types={kind.code: kind for kind in packs},
        regulator_types={kind.code: kind for kind in regulators},
        switch_types={kind.code: kind for kind in switches},
    )
