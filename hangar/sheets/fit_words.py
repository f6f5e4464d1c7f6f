"""Words for one position that several sheets use."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hangar.base.figure import Figure
from hangar.base.text import Arg, Text, text
from hangar.parts import Aircraft, Channel, PackType, ServoFit
from hangar.parts.choices import Function
from hangar.parts.sheet_boxes import output_about
from hangar.physics.pack import CellVolts, Chemistry, cell
from hangar.physics.throws import throw_mm
from hangar.sheets.case import SheetCase
from hangar.sheets.kit import FILL, Cell
from hangar.sheets.style import SheetStyle


def yes_no(answer: bool | None) -> Text | None:
    """Yes, no, or None when nobody knows."""
    return None if answer is None else text("yes") if answer else text("no")


def tag_and_type(tag: str | None, code: str) -> str:
    """Tag and type; a part still to be bought has its type in its tag already."""
    return tag if tag and tag.endswith(code) else f"{tag or '-'} {code}"


def servo_words(fit: ServoFit) -> str | None:
    """Tag and type of the servo at a position, or None where none is recorded."""
    return tag_and_type(fit.tag, fit.servo_type.code) if fit.servo_type else fit.tag


def channel_words(fit: ServoFit) -> Cell:
    """Channel number, with its port where that is not the main one; a box where none is recorded."""
    if fit.position.channel is None:
        return FILL
    port = "" if fit.position.port == "main" else f" {fit.position.port}"
    return f"{fit.position.channel}{port}"


def channel_key(fit: ServoFit) -> tuple[bool, int, str]:
    """Order of positions on a sheet: by channel, those without one last."""
    number = fit.position.channel
    return (number is None, number or 0, fit.code)


def by_channel(aircraft: Aircraft) -> list[ServoFit]:
    """The positions of an aircraft in the order of their channels."""
    return sorted(aircraft.fits, key=channel_key)


@dataclass(frozen=True)
class Output:
    """One thing that answers the transmitter: a servo position, or a channel that drives a device."""

    fit: ServoFit | None
    channel: Channel | None

    @property
    def number(self) -> Cell:
        """Channel number; a box where none is recorded."""
        if self.fit:
            return channel_words(self.fit)
        return str(self.channel.number) if self.channel else FILL

    @property
    def name(self) -> Arg:
        """The position's name, or the channel's function where no servo hangs on it."""
        if self.fit:
            return self.fit.position.name
        return text("{function}, no servo", function=self.channel.function) if self.channel else None

    @property
    def about(self) -> str:
        """What names it in the boxes of a sheet."""
        if self.fit:
            return self.fit.code
        channel = self.channel
        return output_about(None, channel.port, channel.number) if channel else ""

    @property
    def function(self) -> Function | None:
        """What it does."""
        if self.fit:
            return self.fit.function
        return self.channel.function if self.channel else None


def outputs_of(aircraft: Aircraft) -> list[Output]:
    """Every position and every channel without one, by channel number."""
    outputs = [Output(fit, fit.channel) for fit in aircraft.fits]
    used = {(fit.position.port, fit.position.channel) for fit in aircraft.fits}
    outputs += [
        Output(None, channel)
        for channel in aircraft.channels
        if (channel.port, channel.number) not in used and channel.function is not Function.SPARE
    ]
    return sorted(outputs, key=_output_key)


def _output_key(output: Output) -> tuple[bool, int, str]:
    if output.fit:
        return channel_key(output.fit)
    return (False, output.channel.number if output.channel else 0, "")


def throw_words(style: SheetStyle, fit: ServoFit, *, both: bool) -> str | None:
    """Throw up and down in degrees, and as lengths at the root trailing edge."""
    surface = fit.surface
    if surface is None:
        return "-" if not fit.function.is_surface else None
    if surface.throw_up_deg is None or surface.throw_down_deg is None:
        return None
    angles = (surface.throw_up_deg, surface.throw_down_deg)
    if surface.root_chord_mm is None:
        return style.reader.number(f"{angles[0]:.0f}° / {angles[1]:.0f}°")
    edges_mm = [throw_mm(angle, surface.root_chord_mm) for angle in angles]
    own = _pair([style.units.show(edge_mm, "mm", 2) for edge_mm in edges_mm])
    other = f" ({_pair([style.units.other(edge_mm, 'mm', 2) for edge_mm in edges_mm])})" if both else ""
    return f"{angles[0]:.0f}° / {angles[1]:.0f}°, {style.reader.number(own + other)}"


def _pair(edges: Sequence[str]) -> str:
    """Two lengths of one unit that is named once."""
    up, down = edges
    return f"{up.removesuffix(' ' + down.rpartition(' ')[2])} / {down}"


def figure_or_dash(style: SheetStyle, figure: Figure | None, *, needed: bool) -> Cell:
    """A figure in the keeper's unit; a box where it is needed and not known, else a dash."""
    words = style.figure(figure)
    return words if words is not None else (None if needed else "-")


def needs_load(fit: ServoFit) -> bool:
    """Whether air or rotor load must be known at that position."""
    return fit.function.is_surface or fit.function in (Function.CYCLIC, Function.COLLECTIVE, Function.TAIL)


def cell_volts(kind: PackType) -> CellVolts:
    """Volts of one cell of a pack's chemistry."""
    return cell(Chemistry(kind.chemistry.value))


def pack_words(kind: PackType) -> Text:
    """Chemistry, cells and capacity: ``LiPo 2 cells, 2600 mAh``."""
    cells = f"{kind.series} x {kind.parallel}" if kind.parallel > 1 else kind.series
    return text(
        "{chemistry} {cells} cells, {capacity:g} mAh",
        chemistry=kind.chemistry,
        cells=cells,
        capacity=kind.capacity_mah,
    )


def range_words(ends: str, datum: str | None) -> Text:
    """Where the balance may lie, and from where it is measured if that is recorded."""
    return text("{ends} from {datum}", ends=ends, datum=datum) if datum else text("{ends}", ends=ends)


def aircraft_words(cases: Sequence[SheetCase]) -> Text | str:
    """Whom a sheet over several aircraft is for: the only one by its name, several by their number."""
    if len(cases) == 1:
        return cases[0].aircraft.airframe.name
    return text("{count} aircraft", count=len(cases))
