"""What a keeper's sheet says, before it becomes records: aircraft, servos in place, types, packs, tests."""

from __future__ import annotations

from dataclasses import dataclass, field

from hangar.store.intake.grid import Cell


@dataclass(slots=True)
class Seat:
    """One servo's place as the sheet tells it; one row may tell several."""

    function: str
    """What the keeper's words mean, before the class of the aircraft settles it."""
    words: str
    side: str = ""
    channel: int | None = None
    servo: TypeName | None = None
    fitted: str = ""
    removed: str | None = None
    lead_mm: float | None = None
    tag: str = ""
    price: float | None = None
    notes: list[str] = field(default_factory=list)
    cells: dict[str, Cell] = field(default_factory=dict)
    group: int = 1
    """How many servos the same words of the sheet stand for."""
    order: int = 0


@dataclass(slots=True, eq=False)
class TypeName:
    """A servo type as named in one place; resolved to a type when all names are known."""

    text: str
    maker: str
    cell: Cell
    key: str = ""


@dataclass(slots=True)
class SheetRating:
    """One rating as one place tells it; the torque's unit may still be open."""

    name: TypeName
    volts: float | None
    torque: float | None = None
    torque_unit: tuple[str, float] | None = None
    transit_s: float | None = None
    torque_cell: Cell | None = None
    speed_cell: Cell | None = None
    volts_cell: Cell | None = None
    column: int = 0


@dataclass(slots=True)
class SheetPack:
    """A pack as the sheet tells it."""

    chemistry: str
    series: int
    parallel: int
    capacity_mah: float
    tag: str = ""
    bought: str = ""
    for_ignition: bool = False
    cycles: int | None = None
    notes: list[str] = field(default_factory=list)
    cells: dict[str, Cell] = field(default_factory=dict)

    @property
    def kind(self) -> tuple[str, int, int, float]:
        """What makes it the same pack type as another."""
        return self.chemistry, self.series, self.parallel, self.capacity_mah


@dataclass(slots=True)
class SheetTest:
    """One load or capacity test of a pack."""

    pack: str
    on: str
    load_a: float | None = None
    rest_v: float | None = None
    loaded_v: float | None = None
    load_s: float | None = None
    capacity_mah: float | None = None
    cell_mohm: float | None = None
    cells: dict[str, Cell] = field(default_factory=dict)


@dataclass(slots=True)
class SheetRegulator:
    """A regulator or supply as the sheet tells it."""

    words: str
    set_v: float | None
    kind: str
    cell: Cell


@dataclass(slots=True)
class SheetStock:
    """Parts that lie about: a servo with a tag of its own, or so many of a type."""

    count: int
    servo: TypeName | None = None
    pack: SheetPack | None = None
    tag: str = ""
    place: str = ""
    is_scrapped: bool = False
    price: float | None = None
    notes: list[str] = field(default_factory=list)
    cell: Cell | None = None


@dataclass(slots=True)
class Plane:
    """One aircraft with all that the sheet says of it."""

    name: str
    cell: Cell | None
    cells: list[Cell] = field(default_factory=list)
    seats: list[Seat] = field(default_factory=list)
    packs: list[SheetPack] = field(default_factory=list)
    regulators: list[SheetRegulator] = field(default_factory=list)
    span_mm: float | None = None
    mass_g: float | None = None
    hints: list[str] = field(default_factory=list)
    """Texts that may tell its class and what drives it."""
    notes: list[str] = field(default_factory=list)
    powers: set[str] = field(default_factory=set)
    aircraft_class: str = ""
    power: str = ""
    is_helicopter: bool = False
    is_gone: bool = False
    """Whether it was passed on to somebody else."""


@dataclass(slots=True)
class Facts:
    """All that a file says."""

    planes: dict[str, Plane] = field(default_factory=dict)
    names: list[TypeName] = field(default_factory=list)
    drives: list[tuple[TypeName, str, Cell]] = field(default_factory=list)
    pulses: list[tuple[TypeName, float, Cell]] = field(default_factory=list)
    ratings: list[SheetRating] = field(default_factory=list)
    log_packs: dict[str, SheetPack] = field(default_factory=dict)
    pack_planes: dict[str, tuple[str, Cell]] = field(default_factory=dict)
    tests: list[SheetTest] = field(default_factory=list)
    stock: list[SheetStock] = field(default_factory=list)
