"""Bench check, cuts, charging, shopping, passport, fleet overview and working: their figures."""

from __future__ import annotations

import math
import re
from collections import Counter
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hangar.answers.needs import needs_of
from hangar.base.units import IMPERIAL
from hangar.parts import Pack, Plan, PlanLine, StockItem
from hangar.parts.choices import Chemistry, PackState, PlanAction, PlanState, StockKind
from hangar.parts.protection import lead_cuts
from hangar.physics.throws import throw_mm
from hangar.rules.bench_readings import end_limit
from hangar.rules.finding import Level
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.case import SheetCase, open_at
from hangar.sheets.cut_tables import cuttings, leads_to_buy
from hangar.survey import Scenario
from tests.sheets.cases import TODAY, case_of, crowded_case, demo_case, demo_cases, empty_case
from tests.sheets.reading import text_of


def words_of(kind: str, cases: list[SheetCase], tmp_path: Path, style: SheetStyle | None = None) -> str:
    write_sheet(kind, cases, tmp_path / "sheet.pdf", style or SheetStyle())
    return " ".join(text_of(tmp_path / "sheet.pdf"))


def test_the_bench_check_prints_what_the_survey_expects(tmp_path: Path) -> None:
    case = demo_case("CIND")
    words = words_of("bench", [case], tmp_path)
    for code in [f"B{number}" for number in range(15)]:
        assert re.search(rf"\b{code}\b", words)
    peak = case.survey.scenarios[Scenario.PEAK]
    assert peak.total_a is not None
    assert str(SheetStyle().sourced(peak.total_a)) in words
    aileron = next(surface for surface in case.aircraft.surfaces if surface.code == "AIL-L")
    assert aileron.throw_up_deg is not None
    assert aileron.root_chord_mm is not None
    edge = throw_mm(aileron.throw_up_deg, aileron.root_chord_mm)
    assert f"{aileron.throw_up_deg:g}°, {edge:.0f} mm" in words
    # Free play of an aerobatic aircraft: 1 degree at the root chord, as an arc.
    assert f"{math.pi / 180 * aileron.root_chord_mm:.2g} mm" in words
    assert "Keeper releases it" in words


def test_the_limit_at_an_end_is_the_class_limit_but_never_over_a_quarter_of_stall() -> None:
    case = demo_case("MARQ")
    known = 0
    for fit in case.aircraft.fits:
        figures, limit = case.survey.positions[fit.code], end_limit(fit, case.survey, case.threshold)
        if limit.most_a is None or figures.idle_a is None or figures.stall_a is None:
            continue
        known += 1
        assert limit.most_a == min(limit.soft_a or 9e9, limit.hard_a or 9e9)
        assert limit.soft_a == pytest.approx(1.3 * figures.idle_a.expected + 0.15)
        # The stall current is that of an unloaded bus: not less than what the volts in the peak drive.
        assert limit.hard_a is not None
        assert limit.hard_a >= 0.25 * figures.stall_a.expected - 1e-9
    assert known


def test_a_bench_check_during_a_refit_expects_what_the_plan_brings(tmp_path: Path) -> None:
    words = words_of("bench", [demo_case("MER60")], tmp_path)
    assert "Expected values are those after plan Merlane digital, fitting." in words
    # The new pack is two LiFePO4 cells, rested full 2 x 3.37 V, behind a regulator set to 5.9 V.
    assert "6.74 V" in words
    assert "5.9 V, set" in words


def test_a_plan_that_cannot_be_worked_through_is_told_on_the_sheet(tmp_path: Path) -> None:
    case = demo_case("CIND")
    line = PlanLine(plan="Bad", number=1, action=PlanAction.FIT_SERVO, place="AIL-L", part_type="XX-99")
    plan = Plan(code="Bad", aircraft="CIND", title="Bad", state=PlanState.FITTING, lines=(line,))
    spoilt = case.judged(replace(case.survey, aircraft=replace(case.aircraft, plans=(plan,))))
    assert "'XX-99' is no servo type in the library" in words_of("build", [spoilt], tmp_path)
    assert "the plan fails: plan Bad, line 1" in words_of("bench", [spoilt], tmp_path)


def test_the_build_sheet_sets_old_against_new_with_prices_unless_they_are_left_out(tmp_path: Path) -> None:
    case = demo_case("MARQ")
    words = words_of("build", [case], tmp_path)
    assert "Old against new" in words
    assert "Full throw to" in words
    assert "5 to buy" not in words.split("Parts and work")[0]
    assert "from Stores, bin A1" in words
    lines = case.aircraft.plans[0].lines
    total = sum((line.price or 0) * line.quantity for line in lines)
    assert f"Together {total:g} {sum(line.hours_h or 0 for line in lines):g} h" in words
    without = words_of("build", [case], tmp_path, SheetStyle(prices=False))
    assert f"Together {total:g}" not in without
    assert "Price" not in without


def test_the_cut_list_sums_its_materials_and_says_that_less_cannot_be_bought(tmp_path: Path) -> None:
    words = words_of("cuts", [demo_case("DUNN")], tmp_path)
    # Four runs of 120 mm exposed: (120 + 50) x 1.10 = 187 mm each, 748 mm in all, from one metre.
    assert words.count("187 mm, bore 5 mm") == 4
    assert "1 x 1000 mm" in words
    assert "4 x 187 (less cannot be bought)" in words
    assert "No lead is recorded" in words_of("cuts", [empty_case()], tmp_path)
    # Of 72 in eighteen aircraft 26 lie in five metres, five in one: each way of cutting is said once.
    words = words_of("cuts", [demo_case("DUNN")] * 18, tmp_path)
    assert re.search(r"bore 5 mm: 2 x 5000 mm: 26 x 187; 4 x 1000 mm: 5 x 187 \(less cannot", words)


def test_the_charging_card_ends_each_pack_at_the_volts_of_its_cells(tmp_path: Path) -> None:
    words = words_of("charging", list(demo_cases()), tmp_path)
    # LiPo 6 x 4.20 V; Li-ion 2 x 4.20 V (general charger manual); NiMH peaks, never at fixed volts.
    assert re.search(r"B041 NIM7 DRIVE LiPo 6 cells, 5000 mAh \S+ A 25.2 V 18 V 22.8 to 23.1 V", words)
    assert re.search(r"B014 MER60 RX-A NiMH 5 cells, 1500 mAh .{0,8}peak, below 8 V", words)
    assert "Lithium packs burn" in words
    assert "Nickel packs" in words


@pytest.mark.parametrize(
    "bad", [{"swollen": True}, {"crashed": True}, {"state": PackState.QUARANTINE}], ids=str
)
def test_a_hurt_pack_is_never_charged(bad: dict[str, object], tmp_path: Path) -> None:
    case = demo_case("SISK")
    path = case.aircraft.paths[0]
    hurt = replace(path.packs[0].pack, **bad)  # type: ignore[arg-type]
    packs = (replace(path.packs[0], pack=hurt), *path.packs[1:])
    paths = (replace(path, packs=packs), *case.aircraft.paths[1:])
    ill = case.judged(replace(case.survey, aircraft=replace(case.aircraft, paths=paths)))
    words = words_of("charging", [ill], tmp_path)
    assert f"NEVER CHARGE: {hurt.tag}" in words
    assert "8.4 V" not in words
    assert "NEVER CHARGE" in words_of("labels", [ill], tmp_path)


def test_a_charge_rate_that_nobody_knows_is_an_empty_box(tmp_path: Path) -> None:
    case = demo_case("SISK")
    path = case.aircraft.paths[0]
    fed = replace(path.packs[0], pack_type=replace(path.packs[0].pack_type, charge_c=None))
    paths = (replace(path, packs=(fed,)), *case.aircraft.paths[1:])
    unknown = case.judged(replace(case.survey, aircraft=replace(case.aircraft, paths=paths)))
    assert "3000 mAh 8.4 V" in words_of("charging", [unknown], tmp_path)


def planned(code: str, plan: str, *lines: PlanLine) -> SheetCase:
    """A demo aircraft with one plan of its own, and a bay with one MK-G30 in it."""
    case = demo_case(code)
    stock = (
        StockItem(
            code="g30", kind=StockKind.SERVO, part_type="MK-G30", on_hand=1, price=84, supplier="Counter"
        ),
        StockItem(code="g40", kind=StockKind.SERVO, part_type="MK-G40", on_hand=1, wanted=2),
    )
    own = (Plan(code=plan, aircraft=code, title=plan, lines=lines),)
    library = replace(case.library, stock=stock, spare_servos={}, spare_packs={})
    survey = replace(case.survey, aircraft=replace(case.aircraft, plans=own))
    return replace(case.judged(survey), library=library)


def fit_line(number: int, part: str, **more: Any) -> PlanLine:
    return PlanLine(plan="-", number=number, action=PlanAction.FIT_SERVO, part_type=part, **more)


def test_shopping_takes_the_bay_into_account_once_over_all_plans() -> None:
    first = planned(
        "MARQ", "one", fit_line(1, "MK-G30", quantity=4), fit_line(2, "OF-W8", done_on=TODAY),
        fit_line(3, "OF-W10", from_stock="0999"),
        PlanLine(plan="-", number=4, action=PlanAction.SET_REGULATOR, place="RX-A", set_v=5.9),
        PlanLine(plan="-", number=5, action=PlanAction.CHANGE_LEAD, place="ELE-L", awg=20, quantity=2),
    )  # fmt: skip
    second = planned("ALB5", "two", fit_line(1, "MK-G30", quantity=2), fit_line(2, "MK-G40"))
    needs = {need.part_type: need for need in needs_of([first.aircraft, second.aircraft], first.library)}
    # Four and two wanted, one in the bay: five to buy at 84.
    assert (needs["MK-G30"].to_buy, needs["MK-G30"].cost) == (5, 420)
    assert needs["MK-G30"].reasons == ("one", "two")
    assert needs["MK-G30"].supplier == "Counter"
    # One for the plan and two that the bay shall hold, one there: two to buy.
    need = needs["MK-G40"]
    assert (need.wanted, need.kept, need.taken, need.to_buy) == (1, 2, 1, 2)
    # Lines that are done, take a tagged part or only set something need nothing.
    assert set(needs) == {"MK-G30", "MK-G40", "lead, 20 AWG"}


def test_the_list_for_one_aircraft_leaves_the_minimum_of_the_bay_out() -> None:
    case = planned("ALB5", "two", fit_line(1, "MK-G40"))
    needs = {need.part_type: need for need in needs_of([case.aircraft], case.library)}
    assert needs["MK-G40"].to_buy == 0


def test_the_shopping_list_goes_by_supplier_and_may_hide_prices(tmp_path: Path) -> None:
    cases = [planned("MARQ", "one", fit_line(1, "MK-G30", quantity=6))]
    words = words_of("shopping", cases, tmp_path)
    assert "Counter" in words
    assert "420" in words
    without = words_of("shopping", cases, tmp_path, SheetStyle(prices=False))
    assert "420" not in without
    assert "Each" not in without
    assert "Nothing is to be bought" in words_of("shopping", [demo_case("DUNN")], tmp_path)


def test_an_unknown_price_is_named_and_not_counted_as_nothing(tmp_path: Path) -> None:
    case = planned("CIND", "P", fit_line(1, "AA-1", price=10.0), fit_line(2, "BB-2"))
    words = "10 in all, without servo BB-2, whose price is not known."
    assert words in words_of("shopping", [case], tmp_path)


def test_a_passport_keeps_prices_and_own_details_back_when_told(tmp_path: Path) -> None:
    case = demo_case("MARQ")
    whole = words_of("passport", [case], tmp_path)
    for word in ("LK-8841-B", "LMFC 0482", "890", "built from the kit"):
        assert word in whole
    bare = words_of("passport", [case], tmp_path, SheetStyle(prices=False, own_details=False))
    for word in ("LK-8841-B", "LMFC 0482", "890", "built from the kit", "Price", "Sallow Down"):
        assert word not in bare
    assert "0201 TS-90G" in bare


def test_the_fleet_overview_has_a_row_for_each_aircraft(tmp_path: Path) -> None:
    words = words_of("fleet", list(demo_cases()), tmp_path, SheetStyle(club="Larkenholt Model Flying Club"))
    assert "Larkenholt Model Flying Club" in words
    for case in demo_cases():
        frame = case.aircraft.airframe
        assert re.search(rf"{frame.name} \({frame.code}\)", words)
    assert "never proved" in words or "proved 20" in words


def test_sheets_speak_the_keepers_units(tmp_path: Path) -> None:
    style = SheetStyle(units=IMPERIAL)
    words = words_of("build", [demo_case("DUNN")], tmp_path, style)
    assert "ozf·in" in words
    assert "N·m" not in words.replace(style.conversions, "")


def test_a_spare_pack_is_on_the_card_of_the_whole_fleet_only(tmp_path: Path) -> None:
    spare = Pack(tag="SP9", pack_type="IO-30")
    library = replace(demo_case("SISK").library, spare_packs={"SP9": spare})
    cases = [replace(case, library=library) for case in demo_cases()]
    assert "SP9" in words_of("charging", cases, tmp_path)
    assert "SP9" in words_of("labels", cases, tmp_path)
    assert "SP9" not in words_of("charging", cases[:1], tmp_path)


def test_many_packs_of_an_unusual_kind_are_all_on_the_card(tmp_path: Path) -> None:
    words = re.sub(r"\W", "", words_of("charging", [crowded_case()], tmp_path))
    assert all(f"PACKLONGTAG{number}" in words for number in range(1, 5))
    assert Chemistry.LI_ION.replace("-", "") in words


def test_a_piece_longer_than_any_length_sold_is_named_and_not_lost(tmp_path: Path) -> None:
    case = demo_case("DUNN")
    fit = case.aircraft.fits[0]
    assert fit.lead is not None
    # (5200 + 50) x 1.10 = 5775 mm of sleeve; five metres is the longest length sold.
    long = replace(fit, lead=replace(fit.lead, length_mm=5300.0, exposed_mm=5200.0))
    aircraft = replace(case.aircraft, fits=(long, *case.aircraft.fits[1:]))
    words = words_of("cuts", [case.judged(replace(case.survey, aircraft=aircraft))], tmp_path)
    assert "no length sold is long enough for 5775 mm" in words
    assert "no length sold" not in words_of("cuts", [case], tmp_path)


def test_every_cut_is_drawn_with_its_length(tmp_path: Path) -> None:
    words = words_of("cuts", [demo_case("DUNN")], tmp_path)
    # Four pieces of 187 mm from a metre leave 252 mm.
    assert "187 187 187 187 left 252" in words


def test_the_cut_list_buys_no_less_than_its_pieces_and_totals_them() -> None:
    for case in [*demo_cases(), crowded_case()]:
        cuts = lead_cuts(case.aircraft)
        for name, (wanted, best) in cuttings(cuts).items():
            pieces = Counter(piece for bar in best.bars for piece in bar.pieces_mm)
            assert pieces == Counter(wanted), name
            assert best.bought_mm - best.waste_mm == sum(wanted)
        counted = sum(lead.pieces for lead in leads_to_buy(cuts))
        assert counted == sum(cut.buy_mm > 0 for cut in cuts)
        assert len(cuts) == sum(fit.lead is not None for fit in case.aircraft.fits)
        for cut in cuts:
            # Own lead and what is bought reach as far as the run asks for.
            assert (cut.own_mm or 0.0) + cut.buy_mm >= cut.needed_mm - 1e-9


def test_the_overview_of_a_large_fleet_names_one_revision_for_all_and_breaks_no_count(tmp_path: Path) -> None:
    def numbered(number: int) -> SheetCase:
        case = demo_cases()[number % 8]
        frame = replace(case.aircraft.airframe, code=f"C{number:03}")
        aircraft = replace(case.aircraft, airframe=frame)
        return case.judged(replace(case.survey, aircraft=aircraft), findings=case.findings * 4)

    cases = [numbered(number) for number in range(40)]
    write_sheet("fleet", cases, tmp_path / "fleet.pdf", SheetStyle())
    words = text_of(tmp_path / "fleet.pdf")
    assert re.search(r"revision of all [0-9a-f]{6}\b", " ".join(words[0].split()))
    counts = {str(len(open_at(case.findings, Level.CAUTION))) for case in cases}
    assert max(map(len, counts)) == 2
    assert all(re.search(rf"(?m)(^| ){count}( |$)", words[0]) for count in counts if len(count) == 2)


def test_a_plan_that_pulls_the_bus_down_is_forbidden_in_the_first_line(tmp_path: Path) -> None:
    words = words_of("build", [demo_case("ALB5")], tmp_path)
    why = "Receiver RX gets 2.3 V at peak current; it works down to 3.5 V."
    assert f"DO NOT FIT MK-G40 at RUD: {why}" in words
    assert words.index("DO NOT FIT") < words.index("Old against new") < words.index("Parts and work")
    assert "or more at 2.1 V" not in words
    assert "N·m at 2.1 V" not in words.partition("Findings after this plan")[0]
    for code in ("PERT", "CIND", "MER60"):
        assert "DO NOT FIT" not in words_of("build", [demo_case(code)], tmp_path)


def test_a_bus_that_would_fall_below_its_limit_says_so_on_the_bench_check(tmp_path: Path) -> None:
    case = demo_case("CIND")
    aircraft = case.aircraft
    needy = tuple(replace(receiver, supply_min_v=6.5) for receiver in aircraft.receivers)
    words = words_of("bench", [case_of(replace(aircraft, receivers=needy, plans=()))], tmp_path)
    # 6.5 V and half a volt of reserve; the bus is computed at less.
    assert re.search(r"lowest, all packs 6\.\d+ V, \w+ OUT 7 V or more", words)
    assert "OUT" not in words_of("bench", [case], tmp_path).split("Measured beside")[0].split("B6 ")[0]
