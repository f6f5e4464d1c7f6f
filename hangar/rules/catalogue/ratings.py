"""Ratings of servo types: whether they can be true, and whether they fit the bus."""

from __future__ import annotations

import math

from hangar.base.figure import Basis, Input
from hangar.base.text import Amount, listed, text
from hangar.parts import ServoFit, ServoRating, ServoType
from hangar.parts.choices import Drive
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, rated, worked
from hangar.rules.over_volts import made_year, worst_path
from hangar.rules.registry import rule
from hangar.rules.words import parts_of, tags

_STARVED = ("under-volts-servo", "lead-drop", "dcir-risen")
_SIXTY_DEG = math.radians(60.0)


def _by_type(case: Case) -> dict[str, tuple[ServoType, list[ServoFit]]]:
    types: dict[str, tuple[ServoType, list[ServoFit]]] = {}
    for fit in case.servos:
        if fit.servo_type is not None:
            types.setdefault(fit.servo_type.code, (fit.servo_type, []))[1].append(fit)
    return types


@rule(
    "torque-read-at-wrong-volts",
    title="Rating is not for this bus",
    levels=Level.ADVISORY,
    flags=lambda: with_fit(
        ex.giant(), "RUD", servo_type={"code": "EX-one", "ratings": ex.STRONG.ratings[:1]}
    ),
    passes=ex.giant,
    cures=(),
)
def torque_read_at_wrong_volts(case: Case) -> Flags:
    """
    Checks: distance of the nearest rating row from the volts that reach the servo at peak current.
    Consequence: torque and speed may be other than is told here.
    Can't tell when: nothing is asked; ratings are asked for by the torque rules.
    Source: common practice, no source
    Remedy: Enter the maker's figures for these volts.
    """
    limit = case.limit("rating-row-distance")
    far: list[tuple[str, list[ServoFit], float, float]] = []
    for kind, fits in _by_type(case).values():
        volts = [case.at(fit).delivered_v for fit in fits]
        known = [volt.expected for volt in volts if volt is not None and volt.expected > 0]
        if not kind.ratings or not known:
            continue
        away, at_v, row_v = max(_nearest(kind, volt) for volt in known)
        if away > limit:
            far.append((kind.code, fits, at_v, row_v))
    if far:
        shown = [
            text(
                "{code} (rated at {row_v}, gets {at_v})",
                code=code,
                row_v=Amount(row_v, "V"),
                at_v=Amount(at_v, "V"),
            )
            for code, _, at_v, row_v in far
        ]
        every = [fit for _, fits, _, _ in far for fit in fits]
        yield Flag(
            level=Level.ADVISORY,
            about=(*(code for code, _, _, _ in far), *parts_of(every)),
            message=text(
                "Torque and speed are estimates where a rating is far off: {shown}.", shown=listed(shown)
            ),
            caused_by=_STARVED if all(at_v < row_v for _, _, at_v, row_v in far) else (),
            detail=text("{positions}", positions=tags(every)),
            figures=tuple(
                rated(text("nearest rating of {code}", code=code), row_v, "V") for code, _, _, row_v in far
            ),
            criticality=every[0].criticality,
            rests_on=tuple(row_v for _, _, _, row_v in far),
        )


def _nearest(kind: ServoType, volts: float) -> tuple[float, float, float]:
    row_v = min((row.rated_v for row in kind.ratings), key=lambda rated_v: abs(rated_v - volts))
    return 100.0 * abs(row_v - volts) / volts, volts, row_v


@rule(
    "five-cell-on-old-analog",
    title="Old analog servo on five cells or more",
    levels=Level.ADVISORY,
    flags=lambda: ex.five_cells(ex.elevator(servo={"made_year": 1992})),
    passes=lambda: ex.elevator(servo={"made_year": 1992}),
    cures=(Cure.SUPPLY, Cure.SERVO),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="servo",
        quantity="year",
        of=lambda case, _: case.limit("old-analog-year"),
        words=lambda value: text("a servo made in {value} or later", value=value),
    ),
)
def five_cell_on_old_analog(case: Case) -> Flags:
    """
    Checks: analog servos made before a year on a bus of six nominal volts and more.
    Consequence: the servo runs hotter and wears out sooner.
    Can't tell when: nothing is asked; a servo without a year is passed over.
    Source: common practice, no source
    Remedy: Four cells, or newer servos.
    """
    volts = worst_path(case)
    year = case.limit("old-analog-year")
    if volts is None:
        return
    nominal = volts.set_v if volts.regulated else volts.nominal_v
    if nominal is None or nominal < case.limit("old-analog-nominal") - 1e-9:
        return
    old = [fit for fit in case.servos if made_year(fit) is not None and (made_year(fit) or year) < year]
    old = [fit for fit in old if fit.servo_type and fit.servo_type.drive is Drive.ANALOG]
    if old:
        yield Flag(
            level=Level.ADVISORY,
            about=parts_of(old),
            message=text(
                "{text} hotter on {nominal}: {tags}.",
                text=text("Old analog servos run") if len(old) > 1 else text("An old analog servo runs"),
                nominal=Amount(nominal, "V"),
                tags=tags(old),
            ),
            caused_by=("servo-over-volts", "servo-five-cell-rating"),
            detail=text(
                "stall current about {percent:.0f} % higher than on 4.8 V", percent=100 * (nominal / 4.8 - 1)
            ),
            figures=(rated("nominal bus volts", nominal, "V"),),
            criticality=old[0].criticality,
        )


def _share_of_power(row: ServoRating) -> float | None:
    """Stall torque times no-load speed over electrical power at stall."""
    if row.stall_a is None or row.torque_nm is None or row.transit_s is None:
        return None
    return row.torque_nm * (_SIXTY_DEG / row.transit_s) / (row.rated_v * row.stall_a)


@rule(
    "physics-implausible",
    title="Type figures break physics",
    levels=Level.ADVISORY,
    flags=lambda: ex.elevator(servo_type={"code": "EX-odd", "ratings": ex.boasted(ex.STANDARD, 4.0)}),
    passes=ex.trainer,
    cures=(),
)
def physics_implausible(case: Case) -> Flags:
    """
    Checks: for each rating row, stall torque times speed over volts times stall current.
    Consequence: the servo gives less than its figures say, or draws more.
    Can't tell when: nothing is asked; a row without stall current is passed over.
    Source: direct-current motor: power out cannot exceed power in; bounds common practice, no source
    Remedy: Enter the figures again from the maker's sheet.
    """
    low, high = case.limit("balance-physics-low"), case.limit("balance-physics-high")
    for kind, fits in _by_type(case).values():
        shares = [(_share_of_power(row), row) for row in kind.ratings]
        odd = [(share, row) for share, row in shares if share is not None and not low <= share <= high]
        if odd:
            share, row = odd[0]
            yield Flag(
                level=Level.ADVISORY,
                about=(kind.code, *parts_of(fits)),
                message=text(
                    "The rating of {code} at {rated_v} cannot be: torque times speed is {share:.2f} of "
                    "volts times current.",
                    code=kind.code,
                    rated_v=Amount(row.rated_v, "V"),
                    share=share,
                ),
                detail=text("{low:g} to {high:g} is possible", low=low, high=high),
                figures=(
                    worked(
                        "share of power",
                        share or 0.0,
                        "",
                        "stall torque x speed / (volts x stall current)",
                        Input(text("stall torque"), row.torque_nm or 0.0, "N m", Basis.RATED),
                        Input(text("time for 60°"), row.transit_s or 0.0, "s", Basis.RATED),
                        Input(text("stall current"), row.stall_a or 0.0, "A", Basis.RATED),
                    ),
                ),
            )
