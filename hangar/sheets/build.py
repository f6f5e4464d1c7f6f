"""The build sheet: what comes off, what goes on, how it is set, and what the rules say afterwards."""

from __future__ import annotations

from hangar.base.errors import BadInput
from hangar.base.figure import Figure
from hangar.parts import Aircraft, Library, Plan, PlanLine, ServoFit, ServoType, after_plan
from hangar.parts.choices import PlanState
from hangar.rules import inspect
from hangar.rules.finding import Finding
from hangar.sheets.kit import FILL, TICK, Cell, Sheet
from hangar.sheets.parts_of_sheet import (
    SheetCase,
    channel_key,
    date_words,
    figure_or_dash,
    findings_table,
    foot_of,
    head,
    needs_load,
    release_line,
    throw_words,
)
from hangar.sheets.plan_view import draw_plan_view
from hangar.survey import Scenario, Survey, survey
from hangar.survey.model import PositionSurvey

_DONE = (PlanState.DROPPED, PlanState.FLOWN_IN)


def draw_build_sheet(sheet: Sheet, case: SheetCase) -> None:
    """Draw one build sheet for each plan that is under way, or one of the aircraft as it is."""
    open_plans: list[Plan | None] = [plan for plan in case.aircraft.plans if plan.state not in _DONE]
    for plan in open_plans or [None]:
        _draw(sheet, case, plan)


def _draw(sheet: Sheet, case: SheetCase, plan: Plan | None) -> None:
    frame = case.aircraft.airframe
    title = f"BUILD SHEET: {plan.title}" if plan else "BUILD SHEET: as it is fitted"
    sheet.begin(
        f"{frame.code} build sheet{f', {plan.title}' if plan else ''}",
        f"{frame.name} ({frame.code}), build sheet",
        foot_of(case, "build"),
    )
    head(sheet, case, title)
    release_line(sheet, case)
    after, judged = case.survey, case.findings
    if plan:
        _plan_words(sheet, plan)
        planned = _planned(sheet, case, plan)
        if planned is not None:
            after = survey(planned, case.survey.conditions)
            judged = inspect(planned, after, case.thresholds, sheet.style.units, case.library)
            _old_and_new(sheet, case.survey, after)
            _supply_change(sheet, case.survey, after)
        _work(sheet, case, plan)
    _positions(sheet, after)
    _power(sheet, after)
    _settings(sheet, after.aircraft)
    _findings(sheet, judged, planned=after is not case.survey)
    sheet.heading("Signed off")
    sheet.blanks(["Fitted by", "Checked by (another person)", "Date"])


def _plan_words(sheet: Sheet, plan: Plan) -> None:
    words = [f"Plan {plan.code}, {plan.state}.", plan.purpose or "", plan.note or ""]
    if plan.target_bus_v:
        words.append(f"Bus wanted: {sheet.style.show(plan.target_bus_v, 'V')}.")
    sheet.gap(1.0)
    sheet.write(" ".join(word for word in words if word))


def _planned(sheet: Sheet, case: SheetCase, plan: Plan) -> Aircraft | None:
    try:
        return after_plan(case.aircraft, plan, case.library)
    except BadInput as fault:
        sheet.write(f"The plan cannot be worked through: {fault}", bold=True)
        return None


def _old_and_new(sheet: Sheet, before: Survey, after: Survey) -> None:
    changed = [
        (old, new)
        for old, new in zip(before.aircraft.fits, after.aircraft.fits, strict=True)
        if old.servo != new.servo
    ]
    if not changed:
        return
    sheet.heading("Old against new, at the volts each servo really gets at peak load")
    rows: list[list[Cell]] = []
    for old, new in changed:
        rows.append(_one_side(sheet, old, before.positions[old.code], "old", old.position.name))
        rows.append(_one_side(sheet, new, after.positions[new.code], "new", ""))
    sheet.table(
        [
            "Position",
            "",
            "Servo",
            "Volts",
            "Torque",
            "60°",
            "Per degree near centre",
            "Needs",
            "Margin",
            "Stall",
        ],
        [26, 9, 28, 13, 19, 13, 21, 19, 13, 13],
        rows,
    )
    sheet.write(
        "Needs: the load expected at the servo arm, an estimate whose band stands under Positions; margin: "
        "torque divided by that load."
    )
    _prices(sheet, changed)


def _one_side(sheet: Sheet, fit: ServoFit, figures: PositionSurvey, side: str, name: str) -> list[Cell]:
    style, load = sheet.style, figures.load_nm
    volts = figures.servo_v.get(Scenario.PEAK)
    needed = style.figure(load)
    stiffness = figures.stiffness_nm_deg
    return [
        name,
        side,
        _tag_and_type(fit.tag, fit.servo_type.code) if fit.servo_type else "-",
        style.figure(volts),
        style.figure(figures.torque_nm),
        None if figures.transit_s is None else f"{figures.transit_s.expected:.3f} s",
        style.show(stiffness.expected, "N m") if stiffness else None,
        needed if needed or needs_load(fit) else "-",
        figure_or_dash(sheet, figures.margin, needed=needs_load(fit)),
        style.figure(figures.stall_a),
    ]


def _tag_and_type(tag: str | None, code: str) -> str:
    """Tag and type; a part still to be bought has its type in its tag already."""
    return tag if tag and tag.endswith(code) else f"{tag or '-'} {code}"


def _prices(sheet: Sheet, changed: list[tuple[ServoFit, ServoFit]]) -> None:
    mass = sum(_mass(new.servo_type) - _mass(old.servo_type) for old, new in changed)
    moment = sum(
        (_mass(new.servo_type) - _mass(old.servo_type)) * (new.position.balance_arm_mm or 0.0)
        for old, new in changed
    )
    known = all(new.position.balance_arm_mm is not None for _, new in changed)
    words = f"Mass change of the servos: {mass:+.0f} g."
    if known:
        words += f" Moment about the balance datum: {moment:+.0f} g mm."
    sheet.write(words + " Measure the balance again after the refit.")


def _mass(kind: ServoType | None) -> float:
    return (kind.mass_g or 0.0) if kind else 0.0


def _supply_change(sheet: Sheet, before: Survey, after: Survey) -> None:
    rows: list[list[Cell]] = []
    for name, get in _SUPPLY_ROWS:
        old, new = get(before), get(after)
        rows.append([name, sheet.style.figure(old), sheet.style.figure(new)])
    sheet.heading("Supply before and after")
    sheet.table(["", "Before", "After"], [80, 45, 45], rows)


def _case_figure(surveyed: Survey, scenario: Scenario, name: str) -> Figure | None:
    found = surveyed.scenarios.get(scenario)
    value = getattr(found, name) if found else None
    return value if isinstance(value, Figure) else None


_SUPPLY_ROWS = (
    ("Pack, full, fresh off charge", lambda s: s.supply.full_v),
    ("Bus, highest", lambda s: s.supply.bus_full_v),
    ("Bus at peak load", lambda s: _case_figure(s, Scenario.PEAK, "bus_v")),
    ("Bus at peak load, cold pack", lambda s: _case_figure(s, Scenario.COLD, "bus_v")),
    ("Bus at peak load, one path lost", lambda s: _case_figure(s, Scenario.ONE_LOST, "bus_v")),
    ("Current at peak", lambda s: s.supply.peak_a),
    ("Current on average", lambda s: s.supply.mean_a),
    ("Endurance", lambda s: s.supply.endurance_min),
)


def _work(sheet: Sheet, case: SheetCase, plan: Plan) -> None:
    sheet.heading("Parts and work")
    free: dict[str, float] = {}
    rows: list[list[Cell]] = []
    for line in plan.lines:
        price = "-" if line.price is None else f"{line.price * line.quantity:g}"
        hours = "-" if line.hours_h is None else f"{line.hours_h:g} h"
        done: Cell = f"{line.done_on}" if line.done_on else TICK
        source = _source(case.library, line, free)
        what = _what(sheet, line)
        rows.append(
            [str(line.number), line.place or "-", what, f"{line.quantity}", source, price, hours, done]
        )
    total = sum((line.price or 0.0) * line.quantity for line in plan.lines)
    hours_h = sum(line.hours_h or 0.0 for line in plan.lines)
    rows.append(["", "", "Together", "", "", f"{total:g}", f"{hours_h:g} h", ""])
    sheet.table(
        ["", "Place", "What", "Qty", "From", "Price", "Work", "Done"], [7, 18, 56, 10, 30, 16, 16, 21], rows
    )


def _what(sheet: Sheet, line: PlanLine) -> str:
    words = [line.action.value, line.part_type or ""]
    if line.awg:
        words.append(f"to {line.awg} AWG")
    if line.arm_mm:
        words.append(f"to {sheet.style.show(line.arm_mm, 'mm')}")
    if line.set_v:
        words.append(f"set to {sheet.style.show(line.set_v, 'V')}")
    return " ".join(word for word in words if word)


def _source(library: Library, line: PlanLine, free: dict[str, float]) -> str:
    """Where a part comes from; ``free`` counts down what lies in the bay over the lines."""
    if line.from_stock or not line.part_type or line.done_on:
        return line.from_stock or "-"
    left = free.setdefault(line.part_type, library.stocked(line.part_type))
    taken = min(left, line.quantity)
    free[line.part_type] = left - taken
    bought = line.quantity - taken
    words = [f"{taken:g} from the bay"] if taken else []
    return ", ".join([*words, f"{bought:g} to buy"] if bought else words)


def _positions(sheet: Sheet, after: Survey) -> None:
    sheet.heading("Positions", keep_mm=95.0)
    draw_plan_view(sheet, after.aircraft, 78.0)
    fits = sorted(after.aircraft.fits, key=channel_key)
    numbers = {fit.code: number for number, fit in enumerate(after.aircraft.fits, start=1)}
    sheet.table(
        ["Dot", "Ch", "Function", "Servo", "Arm", "Horn", "Lead", "Throw", "Load, band", "Screws", ""],
        [8, 7, 27, 29, 14, 12, 22, 26, 30, 15, 6],
        [_position_row(sheet, fit, after.positions[fit.code], numbers[fit.code]) for fit in fits],
    )


def _position_row(sheet: Sheet, fit: ServoFit, figures: PositionSurvey, number: int) -> list[Cell]:
    style, stay, link, lead = sheet.style, fit.installation, fit.linkage, fit.lead
    teeth = f"{stay.arm_teeth}T " if stay and stay.arm_teeth else ""
    arm = style.show(link.arm_mm, "mm") if link else None
    gauge = f"/{lead.awg} AWG" if lead and lead.awg else ""
    screws = f"{stay.screws_fitted} of {stay.screws_of}" if stay and stay.screws_fitted is not None else None
    return [
        str(number),
        str(fit.position.channel) if fit.position.channel is not None else FILL,
        fit.position.name,
        _tag_and_type(fit.tag, fit.servo_type.code) if fit.servo_type else None,
        f"{teeth}{arm}" if arm else (teeth or None),
        style.show(link.horn_mm, "mm") if link and link.horn_mm else "-",
        f"{style.show(lead.length_mm, 'mm')}{gauge}" if lead else None,
        throw_words(sheet, fit),
        style.band(figures.load_nm) or (None if needs_load(fit) else "-"),
        screws,
        TICK,
    ]


def _power(sheet: Sheet, after: Survey) -> None:
    sheet.heading("Power")
    style = sheet.style
    rows: list[list[Cell]] = []
    for path in after.aircraft.paths:
        packs = ", ".join(_tag_and_type(fed.pack.tag, fed.pack_type.code) for fed in path.packs)
        switch, regulator = path.switch_type, path.regulator_type
        setting = style.show(path.regulator.set_v, "V") if path.regulator else None
        lead = f"{style.show(path.feed.lead_length_mm, 'mm')}/{path.feed.lead_awg} AWG"
        rows.append(
            [
                path.feed.code,
                str(path.feed.role),
                packs or FILL,
                switch.code if switch else "none",
                f"{regulator.code} at {setting or '____'}" if regulator else "direct",
                lead if path.feed.lead_length_mm and path.feed.lead_awg else None,
            ]
        )
    sheet.table(["Path", "Feeds", "Packs", "Switch", "Regulator", "Lead"], [18, 24, 46, 26, 34, 24], rows)


def _settings(sheet: Sheet, aircraft: Aircraft) -> None:
    channels = sorted(aircraft.channels, key=lambda each: (each.port, each.number))
    if not channels:
        return
    sheet.heading("Settings of the transmitter and gyro")
    show = sheet.style.show
    rows: list[list[Cell]] = [
        [
            str(each.number),
            str(each.function),
            {True: "yes", False: "no", None: None}[each.reverse],
            show(each.centre_us, "us"),
            f"{each.travel_low_pct:g} / {each.travel_high_pct:g} %"
            if each.travel_low_pct is not None and each.travel_high_pct is not None
            else None,
            show(each.expo_pct, "%"),
            show(each.rate_hz, "Hz"),
            str(each.failsafe) if each.failsafe else None,
            date_words(each.failsafe_proved_on),
        ]
        for each in channels
    ]
    sheet.table(
        ["Ch", "Function", "Reverse", "Centre", "Travel", "Expo", "Rate", "On lost signal", "Proved"],
        [9, 28, 17, 18, 26, 15, 16, 25, 22],
        rows,
    )


def _findings(sheet: Sheet, findings: tuple[Finding, ...], *, planned: bool) -> None:
    sheet.heading("Findings after this plan" if planned else "Findings")
    if findings:
        findings_table(sheet, findings, with_remedy=True)
    else:
        sheet.write("No open warnings on the data entered, and nothing else was found.")
