"""The closed lists of words that records use."""

from __future__ import annotations

from enum import StrEnum

from hangar.base.chemistry import Chemistry as Chemistry


class AircraftClass(StrEnum):
    """Aircraft classes; they drive defaults and limits."""

    HELI_IC = "heli-ic"
    HELI_EL = "heli-el"
    HELI_TURBINE = "heli-turbine"
    SPORT = "sport"
    AEROBATIC_3D = "aerobatic-3d"
    GIANT = "giant"
    SCALE = "scale"
    SAIL_FAST = "sail-fast"
    SAIL_THERMAL = "sail-thermal"
    SAIL_SCALE = "sail-scale"
    JET_TURBINE = "jet-turbine"
    JET_EDF = "jet-edf"
    ELECTRIC_SMALL = "electric-small"

    @property
    def is_helicopter(self) -> bool:
        """Whether it flies on a rotor."""
        return self.value.startswith("heli")

    @property
    def is_sailplane(self) -> bool:
        """Whether it is a sailplane."""
        return self.value.startswith("sail")


class PowerKind(StrEnum):
    """What drives the aircraft."""

    NONE = "none"
    ELECTRIC = "electric"
    GLOW = "glow"
    PETROL = "petrol"
    TURBINE = "turbine"
    TOW = "tow"

    @property
    def is_piston(self) -> bool:
        """Whether a piston engine burns fuel."""
        return self in (PowerKind.GLOW, PowerKind.PETROL)


class AircraftState(StrEnum):
    """Where an aircraft stands with its keeper."""

    ON_THE_LINE = "on the line"
    ON_THE_BENCH = "on the bench"
    HELD = "held"
    LAID_UP = "laid up"
    PASSED_ON = "passed on"
    WRITTEN_OFF = "written off"


class MarkPlace(StrEnum):
    """Where the registration or operator mark is shown."""

    OUTSIDE = "outside"
    INSIDE = "inside bay"
    NONE = "none"


class MaxMeans(StrEnum):
    """What a maker's highest volts stand for."""

    ABSOLUTE = "absolute"
    NOMINAL = "nominal"
    NOT_STATED = "not stated"


class Drive(StrEnum):
    """How a servo is driven inside."""

    ANALOG = "analog"
    DIGITAL = "digital"


class Gear(StrEnum):
    """Gear material of a servo."""

    NYLON = "nylon"
    COMPOSITE = "composite"
    METAL = "metal"
    STEEL = "steel"
    TITANIUM = "titanium"
    MIXED = "mixed"


class Bearing(StrEnum):
    """Output bearing of a servo."""

    PLAIN = "plain"
    ONE_BALL = "1 ball"
    TWO_BALL = "2 ball"


class ServoState(StrEnum):
    """What a servo is doing."""

    IN_BAY = "in the bay"
    RESERVED = "reserved"
    FITTED = "fitted"
    SUSPECT = "suspect"
    SCRAPPED = "scrapped"


class GearCondition(StrEnum):
    """Gear train as found on the bench."""

    GOOD = "good"
    ROUGH = "rough"
    STRIPPED = "stripped"


class Function(StrEnum):
    """What a channel or position does."""

    AILERON = "aileron"
    ELEVATOR = "elevator"
    RUDDER = "rudder"
    V_TAIL = "v-tail"
    FLAP = "flap"
    SPOILER = "spoiler"
    THROTTLE = "throttle"
    CYCLIC = "cyclic"
    COLLECTIVE = "collective"
    TAIL = "tail"
    RETRACT = "retract"
    DOOR = "door"
    BRAKE = "brake"
    STEERING = "steering"
    VECTOR = "thrust vector"
    TOW_RELEASE = "tow release"
    CHOKE = "choke"
    ENGINE_STOP = "engine stop"
    SMOKE = "smoke"
    GAIN = "gain"
    MODE = "mode"
    LIGHTS = "lights"
    SPARE = "spare"

    @property
    def is_flight(self) -> bool:
        """Whether the aircraft cannot be flown without it."""
        return self in _FLIGHT

    @property
    def is_surface(self) -> bool:
        """Whether it moves a surface in the air stream."""
        return self in _SURFACE


_SURFACE = {
    Function.AILERON, Function.ELEVATOR, Function.RUDDER, Function.V_TAIL, Function.FLAP, Function.SPOILER,
}  # fmt: skip
_FLIGHT = (_SURFACE - {Function.SPOILER}) | {Function.CYCLIC, Function.COLLECTIVE, Function.TAIL}
_SAFETY = {
    Function.THROTTLE,
    Function.ENGINE_STOP,
    Function.BRAKE,
    Function.TOW_RELEASE,
    Function.SPOILER,
    Function.RETRACT,
    Function.VECTOR,
}


class Criticality(StrEnum):
    """How much hangs on a channel."""

    FLIGHT = "flight"
    SAFETY = "safety"
    COMFORT = "comfort"

    @classmethod
    def of(cls, function: Function) -> Criticality:
        """The criticality that a function has by itself."""
        if function.is_flight:
            return cls.FLIGHT
        return cls.SAFETY if function in _SAFETY else cls.COMFORT


class Side(StrEnum):
    """Side of the aircraft, seen in flight direction."""

    LEFT = "left"
    RIGHT = "right"
    MIDDLE = "middle"


class FailsafeAction(StrEnum):
    """What an output does when the signal is lost."""

    HOLD = "hold"
    PRESET = "preset"
    IDLE = "idle"
    OFF = "off"
    NONE = "none"


class AntennaRoute(StrEnum):
    """How the receiver's antennas lie."""

    CLEAR = "clear"
    NEAR_LEADS = "near leads"
    ONE_IN_CARBON = "one in carbon"
    ALL_IN_CARBON = "all in carbon"


class SurfaceKind(StrEnum):
    """How a surface is carried."""

    FLAPPED = "hinged"
    ALL_MOVING = "all-moving"
    PLATE = "rising plate"


class LinkageKind(StrEnum):
    """What carries the servo's motion."""

    PUSHROD = "pushrod"
    PULL_PULL = "pull-pull"
    BALL_LINK = "ball link"
    BELT = "belt"
    DIRECT = "direct"


class RodMaterial(StrEnum):
    """Material of a pushrod."""

    STEEL = "steel"
    CARBON = "carbon"
    GLASS = "glass"
    ALUMINIUM = "aluminium"
    TITANIUM = "titanium"
    SPRUCE = "spruce"


class Swash(StrEnum):
    """Swashplate layout."""

    MECHANICAL = "mechanical"
    THREE_90 = "90"
    THREE_120 = "120"
    THREE_135 = "135"
    THREE_140 = "140"
    FOUR = "4-servo"


class RotorKind(StrEnum):
    """Which rotor."""

    MAIN = "main"
    TAIL = "tail"


class PackState(StrEnum):
    """What a pack is doing."""

    IN_USE = "in use"
    STORAGE = "storage"
    QUARANTINE = "quarantine"
    RETIRED = "retired"


class FeedRole(StrEnum):
    """What a power path feeds."""

    RECEIVER = "receiver"
    DRIVE = "drive"
    IGNITION = "ignition"
    ENGINE_CONTROL = "engine control"


class PackJoin(StrEnum):
    """How the packs of one power path are joined."""

    SINGLE = "single"
    SERIES = "series"
    PLAIN_Y = "plain Y"


class RegulatorKind(StrEnum):
    """What stands between pack and bus."""

    LINEAR = "linear"
    SWITCHING = "switching"
    PASS = "pass-through"
    BEC = "speed-controller supply"


class SwitchKind(StrEnum):
    """Kind of switch."""

    SLIDE = "slide"
    ELECTRONIC = "electronic"
    PIN = "pin"
    MAGNET = "magnet"


class JointLock(StrEnum):
    """What keeps a plugged joint together."""

    CLIP = "clip"
    TIE = "tie"
    SHRINK = "shrink"
    NONE = "none"


class FormerEdge(StrEnum):
    """Edge of the hole a lead passes through."""

    NO_HOLE = "no hole"
    GROMMET = "grommet"
    BARE_WOOD = "bare wood"
    BARE_HARD = "bare carbon, metal or glass"


class PlanState(StrEnum):
    """How far a refit plan is."""

    SKETCHED = "sketched"
    PRICED = "priced"
    PARTS_IN = "parts in"
    FITTING = "fitting"
    BENCH_PROVED = "bench-proved"
    FLOWN_IN = "flown in"
    DROPPED = "dropped"


class PlanAction(StrEnum):
    """What one line of a plan does."""

    FIT_SERVO = "fit servo"
    FIT_PACK = "fit pack"
    FIT_REGULATOR = "fit regulator"
    SET_REGULATOR = "set regulator"
    FIT_SWITCH = "fit switch"
    CHANGE_LEAD = "change lead"
    CHANGE_ARM = "change arm"
    JOIN_PACKS = "join packs"
    FIT_RECEIVER = "fit receiver"
    FIT_FIXINGS = "fit fixings"
    SET_HORN = "set horn"
    CHANGE_ROD = "change rod"
    PROTECT_LEAD = "protect lead"
    SET_PULSE = "set pulse"
    SET_RATE = "set rate"


class LeadCare(StrEnum):
    """What a lead is protected by."""

    LOCK = "lock every joint"
    FORMER = "grommet at the edge"
    HEAT_SLEEVE = "heat sleeve"
    TIE_CLEAR = "tie clear of moving parts"
    SUPPORT = "ties along the run"
    RUN_SLEEVE = "sleeve over the exposed run"
    SHRINKS = "shrinks at the ends"
    LOOP = "loop along the hinge"
    TWIST = "twist the wires"


class RodWork(StrEnum):
    """What is done to the rod or cable of a linkage."""

    NEW_ROD = "new rod"
    GUIDE = "guide at mid-length"
    KEEPER = "keeper over the clevis"
    CABLE = "cable just taut"


class Severity(StrEnum):
    """How much a snag weighs."""

    GROUNDS = "grounds it"
    LIMITS = "limits it"
    NOTE = "note"


class InspectionKind(StrEnum):
    """Occasion of an inspection."""

    INTAKE = "intake"
    PRE_SEASON = "pre-season"
    INTERVAL = "interval"
    YEARLY = "yearly"
    AFTER_CRASH = "after crash"
    AFTER_REFIT = "after refit"
    GATE = "gate check"


class Duty(StrEnum):
    """Kinds of thing that fall due."""

    LOAD_TEST = "load test"
    CHARGE = "charge"
    CYCLE = "refreshing cycle"
    PACK_LIFE = "end of a pack's life"
    INSPECTION = "inspection"
    RANGE_CHECK = "range check"
    FAILSAFE = "failsafe proof"


class StockKind(StrEnum):
    """Kind of spare."""

    SERVO = "servo"
    PACK = "pack"
    REGULATOR = "regulator"
    SWITCH = "switch"
    ARM = "arm"
    EXTENSION = "extension"
    SLEEVE = "sleeve"
    SHRINK = "shrink"
    OTHER = "other"
