"""Positions, surfaces, linkages and leads: what each servo sits in, moves and hangs on."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Annotated, ClassVar

from hangar.parts.airframe import OF_AIRCRAFT
from hangar.parts.choices import FormerEdge, Function, JointLock, LinkageKind, RodMaterial, Side, SurfaceKind
from hangar.parts.fields import In, Label, Link, Record, Within

AT_POSITION = Link("position", ("aircraft", "position"), owned=True)


@dataclass(frozen=True, kw_only=True)
class Surface(Record):
    """A moving surface, or several moved as one by struts."""

    KIND: ClassVar[str] = "surface"
    TITLE: ClassVar[str] = "surface"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "code")
    LINKS: ClassVar[tuple[Link, ...]] = (OF_AIRCRAFT,)

    aircraft: str
    code: str
    name: str
    function: Function
    side: Side = Side.MIDDLE
    carried: Annotated[
        SurfaceKind,
        Label("kind", "an air brake that rises out of the wing is a plate without a hinge"),
    ] = SurfaceKind.FLAPPED
    span_mm: Annotated[float | None, Within(10, 5000), In("mm")] = None
    root_chord_mm: Annotated[
        float | None, Within(3, 600), Label("chord at root", "aft of the hinge"), In("mm")
    ] = None
    tip_chord_mm: Annotated[float | None, Within(3, 600), Label("chord at tip"), In("mm")] = None
    whole_chord_mm: Annotated[
        float | None, Within(5, 2000), Label("whole chord", "fixed part and surface together"), In("mm")
    ] = None
    aspect_ratio: Annotated[float | None, Within(0.3, 40), Label("aspect ratio of the whole panel")] = None
    camber_pct: Annotated[
        float | None, Within(0, 10), Label("camber of its section", "typical 2 on a wing"), In("%")
    ] = None
    throw_up_deg: Annotated[float | None, Within(0, 90), Label("throw up or left"), In("deg")] = None
    throw_down_deg: Annotated[float | None, Within(0, 90), Label("throw down or right"), In("deg")] = None
    load_speed_m_s: Annotated[
        float | None,
        Within(3, 150),
        Label("speed for the load", "when not the aircraft's dive speed"),
        In("m/s"),
    ] = None
    load_throw_deg: Annotated[
        float | None, Within(0, 90), Label("throw at that speed", "when not the full throw"), In("deg")
    ] = None
    incidence_deg: Annotated[
        float | None,
        Within(0, 30),
        Label("angle of attack that adds", "in the worst moment, typical 4"),
        In("deg"),
    ] = None
    balance_pct: Annotated[float | None, Within(0, 60), Label("nose balance"), In("%")] = None
    mass_balanced: bool | None = None
    mass_g: Annotated[float | None, Within(0.5, 5000), In("g")] = None
    pivot_pct: Annotated[
        float | None,
        Within(0, 60),
        Label("pivot of an all-moving surface", "behind the leading edge of the mean aerodynamic chord"),
        In("%"),
    ] = None
    wash_pct: Annotated[float | None, Within(0, 100), Label("share in the propeller wash"), In("%")] = None
    hinge: str | None = None
    gap_sealed: bool | None = None
    play_deg: Annotated[float | None, Within(0, 15), Label("free play measured"), In("deg")] = None
    play_on: Annotated[date | None, Label("free play measured on")] = None
    used_as_brake: bool | None = None


@dataclass(frozen=True, kw_only=True)
class Position(Record):
    """A place for a servo: its function, channel, bay and where it is on the plan view."""

    KIND: ClassVar[str] = "position"
    TITLE: ClassVar[str] = "position"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "code")
    LINKS: ClassVar[tuple[Link, ...]] = (
        OF_AIRCRAFT,
        Link("channel", ("aircraft", "port", "channel")),
        Link("surface", ("aircraft", "surface")),
        Link("stabiliser", ("aircraft", "through")),
    )

    aircraft: str
    code: str
    name: str
    function: Function
    side: Side | None = Side.MIDDLE
    port: Annotated[str, Label("output port")] = "main"
    channel: Annotated[int | None, Within(1, 32)] = None
    through: Annotated[str | None, Label("through gyro")] = None
    surface: str | None = None
    plan_x: Annotated[float | None, Within(0, 1), Label("across the plan view")] = None
    plan_y: Annotated[float | None, Within(0, 1), Label("along the plan view")] = None
    bay_length_mm: Annotated[float | None, Within(5, 200), Label("servo bay length"), In("mm")] = None
    bay_width_mm: Annotated[float | None, Within(5, 200), Label("servo bay width"), In("mm")] = None
    bay_height_mm: Annotated[float | None, Within(5, 200), Label("servo bay height"), In("mm")] = None
    bay_screw_mm: Annotated[float | None, Within(5, 200), Label("servo bay screw centres"), In("mm")] = None
    wing_depth_mm: Annotated[float | None, Within(3, 200), Label("depth of the wing here"), In("mm")] = None
    balance_arm_mm: Annotated[
        float | None, Within(-5000, 5000), Label("distance behind the balance datum"), In("mm")
    ] = None
    notes: str | None = None


@dataclass(frozen=True, kw_only=True)
class Linkage(Record):
    """What joins the servo arm at a position to its surface, swashplate or device."""

    KIND: ClassVar[str] = "linkage"
    TITLE: ClassVar[str] = "linkage"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "position")
    LINKS: ClassVar[tuple[Link, ...]] = (AT_POSITION,)

    aircraft: str
    position: str
    kind: LinkageKind = LinkageKind.PUSHROD
    arm_mm: Annotated[float | None, Within(3, 100), Label("servo arm radius"), In("mm")] = None
    horn_mm: Annotated[float | None, Within(3, 150), Label("horn radius"), In("mm")] = None
    arm_angle_deg: Annotated[float | None, Within(30, 150), Label("arm to rod at neutral"), In("deg")] = None
    rod_length_mm: Annotated[float | None, Within(5, 3000), In("mm")] = None
    rod_free_mm: Annotated[float | None, Within(5, 3000), Label("longest free length"), In("mm")] = None
    rod_diameter_mm: Annotated[float | None, Within(0.5, 20), In("mm")] = None
    rod_bore_mm: Annotated[float | None, Within(0, 18), Label("tube bore"), In("mm")] = None
    rod_material: RodMaterial | None = None
    clevis_keeper: bool | None = None
    ball_play_mm: Annotated[float | None, Within(0, 3), In("mm")] = None
    servo_travel_deg: Annotated[float | None, Within(5, 180), Label("servo travel each way"), In("deg")] = (
        None
    )
    mechanical_stop: bool | None = None
    cable_note: Annotated[str | None, Label("cable tension", "slack, right or tight")] = None


@dataclass(frozen=True, kw_only=True)
class Lead(Record):
    """The lead from receiver or board to the servo at a position, with its protection."""

    KIND: ClassVar[str] = "lead"
    TITLE: ClassVar[str] = "lead"
    KEY: ClassVar[tuple[str, ...]] = ("aircraft", "position")
    LINKS: ClassVar[tuple[Link, ...]] = (AT_POSITION,)

    aircraft: str
    position: str
    length_mm: Annotated[float, Within(20, 6000), Label("length, tail and extensions"), In("mm")]
    awg: Annotated[int | None, Within(12, 30), Label("gauge"), In("AWG")] = None
    joints: Annotated[int | None, Within(0, 10), Label("plugged joints", "receiver plug included")] = None
    lock: Annotated[JointLock | None, Label("lock of the loosest joint")] = None
    twisted: bool | None = None
    former_edge: Annotated[FormerEdge | None, Label("edge of former hole")] = None
    former_clearance_mm: Annotated[float | None, Within(0, 100), In("mm")] = None
    exposed_mm: Annotated[float | None, Within(0, 6000), Label("exposed run"), In("mm")] = None
    sleeve: str | None = None
    sleeve_mm: Annotated[float | None, Within(0, 6000), Label("sleeve length"), In("mm")] = None
    shrink_pieces: Annotated[int | None, Within(0, 20), Label("end shrinks")] = None
    shrink_mm: Annotated[float | None, Within(0, 200), Label("end shrink length"), In("mm")] = None
    shrink_before_mm: Annotated[float | None, Within(0, 60), Label("shrink bore before"), In("mm")] = None
    shrink_after_mm: Annotated[float | None, Within(0, 60), Label("shrink bore after"), In("mm")] = None
    bundle_mm: Annotated[float | None, Within(0, 40), Label("bundle diameter"), In("mm")] = None
    heat_mm: Annotated[float | None, Within(0, 2000), Label("distance to heat"), In("mm")] = None
    heat_sleeve: bool | None = None
    moving_mm: Annotated[float | None, Within(0, 2000), Label("distance to moving parts"), In("mm")] = None
    moving_tied: Annotated[bool | None, Label("tied clear of moving parts")] = None
    support_mm: Annotated[float | None, Within(0, 2000), Label("widest support spacing"), In("mm")] = None
    bend_ratio: Annotated[float | None, Within(0, 100), Label("tightest bend radius over diameter")] = None
    crosses_hinge: bool | None = None
    twist_loop: Annotated[bool | None, Label("twist loop along the hinge")] = None
    antenna_mm: Annotated[float | None, Within(0, 2000), Label("distance to antenna"), In("mm")] = None
    inspected_on: Annotated[date | None, Label("wires inspected on")] = None
