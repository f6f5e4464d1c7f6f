"""Parts in good order that the examples of the rules do not have."""

from __future__ import annotations

import dataclasses
from typing import Any

from hangar.parts import Aircraft, PackType, RegulatorType, ServoType, Surface
from hangar.parts.choices import Bearing, Chemistry, Drive, Gear, MaxMeans, RegulatorKind
from hangar.rules.changing import with_fit
from hangar.rules.example_parts import RIGHT, servo_type


def _sized(
    kind: ServoType, length: float, width: float, height: float, screws: float, **more: Any
) -> ServoType:
    """The type in a case of another size."""
    return dataclasses.replace(
        kind,
        case_length_mm=length,
        case_width_mm=width,
        case_height_mm=height,
        screw_length_mm=screws,
        **more,
    )


WING_8_MM = _sized(
    servo_type(
        "CL-wing 8",
        Drive.DIGITAL,
        ((4.8, 0.45, 0.15, 1.50), (6.0, 0.56, 0.12, 1.85), (7.4, 0.70, 0.10, 2.25), (8.4, 0.80, 0.09, 2.60)),
        max_v=8.4,
        teeth=21,
    ),
    24.0,
    8.0,
    24.0,
    28.0,
    mass_g=14.0,
    spline_mm=3.9,
    bearing=Bearing.TWO_BALL,
)
MINI = _sized(
    servo_type(
        "CL-mini",
        Drive.ANALOG,
        ((4.8, 0.14, 0.14, 0.55), (6.0, 0.18, 0.111, 0.68)),
        max_v=6.0,
        means=MaxMeans.NOMINAL,
        teeth=21,
        gear=Gear.NYLON,
    ),
    23.0,
    12.0,
    24.0,
    27.5,
    mass_g=9.0,
    spline_mm=4.0,
)
NARROW_TAIL = dataclasses.replace(
    servo_type(
        "CL-narrow tail",
        Drive.DIGITAL,
        ((4.8, 0.24, 0.057, 2.22), (6.0, 0.30, 0.045, 2.77), (7.4, 0.37, 0.036, 3.40)),
        max_v=7.4,
    ),
    pulse_us=760.0,
    max_rate_hz=560.0,
)

LIFE_2 = PackType(
    code="CL-2 iron",
    chemistry=Chemistry.LIFEPO4,
    series=2,
    capacity_mah=4200.0,
    continuous_a=60.0,
    burst_a=90.0,
    charge_c=2.0,
    cell_mohm=4.0,
    connector="bullet",
    lead_awg=16,
    mass_g=230.0,
    life_y=6.0,
    life_cycles=1000,
)
ION_2 = PackType(
    code="CL-2 ion",
    chemistry=Chemistry.LI_ION,
    series=2,
    parallel=2,
    capacity_mah=6000.0,
    continuous_a=40.0,
    burst_a=60.0,
    charge_c=1.0,
    cell_mohm=12.0,
    connector="bullet",
    lead_awg=16,
    mass_g=190.0,
    life_y=5.0,
    life_cycles=300,
)
DRIVE_6 = PackType(
    code="CL-6 drive",
    chemistry=Chemistry.LIPO,
    series=6,
    capacity_mah=4400.0,
    continuous_a=130.0,
    burst_a=220.0,
    charge_c=3.0,
    cell_mohm=2.0,
    connector="bullet",
    lead_awg=10,
    mass_g=690.0,
    life_y=3.0,
    life_cycles=150,
)
DRIVE_3 = PackType(
    code="CL-3 park",
    chemistry=Chemistry.LIPO,
    series=3,
    capacity_mah=1300.0,
    continuous_a=40.0,
    burst_a=60.0,
    charge_c=2.0,
    cell_mohm=8.0,
    connector="60",
    lead_awg=14,
    mass_g=110.0,
    life_y=3.0,
    life_cycles=150,
)
SUPPLY_5 = RegulatorType(
    code="CL-5 V supply",
    regulator=RegulatorKind.BEC,
    input_max_v=17.0,
    input_min_v=7.0,
    output_min_v=5.0,
    output_max_v=5.0,
    continuous_a=4.0,
    burst_a=6.0,
    burst_s=10.0,
    drop_out_v=0.5,
    efficiency_pct=85.0,
    shed_w=4.0,
    inputs=1,
    fails_through=False,
)


def fitted(
    aircraft: Aircraft, *codes: str, bay: tuple[float, float, float, float], **linkage: Any
) -> Aircraft:
    """Bays and linkages for a servo of another size."""
    length, width, height, screws = bay
    return with_fit(
        aircraft,
        *codes,
        position={
            "bay_length_mm": length,
            "bay_width_mm": width,
            "bay_height_mm": height,
            "bay_screw_mm": screws,
        },
        linkage=linkage,
    )


def left_and_right(left: Surface) -> tuple[Surface, Surface]:
    """A left surface and its mirror image."""
    right = dataclasses.replace(
        left,
        code=left.code.replace("-L", "-R"),
        name=left.name.replace("left", "right").replace("Left", "Right"),
        side=RIGHT,
    )
    return left, right
