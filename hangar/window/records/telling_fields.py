"""Which fields of a record tell most: where a table has no room for all, the others are left out first."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.parts import (
    BenchCheck,
    Channel,
    Feed,
    Flight,
    Installation,
    Lead,
    Pack,
    PackType,
    Position,
    RangeCheck,
    Receiver,
    Record,
    RegulatorType,
    Rotor,
    Servo,
    ServoType,
    Snag,
    Stabiliser,
    StockItem,
    Surface,
    SwitchType,
)
from hangar.parts.fields import columns

_TELLING: dict[type[Record], str] = {
    ServoType: "drive supply_max_v mass_g run_a price idle_ma supply_min_v gear maker spline_teeth "
    "case_length_mm case_width_mm case_height_mm max_rate_hz pulse_us",
    PackType: "chemistry series capacity_mah continuous_a cell_mohm mass_g connector parallel price maker "
    "burst_a lead_awg charge_c",
    RegulatorType: "output_max_v continuous_a burst_a input_max_v regulator output_min_v drop_out_v "
    "fails_through price mass_g maker efficiency_pct",
    SwitchType: "switch continuous_a contact_mohm burst_a contacts price maker mass_g",
    Position: "name function side channel surface through port bay_length_mm bay_width_mm bay_height_mm",
    Channel: "function y_lead reverse centre_us travel_low_pct travel_high_pct failsafe rate_hz pulse_us "
    "failsafe_proved_on expo_pct mixed_with",
    Receiver: "model_type channels supply_max_v supply_min_v failsafe maker idle_ma bus_limit_a band_mhz "
    "pulse_us frame_ms",
    Stabiliser: "model_type supply_max_v rate_hz pulse_us maker idle_ma supply_min_v",
    Surface: "name function side span_mm root_chord_mm tip_chord_mm throw_up_deg throw_down_deg "
    "mass_balanced play_deg hinge gap_sealed load_speed_m_s carried",
    Rotor: "head_rpm diameter_mm blades blade_length_mm blade_chord_mm flybar swash pitch_deg blade_mass_g",
    Lead: "length_mm awg joints lock sleeve inspected_on former_edge exposed_mm twisted moving_tied",
    Feed: "role switch regulator lead_length_mm lead_awg joints isolated join joint_limit_a",
    Servo: "servo_type state bin bought_on hours_h tested_on gear_condition play_deg sweep_clean flights "
    "idle_ma stall_a centring_us maker_serial made_year price notes bought_used",
    Installation: "until_on why arm_teeth arm_screw_locked screws_fitted screws_of grommets_fitted "
    "grommets_of matched_on arm_material",
    Pack: "pack_type state bin cycles capacity_mah cell_mohm charged_on rest_v capacity_on swollen crashed "
    "bought_on notes",
    BenchCheck: "neutral_ma moving_ma end_a_ma end_b_ma bus_v jitter direction_ok centre_ok play_deg "
    "throw_up_deg throw_down_deg by",
    RangeCheck: "passed distance_m method site motor_on",
    Flight: "minutes_min packs put_back_mah lowest_v remarks hard_landing crashed landings pilot wind_m_s",
    Snag: "text severity closed_on action part",
    StockItem: "part_type on_hand wanted kind unit bin text price supplier use_by_on",
}
"""Fields behind the key, the most telling first. Of kinds that are not here the first fields tell most."""


def giving_way(kind: type[Record], names: Sequence[str]) -> dict[str, int]:
    """In which order the fields of a table are left out: 0 never, the least first.

    Args:
        names: the fields of the table, in order.

    >>> giving_way(RangeCheck, ("checked_on", "method", "passed", "site"))
    {'checked_on': 0, 'method': 4, 'passed': 6, 'site': 3}
    """
    listed = _TELLING[kind].split() if kind in _TELLING else [spec.name for spec in columns(kind)]
    last = len(listed) + 1
    rank = {name: last - at for at, name in enumerate(listed)}
    return {name: 0 if name in kind.KEY else rank.get(name, 1) for name in names}
