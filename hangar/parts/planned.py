"""An aircraft as it would be after a plan: a changed tree, never a write."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from hangar.base.errors import BadInput
from hangar.base.text import ItemList, fixed
from hangar.parts.aircraft import Aircraft, FedPack, PowerPath
from hangar.parts.choices import FeedRole, PackJoin, PlanAction, ServoState
from hangar.parts.controls import Lead, Linkage
from hangar.parts.library import Library
from hangar.parts.planned_handwork import (
    change_rod,
    fit_fixings,
    protect_lead,
    set_horn,
    set_pulse,
    set_rate,
)
from hangar.parts.planned_places import NEW, fit_at, path_at, with_fit, with_path
from hangar.parts.power import Feed, Pack, Regulator, Switch
from hangar.parts.servos import Installation, Servo
from hangar.parts.workshop import Plan, PlanLine


def after_plan(aircraft: Aircraft, plan: Plan, library: Library) -> Aircraft:
    """The aircraft with every line of the plan that is not done yet carried out.

    Raises: BadInput naming the plan, the line and what it lacks.
    """
    for line in plan.lines:
        if line.done_on is None:
            try:
                aircraft = _ACTIONS[line.action](aircraft, line, library)
            except BadInput as fault:
                raise BadInput(
                    "plan {plan}, line {number}: {fault}",
                    plan=plan.code,
                    number=line.number,
                    fault=fault.text,
                ) from fault
    return aircraft


def with_servo_type(aircraft: Aircraft, position: str, servo_type: str, library: Library,
                    *, tag: str | None = None, off: str | None = None) -> Aircraft:  # fmt: skip
    """The aircraft with another servo at a position; the arm is taken to fit the new spline.

    ``tag`` names a spare from the bay, or a servo that is taken off the aircraft ``off`` and may have come
    off it already; without it a fresh servo of the type is taken.
    Raises: BadInput for a position, a type or a servo that is not there.
    """
    fit = fit_at(aircraft, position)
    kind = library.servo_type(servo_type)
    servo: Servo | None = Servo(tag=f"{NEW} {servo_type}", servo_type=servo_type)
    if tag is not None:
        fitted = library.servos_elsewhere.get(tag) if off is not None else None
        servo = fitted or library.spare_servos.get(tag)
    if servo is None and off is not None:
        raise BadInput("servo {tag} is in no aircraft, so it cannot come off {off}.", tag=tag, off=off)
    if servo is None:
        raise BadInput("servo {tag} does not lie in Stores.", tag=tag)
    old = fit.installation
    screws = old.screws_of if old else None
    stay = Installation(
        servo=servo.tag,
        aircraft=aircraft.code,
        position=position,
        since_on=aircraft.read_on,
        arm_teeth=kind.spline_teeth,
        arm_spline_mm=kind.spline_mm,
        screws_fitted=screws,
        screws_of=screws,
        grommets_fitted=old.grommets_of if old else None,
        grommets_of=old.grommets_of if old else None,
        grommets_on=aircraft.read_on,
        arm_screw=True,
        arm_screw_locked=True,
        matched_on=aircraft.read_on,
    )
    return with_fit(
        aircraft,
        replace(
            fit,
            servo=replace(servo, state=ServoState.FITTED),
            servo_type=kind,
            installation=stay,
            elsewhere=(),
        ),
    )


def _type_of(line: PlanLine) -> str:
    if not line.part_type:
        raise BadInput("the type is missing; it must be given.")
    return line.part_type


def _fit_servo(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    if not line.place:
        raise BadInput("the position is missing; it must be given.")
    if line.from_aircraft and not line.from_stock:
        raise BadInput("the tag of the servo that comes off {off} is missing.", off=line.from_aircraft)
    kind, off = _type_of(line), line.from_aircraft
    return with_servo_type(aircraft, line.place, kind, library, tag=line.from_stock, off=off)


def _fit_pack(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    if line.place and all(path.feed.code != line.place for path in aircraft.paths):
        aircraft = _with_further_path(aircraft, line.place)
    path = path_at(aircraft, line.place)
    feed = replace(path.feed, join=PackJoin.SINGLE)
    return with_path(aircraft, replace(path, feed=feed, packs=(_pack(aircraft, line, library),)))


def _pack(aircraft: Aircraft, line: PlanLine, library: Library, more: str = "") -> FedPack:
    kind = library.pack_type(_type_of(line))
    fitted = library.packs_elsewhere.get(line.from_stock or "") if line.from_aircraft else None
    spare = fitted or library.spare_packs.get(line.from_stock or "")
    tag = f"{NEW} {kind.code}{more}"
    pack = spare or Pack(tag=tag, pack_type=kind.code, bought_on=aircraft.read_on, cycles=0)
    return FedPack(pack=pack, pack_type=kind)


def _join_packs(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    """One more pack in a power path that has one, joined to it as the line says."""
    path = path_at(aircraft, line.place)
    if line.join is None or line.join is PackJoin.SINGLE:
        raise BadInput("how the packs are joined is missing; it must be given.")
    if not path.packs:
        raise BadInput("that power path has no pack yet that another one could be joined to.")
    further = _pack(aircraft, line, library, f" {len(path.packs) + 1}")
    feed = replace(path.feed, join=line.join)
    return with_path(aircraft, replace(path, feed=feed, packs=(*path.packs, further)))


def _fit_receiver(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    """Another receiver in the place of one: its antennas lie as those of the old one did."""
    old = next((receiver for receiver in aircraft.receivers if receiver.code == line.place), None)
    if old is None:
        codes = tuple(receiver.code for receiver in aircraft.receivers)
        known = ItemList(codes, ",") if codes else fixed("none")
        raise BadInput(
            "{place} is no receiver of {aircraft}; there are {known}.",
            place=repr(line.place),
            aircraft=aircraft.code,
            known=known,
        )
    pattern = library.receiver(_type_of(line))
    new = replace(
        pattern, aircraft=aircraft.code, code=old.code, serial=None, antenna_route=old.antenna_route
    )
    receivers = tuple(new if receiver.code == old.code else receiver for receiver in aircraft.receivers)
    return replace(aircraft, receivers=receivers)


def _with_further_path(aircraft: Aircraft, code: str) -> Aircraft:
    """A second receiver path, its lead taken to be like the first one's; it runs into a board with room."""
    pattern = next((path for path in aircraft.paths if path.feed.role is FeedRole.RECEIVER), None)
    if pattern is None:
        path = PowerPath(feed=Feed(aircraft=aircraft.code, code=code))
        return replace(aircraft, paths=(*aircraft.paths, path))
    feed = replace(pattern.feed, code=code, regulator=None, switch=None, join=PackJoin.SINGLE)
    board = _board_with_room(aircraft)
    if board is None:
        return replace(aircraft, paths=(*aircraft.paths, PowerPath(feed=feed)))
    further = replace(board, feed=replace(feed, regulator=board.feed.regulator), packs=(), switch=None,
                      switch_type=None)  # fmt: skip
    kind = board.regulator_type
    paths = tuple(
        replace(path, feed=replace(path.feed, isolated=kind.isolated if kind else None))
        if path.feed.regulator == board.feed.regulator
        else path
        for path in (*aircraft.paths, further)
    )
    return replace(aircraft, paths=paths)


def _board_with_room(aircraft: Aircraft) -> PowerPath | None:
    """A receiver path whose regulator has an input left."""
    receiver_paths = [path for path in aircraft.paths if path.feed.role is FeedRole.RECEIVER]
    for path in receiver_paths:
        kind, code = path.regulator_type, path.feed.regulator
        taken = sum(receiver_path.feed.regulator == code for receiver_path in receiver_paths)
        if kind is not None and code is not None and path.regulator is not None and taken < kind.inputs:
            return path
    return None


def _fit_regulator(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    """A place that is no power path names a board that every receiver path runs through."""
    kind = library.regulator_type(_type_of(line))
    paths = [path for path in aircraft.paths if path.feed.code == line.place]
    code = f"{line.place}-REG" if paths else str(line.place)
    regulator = Regulator(aircraft=aircraft.code, code=code, regulator_type=kind.code, set_v=line.set_v)
    paths = paths or [path for path in aircraft.paths if path.feed.role is FeedRole.RECEIVER]
    if len(paths) > kind.inputs:
        raise BadInput(
            "{regulator} has {inputs} input(s); {paths} power paths would run into it.",
            regulator=kind.code,
            inputs=kind.inputs,
            paths=len(paths),
        )
    for path in paths:
        isolated = kind.isolated if len(paths) > 1 else path.feed.isolated
        feed = replace(path.feed, regulator=code, isolated=isolated)
        aircraft = with_path(aircraft, replace(path, feed=feed, regulator=regulator, regulator_type=kind))
    return aircraft


def _set_regulator(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    path = path_at(aircraft, line.place)
    if path.regulator is None or line.set_v is None:
        raise BadInput("needs a regulator on that power path and the volts to set it to.")
    return with_path(aircraft, replace(path, regulator=replace(path.regulator, set_v=line.set_v)))


def _fit_switch(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    """A place that is no power path yet is one that will run into the board that has room for it."""
    known = {path.feed.code for path in aircraft.paths}
    if line.place and line.place not in known and _board_with_room(aircraft) is not None:
        aircraft = _with_further_path(aircraft, line.place)
    path = path_at(aircraft, line.place)
    kind = library.switch_type(_type_of(line))
    switch = Switch(
        aircraft=aircraft.code,
        code=f"{line.place}-SW",
        switch_type=kind.code,
        fitted_on=aircraft.read_on,
    )
    feed = replace(path.feed, switch=switch.code)
    return with_path(aircraft, replace(path, feed=feed, switch=switch, switch_type=kind))


def _change_lead(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    fit = fit_at(aircraft, line.place)
    if line.awg is None:
        raise BadInput("the lead gauge is missing; it must be given.")
    if fit.lead is None:
        raise BadInput("the lead at that position has no length recorded.")
    lead: Lead = replace(fit.lead, awg=line.awg)
    return with_fit(aircraft, replace(fit, lead=lead))


def _change_arm(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    """Another arm of a type that the line names, or the rod in another hole of the one that is there.

    An arm of a type that the library does not hold is taken to fit the spline of the servo.
    """
    fit = fit_at(aircraft, line.place)
    if line.arm_mm is None and line.part_type is None:
        raise BadInput("the arm radius is missing; it must be given.")
    linkage, stay, kind = fit.linkage, fit.installation, fit.servo_type
    if line.arm_mm is not None:
        linkage = replace(linkage or Linkage(aircraft=aircraft.code, position=fit.code), arm_mm=line.arm_mm)
    arm = library.arms.get(line.part_type or "")
    if stay is not None and arm is not None:
        stay = replace(
            stay, arm_teeth=arm.spline_teeth, arm_spline_mm=arm.spline_mm, arm_material=arm.material
        )
    elif stay is not None and line.part_type is not None and kind is not None:
        stay = replace(stay, arm_teeth=kind.spline_teeth, arm_spline_mm=kind.spline_mm)
    return with_fit(aircraft, replace(fit, linkage=linkage, installation=stay))


_ACTIONS: dict[PlanAction, Callable[[Aircraft, PlanLine, Library], Aircraft]] = {
    PlanAction.FIT_SERVO: _fit_servo,
    PlanAction.FIT_PACK: _fit_pack,
    PlanAction.FIT_REGULATOR: _fit_regulator,
    PlanAction.SET_REGULATOR: _set_regulator,
    PlanAction.FIT_SWITCH: _fit_switch,
    PlanAction.CHANGE_LEAD: _change_lead,
    PlanAction.CHANGE_ARM: _change_arm,
    PlanAction.JOIN_PACKS: _join_packs,
    PlanAction.FIT_RECEIVER: _fit_receiver,
    PlanAction.FIT_FIXINGS: fit_fixings,
    PlanAction.SET_HORN: set_horn,
    PlanAction.CHANGE_ROD: change_rod,
    PlanAction.PROTECT_LEAD: protect_lead,
    PlanAction.SET_PULSE: set_pulse,
    PlanAction.SET_RATE: set_rate,
}
