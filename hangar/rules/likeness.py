"""How alike servos are that work together: speed, kind, type."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.base.figure import Figure
from hangar.base.text import NOTHING, Amount, Arg, ItemList, Text, listed, series, text
from hangar.parts import ServoFit
from hangar.parts.choices import Drive
from hangar.rules.case import Case
from hangar.rules.cures import Wants
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, allowed, cant_tell, worked
from hangar.rules.words import parts_of

ALIKE_IN_SPEED = Wants(
    part="servo",
    quantity="spread of transit times",
    of="spread allowed",
    at_most=True,
    words=lambda value: text("servos that are at most {value} apart in speed", value=value),
)
ONE_TYPE = Wants(part="servo", words=text("one servo type that goes into each of these places"))


def times(case: Case, fits: Sequence[ServoFit]) -> list[Figure] | None:
    """Transit times of several servos; None when one is not known."""
    every = [case.at(fit).transit_s for fit in fits]
    known = [time for time in every if time is not None]
    return known if len(known) == len(every) else None


def unknown_times(case: Case, fits: Sequence[ServoFit]) -> Flags:
    """Flags that ask for what the transit times need."""
    for fit in fits:
        position = case.at(fit)
        if position.transit_s is None:
            lacks = position.missing or (text("position {code}: transit time", code=fit.code),)
            yield cant_tell(*lacks, about=parts_of([fit]), criticality=fit.criticality)


def spread_pct(figures: Sequence[Figure]) -> float:
    """How far times lie apart, in percent of the longest."""
    values = [time.expected for time in figures]
    return 100.0 * (max(values) - min(values)) / max(values)


def times_listed(fits: Sequence[ServoFit], figures: Sequence[Figure]) -> Text:
    """The times in words."""
    return series(
        text(
            "{position} {servo_type} {time:.3f} s for 60°",
            position=fit.code,
            servo_type=fit.servo_type.code if fit.servo_type else "?",
            time=time.expected,
        )
        for fit, time in zip(fits, figures, strict=True)
    )


def spread_flag(
    case: Case,
    fits: Sequence[ServoFit],
    level: Level,
    limit: float,
    where: Text,
    consequence: Text = NOTHING,
) -> Flag:
    """A flag on unlike speeds."""
    figures = times(case, fits) or []
    spread = spread_pct(figures)
    return Flag(
        level=level,
        about=parts_of(fits),
        message=text(
            "Servos {where} run at unlike speeds: {least:.3f} to {most:.3f} s for 60°, {spread:.0f} % apart.",
            where=where,
            least=min(t.expected for t in figures),
            most=max(t.expected for t in figures),
            spread=spread,
        ),
        consequence=consequence,
        detail=times_listed(fits, figures),
        figures=(
            worked("spread of transit times", spread, "%", "(longest - shortest) / longest"),
            allowed("spread allowed", limit, "%"),
            *figures,
        ),
        criticality=fits[0].criticality,
        margin=limit / spread,
    )


def by_kind(fits: Sequence[ServoFit]) -> dict[Drive, list[ServoFit]]:
    """Servos by how they are driven."""
    kinds: dict[Drive, list[ServoFit]] = {}
    for fit in fits:
        if fit.servo_type is not None and fit.servo_type.drive is not None:
            kinds.setdefault(fit.servo_type.drive, []).append(fit)
    return kinds


def kinds_listed(fits: Sequence[ServoFit]) -> Text:
    """Kinds in words."""
    return series(
        text(
            "{position} {servo_type} ({drive})",
            position=fit.code,
            servo_type=fit.servo_type.code,
            drive=fit.servo_type.drive,
        )
        for fit in fits
        if fit.servo_type
    )


def mixed_kinds(fits: Sequence[ServoFit], level: Level, where: Text) -> Flags:
    """A flag when analog and digital servos work together."""
    kinds = by_kind(fits)
    if len(kinds) > 1:
        parts = [
            text("{positions} {kind}", positions=listed([fit.code for fit in group]), kind=kind)
            for kind, group in kinds.items()
        ]
        yield Flag(
            level=level,
            about=parts_of(fits),
            message=text(
                "Servos {where} are of unlike kind: {kinds}.", where=where, kinds=series(parts, ",")
            ),
            detail=kinds_listed(fits),
            criticality=fits[0].criticality,
            rests_on=tuple(fit.servo_type.code for fit in fits if fit.servo_type),
        )


def differences(case: Case, fits: Sequence[ServoFit]) -> Text:
    """What unlike types differ in."""
    words = []
    for fit in fits:
        kind, position = fit.servo_type, case.at(fit)
        if kind is None:
            continue
        numbers: list[Arg] = [kind.code]
        if position.torque_nm is not None:
            numbers.append(Amount(position.torque_nm.expected, "N m"))
        if position.transit_s is not None:
            numbers.append(text("{time:.3f} s", time=position.transit_s.expected))
        if kind.dead_band_us is not None:
            numbers.append(text("dead band {dead_band_us}", dead_band_us=Amount(kind.dead_band_us, "us")))
        words.append(text("{position} {numbers}", position=fit.code, numbers=ItemList(tuple(numbers), ",")))
    return series(words)


def mixed_types(case: Case, fits: Sequence[ServoFit], level: Level, where: Text) -> Flags:
    """A flag when unlike types of one kind work together."""
    types = {fit.servo_type.code for fit in fits if fit.servo_type}
    if len(types) > 1 and len(by_kind(fits)) == 1:
        yield Flag(
            level=level,
            about=parts_of(fits),
            message=text(
                "Servos {where} are of unlike types: {sorted}.", where=where, sorted=listed(sorted(types))
            ),
            detail=differences(case, fits),
            criticality=fits[0].criticality,
            rests_on=tuple(sorted(types)),
        )
