"""The position loop of a servo: how far it must be pushed off before it pushes back.

One model of analog and digital servos, for droop, the angle held in the air, divergence and comparisons.

Source: static balance of a proportional drive with dead band.
"""

from __future__ import annotations

from hangar.base.errors import BadInput
from hangar.base.values import value_class
from hangar.physics.servo import droop_deg, stiffness_nm_per_deg

MOST_DEAD_SHARE = 0.6
"""The dead band is taken as at most this share of the error at full drive; common practice, no source."""
_STATED_ERROR_DEG = 1.0


@value_class
class ServoLoop:
    """A servo that holds: torque grows from the edge of the dead band to stall torque at full drive.

    Attributes:
        stall_torque_nm: at the volts that arrive [N m], above zero.
        dead_band_deg: error without any drive, to one side, at the arm [deg].
        full_drive_deg: error at full drive, at the arm [deg], above the dead band.
    """

    stall_torque_nm: float
    dead_band_deg: float
    full_drive_deg: float

    @classmethod
    def of(cls, stall_torque_nm: float, dead_band_deg: float, full_drive_deg: float) -> ServoLoop:
        """A loop whose dead band is held below its full drive.

        Raises:
            BadInput: a torque or error at full drive not above zero, or a dead band below zero.

        >>> ServoLoop.of(0.31, 0.54, 25.0).deg_to_half_torque
        12.8
        """
        if not (stall_torque_nm > 0.0 and full_drive_deg > 0.0 and dead_band_deg >= 0.0):
            raise BadInput(
                "a servo of {torque:g} N m with a dead band of {dead:g} and full drive at {full:g} degrees "
                "was found; torque and full drive must be above 0, the dead band 0 or more",
                torque=stall_torque_nm, dead=dead_band_deg, full=full_drive_deg,
            )  # fmt: skip
        return cls(stall_torque_nm, min(dead_band_deg, MOST_DEAD_SHARE * full_drive_deg), full_drive_deg)

    @classmethod
    def measured(cls, stall_torque_nm: float, dead_band_deg: float, half_torque_deg: float) -> ServoLoop:
        """A loop from one bench reading: how far the arm turns under half the stall torque.

        Raises:
            BadInput: a torque or reading not above zero, or a dead band below zero.

        >>> ServoLoop.measured(0.31, 0.54, 9.0).deg_to_half_torque
        9.0
        """
        # Half torque stands midway between dead band and full drive.
        widest = MOST_DEAD_SHARE / (0.5 + 0.5 * MOST_DEAD_SHARE) * half_torque_deg
        dead = min(dead_band_deg, widest)
        return cls.of(stall_torque_nm, dead, 2.0 * half_torque_deg - dead)

    @property
    def softness_deg(self) -> float:
        """Error from the edge of the dead band to full drive [deg]."""
        return self.full_drive_deg - self.dead_band_deg

    def torque_nm(self, error_deg: float) -> float:
        """Torque at the arm at an error [deg], which is taken without sign.

        >>> round(ServoLoop.of(0.31, 0.54, 25.0).torque_nm(1.0), 3)
        0.006
        """
        share = (abs(error_deg) - self.dead_band_deg) / self.softness_deg
        return self.stall_torque_nm * min(1.0, max(0.0, share))

    def error_deg(self, torque_nm: float) -> float | None:
        """Error at the arm [deg] at which a torque is held; None where the servo is driven back."""
        if not torque_nm < self.stall_torque_nm:
            return None
        return droop_deg(
            stall_torque_nm=self.stall_torque_nm, load_torque_nm=torque_nm,
            dead_band_half_deg=self.dead_band_deg, full_drive_error_deg=self.full_drive_deg,
        )  # fmt: skip

    @property
    def torque_at_1_deg_nm(self) -> float:
        """Torque at one degree of error [N m]: how hard it holds near where it stands."""
        return self.torque_nm(_STATED_ERROR_DEG)

    @property
    def deg_to_half_torque(self) -> float:
        """Error at which half the stall torque is there [deg]."""
        return self.dead_band_deg + 0.5 * self.softness_deg

    @property
    def stiffness_nm_per_deg(self) -> float:
        """Torque for each degree between dead band and full drive, pushed slowly [N m/deg]."""
        return stiffness_nm_per_deg(self.stall_torque_nm, self.dead_band_deg, self.full_drive_deg)
