"""Every reading a keeper can take, what it informs, how, with what error, and where the figure then stands.

One row a reading: checks hold that entering it changes every place that the row names, and that each row
stands beside its prediction in the log. Errors are standard deviations of the logarithm, or as said.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from hangar.base.text import Text, text


class Place(StrEnum):
    """Where a figure stands."""

    NETWORK = "load cases of the supply"
    VERDICT = "findings"
    SHELF = "shelf of the packs"
    SHEET = "sheets"
    JSON = "survey as JSON"
    PLANNER = "search for a refit"
    BESIDE = "measured and predicted"


_EVERYWHERE = frozenset({Place.NETWORK, Place.VERDICT, Place.SHEET, Place.JSON, Place.PLANNER, Place.BESIDE})
_OF_A_PACK = _EVERYWHERE | {Place.SHELF}
_AT_A_SURFACE = frozenset({Place.VERDICT, Place.SHEET, Place.JSON, Place.PLANNER, Place.BESIDE})
_BESIDE = frozenset({Place.SHEET, Place.BESIDE})
_COMPARED = frozenset({Place.VERDICT, Place.SHEET, Place.BESIDE})


@dataclass(frozen=True)
class ReadingKind:
    """One kind of reading.

    Attributes:
        record: kind of the record that holds it.
        fields: its fields; the first is the one that is shown beside what was predicted.
        informs: the figure.
        formula: how.
        error: own error of one reading.
        shared: what all readings of the kind share.
        lapses: how long it counts.
        shown: where the figure stands.
    """

    record: str
    fields: tuple[str, ...]
    informs: Text
    formula: Text
    error: Text
    lapses: Text
    shown: frozenset[Place]
    shared: Text | None = None

    @property
    def name(self) -> str:
        """Record and first field."""
        return f"{self.record}.{self.fields[0]}"


_SERVO_CHANGED = text("until the servo is replaced")
_SERVO_AGED = text("for 50 hours of flying or 2 years, or until the servo is replaced")
_FLOWN = text("until a servo is replaced, until a refit or repair, or for 2 years")
_PACK_LAW = text("tester's lead, and the law by which cells warm up")
_MEASURED_AS_IS = text("as it is")
_UNTIL_NEWER = text("until a newer one is entered")
_UNTIL_REFIT = text("until a newer one is entered, or until a refit or repair")
_LOOKED_AT_AGAIN = text("for 25 flights, until a hard landing or until the servo is replaced")

READING_KINDS: tuple[ReadingKind, ...] = (
    ReadingKind(
        "load-test", ("loaded_v", "rest_v", "load_a", "second_v", "second_load_a"),
        text("resistance of a cell at 25 °C, and the volts inside"),
        text("fall of the volts over the step of the current, less the tester's lead and the surface volts"),
        text("by the meter over the step of the volts, with 0.04"),
        text("always; newer readings outweigh it"),
        _OF_A_PACK, _PACK_LAW,
    ),
    ReadingKind(
        "capacity-test", ("cell_mohm",), text("resistance of a cell at 25 °C"), text("as the meter shows it"),
        text("0.15"), text("always; newer readings outweigh it"), _OF_A_PACK, _PACK_LAW,
    ),
    ReadingKind(
        "capacity-test", ("capacity_mah", "discharge_a", "end_cell_v"), text("capacity"), _MEASURED_AS_IS,
        text("0.03 with current and end volts noted, else 0.06"), text("until a newer one is entered"),
        frozenset({Place.VERDICT, Place.SHELF, Place.SHEET, Place.JSON, Place.BESIDE}),
    ),
    ReadingKind(
        "flight-log-pack", ("pack_mohm", "pack_low_mohm", "pack_high_mohm"),
        text("resistance of a cell at 25 °C"), text("one second after a step, x 1.20 to ten seconds"),
        text("by the fit, with 0.08"), text("always; newer readings outweigh it"), _OF_A_PACK,
        text("gain of the sensor"),
    ),
    ReadingKind(
        "flight-log-pack", ("path_mohm", "path_low_mohm", "path_high_mohm"), text("switch, plugs and leads"),
        text("path less the pack, both by their errors"), text("by the fit, at least 0.04"),
        text("for a year, until a refit or repair, or until lead, switch or pack is changed"),
        frozenset({Place.NETWORK, Place.VERDICT, Place.JSON, Place.SHEET, Place.BESIDE}),
    ),
    ReadingKind(
        "flight", ("put_back_mah", "minutes_min"), text("current of the servos' work in flight"),
        text("charge put back / charge factor / minutes, over what is worked out"), text("0.07"), _FLOWN,
        _EVERYWHERE - {Place.PLANNER}, text("factor of the charge"),
    ),
    ReadingKind(
        "charge", ("put_back_mah",), text("current of the servos' work in flight"),
        text("charge put back since the charge before / its factor / minutes flown, over what is worked out"),
        text("0.07"), _FLOWN, _EVERYWHERE - {Place.PLANNER}, text("factor of the charge"),
    ),
    ReadingKind(
        "flight-log", ("mean_a",), text("current of the servos' work in flight"),
        text("mean current over what is worked out"), text("0.02"), _FLOWN, _EVERYWHERE - {Place.PLANNER},
    ),
    ReadingKind(
        "flight-log", ("peak_a",), text("highest current of the supply"),
        text("highest current over what is worked out; it only raises"), text("0.02"), _FLOWN,
        _EVERYWHERE - {Place.PLANNER},
    ),
    ReadingKind(
        "flight", ("lowest_v",), text("the supply as a whole"), text("compared only"),
        text("0.1 V, with the errors of sag and charge"), text("until a newer one is entered"), _COMPARED,
    ),
    ReadingKind(
        "flight-log", ("minimum_v",), text("the supply as a whole"), text("compared only"),
        text("0.1 V, with the errors of sag and charge"), text("until a newer one is entered"), _COMPARED,
    ),
    ReadingKind(
        "servo-bench", ("idle_ma",), text("idle current of the servo"), _MEASURED_AS_IS, text("0.05"),
        _SERVO_CHANGED, frozenset({Place.NETWORK, Place.JSON, Place.SHEET, Place.BESIDE}),
    ),
    ReadingKind(
        "servo-bench", ("moving_ma",), text("running current of the servo"), _MEASURED_AS_IS, text("0.15"),
        _SERVO_CHANGED, frozenset({Place.NETWORK, Place.JSON, Place.SHEET, Place.BESIDE}),
    ),
    ReadingKind(
        "servo-bench", ("stalled_ma", "at_v"), text("stall current of the servo"),
        text("goes with the volts, for the winding stays the same"), text("0.07"), _SERVO_CHANGED,
        _EVERYWHERE,
    ),
    ReadingKind(
        "servo-bench", ("first_mass_g", "first_one_deg", "first_other_deg", "radius_mm"),
        text("how far the servo gives under load"),
        text("line through the weights, joined with what is usual"),
        text("0.25° analog, 0.06° digital"), _SERVO_AGED, _AT_A_SURFACE,
    ),
    ReadingKind(
        "servo-timing", ("sweep_s", "at_v", "angle_deg", "sweeps", "pictures_hz"),
        text("speed of the servo"), text("measured over rated, each weighed by how finely it was filmed"),
        text("by the pictures a second, with 0.03"), _SERVO_AGED,
        frozenset({Place.JSON, Place.SHEET, Place.BESIDE}),
    ),
    ReadingKind(
        "remark-on-speed", ("speed_m_s", "runs_out"), text("load of the surface"),
        text("the load lies above or below the limit that the speed tells; it only raises"), text("0.20"),
        text("until the servo is replaced"), _AT_A_SURFACE,
    ),
    ReadingKind(
        "bench-check", ("throw_up_deg",), text("throw of the surface"), _MEASURED_AS_IS,
        text("0.5 mm at the trailing edge"), _LOOKED_AT_AGAIN, _AT_A_SURFACE,
    ),
    ReadingKind(
        "bench-check", ("throw_down_deg",), text("throw of the surface"), _MEASURED_AS_IS,
        text("0.5 mm at the trailing edge"), _LOOKED_AT_AGAIN, _AT_A_SURFACE,
    ),
    ReadingKind(
        "bench-check", ("play_deg",), text("free play of the surface"), _MEASURED_AS_IS,
        text("0.1 mm at the trailing edge"),
        text("always; after 25 flights or a hard landing it is the least that the play can be"),
        frozenset({Place.VERDICT, Place.SHEET, Place.JSON, Place.BESIDE}),
    ),
    ReadingKind(
        "bench-check", ("neutral_ma",), text("binding"), text("compared with the current at rest"),
        text("0.05"), text("until a newer one is entered"), frozenset({Place.SHEET, Place.BESIDE}),
    ),
    ReadingKind(
        "bench-check", ("moving_ma",), text("binding"), text("compared with the running current"),
        text("0.05"), text("until a newer one is entered"), frozenset({Place.SHEET, Place.BESIDE}),
    ),
    ReadingKind(
        "bench-check", ("end_a_ma",), text("binding"), text("held against the limit at an end"), text("0.05"),
        text("until a newer one is entered"), _COMPARED,
    ),
    ReadingKind(
        "bench-check", ("end_b_ma",), text("binding"), text("held against the limit at an end"), text("0.05"),
        text("until a newer one is entered"), _COMPARED,
    ),
    ReadingKind(
        "bench-check", ("low_rate_ma",), text("binding"), text("held against the limit at an end"),
        text("0.05"), _UNTIL_NEWER, _BESIDE,
    ),
    ReadingKind(
        "bench-check", ("bus_v",), text("lead and supply of the far servo"), text("compared only"),
        text("0.05 V"), _UNTIL_NEWER, _BESIDE,
    ),
    ReadingKind(
        "bench-check", ("case_c",), text("heat of the servo"), text("held against the limit"), text("2 °C"),
        _UNTIL_NEWER, _BESIDE,
    ),
    ReadingKind(
        "supply-check", ("idle_a",), text("the supply as a whole"), text("compared only"), text("0.05"),
        _UNTIL_REFIT, _BESIDE,
    ),
    ReadingKind(
        "supply-check", ("peak_a",), text("the supply as a whole"), text("compared only"), text("0.05"),
        _UNTIL_REFIT, _BESIDE,
    ),
    ReadingKind(
        "supply-check", ("lowest_v",), text("the supply as a whole"), text("compared only"),
        text("0.1 V, with the errors of sag and charge"), _UNTIL_REFIT, _COMPARED,
    ),
    ReadingKind(
        "path-check", ("rest_v",), text("the pack of the path"), text("compared only"), text("0.05 V"),
        _UNTIL_REFIT, _BESIDE,
    ),
    ReadingKind(
        "path-check", ("out_v",), text("the regulator"), text("compared only"), text("0.05 V"),
        _UNTIL_REFIT, _COMPARED,
    ),
    ReadingKind(
        "path-check", ("alone_v",), text("the supply with a path lost"), text("compared only"),
        text("0.05 V"), _UNTIL_REFIT, _COMPARED,
    ),
    ReadingKind(
        "path-check", ("regulator_c",), text("heat of the regulator"), text("held against the limit"),
        text("2 °C"), _UNTIL_REFIT, _BESIDE,
    ),
    ReadingKind(
        "airframe", ("all_up_mass_g",), text("loads, minimum torque, balance"), _MEASURED_AS_IS,
        text("0.005"), text("until a refit or repair"), frozenset({Place.VERDICT, Place.JSON, Place.SHEET}),
    ),
    ReadingKind(
        "airframe", ("cg_measured_mm",), text("balance"), _MEASURED_AS_IS, text("1 mm"),
        text("until a refit or repair"),
        frozenset({Place.VERDICT, Place.JSON, Place.SHEET, Place.BESIDE}),
    ),
    ReadingKind(
        "rotor", ("head_rpm",), text("loads of the swashplate"), _MEASURED_AS_IS, text("0.01"),
        text("until a refit or repair"), frozenset({Place.VERDICT, Place.JSON, Place.SHEET, Place.PLANNER}),
    ),
    *(
        ReadingKind(
            "rotor", (field,), informs, text("compared only"), error, text("until a newer one is entered"),
            frozenset({Place.SHEET, Place.BESIDE}),
        )
        for field, informs, error in (
            ("pitch_low_deg", text("blade pitch"), text("0.5°")),
            ("pitch_mid_deg", text("blade pitch"), text("0.5°")),
            ("pitch_high_deg", text("blade pitch"), text("0.5°")),
            ("swash_off_deg", text("level of the swashplate"), text("0.2°")),
        )
    ),
)  # fmt: skip
"""Tables, limits and makers' ratings are no readings: nothing here changes them."""


def reading_kind(record: str, field: str) -> ReadingKind | None:
    """The kind of a reading by its record and field; None for one that the table does not hold."""
    kinds = [kind for kind in READING_KINDS if kind.record == record]
    return next((kind for kind in kinds if field in kind.fields), kinds[0] if len(kinds) == 1 else None)
