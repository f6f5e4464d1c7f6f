"""The build sheet: what comes off, what goes on, how it is set, and what the rules say afterwards."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace

from hangar.answers.case import planned_case
from hangar.answers.judging import Difference
from hangar.answers.needs import open_plans
from hangar.answers.outputs import by_channel, channel_words
from hangar.answers.readings_beside import readings_beside
from hangar.base.errors import BadInput
from hangar.base.kept_text import said_in
from hangar.base.text import NOTHING, Text, joined, series, text
from hangar.parts import Aircraft, Plan, PlanLine, ServoFit
from hangar.parts.failsafe import is_set_wrong
from hangar.parts.protection import lead_cuts
from hangar.rules import Finding
from hangar.rules.finding import Level
from hangar.rules.forbidding import forbidding, parts_brought
from hangar.sheets.build_changes import balance_change, old_and_new, parts_and_work, supply_change
from hangar.sheets.case import SheetCase
from hangar.sheets.cut_tables import lead_table
from hangar.sheets.failsafe_words import setting_words
from hangar.sheets.findings_part import all_findings, findings_table
from hangar.sheets.fit_words import needs_load, servo_words, throw_words, yes_no
from hangar.sheets.kit import FILL, TICK, Cell, Sheet, heads
from hangar.sheets.linkage_drawing import draw_linkages
from hangar.sheets.measured_table import MEASURED_TITLE, measured_table
from hangar.sheets.photo_drawing import draw_photo
from hangar.sheets.plan_view import draw_plan_view
from hangar.sheets.sheet_head import foot_of, head, release_line, running_head
from hangar.sheets.style import BASIS_LEGEND, SheetStyle
from hangar.sheets.supply_drawing import draw_supply
from hangar.sheets.wiring_drawing import draw_wiring
from hangar.survey import Survey
from hangar.survey.model import PositionSurvey

_PLAN_VIEW_MM = 78.0
_PHOTO_MM, _PHOTO_HIGH_MM = 70.0, 42.0


def draw_build_sheet(sheet: Sheet, case: SheetCase) -> None:
    """Draw one build sheet for each plan that is under way, or one of the aircraft as it is."""
    plans: list[Plan | None] = [*open_plans(case.aircraft)]
    for plan in plans or [None]:
        _draw(sheet, case, plan)


def _draw(sheet: Sheet, case: SheetCase, plan: Plan | None) -> None:
    frame = case.aircraft.airframe
    title = text("BUILD SHEET: {title}", title=plan.title) if plan else text("BUILD SHEET: as it is fitted")
    sheet.begin(
        series([text("{code} build sheet", code=frame.code), *([plan.title] if plan else [])], ","),
        running_head(case, text("build sheet")),
        foot_of([case], "build"),
        answers=f"{frame.code} {plan.code if plan else ''}",
    )
    head(sheet, case, title)
    after, fault = _planned(case, plan) if plan else (case, NOTHING)
    if plan and after is not case:
        _do_not_fit(sheet, case, after, plan)
    release_line(sheet, case)
    if plan and after is not case:
        _verdict(sheet, case, after, plan)
    draw_photo(sheet, case.photo, _PHOTO_MM, _PHOTO_HIGH_MM)
    if plan:
        _plan_words(sheet, plan)
        if fault:
            sheet.write(text("The plan cannot be worked through: {fault}", fault=fault), bold=True)
        if after is not case:
            old_and_new(sheet, case.survey, after.survey)
            supply_change(sheet, case.survey, after.survey)
            balance_change(sheet, case.survey, after.survey)
        parts_and_work(sheet, case.library, plan)
    _as_built(sheet, case, after)
    sheet.heading(text("Findings after this plan") if after is not case else text("Findings"))
    all_findings(sheet, after.findings)
    if after is not case and case.findings:
        sheet.heading(text("Findings today, before this plan"))
        findings_table(sheet, case.findings, with_remedy=False)
    sheet.heading(MEASURED_TITLE)
    measured_table(sheet, readings_beside(case.survey, case.thresholds))
    sheet.heading(text("Signed off"))
    sheet.blanks(heads("Fitted by", "Checked by (another person)", "Date"))


def _verdict(sheet: Sheet, case: SheetCase, after: SheetCase, plan: Plan) -> None:
    """What the plan comes to, on the first page: what it clears, what it brings, and what stays open."""
    change = Difference.between(case.findings, after.findings)

    def warnings(findings: Iterable[Finding]) -> int:
        return sum(finding.level is Level.WARNING and finding.is_open for finding in findings)

    remaining = warnings(after.findings)
    sheet.banner(
        text(
            "Plan {code}: warnings today {today}, after it {left}; findings cleared {gone}, brought {new}.",
            code=plan.code,
            today=warnings(case.findings),
            left=remaining,
            gone=len(change.gone),
            new=len(change.new),
        ),
        dark=remaining > 0,
    )


def _plan_words(sheet: Sheet, plan: Plan) -> None:
    words = [text("Plan {code}, {state}.", code=plan.code, state=plan.state)]
    words += [series([remark], "").as_sentence() for remark in (plan.purpose, said_in(plan.note)) if remark]
    if plan.begun_on:
        words.append(text("Begun {begun_on}.", begun_on=plan.begun_on))
    if plan.due_on:
        words.append(text("Due {due_on}.", due_on=plan.due_on))
    if plan.target_bus_v:
        words.append(
            text("Bus wanted: {target_bus_v}.", target_bus_v=sheet.style.show(plan.target_bus_v, "V"))
        )
    sheet.gap(1.0)
    sheet.write(joined(*words))


def _do_not_fit(sheet: Sheet, case: SheetCase, after: SheetCase, plan: Plan) -> None:
    """First of all: which parts must not be fitted, and why."""
    why = forbidding(case.findings, after.findings)
    if why:
        blamed = parts_brought(_to_blame(case, plan, why))
        parts = series((text("{part} at {place}", part=part, place=place) for part, place in blamed), ",")
        sheet.banner(
            text("DO NOT FIT {parts}: {why}", parts=parts, why=joined(*(finding.message for finding in why))),
            dark=True,
        )


def _to_blame(case: SheetCase, plan: Plan, why: tuple[Finding, ...]) -> list[PlanLine]:
    """The lines without any one of which the plan would do; all of them where it takes several."""
    lines = [line for line in plan.lines if parts_brought([line])]
    rules = {finding.rule for finding in why}
    rows = []
    for line in lines if len(lines) > 1 else ():
        remaining = tuple(plan_line for plan_line in plan.lines if plan_line is not line)
        without, _ = _planned(case, replace(plan, lines=remaining))
        if without is not case and not rules & {
            finding.rule for finding in forbidding(case.findings, without.findings)
        }:
            rows.append(line)
    return rows or lines


def _planned(case: SheetCase, plan: Plan) -> tuple[SheetCase, Text]:
    """The aircraft after the plan; as it is, and the reason, where the plan cannot be worked through."""
    try:
        return planned_case(case, plan), NOTHING
    except BadInput as fault:
        return case, fault.text


def _as_built(sheet: Sheet, case: SheetCase, after: SheetCase) -> None:
    surveyed, aircraft = after.survey, after.aircraft
    _positions(sheet, surveyed)
    if aircraft.fits:
        sheet.heading(
            text("Linkages, to scale: thick at neutral, thin at full throw; long rods are drawn short")
        )
        draw_linkages(sheet, surveyed)
        _fixings(sheet, case.aircraft, aircraft)
    sheet.heading(text("Power"))
    draw_supply(sheet, surveyed)
    draw_wiring(sheet, aircraft)
    _settings(sheet, aircraft)
    cuts = lead_cuts(aircraft)
    if cuts:
        sheet.heading(text("Leads: measure each run with a string and cut by the longer"))
        lead_table(sheet, cuts)


def _positions(sheet: Sheet, after: Survey) -> None:
    sheet.heading(text("Positions"))
    fits = by_channel(after.aircraft)
    if not fits:
        sheet.write(text("No servo position is recorded for this aircraft."))
        return
    draw_plan_view(sheet, after.aircraft, _PLAN_VIEW_MM)
    numbers = {fit.code: number for number, fit in enumerate(after.aircraft.fits, start=1)}
    sheet.table(
        heads("Dot", "Ch", "Function", "Servo", "Arm", "Horn", "Lead", "Throw", "Load, band", ""),
        [8, 8, 31, 30, 16, 13, 22, 27, 33, 6],
        [_position_row(sheet.style, fit, after.positions[fit.code], numbers[fit.code]) for fit in fits],
    )
    sheet.write(
        text(
            "Load: at the servo arm, estimated. {conversions} {legend}",
            conversions=sheet.style.conversions,
            legend=BASIS_LEGEND,
        )
    )


def _position_row(style: SheetStyle, fit: ServoFit, figures: PositionSurvey, number: int) -> list[Cell]:
    stay, link, lead = fit.installation, fit.linkage, fit.lead
    teeth = [text("{teeth}T", teeth=stay.arm_teeth)] if stay and stay.arm_teeth else []
    arm = style.show(link.arm_mm, "mm") if link else None
    gauge = f"/{lead.awg} AWG" if lead and lead.awg else ""
    return [
        str(number),
        channel_words(fit),
        fit.position.name,
        servo_words(fit),
        series([*teeth, *([arm] if arm else [])], "") or None,
        style.show(link.horn_mm, "mm") if link and link.horn_mm else "-",
        f"{style.show(lead.length_mm, 'mm')}{gauge}" if lead else None,
        throw_words(style, fit, both=True),
        style.band(figures.load_nm) or (None if needs_load(fit) else "-"),
        TICK,
    ]


def _fixings(sheet: Sheet, before: Aircraft, after: Aircraft) -> None:
    """How each servo is held; of one that is only planned nothing is held yet."""
    fitted = {fit.code: fit.installation for fit in before.fits}
    sheet.heading(text("Fixings: count and tick"))
    sheet.table(
        heads("Position", "Screws", "Grommets", "Arm screw", "Thread lock", "Stop clear", ""),
        [50, 24, 28, 26, 28, 26, 6],
        [_fixing_row(fit, planned=fit.installation != fitted.get(fit.code)) for fit in by_channel(after)],
    )


def _fixing_row(fit: ServoFit, *, planned: bool) -> list[Cell]:
    stay = fit.installation
    # What a plan assumes of a servo to come is a promise, not a look at it.
    if planned and stay is not None:
        stay = replace(stay, screws_fitted=None, grommets_fitted=None, arm_screw=None, arm_screw_locked=None)

    def count(fitted: int | None, of: int | None) -> Cell:
        if planned:
            return None if of is None else text("{fitted} of {count}", fitted="__", count=of)
        return (
            None
            if fitted is None
            else text("{fitted} of {count}", fitted=fitted, count="__" if of is None else of)
        )

    def answer(value: bool | None) -> Cell:
        return None if value is None else text("yes") if value else text("NO")

    return [
        fit.position.name,
        count(stay.screws_fitted, stay.screws_of) if stay else None,
        count(stay.grommets_fitted, stay.grommets_of) if stay else None,
        answer(stay.arm_screw) if stay else None,
        answer(stay.arm_screw_locked) if stay else None,
        FILL,
        TICK,
    ]


def _settings(sheet: Sheet, aircraft: Aircraft) -> None:
    channels = sorted(aircraft.channels, key=lambda channel: (channel.port, channel.number))
    if not channels:
        return
    sheet.heading(text("Settings of the transmitter and gyro"))
    show = sheet.style.show
    rows: list[list[Cell]] = [
        [
            str(channel.number),
            channel.function,
            yes_no(channel.reverse),
            show(channel.centre_us, "us"),
            text("{low:g} / {high:g} %", low=channel.travel_low_pct, high=channel.travel_high_pct)
            if channel.travel_low_pct is not None and channel.travel_high_pct is not None
            else None,
            show(channel.expo_pct, "%"),
            show(channel.rate_hz, "Hz"),
            setting_words(channel),
            text("no proof") if is_set_wrong(channel) else channel.failsafe_proved_on,
        ]
        for channel in channels
    ]
    sheet.table(
        heads("Ch", "Function", "Reverse", "Centre", "Travel", "Expo", "Rate", "No signal", "Proved"),
        [9, 28, 17, 18, 26, 15, 16, 20, 27],
        rows,
    )
    for unit in aircraft.stabilisers:
        pulse, rate = show(unit.pulse_us, "us") or "____", show(unit.rate_hz, "Hz") or "____"
        sheet.write(
            text(
                "Gyro {code}: pulse {pulse}, rate {rate}, gain ____, direction proved ____",
                code=unit.code,
                pulse=pulse,
                rate=rate,
            )
        )
