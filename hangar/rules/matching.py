"""Servos that work together and are not alike."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.base.figure import Figure
from hangar.parts import ServoFit
from hangar.parts.choices import Drive
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell, read, worked
from hangar.rules.registry import rule
from hangar.rules.words import dots, listed, parts_of, place

_MONTH_DAYS = 30.4


def _times(case: Case, fits: Sequence[ServoFit]) -> list[Figure] | None:
    times = [case.at(fit).transit_s for fit in fits]
    known = [time for time in times if time is not None]
    return known if len(known) == len(times) else None


def _unknown_times(case: Case, fits: Sequence[ServoFit]) -> Flags:
    for fit in fits:
        position = case.at(fit)
        if position.transit_s is None:
            lacks = position.missing or (f"position {fit.code}: transit time",)
            yield cant_tell(*lacks, about=parts_of([fit]), criticality=fit.criticality)


def _spread_pct(times: Sequence[Figure]) -> float:
    values = [time.expected for time in times]
    return 100.0 * (max(values) - min(values)) / max(values)


def _times_listed(fits: Sequence[ServoFit], times: Sequence[Figure]) -> str:
    return "; ".join(
        f"{fit.code} {fit.servo_type.code if fit.servo_type else '?'} {time.expected:.3f} s for 60 deg"
        for fit, time in zip(fits, times, strict=True)
    )


def _spread_flag(case: Case, fits: Sequence[ServoFit], level: Level, limit: float, where: str) -> Flag:
    times = _times(case, fits) or []
    spread = _spread_pct(times)
    return Flag(
        level=level,
        about=parts_of(fits),
        message=f"Servos {where} run at unlike speeds: {min(t.expected for t in times):.3f} to "
        f"{max(t.expected for t in times):.3f} s for 60 deg, {spread:.0f} % apart.",
        detail=_times_listed(fits, times),
        figures=(
            worked("spread of transit times", spread, "%", "(longest - shortest) / longest"),
            read("spread allowed", limit, "%"),
            *times,
        ),
        criticality=fits[0].criticality,
        margin=limit / spread,
    )


@rule(
    "speed-mismatch-swash",
    title="Unlike speeds on one swashplate",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_fit(ex.helicopter(), "CYC-2", servo_type=ex.STRONG),
    passes=ex.helicopter,
)
def speed_mismatch_swash(case: Case) -> Flags:
    """
    Checks: transit times of the swashplate's servos at the volts that reach them.
    Why: unlike speeds tilt the disc whenever collective moves.
    Can't tell when: a rating or the supply is not known.
    Source: common practice, no source
    Remedy: The same servo type at every place of the swashplate.
    """
    if not case.swash:
        return
    times = _times(case, case.swash)
    if times is None:
        yield from _unknown_times(case, case.swash)
        return
    spread = _spread_pct(times)
    for level, name in ((Level.WARNING, "swash-speed-warn"), (Level.CAUTION, "swash-speed-look")):
        limit = case.limit(name)
        if spread > limit:
            yield _spread_flag(case, case.swash, level, limit, "of the swashplate")
            return


@rule(
    "speed-mismatch-pair",
    title="Unlike speeds left and right",
    levels=Level.CAUTION,
    flags=lambda: with_fit(ex.trainer(), "AIL-R", servo_type=ex.slower(ex.STANDARD, 1.4)),
    passes=lambda: with_fit(ex.trainer(), "AIL-R", servo_type=ex.slower(ex.STANDARD, 1.05)),
)
def speed_mismatch_pair(case: Case) -> Flags:
    """
    Checks: transit times of left and right servos of the same function at the volts that reach them.
    Why: the slower side lags and the aircraft rolls or yaws with every quick command.
    Can't tell when: a rating or the supply is not known.
    Source: common practice, no source
    Remedy: The same servo type on both sides.
    """
    limit = case.limit("pair-speed")
    for pair in case.pairs:
        times = _times(case, pair)
        if times is None:
            yield from _unknown_times(case, pair)
        elif _spread_pct(times) > limit:
            yield _spread_flag(case, pair, Level.CAUTION, limit, f"{pair[0].code} and {pair[1].code}")


def _by_kind(fits: Sequence[ServoFit]) -> dict[Drive, list[ServoFit]]:
    kinds: dict[Drive, list[ServoFit]] = {}
    for fit in fits:
        if fit.servo_type is not None:
            kinds.setdefault(fit.servo_type.drive, []).append(fit)
    return kinds


def _kinds_listed(fits: Sequence[ServoFit]) -> str:
    return "; ".join(
        f"{fit.code} {fit.servo_type.code} ({fit.servo_type.drive})" for fit in fits if fit.servo_type
    )


def _mixed_kinds(fits: Sequence[ServoFit], level: Level, where: str) -> Flags:
    kinds = _by_kind(fits)
    if len(kinds) > 1:
        parts = [f"{kind} at {listed([fit.code for fit in group])}" for kind, group in kinds.items()]
        yield Flag(
            level=level,
            about=parts_of(fits),
            message=f"Servos {where} are of unlike kind: {listed(parts)}.",
            detail=_kinds_listed(fits),
            criticality=fits[0].criticality,
            rests_on=tuple(fit.servo_type.code for fit in fits if fit.servo_type),
        )


@rule(
    "mixed-kinds-swash",
    title="Analog and digital on one swashplate",
    levels=Level.WARNING,
    flags=lambda: with_fit(ex.helicopter(), "CYC-2", servo_type={"drive": Drive.ANALOG}),
    passes=ex.helicopter,
)
def mixed_kinds_swash(case: Case) -> Flags:
    """
    Checks: whether all servos of the swashplate are analog or all digital.
    Why: they answer at different times and hold differently; the disc tilts under load.
    Can't tell when: nothing is asked; a position without a servo type is asked for elsewhere.
    Source: common practice, no source
    Remedy: Complete the set before flying.
    """
    if case.swash:
        yield from _mixed_kinds(case.swash, Level.WARNING, "of the swashplate")


@rule(
    "mixed-kinds-pair",
    title="Analog and digital on a pair of surfaces",
    levels=Level.CAUTION,
    flags=lambda: ex.wing(servo_type={"drive": Drive.DIGITAL}),
    passes=ex.trainer,
)
def mixed_kinds_pair(case: Case) -> Flags:
    """
    Checks: whether left and right servos of one function are of the same kind.
    Why: they answer and hold differently.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: The same kind on both sides.
    """
    for pair in case.pairs:
        yield from _mixed_kinds(pair, Level.CAUTION, f"{pair[0].code} and {pair[1].code}")


def _differences(case: Case, fits: Sequence[ServoFit]) -> str:
    words = []
    for fit in fits:
        kind, position = fit.servo_type, case.at(fit)
        if kind is None:
            continue
        numbers = [kind.code]
        if position.torque_nm is not None:
            numbers.append(case.show(position.torque_nm.expected, "N m"))
        if position.transit_s is not None:
            numbers.append(f"{position.transit_s.expected:.3f} s")
        if kind.dead_band_us is not None:
            numbers.append(f"dead band {case.show(kind.dead_band_us, 'us')}")
        words.append(f"{fit.code} {', '.join(numbers)}")
    return "; ".join(words)


def _mixed_types(case: Case, fits: Sequence[ServoFit], level: Level, where: str) -> Flags:
    types = {fit.servo_type.code for fit in fits if fit.servo_type}
    if len(types) > 1 and len(_by_kind(fits)) == 1:
        yield Flag(
            level=level,
            about=parts_of(fits),
            message=f"Servos {where} are of unlike types: {listed(sorted(types))}.",
            detail=_differences(case, fits),
            criticality=fits[0].criticality,
            rests_on=tuple(sorted(types)),
        )


@rule(
    "mixed-types-swash",
    title="Unlike servo types on one swashplate",
    levels=Level.CAUTION,
    flags=lambda: with_fit(ex.helicopter(), "CYC-2", servo_type={"code": "EX-other"}),
    passes=ex.helicopter,
)
def mixed_types_swash(case: Case) -> Flags:
    """
    Checks: whether the servos of the swashplate are all of one type.
    Why: torque, speed and dead band differ, and the disc tilts a little.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: One type for the whole swashplate.
    """
    if case.swash:
        yield from _mixed_types(case, case.swash, Level.CAUTION, "of the swashplate")


@rule(
    "mixed-types-pair",
    title="Unlike servo types on a pair of surfaces",
    levels=Level.ADVISORY,
    flags=lambda: ex.wing(servo_type={"code": "EX-other"}),
    passes=ex.trainer,
)
def mixed_types_pair(case: Case) -> Flags:
    """
    Checks: whether left and right servos of one function are of one type, where their speeds do not
        differ so much that speed-mismatch-pair speaks.
    Why: torque, speed and dead band differ a little.
    Can't tell when: nothing is asked.
    Source: common practice, no source
    Remedy: Match them at the next refit.
    """
    for pair in case.pairs:
        times = _times(case, pair)
        if times is None or _spread_pct(times) <= case.limit("pair-speed"):
            yield from _mixed_types(case, pair, Level.ADVISORY, f"{pair[0].code} and {pair[1].code}")


@rule(
    "ganged-mismatch",
    title="Servos on one surface are no matched pair",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: ex.ganged(installation={"matched_on": None}),
    passes=lambda: ex.ganged(),
)
def ganged_mismatch(case: Case) -> Flags:
    """
    Checks: whether servos that drive one rigid surface are of one type, and whether matching them was
        recorded within the last months.
    Why: unmatched servos work against each other, heat, and wear each other out.
    Can't tell when: nothing is asked; a matching that is not recorded counts as not done.
    Source: common practice, no source
    Remedy: Same type; match centre and ends; record the currents and the day.
    """
    most_days = case.limit("pair-matched-months") * _MONTH_DAYS
    for group in case.ganged:
        codes = listed([fit.code for fit in group])
        types = sorted({fit.servo_type.code for fit in group if fit.servo_type})
        stays = [fit.installation for fit in group if fit.installation]
        days = [case.days_since(stay.matched_on) for stay in stays if stay.matched_on]
        if len(types) > 1:
            level, why = Level.WARNING, f"are of unlike types: {listed(types)}"
        elif len(days) < len(group):
            level, why = Level.CAUTION, "have no matching on record"
        elif max(days) > most_days:
            level, why = Level.CAUTION, f"were matched {max(days)} days ago"
        else:
            continue
        name = group[0].surface.name if group[0].surface else place(group[0])
        yield Flag(
            level=level,
            about=parts_of(group),
            message=dots(f"servos {codes} on the {name.lower()} {why}"),
            detail=_kinds_listed(group),
            criticality=group[0].criticality,
            rests_on=(level.value, *types, *(str(stay.matched_on) for stay in stays)),
        )
