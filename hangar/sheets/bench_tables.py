"""Tables of the bench check: one row a position, what is expected beside a box for what is read."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hangar.answers.bench_bands import bands_of, is_out, wanted
from hangar.answers.bench_expected import OUT
from hangar.answers.bench_lines import bench_lines, marked_out
from hangar.answers.checklists import check_lines, stage
from hangar.answers.outputs import by_channel, channel_words, outputs_of
from hangar.base.text import Amount, Arg, Text, series, text
from hangar.base.units import symbol_of
from hangar.parts import ServoFit
from hangar.parts.choices import RotorKind
from hangar.parts.sheet_boxes import (
    BENCH,
    BENCH_UNITS,
    ROTOR_READINGS,
    SERVO_READINGS,
    THROW_READINGS,
    rotor_about,
)
from hangar.physics.throws import throw_mm
from hangar.rules.bench_readings import end_limit, newest_reading
from hangar.sheets.boxes import Box
from hangar.sheets.case import SheetCase
from hangar.sheets.failsafe_words import failsafe_cell, output_name
from hangar.sheets.kit import FILL, Cell, Sheet, heads
from hangar.sheets.style import SheetStyle

CURRENTS = ("Neutral", "Moving", "End A", "End B", "Low rate")
CASE_HEAT = "B10 °C"
WORDS_OF_TABLES = (*CURRENTS, CASE_HEAT)


def readings_table(sheet: Sheet, case: SheetCase) -> None:
    """A row for each reading of supply, heat, range, mass and balance: expected, allowed, last, box."""
    rows: list[list[Cell]] = []
    for line in bench_lines(case):
        bands = bands_of(BENCH, case, sheet.style.units, line.about, line.what)
        unit = symbol_of(line.unit if line.what in BENCH_UNITS else sheet.style.units.unit_for(line.unit))
        rows.append(
            [
                line.stage,
                line.name,
                line.expected_words(case) or "____",
                wanted(bands) or text("no limit known: write it"),
                line.last_words(case),
                Box(about=line.about, what=line.what),
                unit,
            ]
        )
    sheet.table(
        heads("", "Reading", "Expected", "Allowed", "Last read", "Read", ""), [9, 56, 40, 30, 30, 20, 9], rows
    )


def currents_table(sheet: Sheet, case: SheetCase) -> None:
    """Idle current and the limit at the ends of each servo, with boxes for four readings."""
    fits = by_channel(case.aircraft)
    if not fits:
        sheet.write(text("No servo position is recorded for this aircraft."))
        return
    sheet.table(
        heads("Ch", "Position", "Servo", "At rest", "End limit", *CURRENTS, CASE_HEAT, ""),
        [10, 32, 16, 16, 20, 16, 16, 15, 15, 16, 14, 6],
        [_currents_row(sheet.style, case, fit) for fit in fits],
    )
    factor, extra = case.threshold("end-factor"), case.threshold("end-extra")
    share = case.threshold("bind-stall-share")
    sheet.write(
        text(
            "In mA, at full rate; low rate: the higher end. B10: the case after five minutes, {heat} or "
            "less. End limit: {factor:g} times the current at "
            "rest and {extra:g} mA more, but not above {percent:g} % of stall (common practice, no "
            "source).",
            factor=factor,
            extra=extra * 1000,
            percent=100 * share,
            heat=Amount(stage("B10")["servo_c"], "C"),
        )
    )


def _currents_row(style: SheetStyle, case: SheetCase, fit: ServoFit) -> list[Cell]:
    figures = case.survey.positions[fit.code]
    most_a = end_limit(fit, case.survey, case.threshold).most_a
    limit = None if most_a is None else 1000 * most_a
    idle = None if figures.idle_a is None else style.show(1000 * figures.idle_a.expected, "mA", 2)
    return [
        channel_words(fit),
        fit.position.name,
        fit.tag or FILL,
        _with_last(style, case, fit, ("Neutral",), idle, "mA"),
        _with_last(style, case, fit, ("End A", "End B", "Low rate"), style.show(limit, "mA", 2), "mA"),
        *[Box(about=fit.code, what=reading) for reading in CURRENTS],
        Box(about=fit.code, what="Case C"),
        Box(tick=True, about=fit.code, what="Currents"),
    ]


def _with_last(
    style: SheetStyle, case: SheetCase, fit: ServoFit, readings: Sequence[str], wanted_words: Arg, unit: str
) -> Arg:
    """What is wanted, and behind it what was read last where that is OUT: the worst of these readings."""
    for what in readings:
        value = newest_reading(fit, SERVO_READINGS.get(what) or THROW_READINGS[what])
        if is_out(bands_of(BENCH, case, style.units, fit.code, what), value, unit):
            last = style.show(value, unit, 2)
            words = wanted_words if wanted_words is not None else "____"
            return text("{wanted}; last {last} {out}", wanted=words, last=last, out=OUT)
    return wanted_words


def throws_table(sheet: Sheet, case: SheetCase) -> None:
    """Throws of each surface in degrees and millimetres, with boxes for both ways."""
    fits = [fit for fit in by_channel(case.aircraft) if fit.surface]
    if case.aircraft.rotors:
        rotor_table(sheet, case)
        if not fits:
            return
    if not fits:
        sheet.write(text("No moving surface is recorded for this aircraft."))
        return
    sheet.table(
        heads(
            "Ch", "Position", "Up or left", "Read deg", "Read mm", "Down or right", "Read deg", "Read mm", ""
        ),
        [12, 42, 27, 19, 19, 27, 19, 19, 6],
        [_throws_row(sheet.style, case, fit) for fit in fits],
    )
    limits = stage("B7")
    sheet.write(
        text(
            "Straight across at the root trailing edge. Passes within {degrees}° or {edge}, both sides "
            "alike.",
            degrees=limits["within_deg"],
            edge=sheet.style.show(limits["within_mm"], "mm"),
        )
    )


def _throws_row(style: SheetStyle, case: SheetCase, fit: ServoFit) -> list[Cell]:
    surface = fit.surface
    assert surface is not None

    def both(angle_deg: float | None) -> Text | None:
        if angle_deg is None:
            return None
        if surface.root_chord_mm is None:
            return text("{angle_deg:g}°", angle_deg=angle_deg)
        edge = style.show(throw_mm(angle_deg, surface.root_chord_mm), "mm", 2)
        return text("{angle_deg:g}°, {edge}", angle_deg=angle_deg, edge=edge)

    return [
        channel_words(fit),
        fit.position.name,
        _with_last(style, case, fit, ("Up deg",), both(surface.throw_up_deg), "deg"),
        Box(about=fit.code, what="Up deg"),
        Box(about=fit.code, what="Up mm"),
        _with_last(style, case, fit, ("Down deg",), both(surface.throw_down_deg), "deg"),
        Box(about=fit.code, what="Down deg"),
        Box(about=fit.code, what="Down mm"),
        Box(tick=True, about=fit.code, what="Throws"),
    ]


def free_play_table(sheet: Sheet, case: SheetCase) -> None:
    """Limit of free play of each surface at its trailing edge, what it read last, and a box."""
    style = sheet.style
    limit_deg = case.threshold("play")
    surfaces = [
        surface
        for surface in case.aircraft.surfaces
        if any(fit.position.surface == surface.code for fit in case.aircraft.fits)
    ] or list(case.aircraft.surfaces)
    if not surfaces:
        sheet.write(text("No moving surface is recorded for this aircraft."))
        return
    rows: list[list[Cell]] = [
        [
            surface.name,
            style.show(surface.root_chord_mm, "mm"),
            text("{limit_deg:g}°", limit_deg=limit_deg),
            None
            if surface.root_chord_mm is None
            else style.show(math.radians(limit_deg) * surface.root_chord_mm, "mm", 2),
            None
            if surface.play_deg is None
            else series(
                [
                    marked_out(
                        text("{play_deg:g}°", play_deg=surface.play_deg), is_out=surface.play_deg > limit_deg
                    ),
                    *([surface.play_on] if surface.play_on else []),
                ],
                ",",
            ),
            Box(about=surface.code, what="Play"),
            Box(tick=True, about=surface.code, what="Free play"),
        ]
        for surface in surfaces
    ]
    sheet.table(
        heads("Surface", "Chord at root", "Limit", "Limit in all", "Last read", "Read in all", ""),
        [52, 25, 20, 26, 34, 28, 6],
        rows,
    )


def signals_table(sheet: Sheet, case: SheetCase) -> None:
    """Directions and failsafe together: the words to read aloud, and what happens without a signal."""
    outputs = outputs_of(case.aircraft)
    if not outputs:
        sheet.write(text("No channel and no servo position is recorded for this aircraft."))
        return
    rows: list[list[Cell]] = [
        [
            output.number,
            output_name(case, output),
            (output.channel.stick if output.channel else None) or Box(about=output.about, what="Stick"),
            Box(tick=True, about=output.about, what="Direction"),
            failsafe_cell(case, output),
            Box(about=output.about, what="It did"),
            Box(about=output.about, what="After"),
            Box(tick=True, about=output.about, what="Failsafe"),
        ]
        for output in outputs
    ]
    sheet.table(
        heads("Ch", "Position", "B6 stick: answer", "", "B9 no signal", "It did", "After, s", ""),
        [12, 36, 54, 6, 24, 30, 17, 6],
        rows,
    )


_ROTOR_ROWS: dict[RotorKind, tuple[tuple[str, Text], ...]] = {
    RotorKind.MAIN: (
        ("Low deg", text("pitch, collective at its low end")),
        ("Middle deg", text("pitch, collective in the middle")),
        ("High deg", text("pitch, collective at its high end")),
        ("Swash low deg", text("swashplate off level, low end")),
        ("Swash middle deg", text("swashplate off level, middle")),
        ("Swash high deg", text("swashplate off level, high end")),
    ),
    RotorKind.TAIL: (
        ("Low deg", text("pitch, pedal full left")),
        ("High deg", text("pitch, pedal full right")),
    ),
}


def rotor_table(sheet: Sheet, case: SheetCase) -> None:
    """Pitch and level of the rotors with a box for each reading, then which way the gyro pushes."""
    rows: list[list[Cell]] = []
    for rotor in case.aircraft.rotors:
        about = rotor_about(rotor.rotor)
        for what, name in _ROTOR_ROWS[rotor.rotor]:
            bands = bands_of(BENCH, case, sheet.style.units, about, what)
            last = getattr(rotor, ROTOR_READINGS[what])
            was = marked_out(sheet.style.show(last, "deg"), is_out=is_out(bands, last, "deg"))
            rows.append([rotor.rotor, name, wanted(bands) or text("no limit known: write it"), was or "-",
                         Box(about=about, what=what), ""])  # fmt: skip
        rows[-1][-1] = Box(tick=True, about=about, what="Rotor")
    sentence, need = (
        text(next(line for line in check_lines() if line.id == "gyro").say),
        text("pushes nose left"),
    )
    rows.append(
        [text("gyro"), sentence, need, "-", "-", Box(tick=True, about="gyro", what="Direction right")]
    )
    sheet.table(
        heads("Rotor", "Reading", "Allowed", "Last read", "Read deg", "OK"), [18, 66, 40, 26, 24, 12], rows
    )
