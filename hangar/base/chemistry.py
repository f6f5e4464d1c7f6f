"""Cell chemistries, which records name and formulas compute with."""

from __future__ import annotations

from enum import StrEnum


class Chemistry(StrEnum):
    """Cell chemistry of a pack."""

    NICD = "NiCd"
    NIMH = "NiMH"
    NIMH_LSD = "NiMH-LSD"
    LIPO = "LiPo"
    LIHV = "LiHV"
    LI_ION = "Li-ion"
    LIFEPO4 = "LiFePO4"

    @property
    def is_nickel(self) -> bool:
        """Whether it is a nickel chemistry."""
        return self.value.startswith("Ni")

    @property
    def is_lithium(self) -> bool:
        """Whether it is a lithium chemistry."""
        return not self.is_nickel
