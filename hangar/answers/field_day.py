"""What to take along to the next field day: tools by kind of aircraft, and spares that lie in the bay."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from hangar.base.text import Text, fixed, text
from hangar.parts import Aircraft, Library
from hangar.parts.choices import Chemistry, PowerKind


@dataclass(frozen=True)
class TakeRow:
    """One thing to take along."""

    what: Text
    why: str
    where: str = ""


_FOR_POWER: dict[PowerKind, tuple[Text, ...]] = {
    PowerKind.ELECTRIC: (fixed("Charged drive packs in a fireproof box"),),
    PowerKind.GLOW: (fixed("Fuel, glow plug, plug spanner and starter"),),
    PowerKind.PETROL: (fixed("Fuel, spark plug and its spanner"),),
    PowerKind.TURBINE: (fixed("Fuel and gas for the turbine"), fixed("Fire extinguisher, carbon dioxide")),
    PowerKind.TOW: (fixed("Tow line with its weak link"),),
}
_ALWAYS = (
    fixed("Load tester"),
    fixed("Transmitter, charged"),
    fixed("Screwdrivers, hex keys, ties and tape"),
)


def take_rows(aircraft: Iterable[Aircraft], library: Library | None) -> tuple[TakeRow, ...]:
    """Tools by kind of aircraft (common practice, no source), and spares that lie in the bay for them."""
    chosen = tuple(aircraft)
    if not chosen:
        return ()
    all_codes = ", ".join(aircraft.code for aircraft in chosen)
    names_by_text: dict[Text, list[str]] = {what: [all_codes] for what in _ALWAYS}
    for chosen_aircraft in chosen:
        for what in _tools(chosen_aircraft):
            names_by_text.setdefault(what, []).append(chosen_aircraft.code)
    tools = [TakeRow(what, ", ".join(dict.fromkeys(codes))) for what, codes in names_by_text.items()]
    return (*tools, *_spares(chosen, library or Library()))


def _tools(aircraft: Aircraft) -> Iterator[Text]:
    yield from _FOR_POWER.get(aircraft.airframe.power or PowerKind.NONE, ())
    if aircraft.airframe.propeller:
        yield text("Spare propeller {size} and its spanner", size=aircraft.airframe.propeller)
    if aircraft.airframe.is_helicopter:
        yield text("Pitch gauge, ball-link pliers, spare blades")
    if aircraft.airframe.is_sailplane:
        yield text("Wing tape and ballast")
    chemistries = {fed.pack_type.chemistry for path in aircraft.paths for fed in path.packs}
    for chemistry in sorted(chemistries):
        yield text("Charger set up for {chemistry}", chemistry=chemistry)
        if chemistry in (Chemistry.LIPO, Chemistry.LIHV):
            yield text("Fireproof bag and sand")
    screws = {fit.servo_type.arm_screw for fit in aircraft.fits if fit.servo_type}
    for screw in sorted(screw for screw in screws if screw):
        yield text("Spare arm screws {screw}", screw=screw)


def _spares(chosen: tuple[Aircraft, ...], library: Library) -> Iterator[TakeRow]:
    used = {
        fit.servo_type.code: aircraft.code for aircraft in chosen for fit in aircraft.fits if fit.servo_type
    }
    packs = {
        fed.pack_type.code: aircraft.code
        for aircraft in chosen
        for path in aircraft.paths
        for fed in path.packs
    }
    for servo in library.spare_servos.values():
        if servo.servo_type in used:
            yield _spare(servo.tag, servo.servo_type, used[servo.servo_type], servo.bin)
    for pack in library.spare_packs.values():
        if pack.pack_type in packs:
            yield _spare(pack.tag, pack.pack_type, packs[pack.pack_type], pack.bin)
    for item in library.stock:
        code = {**used, **packs}.get(item.part_type or "")
        if item.on_hand > 0 and code is not None:
            words = text("Spare {what}, {count:g} in Stores", what=item.part_type, count=item.on_hand)
            yield TakeRow(words, code, item.bin or "")


def _spare(tag: str, part_type: str, code: str, bin_name: str | None) -> TakeRow:
    return TakeRow(text("Spare {tag}, {type}", tag=tag, type=part_type), code, bin_name or "")
