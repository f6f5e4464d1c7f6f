"""Load tests: whether they were made, what they showed, and whether they tell enough."""

from __future__ import annotations

from hangar.base.figure import Basis, Input
from hangar.base.text import Amount, Text, joined, text
from hangar.parts import FedPack, LoadTest
from hangar.parts.choices import Criticality
from hangar.physics.pack import Chemistry
from hangar.physics.pack_resistance import at_temperature_ohm
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_pack
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, cant_tell, of_part, read, worked
from hangar.rules.registry import rule
from hangar.rules.words import packs
from hangar.survey.figures import field_missing
from hangar.survey.packs import load_test_lines

_COLDEST_C, _WARMEST_C = -10.0, 45.0


def last_test(fed: FedPack) -> LoadTest | None:
    """The newest load test of a pack."""
    return max(fed.load_tests, key=lambda test: test.tested_at, default=None)


@rule(
    "load-test-stale",
    title="No load test today",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_pack(ex.trainer(), load_tests=()),
    passes=ex.trainer,
    field_only=True,
)
def load_test_stale(case: Case) -> Flags:
    """
    Checks: whether every pack that feeds radio, ignition or engine control was load-tested on the day; the
        drive pack of a light electric aircraft is passed over, its motor is the test. A warning on a flying
        day, a caution at home.
    Consequence: a pack that sagged since the last test is found in the air.
    Can't tell when: never; a test that is not recorded counts as not made.
    Source: common practice, no source
    Remedy: Test now, at the current the field sheet gives.
    """
    late = []
    for fed in case.tested_packs:
        test = last_test(fed)
        if fed.pack.tag in case.light_drive_packs:
            continue
        if test is None or test.tested_at.date() != case.today:
            late.append((fed, test))
    if not late:
        return
    tags = tuple(fed.pack.tag for fed, _ in late)
    yield Flag(
        level=Level.WARNING,
        about=tags,
        message=text("{packs} not been load-tested today", packs=packs(tags, "has", "have")),
        detail=joined(*(_last_words(case, fed, test) for fed, test in late), between="{first}. {then}"),
        criticality=Criticality.FLIGHT,
        rests_on=tuple(str(test.tested_at) if test else "never" for _, test in late),
    )


def _last_words(case: Case, fed: FedPack, test: LoadTest | None) -> Text:
    lines = load_test_lines(fed.pack_type, case.limit("test-load"))
    least = text("minimum {least}", least=Amount(lines.least_v, "V"))
    if test is None:
        return text("{tag} never on record; {least}", tag=fed.pack.tag, least=least)
    return text(
        "{tag} last {days_since} days ago: {loaded_v} at {load_a}; {least}",
        tag=fed.pack.tag,
        days_since=case.days_since(test.tested_at.date()),
        loaded_v=Amount(test.loaded_v, "V"),
        load_a=Amount(test.load_a, "A"),
        least=least,
    )


@rule(
    "load-test-failed",
    title="Pack fails under load",
    levels=Level.WARNING,
    flags=lambda: with_pack(ex.trainer(), load_tests=ex.load_tested(ex.only_pack(), 4.86, 4.78)),
    passes=ex.trainer,
)
def load_test_failed(case: Case) -> Flags:
    """
    Checks: loaded volts of the newest load test against cells times the field minimum, or where it is higher
        the line below which a cell is charged, at the test's load.
    Consequence: the bus falls under the first hard command.
    Can't tell when: nothing is asked; the check for a load test today names a missing one.
    Source: field minimum per cell common practice, no source
    Remedy: Charge and test again; retire the pack if it fails once more.
    """
    for fed in case.tested_packs:
        test = last_test(fed)
        if test is None:
            continue
        least = load_test_lines(fed.pack_type, test.load_a, test.ambient_c).least_v
        # A reading on the line counts as reaching it; meters show two decimals.
        if test.loaded_v < least - 1e-9:
            yield Flag(
                level=Level.WARNING,
                about=(fed.pack.tag,),
                message=text(
                    "Pack {tag} shows {loaded_v} under {load_a}; {least} is the minimum.",
                    tag=fed.pack.tag,
                    loaded_v=Amount(test.loaded_v, "V"),
                    load_a=Amount(test.load_a, "A"),
                    least=Amount(least, "V"),
                ),
                detail=text(
                    "{load_s} under load, {rest_v} at rest, {tested_on}",
                    load_s=Amount(test.load_s, "s"),
                    rest_v=Amount(test.rest_v, "V"),
                    tested_on=test.tested_at.date(),
                ),
                figures=(
                    read("loaded volts", test.loaded_v, "V"),
                    read("field minimum", least, "V", Basis.TYPICAL),
                ),
                criticality=Criticality.FLIGHT,
                margin=test.loaded_v / least,
            )


@rule(
    "load-test-too-light",
    title="Test load tells too little",
    levels=Level.ADVISORY,
    flags=lambda: with_pack(ex.trainer(), load_tests=ex.load_tested(ex.only_pack(), 5.34, 5.33, load_a=0.1)),
    passes=ex.trainer,
)
def load_test_too_light(case: Case) -> Flags:
    """
    Checks: current of the newest load test against the mean current in flight and a share of the peak.
    Consequence: a tired pack passes this test.
    Can't tell when: nothing is asked; the currents are asked for by the supply rules.
    Source: common practice, no source
    Remedy: A tester with a heavier load.
    """
    mean, peak = case.survey.supply.mean_a, case.survey.supply.peak_a
    radio = case.radio_packs
    for fed in radio:
        test = last_test(fed)
        if test is None or (mean is None and peak is None):
            continue
        paths = max(1, len(case.aircraft.radio_paths))
        wanted = max(
            mean.expected / paths if mean else 0.0,
            case.limit("test-load-peak-share") * peak.expected / paths if peak else 0.0,
        )
        if test.load_a < wanted * 0.999:
            yield Flag(
                level=Level.ADVISORY,
                about=(fed.pack.tag,),
                message=text(
                    "Pack {tag} was tested at {load_a}; flight asks for a test at {wanted} or more.",
                    tag=fed.pack.tag,
                    load_a=Amount(test.load_a, "A"),
                    wanted=case.ample(wanted, "A"),
                ),
                remedy=text("Test it at {wanted} or more.", wanted=case.ample(wanted, "A")),
                sameness=of_part(
                    "pack",
                    fed.pack.tag,
                    text("were tested at less than {wanted}", wanted=case.ample(wanted, "A")),
                    text("tested at {load_a}", load_a=Amount(test.load_a, "A")),
                ),
                figures=tuple(f for f in (read("test load", test.load_a, "A"), mean, peak) if f is not None),
                criticality=Criticality.FLIGHT,
                margin=test.load_a / wanted,
            )


@rule(
    "load-test-drop-abnormal",
    title="Drop under load far from what the pack should show",
    levels=Level.CAUTION,
    flags=lambda: with_pack(ex.trainer(), load_tests=ex.load_tested(ex.only_pack(), 5.34, 5.0)),
    passes=ex.trainer,
)
def load_test_drop_abnormal(case: Case) -> Flags:
    """
    Checks: the drop per ampere of the newest load test against the pack's resistance as last measured,
        else as new, at the day's temperature, with the tester's plugs.
    Consequence: a bad cell, plug or switch lets go under load.
    Can't tell when: the resistance of neither pack nor type is known.
    Source: Ohm's law; factor common practice, no source
    Remedy: Look at plugs, switch and single cells.
    """
    factor = case.limit("load-test-drop")
    for fed in case.tested_packs:
        test = last_test(fed)
        if test is None:
            continue
        cell = fed.pack.cell_mohm or fed.pack_type.cell_mohm
        if cell is None:
            yield cant_tell(
                field_missing(fed.pack_type, "cell_mohm"),
                about=(fed.pack.tag,),
                criticality=Criticality.FLIGHT,
            )
            continue
        warmth = case.conditions.pack_c if test.ambient_c is None else test.ambient_c
        warmth = min(max(warmth, _COLDEST_C), _WARMEST_C)
        chemistry = Chemistry(fed.pack_type.chemistry.value)
        pack_mohm = cell * fed.pack_type.series / fed.pack_type.parallel
        expected = at_temperature_ohm(pack_mohm, chemistry, warmth) + case.limit("tester-plugs")
        seen = 1000.0 * (test.rest_v - test.loaded_v) / test.load_a
        if seen > factor * expected:
            yield Flag(
                level=Level.CAUTION,
                about=(fed.pack.tag,),
                message=text(
                    "Under load pack {tag} behaves like {seen}; {expected} is expected.",
                    tag=fed.pack.tag,
                    seen=Amount(seen, "mohm"),
                    expected=Amount(expected, "mohm"),
                ),
                detail=text(
                    "{rest_v} to {loaded_v} at {load_a}",
                    rest_v=Amount(test.rest_v, "V"),
                    loaded_v=Amount(test.loaded_v, "V"),
                    load_a=Amount(test.load_a, "A"),
                ),
                figures=(
                    worked(
                        "resistance seen",
                        seen,
                        "mohm",
                        "(rest - loaded) / load",
                        Input(text("rest"), test.rest_v, "V", Basis.MEASURED),
                        Input(text("loaded"), test.loaded_v, "V", Basis.MEASURED),
                        Input(text("load"), test.load_a, "A", Basis.MEASURED),
                        basis=Basis.MEASURED,
                    ),
                    worked(
                        "resistance expected",
                        expected,
                        "mohm",
                        "cells x resistance of one + tester's plugs",
                        Input(text("one cell"), cell, "mohm"),
                    ),
                ),
                criticality=Criticality.FLIGHT,
                margin=factor * expected / seen,
            )
