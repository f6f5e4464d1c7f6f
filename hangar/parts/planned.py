"""An aircraft as it would be after a plan: a changed tree, never a write."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from hangar.base.errors import BadInput
from hangar.base.text import Listed, fixed
from hangar.parts.aircraft import Aircraft, FedPack, PowerPath, ServoFit
from hangar.parts.choices import FeedRole, PackJoin, PlanAction, ServoState
from hangar.parts.controls import Lead, Linkage
from hangar.parts.library import Library
from hangar.parts.power import Feed, Pack, Regulator, Switch
from hangar.parts.servos import Installation, Servo
from hangar.parts.workshop import Plan, PlanLine

NEW = "new"
"""Tag of a part that is to be bought."""


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
                    *, tag: str | None = None) -> Aircraft:  # fmt: skip
    """The aircraft with another servo at a position; the arm is taken to fit the new spline.

    ``tag`` names a spare from the bay; without it a fresh servo of the type is taken.
    Raises: BadInput for a position or type that is not there.
    """
    fit = _fit(aircraft, position)
    kind = library.servo_type(servo_type)
    if tag is not None and tag not in library.spare_servos:
        raise BadInput("servo {tag} does not lie in the Parts Bay.", tag=tag)
    servo = library.spare_servos[tag] if tag else Servo(tag=f"{NEW} {servo_type}", servo_type=servo_type)
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
    return _with_fit(
        aircraft,
        replace(
            fit,
            servo=replace(servo, state=ServoState.FITTED),
            servo_type=kind,
            installation=stay,
            elsewhere=(),
        ),
    )


def _fit(aircraft: Aircraft, code: str | None) -> ServoFit:
    fit = aircraft.fit(code) if code else None
    if fit is None:
        known = Listed(tuple(each.code for each in aircraft.fits), ",")
        raise BadInput(
            "{place} is no position of {aircraft}; there are {known}.",
            place=repr(code),
            aircraft=aircraft.code,
            known=known,
        )
    return fit


def _with_fit(aircraft: Aircraft, changed: ServoFit) -> Aircraft:
    return replace(
        aircraft, fits=tuple(changed if fit.code == changed.code else fit for fit in aircraft.fits)
    )


def _path(aircraft: Aircraft, code: str | None) -> PowerPath:
    path = next((each for each in aircraft.paths if each.feed.code == code), None)
    if path is None:
        codes = tuple(each.feed.code for each in aircraft.paths)
        known = Listed(codes, ",") if codes else fixed("none")
        raise BadInput(
            "{place} is no power path of {aircraft}; there are {known}.",
            place=repr(code),
            aircraft=aircraft.code,
            known=known,
        )
    return path


def _with_path(aircraft: Aircraft, changed: PowerPath) -> Aircraft:
    return replace(
        aircraft,
        paths=tuple(changed if path.feed.code == changed.feed.code else path for path in aircraft.paths),
    )


def _type_of(line: PlanLine) -> str:
    if not line.part_type:
        raise BadInput("the type is missing; it must be given.")
    return line.part_type


def _fit_servo(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    if not line.place:
        raise BadInput("the position is missing; it must be given.")
    return with_servo_type(aircraft, line.place, _type_of(line), library, tag=line.from_stock)


def _fit_pack(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    if line.place and all(path.feed.code != line.place for path in aircraft.paths):
        aircraft = _with_further_path(aircraft, line.place)
    path = _path(aircraft, line.place)
    kind = library.pack_type(_type_of(line))
    spare = library.spare_packs.get(line.from_stock or "")
    pack = spare or Pack(tag=f"{NEW} {kind.code}", pack_type=kind.code, bought_on=aircraft.read_on, cycles=0)
    return _with_path(aircraft, replace(path, packs=(FedPack(pack=pack, pack_type=kind),)))


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
        taken = sum(each.feed.regulator == code for each in receiver_paths)
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
        aircraft = _with_path(aircraft, replace(path, feed=feed, regulator=regulator, regulator_type=kind))
    return aircraft


def _set_regulator(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    path = _path(aircraft, line.place)
    if path.regulator is None or line.set_v is None:
        raise BadInput("needs a regulator on that power path and the volts to set it to.")
    return _with_path(aircraft, replace(path, regulator=replace(path.regulator, set_v=line.set_v)))


def _fit_switch(aircraft: Aircraft, line: PlanLine, library: Library) -> Aircraft:
    """A place that is no power path yet is one that will run into the board that has room for it."""
    known = {path.feed.code for path in aircraft.paths}
    if line.place and line.place not in known and _board_with_room(aircraft) is not None:
        aircraft = _with_further_path(aircraft, line.place)
    path = _path(aircraft, line.place)
    kind = library.switch_type(_type_of(line))
    switch = Switch(
        aircraft=aircraft.code,
        code=f"{line.place}-SW",
        switch_type=kind.code,
        fitted_on=aircraft.read_on,
    )
    feed = replace(path.feed, switch=switch.code)
    return _with_path(aircraft, replace(path, feed=feed, switch=switch, switch_type=kind))


def _change_lead(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    fit = _fit(aircraft, line.place)
    if line.awg is None:
        raise BadInput("the lead gauge is missing; it must be given.")
    if fit.lead is None:
        raise BadInput("the lead at that position has no length recorded.")
    lead: Lead = replace(fit.lead, awg=line.awg)
    return _with_fit(aircraft, replace(fit, lead=lead))


def _change_arm(aircraft: Aircraft, line: PlanLine, _library: Library) -> Aircraft:
    fit = _fit(aircraft, line.place)
    if line.arm_mm is None:
        raise BadInput("the arm radius is missing; it must be given.")
    linkage = fit.linkage or Linkage(aircraft=aircraft.code, position=fit.code)
    return _with_fit(aircraft, replace(fit, linkage=replace(linkage, arm_mm=line.arm_mm)))


_ACTIONS: dict[PlanAction, Callable[[Aircraft, PlanLine, Library], Aircraft]] = {
    PlanAction.FIT_SERVO: _fit_servo,
    PlanAction.FIT_PACK: _fit_pack,
    PlanAction.FIT_REGULATOR: _fit_regulator,
    PlanAction.SET_REGULATOR: _set_regulator,
    PlanAction.FIT_SWITCH: _fit_switch,
    PlanAction.CHANGE_LEAD: _change_lead,
    PlanAction.CHANGE_ARM: _change_arm,
}
