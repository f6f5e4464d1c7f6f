"""One cause is one finding: parts that are alike are told together, consequences under their cause."""

from __future__ import annotations

import dataclasses

from hangar.base.text import NOTHING, text
from hangar.parts import ServoFit
from hangar.rules import Finding, Level, look
from hangar.rules import examples as ex
from hangar.rules.changing import with_airframe, with_fit, with_pack, with_records, with_surface
from hangar.rules.flag import Flag, Sameness, of_part
from hangar.rules.gathering import gathered
from hangar.rules.words import thing_at
from tests.all_cases import all_cases

HOME = ex.home_day()


def _of(findings: tuple[Finding, ...], slug: str) -> list[Finding]:
    return [
        other_finding
        for finding in findings
        for other_finding in finding.with_folded()
        if other_finding.rule == slug
    ]


def test_a_pair_with_one_fault_is_one_finding_that_names_both_and_keeps_their_numbers() -> None:
    aircraft = with_fit(ex.trainer(), "AIL-L", "AIL-R", installation={"arm_teeth": 23})
    (finding,) = _of(look(aircraft, HOME), "arm-spline-mismatch")
    assert {"AIL-L", "AIL-R", "EXT-AIL-L", "EXT-AIL-R"} <= set(finding.about)
    assert str(finding.message).startswith("Both aileron servos ")
    assert {"AIL-L teeth of the arm", "AIL-R teeth of the arm"} <= {
        str(figure.name) for figure in finding.figures
    }


def test_two_of_three_swashplate_servos_are_counted_so() -> None:
    weak = with_fit(ex.helicopter(), "CYC-1", "CYC-3", installation={"arm_teeth": 23})
    (finding,) = _of(look(weak, HOME), "arm-spline-mismatch")
    assert str(finding.message).startswith("Two of the three cyclic servos ")


def test_the_worst_of_several_leads_with_its_number() -> None:
    aircraft = with_fit(ex.trainer(), "AIL-L", lead={"support_mm": 620.0})
    aircraft = with_fit(aircraft, "RUD", lead={"support_mm": 900.0})
    (finding,) = _of(look(aircraft, HOME), "lead-unsupported")
    assert "620 mm" in str(finding.detail)
    assert "900 mm" in str(finding.detail)
    flags = [
        Flag(level=Level.CAUTION, about=(tag,), message=NOTHING, margin=margin,
             sameness=of_part("pack", tag, text("rest {worst}at {volts:g} V", volts=margin)))
        for tag, margin in (("B1", 3.2), ("B2", 3.1))
    ]  # fmt: skip
    (flag,) = gathered(flags)
    assert str(flag.message) == "Packs B2 and B1 rest at worst at 3.1 V"
    assert flag.margin == 3.1


@all_cases(
    "noun, kind, said",
    [
        ("clevis", "", "The clevises of AIL-L and AIL-R are worn."),
        ("clevis", "aileron", "Both aileron clevises are worn."),
        ("switch", "", "Switches AIL-L and AIL-R are worn."),
        ("rod", "", "The rods of AIL-L and AIL-R are worn."),
    ],
)
def test_several_of_a_part_are_named_in_the_plural_of_its_word(noun: str, kind: str, said: str) -> None:
    flags = [
        Flag(level=Level.CAUTION, about=(name,), message=NOTHING,
             sameness=Sameness(noun=noun, name=name, sentence=text("are worn"), word=kind, count=2))
        for name in ("AIL-L", "AIL-R")
    ]  # fmt: skip
    (flag,) = gathered(flags)
    assert str(flag.message.as_sentence()) == said


def test_faults_of_two_levels_stay_two_findings() -> None:
    aircraft = with_fit(ex.trainer(), "AIL-L", lead={"support_mm": 900.0})
    aircraft = with_fit(aircraft, "AIL-R", lead={"support_mm": 400.0})
    assert {finding.level for finding in _of(look(aircraft, HOME), "lead-unsupported")} == {
        Level.CAUTION,
        Level.ADVISORY,
    }


def test_a_lead_that_loses_its_volts_is_the_cause_of_a_starved_servo() -> None:
    aircraft = with_surface(ex.giant(), "ELE-L", root_chord_mm=140.0)
    aircraft = with_fit(aircraft, "ELE-L", lead={"length_mm": 4000.0, "awg": 28})
    aircraft = with_fit(aircraft, "ELE-L", servo_type={"supply_min_v": 6.5})
    findings = look(aircraft, HOME)
    head = next(finding for finding in findings if finding.rule == "lead-drop")
    assert "under-volts-servo" in {below.rule for below in head.with_folded()}
    assert "AWG" in str(head.remedy)


def test_a_worn_pack_takes_its_age_and_cycles_under_itself() -> None:
    aircraft = with_pack(ex.trainer(), pack={"cell_mohm": 40.0, "cycles": 520, "bought_on": ex.ago(1900)})
    head = next(finding for finding in look(aircraft, HOME) if finding.rule == "dcir-risen")
    assert {"pack-old", "pack-cycles"} <= {below.rule for below in head.with_folded()}


def test_another_pack_is_not_blamed_for_the_age_of_this_one() -> None:
    aircraft = with_pack(ex.giant(), "EX21", pack={"cell_mohm": 40.0}, load_tests=())
    aircraft = with_pack(aircraft, "EX22", pack={"bought_on": ex.ago(1500)})
    heads = {finding.rule: finding for finding in look(aircraft, HOME)}
    assert "pack-old" not in {below.rule for below in heads["dcir-risen"].with_folded()}


def test_a_refit_without_its_proofs_is_one_finding() -> None:
    findings = look(with_airframe(ex.trainer(), refit_on=ex.ago(2)), HOME)
    head = next(finding for finding in findings if finding.rule == "direction-not-proved")
    assert "range-check-stale" in {below.rule for below in head.folded}


def test_every_finding_is_a_sentence() -> None:
    aircraft = with_fit(ex.trainer(), "AIL-L", "AIL-R", installation={"arm_teeth": 23}, lead={"joints": 6})
    aircraft = with_records(with_pack(aircraft, load_tests=()), inspections=())
    for finding in look(aircraft, HOME):
        for words in (str(finding.message), str(finding.detail), str(finding.remedy)):
            assert not words or words.endswith((".", "?"))
            assert "  " not in words


def _named(name: str) -> ServoFit:
    fit = ex.trainer().fit("ELE")
    assert fit is not None
    return dataclasses.replace(fit, position=dataclasses.replace(fit.position, name=name))


@all_cases(
    "name, words",
    [
        ("Left aileron", "the left aileron servo"),
        ("Left aileron servo", 'the servo at position "Left aileron servo"'),
        ("Flaps", "the servo of the flaps"),
        ("Rudder, first servo", 'the servo at position "Rudder, first servo"'),
        ("V-tail left", "the V-tail left servo"),
    ],
)
def test_a_position_is_named_in_plain_words_whatever_the_keeper_called_it(name: str, words: str) -> None:
    assert str(thing_at(_named(name))) == words
