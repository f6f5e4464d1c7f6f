"""What a refit changes: old against new, the supply, mass and balance, parts and work with their cost."""

from __future__ import annotations

from collections.abc import Callable

from hangar.base.figure import Figure
from hangar.base.text import NOTHING, Arg, Text, joined, series, text
from hangar.parts import Library, Plan, PlanLine, ServoFit, ServoType, StockItem
from hangar.sheets.fit_words import figure_or_dash, needs_load, tag_and_type
from hangar.sheets.kit import TICK, Cell, Sheet, heads
from hangar.sheets.style import SheetStyle
from hangar.survey import Scenario, Survey
from hangar.survey.airframe import balance_after
from hangar.survey.brown_out import brown_out
from hangar.survey.energy import PEAK_ASKED
from hangar.survey.model import PositionSurvey
from hangar.survey.old_and_new import PEAK_DRAWN, without_volts


def old_and_new(sheet: Sheet, before: Survey, after: Survey) -> None:
    """Two tables: torque, speed and hold of each servo that changes, then its currents, mass and price."""
    changed = [
        (old, new)
        for old, new in zip(before.aircraft.fits, after.aircraft.fits, strict=True)
        if old.servo != new.servo
    ]
    if not changed:
        return
    sheet.heading(text("Old against new, at the volts each servo really gets at peak load"))
    sheet.table(
        heads("Position", "", "Servo", "Volts", "Torque", "60°", "At 1° of error", "Needs", "Control left",
         "Full throw to"),
        [24, 9, 26, 13, 23, 14, 20, 18, 13, 16],
        _both_sides(sheet.style, changed, before, after, _strength),
        together=2,
    )  # fmt: skip
    sheet.write(
        text(
            "At 1° of error: the torque there, pushed off by a degree. Needs: the load expected at the servo "
            "arm, an estimate whose band stands under Positions. Control left: the part of the deflection "
            "wanted that is held where least is (torque over load on a rotor). Full throw to: the air speed "
            "up to which all of it is."
        )
    )
    names = heads("Position", "", "Servo", "At rest", "Running", "Stalled", "Lead drop", "Mass")
    shares: list[float] = [30, 9, 34, 20, 20, 20, 20, 18]
    if sheet.style.prices:
        names, shares = [*names, text("Price")], [*shares, 18]
    sheet.gap(1.0)
    sheet.table(names, shares, _both_sides(sheet.style, changed, before, after, _currents), together=2)
    if brown_out(before) is not None or brown_out(after) is not None:
        sheet.write(
            text("No strength, speed or current is given where the bus fails: no rating holds there.")
        )


_Side = Callable[[SheetStyle, ServoFit, PositionSurvey], list[Cell]]


def _both_sides(
    style: SheetStyle, changed: list[tuple[ServoFit, ServoFit]], before: Survey, after: Survey, side: _Side
) -> list[list[Cell]]:
    rows: list[list[Cell]] = []
    fails = [brown_out(survey) is not None for survey in (before, after)]
    for old, new in changed:
        for fit, surveyed, failing, word, name in (
            (old, before, fails[0], text("old"), old.position.name),
            (new, after, fails[1], text("new"), ""),
        ):
            servo = tag_and_type(fit.tag, fit.servo_type.code) if fit.servo_type else "-"
            figures = surveyed.positions[fit.code]
            cells = side(style, fit, without_volts(figures) if failing else figures)
            # A dash, not a box to fill: there is nothing to find out as long as the bus fails.
            rows.append([name, word, servo, *("-" if failing and cell is None else cell for cell in cells)])
    return rows


def _strength(style: SheetStyle, fit: ServoFit, figures: PositionSurvey) -> list[Cell]:
    stiffness, load = figures.torque_at_1_deg_nm, figures.load_nm
    return [
        style.figure(figures.delivered_v),
        _both(style, figures.torque_nm),
        None if figures.transit_s is None else text("{seconds:.3f} s", seconds=figures.transit_s.expected),
        style.show(stiffness.expected, "N m") if stiffness else None,
        figure_or_dash(style, load, needed=needs_load(fit)),
        figure_or_dash(style, figures.reserve, needed=needs_load(fit)),
        figure_or_dash(style, figures.full_to_m_s, needed=fit.function.is_surface),
    ]


def _both(style: SheetStyle, figure: Figure | None) -> str | None:
    return None if figure is None else style.both(figure.expected, figure.unit)


def _currents(style: SheetStyle, fit: ServoFit, figures: PositionSurvey) -> list[Cell]:
    kind = fit.servo_type
    cells: list[Cell] = [
        style.figure(figures.idle_a),
        style.figure(figures.run_a),
        style.figure(figures.stall_a),
        style.figure(figures.lead_drop_v),
        style.show(kind.mass_g, "g") if kind else "-",
    ]
    if style.prices:
        cells.append(style.price(kind.price) if kind else "-")
    return cells


def supply_change(sheet: Sheet, before: Survey, after: Survey) -> None:
    """Volts, currents and endurance before and after, with what each rests on."""
    style = sheet.style
    rows: list[list[Cell]] = [
        [name, *(_supply_words(style, name, get, survey) for survey in (before, after))]
        for name, get in _SUPPLY_ROWS
    ]
    sheet.heading(text("Supply before and after"))
    sheet.table(heads("", "Before", "After"), [80, 45, 45], rows)


def _supply_words(
    style: SheetStyle, name: Text, get: Callable[[Survey], Figure | None], surveyed: Survey
) -> Cell:
    """A figure with what it rests on; a dash where the aircraft has no such thing, a box if not known."""
    paths = surveyed.aircraft.radio_paths
    absent = (name == _ONE_LOST and len(paths) < 2) or (
        name == _HEAT and all(path.regulator is None for path in paths)
    )
    return "-" if absent else style.sourced(get(surveyed))


def _case_figure(surveyed: Survey, scenario: Scenario, name: str) -> Figure | None:
    survey = surveyed.scenarios.get(scenario)
    value = getattr(survey, name) if survey else None
    return value if isinstance(value, Figure) else None


def _greatest(figures: list[Figure]) -> Figure | None:
    return max(figures, key=lambda figure: figure.expected, default=None)


_ONE_LOST = text("Bus at peak load, one path lost")
_HEAT = text("Heat of a regulator alone, the greatest")
_SUPPLY_ROWS: tuple[tuple[Text, Callable[[Survey], Figure | None]], ...] = (
    (text("Pack, full, fresh off charge"), lambda s: s.supply.full_v),
    (text("Bus, highest"), lambda s: s.supply.bus_full_v),
    (text("Bus at peak load"), lambda s: _case_figure(s, Scenario.PEAK, "bus_v")),
    (text("Bus at peak load, cold pack"), lambda s: _case_figure(s, Scenario.COLD, "bus_v")),
    (_ONE_LOST, lambda s: _case_figure(s, Scenario.ONE_LOST, "bus_v")),
    (text("{what:^}", what=PEAK_ASKED), lambda s: s.supply.peak_a),
    (text("{what:^}", what=PEAK_DRAWN), lambda s: _case_figure(s, Scenario.PEAK, "total_a")),
    (text("Current on average"), lambda s: s.supply.mean_a),
    (text("Endurance"), lambda s: s.supply.endurance_min),
    (_HEAT, lambda s: _greatest(list(s.supply.path_alone_w.values()))),
)


def balance_change(sheet: Sheet, before: Survey, after: Survey) -> None:
    """Change of mass and moment of each servo, and the balance to be expected."""
    style = sheet.style
    rows: list[list[Cell]] = []
    for old, new in zip(before.aircraft.fits, after.aircraft.fits, strict=True):
        change = _change_g(old.servo_type, new.servo_type)
        if old.servo == new.servo:
            continue
        arm = new.position.balance_arm_mm
        moment = None if change is None or arm is None else text("{change:+.0f} g mm", change=change * arm)
        rows.append(
            [
                new.position.name,
                None if change is None else text("{change:+.0f} g", change=change),
                style.show(arm, "mm"),
                moment,
            ]
        )
    if not rows:
        return
    balance, missing = balance_after(before.aircraft, after.aircraft)
    sheet.heading(text("Mass and balance"))
    sheet.table(heads("Servo at", "Change of mass", "Behind the datum", "Moment"), [60, 36, 36, 38], rows)
    more = [text("and {count} more", count=len(missing) - 4)] if len(missing) > 4 else []
    lacking = text("Not known: {what}.", what=series([*missing[:4], *more], ",")) if missing else NOTHING
    expected = text("Balance to be expected: {balance}.", balance=style.sourced(balance) or "________")
    ballast = text(
        "Ballast and place: ________. Weigh and balance again after the refit, packs and regulators included."
    )
    sheet.write(joined(expected, lacking, ballast))


def _change_g(old: ServoType | None, new: ServoType | None) -> float | None:
    """What the change adds; an empty position weighs nothing, an unknown mass leaves it unknown."""
    masses = [0.0 if kind is None else kind.mass_g for kind in (old, new)]
    if masses[0] is None or masses[1] is None:
        return None
    return masses[1] - masses[0]


def parts_and_work(sheet: Sheet, library: Library, plan: Plan) -> None:
    """What to take and do, line by line, with its price and hours, and their sums."""
    style = sheet.style
    sheet.heading(text("Parts and work"))
    free: dict[str, float] = {}
    rows: list[list[Cell]] = []
    for line in plan.lines:
        hours = None if line.hours_h is None else text("{hours_h:g} h", hours_h=line.hours_h)
        done: Cell = line.done_on or TICK
        price = [style.price(None if line.price is None else line.price * line.quantity)]
        rows.append(
            [
                str(line.number),
                line.place or "-",
                what_words(style, line),
                line.quantity,
                _source(library, line, free),
                *(price if style.prices else []),
                hours,
                done,
            ]
        )
    rows.append(_sum_row(style, plan))
    price_head = heads("Price") if style.prices else []
    names = [*heads("", "Place", "What", "Qty", "From"), *price_head, *heads("Work", "Done")]
    shares = [7, 18, 50, 10, 36, *([16] if style.prices else []), 16, 21]
    sheet.table(names, shares, rows)


def _sum_row(style: SheetStyle, plan: Plan) -> list[Cell]:
    unpriced = sum(line.price is None for line in plan.lines)
    total = sum((line.price or 0.0) * line.quantity for line in plan.lines)
    hours_h = sum(line.hours_h or 0.0 for line in plan.lines)
    words = (
        text("Together, {count} without a price", count=unpriced)
        if unpriced and style.prices
        else text("Together")
    )
    price = [style.price(total)] if style.prices else []
    return ["", "", words, "", "", *price, text("{hours_h:g} h", hours_h=hours_h), ""]


def what_words(style: SheetStyle, line: PlanLine) -> Text:
    """A plan line in words: ``fit regulator R5 set to 5.9 V``."""
    words: list[Arg] = [line.action, *([line.part_type] if line.part_type else [])]
    words += [word for word in (line.care, line.rod, line.rod_material, line.join) if word is not None]
    if line.awg:
        words.append(text("to {awg} AWG", awg=line.awg))
    for length_mm in (line.arm_mm, line.horn_mm, line.rod_diameter_mm):
        if length_mm:
            words.append(text("to {length}", length=style.show(length_mm, "mm")))
    if line.pulse_us:
        words.append(text("to {pulse}", pulse=style.show(line.pulse_us, "us")))
    if line.rate_hz:
        words.append(text("to {rate}", rate=style.show(line.rate_hz, "Hz")))
    if line.set_v:
        words.append(text("set to {volts}", volts=style.show(line.set_v, "V")))
    return series(words, "")


def _source(library: Library, line: PlanLine, free: dict[str, float]) -> Arg:
    """Where a part comes from; ``free`` counts down what lies in the bay over the lines."""
    if line.from_stock:
        return series([line.from_stock, *_bin_of_tag(library, line.from_stock)], ",")
    if not line.part_type or line.done_on:
        return "-"
    stock = free.setdefault(line.part_type, library.stocked(line.part_type))
    taken = min(stock, line.quantity)
    free[line.part_type] = stock - taken
    bought = line.quantity - taken
    words: list[Arg] = []
    if taken:
        words += [
            text("{count:g} from Stores", count=taken),
            *_bin_of_type(library.stock, line.part_type),
        ]
    return series([*words, text("{count:g} to buy", count=bought)] if bought else words, ",")


def _bin_of_tag(library: Library, tag: str) -> list[Text]:
    part = library.spare_servos.get(tag) or library.spare_packs.get(tag)
    return [text("bin {bin}", bin=part.bin)] if part and part.bin else []


def _bin_of_type(stock: tuple[StockItem, ...], part_type: str) -> list[Text]:
    bins = [item.bin for item in stock if item.part_type == part_type and item.on_hand and item.bin]
    return [text("bin {bin}", bin=series(bins, ","))] if bins else []
