"""What a survey returns: every physical figure of one aircraft."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum

from hangar.base.figure import Figure, Working
from hangar.base.text import Text, text
from hangar.parts import Aircraft
from hangar.survey.figures import OWN_ARITHMETIC, input_of
from hangar.survey.flown_readings import LearnedCurrents
from hangar.survey.holding import PointControl, SurfaceHold, full_to_figure
from hangar.survey.path_leads import PathLeads
from hangar.survey.pivot import Pivot
from hangar.survey.remarks import LearnedLoad


class Scenario(StrEnum):
    """Load cases of the supply."""

    IDLE = "idle"
    CRUISE = "cruise"
    BRISK = "brisk"
    PEAK = "peak"
    ONE_LOST = "one path lost"
    COLD = "peak, cold pack"
    AGED = "peak, aged pack"


@dataclass(frozen=True, kw_only=True)
class Conditions:
    """The day a survey is made for.

    ``charge_pct`` is the charge left in the packs in the load cases, None for the usual one.
    ``defaults`` holds the keeper's own typical values by ``<quantity>.<key>``.
    """

    today: date = field(default_factory=date.today)
    altitude_m: float = 0.0
    air_c: float = 15.0
    pack_c: float = 20.0
    cold_pack_c: float = 0.0
    field_day: bool = False
    charge_pct: float | None = None
    defaults: Mapping[str, float] = field(default_factory=dict)


class FigureSet:
    """A dataclass whose Figure fields can be listed by name."""

    def figures(self) -> Iterator[tuple[str, Figure]]:
        """Every figure that could be computed, with the name of its field."""
        for spec in dataclasses.fields(self):  # type: ignore[arg-type]
            value = getattr(self, spec.name)
            if isinstance(value, Figure):
                yield spec.name, value
            elif isinstance(value, Mapping):
                for key, item in value.items():
                    if isinstance(item, Figure):
                        yield f"{spec.name} {key}", item


@dataclass(frozen=True, kw_only=True)
class PositionSurvey(FigureSet):
    """What one servo must do and what it can do; None where the data do not allow an answer.

    ``missing`` names the fields that load, volts, torque and control would need, as "record: field"
    words; ``missing_for`` those of every other figure that could not be had, by its field's name.

    ``control`` holds every point of flight of its surface, ``control_left`` the least that is left at any
    of them, with ``held_deg`` and ``wanted_deg`` there; ``load_nm`` is the most that is asked at a wanted
    deflection, ``torque_share`` that over the torque.  ``torque_nm``, ``transit_s`` and ``stall_a`` hold at
    ``delivered_v``: the volts at the servo in the supply's peak, its own lead carrying what its own load
    asks.  ``holding`` is what control is worked from, ``pivot`` that of an all-moving surface.
    ``load_times`` is what pilots have told of the load over what is worked out, ``load_learned`` how.
    """

    code: str
    load_speed_m_s: Figure | None = None
    load_deflection_deg: Figure | None = None
    delivered_v: Figure | None = None
    surface_moment_nm: Figure | None = None
    load_times: Figure | None = None
    load_nm: Figure | None = None
    servo_v: Mapping[Scenario, Figure] = field(default_factory=dict)
    torque_nm: Figure | None = None
    transit_s: Figure | None = None
    stall_a: Figure | None = None
    idle_a: Figure | None = None
    run_a: Figure | None = None
    average_a: Figure | None = None
    torque_at_1_deg_nm: Figure | None = None
    deg_to_half_torque: Figure | None = None
    torque_share: Figure | None = None
    held_deg: Figure | None = None
    wanted_deg: Figure | None = None
    control_left: Figure | None = None
    stiffness_nm_deg: Figure | None = None
    rod_force_n: Figure | None = None
    rod_buckling_n: Figure | None = None
    rod_margin: Figure | None = None
    lead_ohm: Figure | None = None
    lead_current_a: Figure | None = None
    lead_drop_v: Figure | None = None
    free_play_deg: Figure | None = None
    caution_speed_m_s: Figure | None = None
    servo_travel_deg: Figure | None = None
    control: tuple[PointControl, ...] = ()
    holding: SurfaceHold | None = None
    pivot: Pivot | None = None
    load_learned: LearnedLoad | None = None
    missing: tuple[Text, ...] = ()
    missing_for: Mapping[str, tuple[Text, ...]] = field(default_factory=dict)

    @property
    def working_v(self) -> Figure | None:
        """Volts at the servo doing its own work in the supply's peak; else what is there then."""
        return self.delivered_v or self.servo_v.get(Scenario.PEAK)

    @property
    def reserve(self) -> Figure | None:
        """Least control left of a surface; of a servo on a rotor, its torque over the load."""
        if self.control_left is not None:
            return self.control_left
        share = self.torque_share
        if self.holding is not None or share is None or not share.expected > 0.0:
            return None
        least, most = 1.0 / share.band.design, 1.0 / max(share.band.low, 1e-9)
        working = Working(text("stall torque / load"), (input_of(share),), OWN_ARITHMETIC)
        return Figure(
            text("torque over load"), 1.0 / share.expected, "ratio", least, most, share.basis, working
        )

    @property
    def full_to_m_s(self) -> Figure | None:
        """Speed up to which full throw is held; worked when it is asked for."""
        return None if self.holding is None else full_to_figure(self.holding, self.control)

    def worked_when_asked(self) -> dict[str, Figure]:
        """Figures that cost more than all others together, and are worked only when somebody looks."""
        pivot = self.pivot
        figures = {
            "full_to_m_s": self.full_to_m_s,
            "divergence_m_s": None if pivot is None else pivot.expected_m_s,
            "careful_divergence_m_s": None if pivot is None else pivot.fore_m_s,
        }
        return {name: figure for name, figure in figures.items() if figure is not None}

    def figures(self) -> Iterator[tuple[str, Figure]]:
        """Every figure that could be computed, with the name of its field."""
        yield from super().figures()
        yield from self.worked_when_asked().items()


@dataclass(frozen=True, kw_only=True)
class ScenarioSurvey(FigureSet):
    """The supply in one load case; ``collapse`` says why there is no operating point.

    ``servo_a`` is what each servo draws, by position; with ``steady_a`` of receivers, gyros and devices it
    sums to ``total_a``.
    ``pack_v`` and ``pack_a`` are each pack's volts under this load and its current, by path and tag;
    ``switch_v`` is what is left behind a path's switch, ``regulator_in_v`` what its regulator is fed with.
    ``path_a`` is what each power path's packs give (below nothing: they are being charged),
    ``regulator_a`` what its regulator puts on the bus, ``regulator_state`` how that works, in a word.
    ``lost`` names the path that is gone in the case of one lost; ``remarks`` say in words what is wrong
    at an operating point that there is: a regulator that limits, a pack that is being charged.
    Mappings of figures are worked out when somebody looks into them.
    """

    scenario: Scenario
    bus_v: Figure | None = None
    receiver_v: Figure | None = None
    total_a: Figure | None = None
    steady_a: Figure | None = None
    servo_a: Mapping[str, Figure] = field(default_factory=dict)
    pack_v: Mapping[str, Figure] = field(default_factory=dict)
    pack_a: Mapping[str, Figure] = field(default_factory=dict)
    switch_v: Mapping[str, Figure] = field(default_factory=dict)
    path_a: Mapping[str, Figure] = field(default_factory=dict)
    regulator_in_v: Mapping[str, Figure] = field(default_factory=dict)
    regulator_a: Mapping[str, Figure] = field(default_factory=dict)
    regulator_w: Mapping[str, Figure] = field(default_factory=dict)
    regulator_state: Mapping[str, str] = field(default_factory=dict)
    lost: str | None = None
    node_v: Mapping[str, float] = field(default_factory=dict)
    branch_a: Mapping[str, float] = field(default_factory=dict)
    collapse: Text | None = None
    remarks: tuple[Text, ...] = ()


@dataclass(frozen=True, kw_only=True)
class SupplySurvey(FigureSet):
    """The supply as a whole.

    ``peak_a`` is what is drawn at rest and the class's coincidence factor times the sum of all stall
    currents at the nominal bus volts; ``mean_a``, the sum of all average currents, is never more.  Of
    each power path: its volts fresh off charge, rested, nominal, at the end of the flight (land now),
    with packs, leads and switch as ohms; where it is a drive pack's, the charge that the radio takes
    from it in a flight and the share of the pack that this is; ``path_alone_w`` is its regulator's heat
    when it carries brisk flying by itself, and ``path_alone_a`` its current in the peak then.  Of
    each pack: resistance of one cell at 25 C, that of a new one, and its capacity. ``current_times`` is what
    flights have told of the current of the servos' work over what is worked out, ``peak_times`` of the peak.
    """

    full_v: Figure | None = None
    rested_full_v: Figure | None = None
    bus_full_v: Figure | None = None
    bus_nominal_v: Figure | None = None
    peak_a: Figure | None = None
    mean_a: Figure | None = None
    current_times: Figure | None = None
    peak_times: Figure | None = None
    flight_mah: Figure | None = None
    endurance_min: Figure | None = None
    flights_per_charge: Figure | None = None
    path_full_v: Mapping[str, Figure] = field(default_factory=dict)
    path_rested_v: Mapping[str, Figure] = field(default_factory=dict)
    path_nominal_v: Mapping[str, Figure] = field(default_factory=dict)
    path_land_v: Mapping[str, Figure] = field(default_factory=dict)
    path_ohm: Mapping[str, Figure] = field(default_factory=dict)
    path_radio_mah: Mapping[str, Figure] = field(default_factory=dict)
    path_radio_pct: Mapping[str, Figure] = field(default_factory=dict)
    path_alone_a: Mapping[str, Figure] = field(default_factory=dict)
    path_alone_w: Mapping[str, Figure] = field(default_factory=dict)
    pack_cell_mohm: Mapping[str, Figure] = field(default_factory=dict)
    pack_new_mohm: Mapping[str, Figure] = field(default_factory=dict)
    pack_mah: Mapping[str, Figure] = field(default_factory=dict)
    missing: tuple[Text, ...] = ()


@dataclass(frozen=True, kw_only=True)
class AirframeSurvey(FigureSet):
    """Mass, balance and size of the whole aircraft."""

    wing_loading_g_dm2: Figure | None = None
    disc_loading_g_dm2: Figure | None = None
    balance_mm: Figure | None = None
    ballast_g: Figure | None = None
    missing: tuple[Text, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Survey:
    """One aircraft computed once; window, sheets, rules and planner read the same numbers.

    Each of ``scenarios`` is solved when it is first asked for. ``least`` holds the peaks at the lowest
    estimates of the stall currents that no sheet gives; it is empty where none is estimated. ``currents`` is
    what flights have told of the current; None where nobody read it. ``leads`` is what logs have told of the
    leads of each power path.
    """

    aircraft: Aircraft
    conditions: Conditions
    positions: Mapping[str, PositionSurvey]
    scenarios: Mapping[Scenario, ScenarioSurvey]
    supply: SupplySurvey
    airframe: AirframeSurvey
    least: Mapping[Scenario, ScenarioSurvey] = field(default_factory=dict)
    currents: LearnedCurrents | None = None
    leads: Mapping[str, PathLeads] = field(default_factory=dict)

    def figures(self) -> Iterator[tuple[str, Figure]]:
        """Every figure with a name that says where it belongs: ``AIL-L margin``."""
        for code, position in self.positions.items():
            yield from ((f"{code} {name}", figure) for name, figure in position.figures())
        for scenario, case in self.scenarios.items():
            yield from ((f"{scenario} {name}", figure) for name, figure in case.figures())
        yield from ((f"supply {name}", figure) for name, figure in self.supply.figures())
        yield from ((f"aircraft {name}", figure) for name, figure in self.airframe.figures())
