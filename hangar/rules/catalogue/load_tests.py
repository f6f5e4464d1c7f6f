"""Load tests: whether they were made, what they showed, and whether they tell enough."""

from __future__ import annotations

from hangar.base.figure import Basis
from hangar.base.text import Amount, Text, joined, text
from hangar.parts import FedPack, LoadTest
from hangar.parts.choices import Criticality
from hangar.physics.pack_health import Light
from hangar.physics.tracking import DOES_NOT_FIT, Fate
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_pack
from hangar.rules.cures import Cure, Wants, Worse
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, Flags, of_part, read, worked
from hangar.rules.registry import rule
from hangar.rules.words import packs
from hangar.survey.figures import input_of
from hangar.survey.packs import load_test_lines


@rule(
    "load-test-stale",
    title="No load test today",
    levels=(Level.WARNING, Level.CAUTION),
    flags=lambda: with_pack(ex.trainer(), load_tests=()),
    passes=ex.trainer,
    field_only=True,
    cures=(),
    worse=Worse.SUPPLY,
)
def load_test_stale(case: Case) -> Flags:
    """
    Checks: whether every pack that feeds radio, ignition or engine control was load-tested on the day; the
        drive pack of a light electric aircraft is passed over, its motor is the test. A warning on a flying
        day, an advisory at home.
    Consequence: a pack that sagged since the last test is found in the air.
    Can't tell when: never; a test that is not recorded counts as not made.
    Source: common practice, no source
    Remedy: Test now, at the current the field sheet gives.
    """
    late = []
    for fed in case.tested_packs:
        test = fed.newest_test
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
    lines = load_test_lines(fed, case.limit("test-load"), case.conditions)
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
    cures=(),
    worse=Worse.SUPPLY,
)
def load_test_failed(case: Case) -> Flags:
    """
    Checks: volts inside the pack behind its resistance, by the newest load test at rest and under its load or
        two loads, the pack's temperature and the time since the charge, against the line below which a pack
        is to be charged first. Whether it is worn is another question, told by its resistance.
    Consequence: the bus falls under the first hard command.
    Can't tell when: nothing is asked; the check for a load test today names a missing one.
    Source: Ohm's law and least squares; lines common practice, no source
    Remedy: Charge and test again.
    """
    for fed in case.tested_packs:
        test, verdict = fed.newest_test, case.load_verdict(fed)
        if test is None or verdict is None or verdict.light is not Light.RED:
            continue
        low = verdict.low_v
        sentence = text(
            "Pack {tag} shows {loaded_v} under {load_a} and has {inner} inside; below {least} it is to be "
            "charged first.",
            tag=fed.pack.tag,
            loaded_v=Amount(test.loaded_v, "V"),
            load_a=Amount(test.load_a, "A"),
            inner=Amount(verdict.inner_v, "V"),
            least=Amount(low, "V"),
        )
        if verdict.is_empty_or_worn:
            remedy = text("Empty or worn: put a second, heavier load on; charge it before it flies.")
        else:
            remedy = text("Charge it and test again.")
        yield Flag(
            level=Level.WARNING,
            about=(fed.pack.tag,),
            message=sentence,
            detail=text(
                "{load_s} under load, {rest_v} at rest, {tested_on}",
                load_s=Amount(test.load_s, "s"),
                rest_v=Amount(test.rest_v, "V"),
                tested_on=test.tested_at.date(),
            ),
            remedy=remedy,
            figures=(
                read("loaded volts", test.loaded_v, "V"),
                worked(
                    "volts inside",
                    verdict.inner_v,
                    "V",
                    "volts and loads read, resistance expected, by least squares",
                    input_of(case.learned(fed).cell_mohm),
                    basis=Basis.MEASURED,
                ),
                read("charged first below", low, "V", Basis.TYPICAL),
            ),
            criticality=Criticality.FLIGHT,
            margin=verdict.inner_v / low,
        )


@rule(
    "load-test-too-light",
    title="Test load tells too little",
    levels=Level.ADVISORY,
    flags=lambda: with_pack(ex.trainer(), load_tests=ex.load_tested(ex.only_pack(), 5.34, 5.33, load_a=0.1)),
    passes=ex.trainer,
    cures=(),
    worse=Worse.SUPPLY,
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
        test = fed.newest_test
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
    flags=lambda: with_pack(
        ex.trainer(),
        load_tests=ex.load_tested(ex.only_pack(), 5.34, 5.05, minutes_since_charge=240.0, pack_c=20.0),
    ),
    passes=ex.trainer,
    cures=(Cure.SUPPLY,),
    worse=Worse.SUPPLY,
    wants=Wants(
        part="pack",
        quantity="resistance",
        of="resistance expected",
        at_most=True,
        words=lambda value: text("a pack that behaves like {value} or less under load", value=value),
    ),
)
def load_test_drop_abnormal(case: Case) -> Flags:
    """
    Checks: the resistance that the newest load test shows, tester's lead and surface volts of the charge
        included, against what every reading before it makes expect at the test's temperature. Told when it
        lies more than three standard deviations above, or two readings in a row lie far above.
    Consequence: a bad cell, plug or switch lets go under load.
    Can't tell when: nothing is asked; what is not known widens what is expected.
    Source: Ohm's law; errors of reader, cell and expectation added as JCGM 100:2008 has it
    Remedy: Look at plugs, switch and single cells.
    """
    for fed in case.tested_packs:
        test, learned = fed.newest_test, case.learned(fed)
        reading = next(
            (pack_reading for pack_reading in learned.readings if pack_reading.record == test), None
        )
        judged = None if reading is None else reading.judged
        if test is None or judged is None or judged.z <= 0.0:
            continue
        if judged.fate is Fate.TAKEN and judged.z <= DOES_NOT_FIT:
            continue
        seen, expected = 1000.0 * judged.reading.ohm, 1000.0 * judged.expected_ohm
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
                read("resistance seen, with the tester's lead", seen, "mohm"),
                worked(
                    "resistance expected",
                    expected,
                    "mohm",
                    "every reading before it, at the test's temperature",
                    input_of(learned.new_mohm),
                ),
            ),
            criticality=Criticality.FLIGHT,
            margin=expected / seen,
        )
