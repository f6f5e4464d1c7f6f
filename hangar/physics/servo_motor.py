"""A servo's motor and gear as constants, from a full data sheet, and typical currents where one is silent."""

from __future__ import annotations

from dataclasses import dataclass

from hangar.base.errors import BadInput
from hangar.base.figure import Band
from hangar.physics.checks import finite
from hangar.physics.servo_rating import RatedRow, ServoBuild


@dataclass(frozen=True, slots=True)
class MotorConstants:
    """Motor and gear as one machine at the output shaft.

    Attributes:
        resistance_ohm: Winding and bridge.
        torque_nm_per_a: Output torque for each ampere above the no-load current.
        volts_s_per_rad: Back volts for each rad/s of the output.
        no_load_current_a: Amps while turning free.
    """

    resistance_ohm: float
    torque_nm_per_a: float
    volts_s_per_rad: float
    no_load_current_a: float

    @classmethod
    def from_sheet(cls, row: RatedRow, no_load_current_a: float) -> MotorConstants:
        """Constants from a full row: R = V/Is, Kt = T/(Is - I0), Ke = (V - R I0)/w0.

        Raises:
            BadInput: No stall current, or a no-load current not below it.

        Source: permanent-magnet direct-current motor with constant friction torque.

        >>> motor = MotorConstants.from_sheet(RatedRow(6.0, 0.3432, 6.981, 0.80), 0.18)
        >>> round(motor.resistance_ohm, 2), round(motor.torque_nm_per_a, 4), round(motor.gear_efficiency, 3)
        (7.5, 0.5535, 0.831)
        """
        stall_a = row.stall_current_a
        if stall_a is None:
            raise BadInput("motor constants need the stall current, which this row does not give")
        if not 0.0 <= no_load_current_a < stall_a:
            raise BadInput(
                "a no-load current of {no_load_current:g} A was found; 0 to below the stall current "
                "of {stall:g} A is allowed",
                no_load_current=no_load_current_a,
                stall=stall_a,
            )
        resistance = row.volts / stall_a
        return cls(
            resistance,
            row.stall_torque_nm / (stall_a - no_load_current_a),
            (row.volts - resistance * no_load_current_a) / row.no_load_rad_s,
            no_load_current_a,
        )

    @property
    def gear_efficiency(self) -> float:
        """Torque constant over back-volts constant; outside 0.4 to 1.0 the sheet contradicts itself."""
        return self.torque_nm_per_a / self.volts_s_per_rad

    def is_consistent(self) -> bool:
        """Whether the gear efficiency is one that a gear train can have."""
        return 0.4 <= self.gear_efficiency <= 1.0

    def stall_torque_nm(self, volts: float) -> float:
        """Torque at which it stops at these volts."""
        return max(0.0, self.torque_nm_per_a * (volts / self.resistance_ohm - self.no_load_current_a))

    def speed_rad_s(self, volts: float, load_torque_nm: float) -> float:
        """Speed against a torque; 0 when stalled."""
        current = self.current_a(volts, load_torque_nm)
        return max(0.0, (volts - self.resistance_ohm * current) / self.volts_s_per_rad)

    def current_a(self, volts: float, load_torque_nm: float) -> float:
        """Motor current against a torque; volts over resistance when stalled."""
        running = self.no_load_current_a + max(0.0, load_torque_nm) / self.torque_nm_per_a
        return min(running, volts / self.resistance_ohm)

    def efficiency(self, volts: float, load_torque_nm: float) -> float:
        """Shaft power over electrical power; 0 where nothing turns."""
        drawn = volts * self.current_a(volts, load_torque_nm)
        given = max(0.0, load_torque_nm) * self.speed_rad_s(volts, load_torque_nm)
        return given / drawn if drawn > 0.0 else 0.0

    def most_power_w(self, volts: float) -> float:
        """Largest shaft power, at half the no-load speed: a quarter of torque times speed."""
        return 0.25 * self.stall_torque_nm(volts) * self.speed_rad_s(volts, 0.0)

    def reversal_current_a(self, volts: float) -> float:
        """Peak amps when full drive is reversed at full speed; lasts milliseconds."""
        return (volts + self.volts_s_per_rad * self.speed_rad_s(volts, 0.0)) / self.resistance_ohm


def typical_no_load_current_a(stall_current_a: float, build: ServoBuild) -> Band:
    """No-load running current where the sheet is silent, as a share of the stall current.

    Raises:
        BadInput: a stall current below 0.

    Source: analog 0.2 from two published rows at 0.22; others 0.08 to 0.15 assumed.

    >>> round(typical_no_load_current_a(0.8, ServoBuild.ANALOG).expected, 2)
    0.16
    """
    finite(stall_current_a=stall_current_a)
    if build is ServoBuild.ANALOG:
        return Band(0.15, 0.20, 0.25) * stall_current_a
    return Band(0.08, 0.12, 0.15) * stall_current_a


def typical_idle_current_a(build: ServoBuild) -> Band:
    """Idle current where the sheet is silent.

    Source: analog from published sheets and measurements (5 to 8 mA); digital common practice.

    >>> typical_idle_current_a(ServoBuild.ANALOG).expected
    0.008
    """
    return Band(0.005, 0.008, 0.012) if build is ServoBuild.ANALOG else Band(0.010, 0.030, 0.050)
