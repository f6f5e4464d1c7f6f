"""Volts that each power path of the radio can put on the bus, from its packs and regulator."""

from __future__ import annotations

from dataclasses import dataclass

from hangar.base.text import ItemList, Text, text
from hangar.parts import FedPack, PackType, PowerPath
from hangar.parts.choices import PackJoin, RegulatorKind
from hangar.physics.pack import CellVolts, Chemistry, cell


@dataclass(frozen=True, kw_only=True)
class PathVolts:
    """What one power path gives; a sum is None where a pack is not known.

    Attributes:
        path: the power path.
        full_v: its packs fresh off charge.
        rested_v: its packs full and rested.
        nominal_v: its packs as labelled.
        land_v: its packs under load when it is time to land.
        regulated: whether a regulator holds the bus volts.
        set_v: what that regulator is set to, or can give only.
    """

    path: PowerPath
    full_v: float | None
    rested_v: float | None
    nominal_v: float | None
    land_v: float | None
    regulated: bool
    set_v: float | None

    @property
    def bus_max_v(self) -> float | None:
        """The most it puts on the bus."""
        return self.set_v if self.regulated else self.full_v

    @property
    def code(self) -> str:
        """The path's code."""
        return self.path.feed.code

    @property
    def words(self) -> Text:
        """What gives the volts, for a message."""
        if self.regulated and self.path.regulator is not None:
            return text("regulator {code} set to", code=self.path.regulator.code)
        return text("pack {packs} fresh off charge gives", packs=ItemList(self.tags, "+"))

    @property
    def tags(self) -> tuple[str, ...]:
        """Regulator or packs that set the volts."""
        if self.regulated and self.path.regulator is not None:
            return (self.path.regulator.code,)
        return tuple(fed.pack.tag for fed in self.path.packs)


def path_volts(path: PowerPath) -> PathVolts:
    """The volts of a power path."""
    kind = path.regulator_type
    regulated = path.regulator is not None and (kind is None or kind.regulator is not RegulatorKind.PASS)
    return PathVolts(
        path=path,
        full_v=_joined(path, "full_v"),
        rested_v=_joined(path, "rested_full_v"),
        nominal_v=_joined(path, "nominal_v"),
        land_v=_joined(path, "land_now_v"),
        regulated=regulated,
        set_v=_set_v(path),
    )


def _joined(path: PowerPath, name: str) -> float | None:
    if not path.packs:
        return None
    volts = [pack_v(fed, name) for fed in path.packs]
    return sum(volts) if path.feed.join is PackJoin.SERIES else max(volts)


def _set_v(path: PowerPath) -> float | None:
    if path.regulator is None:
        return None
    if path.regulator.set_v is not None:
        return path.regulator.set_v
    kind = path.regulator_type
    if kind is not None and kind.output_min_v is not None and kind.output_min_v == kind.output_max_v:
        return kind.output_max_v
    return None


def cell_of(pack_type: PackType) -> CellVolts:
    """Volts of one cell of a pack type."""
    return cell(Chemistry(pack_type.chemistry.value))


def pack_v(fed: FedPack, name: str) -> float:
    """Volts of a whole pack, by the name of a field of :class:`hangar.physics.pack.CellVolts`."""
    return float(getattr(cell_of(fed.pack_type), name)) * fed.pack_type.series
