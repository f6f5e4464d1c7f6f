"""A keeper who measures sees it count: everywhere the figure stands, and to the bit when it is taken back."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from typing import Any

import pytest

from hangar.answers.bench_bands import bands_of
from hangar.answers.judging import Judgement
from hangar.base.figure import Basis
from hangar.base.units import SI_TRADE
from hangar.parts import Aircraft, FedPack, LoadTest, SetAside
from hangar.parts import Tester as LoadTester
from hangar.parts.readings import place_of
from hangar.parts.sheet_boxes import FIELD
from hangar.physics.tracking import Fate
from hangar.rules import Finding, inspect
from hangar.rules import examples as ex
from hangar.rules.example_parts import at_hour
from hangar.sheets import SheetCase
from hangar.survey import Scenario, survey
from hangar.survey.as_json import survey_json
from hangar.survey.defaults import class_defaults
from hangar.survey.learned import LearnedPack, load_test_verdict, pack_learned

DAY = ex.DAY


def having(*tests: LoadTest, **parts: Any) -> Aircraft:
    made = ex.trainer()
    path = made.paths[0]
    fed = replace(path.packs[0], load_tests=tests, capacity_tests=(), **parts)
    fed = replace(fed, pack=replace(fed.pack, cell_mohm=None, cell_mohm_on=None))
    return replace(made, paths=(replace(path, packs=(fed,)),))


def load_test(
    ohm: float, *, days: int = 0, inner_v: float = 5.36, cell_c: float = 25.0, **more: Any
) -> LoadTest:
    """A test with two loads of a pack of so many ohms at that temperature, through a lead of 12 mΩ."""
    volts = [inner_v - amps * (ohm + 0.012) for amps in (0.0, 1.0, 3.0)]
    return LoadTest(
        pack=ex.only_pack(), tested_at=at_hour(days), load_a=1.0, rest_v=volts[0], loaded_v=volts[1],
        second_load_a=3.0, second_v=volts[2], pack_c=cell_c, minutes_since_charge=600.0, **more,
    )  # fmt: skip


def learned(aircraft: Aircraft, today: date = DAY) -> LearnedPack:
    return pack_learned(fed_of(aircraft), today, class_defaults())


def fed_of(aircraft: Aircraft) -> FedPack:
    return aircraft.paths[0].packs[0]


def figures(aircraft: Aircraft) -> dict[str, object]:
    """What network, verdict, field sheet and JSON say of the pack."""
    found = survey(aircraft, ex.home_day())
    case = SheetCase(judgement=Judgement.of(found))
    (band,) = bands_of(FIELD, case, SI_TRADE, ex.only_pack(), "Read")
    verdict = load_test_verdict(fed_of(aircraft), load_test(0.060), DAY, class_defaults())
    assert verdict is not None
    peak = found.scenarios[Scenario.PEAK].bus_v
    return {
        "network": peak.expected if peak else None,
        "verdict": verdict.pack_ohm,
        "sheet": band.low,
        "json": str(survey_json(found)["supply"]),
        "resistance": found.supply.pack_cell_mohm[ex.only_pack()].expected,
    }


def risen(aircraft: Aircraft) -> list[Finding]:
    findings = inspect(aircraft, survey(aircraft, ex.home_day()))
    return [
        finding
        for other_finding in findings
        for finding in other_finding.with_folded()
        if finding.rule == "dcir-risen"
    ]


def test_one_changed_load_test_changes_network_verdict_sheet_and_json_alike() -> None:
    good = (load_test(0.050, days=60), load_test(0.051, days=30))
    before, after = figures(having(*good)), figures(having(good[0], load_test(0.070, days=30)))
    assert all(before[name] != after[name] for name in before)
    assert after["network"] < before["network"]  # type: ignore[operator]
    assert figures(having(*good)) == before


def test_a_fresh_reading_is_called_measured_with_its_day_and_age_and_an_old_one_is_not() -> None:
    figure = learned(having(load_test(0.055, days=20))).cell_mohm
    assert figure.basis is Basis.MEASURED
    assert figure.low is not None
    assert figure.design is not None
    assert figure.low < figure.expected < figure.design
    assert f"{ex.ago(20)}, 20 days ago" in [str(other_input.value) for other_input in figure.working.inputs]
    assert learned(having(load_test(0.055, days=900))).cell_mohm.basis is Basis.COMPUTED


def test_bands_narrow_as_readings_come() -> None:
    tests = [load_test(0.055, days=days) for days in (90, 60, 30, 5)]
    widths = []
    for count in range(1, 5):
        band = learned(having(*tests[:count])).cell_mohm.band
        widths.append(band.design / band.low)
    assert widths == sorted(widths, reverse=True)


def test_removing_or_setting_aside_a_reading_restores_every_figure_to_the_bit() -> None:
    kept = (load_test(0.050, days=60), load_test(0.051, days=30))
    more = load_test(0.058, days=3)
    before = figures(having(*kept))
    assert figures(having(*kept, more)) != before
    kind, key = place_of(more)
    aside = (SetAside(kind=kind, record=key, since_on=DAY, reason="dirty plug"),)
    put_aside = having(*kept, more, set_aside=aside)
    for name in ("network", "sheet", "resistance"):
        assert figures(put_aside)[name] == before[name]
    assert [reading.is_aside for reading in learned(put_aside).readings] == [False, False, True]
    assert figures(having(*kept)) == before


def test_a_spoilt_reading_moves_no_figure_but_raises_its_finding_and_warnings_go_by_the_worse_side() -> None:
    kept = (load_test(0.050, days=90), load_test(0.051, days=60), load_test(0.050, days=30))
    clean, spoilt = having(*kept), having(*kept, load_test(0.250, days=0))
    assert learned(spoilt).readings[-1].judged is not None
    waiting = learned(spoilt).waiting
    assert waiting is not None
    assert waiting.judged is not None
    assert waiting.judged.fate is Fate.WAITING
    assert learned(spoilt).cell_mohm.expected == pytest.approx(learned(clean).cell_mohm.expected, rel=1e-3)
    findings = inspect(spoilt, survey(spoilt, ex.home_day()))
    slugs = {finding.rule for other_finding in findings for finding in other_finding.with_folded()}
    assert "load-test-drop-abnormal" in slugs
    assert risen(spoilt)
    assert not risen(clean)


def test_a_healthy_cold_pack_and_one_fresh_off_charge_raise_nothing_and_a_worn_one_is_caught() -> None:
    from hangar.physics.pack import Chemistry
    from hangar.physics.pack_resistance import at_temperature_ohm

    cold = load_test(at_temperature_ohm(0.050, Chemistry.NIMH_LSD, 0.0), cell_c=0.0)
    fresh = replace(
        load_test(0.050, inner_v=5.46), minutes_since_charge=2.0, second_v=None, second_load_a=None
    )
    fresh = replace(fresh, rest_v=fresh.rest_v + 0.08)
    for fine in (cold, fresh):
        made = having(load_test(0.050, days=30), fine)
        findings = inspect(made, survey(made, ex.home_day()))
        slugs = {finding.rule for other_finding in findings for finding in other_finding.with_folded()}
        assert slugs & {"dcir-risen", "load-test-failed", "load-test-drop-abnormal", "does-not-fit"} == set()
    for load_a in (1.0, 3.0):
        worn = LoadTest(pack=ex.only_pack(), tested_at=at_hour(0), load_a=load_a, rest_v=5.36,
                        loaded_v=5.36 - load_a * (2.5 * 0.048 + 0.012), minutes_since_charge=600.0,
                        pack_c=22.0)  # fmt: skip
        assert risen(having(worn)), load_a


def test_a_worn_full_pack_and_a_healthy_empty_one_get_different_advice() -> None:
    worn, empty = having(load_test(0.150, days=2), load_test(0.150)), having(load_test(0.050, inner_v=4.80))
    found = {}
    for name, made in (("worn", worn), ("empty", empty)):
        listed = inspect(made, survey(made, ex.home_day()))
        found[name] = {finding.rule for other_finding in listed for finding in other_finding.with_folded()}
    assert "dcir-risen" in found["worn"]
    assert "load-test-failed" not in found["worn"]
    assert "load-test-failed" in found["empty"]
    assert "dcir-risen" not in found["empty"]


def test_a_tester_whose_lead_is_known_tells_more() -> None:
    plain = load_test(0.050, days=10)
    known = load_test(0.050, days=10, tester="Old one")
    tester = (LoadTester(name="Old one", lead_mohm=12.0, measured_on=ex.ago(20)),)
    loose, sharp = learned(having(plain)), learned(having(known, testers=tester))
    assert sharp.cell_mohm.band.design < loose.cell_mohm.band.design
    long_lead = (LoadTester(name="Old one", lead_mohm=40.0, measured_on=ex.ago(20)),)
    assert learned(having(known, testers=long_lead)).cell_mohm.expected < sharp.cell_mohm.expected


def test_the_order_in_which_tests_are_typed_does_not_matter() -> None:
    tests = tuple(load_test(ohm, days=days) for ohm, days in ((0.05, 90), (0.052, 40), (0.06, 10)))
    assert learned(having(*tests)).cell_mohm == learned(having(*reversed(tests))).cell_mohm


def test_a_reading_of_tomorrow_does_not_count_today() -> None:
    later = replace(load_test(0.2), tested_at=datetime(2026, 7, 1, 9))  # noqa: DTZ001
    assert not learned(having(later)).is_measured
