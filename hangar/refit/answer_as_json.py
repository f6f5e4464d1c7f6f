"""Answers of the planner as plain objects for scripts; the keys are a promise."""

from __future__ import annotations

from typing import Any

from hangar.parts import PlanLine
from hangar.refit.answer import Answer, Change, Ladder, Stay, Unit
from hangar.refit.bundles import Bundle
from hangar.refit.fleet import FleetAnswer
from hangar.refit.stages import Stages
from hangar.rules.cures import Need
from hangar.rules.needs import need_words

_FIELDS = ("place", "part_type", "from_stock", "from_aircraft", "set_v", "awg", "arm_mm", "price")


def answer_as_json(answer: Answer) -> dict[str, Any]:
    """One answer."""
    gap, left = answer.gap, answer.left
    return {
        "question": answer.question,
        "aircraft": answer.aircraft.code,
        "proved": answer.proved,
        "gap": {"warnings": gap.warnings, "cautions": gap.cautions, "money": gap.money},
        "today": {"warnings": answer.today.warnings, "cautions": answer.today.cautions},
        "left": {"warnings": left.warnings, "cautions": left.cautions},
        "money": left.money,
        "hours": left.hours,
        "mass_g": left.mass_g,
        "changes": [_change(change) for change in answer.changes],
        "clears": [_unit(unit) for unit in answer.clears],
        "brings": [_unit(unit) for unit in answer.brings],
        "stays": [_stay(stay) for stay in answer.stays],
        "unknown": [str(words) for words in answer.unknown],
        "refused": [
            {"what": str(refusal.what), "because": str(refusal.why), "rule": refusal.rule}
            for refusal in answer.refused
        ],
        "freed": [{"part_type": code, "count": count, "value": value} for code, count, value in answer.freed],
        "figures": {"weakest_margin": answer.weakest_margin, "bus_peak_v": answer.bus_peak_v},
        "looks": answer.looks,
        "nodes": answer.nodes,
        "stopped": answer.stopped,
    }


def ladder_as_json(ladder: Ladder) -> dict[str, Any]:
    """Every rung by its name."""
    return {
        "aircraft": ladder.aircraft.code,
        "rungs": {rung.name.lower(): answer_as_json(answer) for rung, answer in ladder.rungs.items()},
    }


def stages_as_json(staged: Stages) -> dict[str, Any]:
    """A plan in stages; each tells what it does and the aircraft after it."""
    return {
        "aircraft": staged.aircraft.code,
        "proved": staged.proved,
        "today": {"warnings": staged.today.warnings, "cautions": staged.today.cautions},
        "stages": [
            {
                **answer_as_json(stage.answer),
                "budget": stage.budget,
                "at_hand": stage.at_hand,
                "spent": stage.price,
                "hours_of_stage": stage.hours,
                "done": [entry for bundle in stage.bundles for entry in _done(bundle)],
                "stage_clears": [_unit(unit) for unit in stage.clears],
            }
            for stage in staged.stages
        ],
        "in_no_stage": [{"changes": _done(bundle), "because": str(why)} for bundle, why in staged.left],
        "unpriced": staged.unpriced,
        "stopped": staged.stopped,
    }


def _done(bundle: Bundle) -> list[dict[str, Any]]:
    """The lines of a bundle; what it does on another aircraft says on which."""
    there = [{**line_as_json(line), "at": code} for code, own in bundle.elsewhere.items() for line in own]
    return [*map(line_as_json, bundle.lines), *there]


def line_as_json(line: PlanLine) -> dict[str, Any]:
    """A plan line with the fields that its action uses."""
    entry: dict[str, Any] = {"action": line.action.value}
    entry.update({name: getattr(line, name) for name in _FIELDS if getattr(line, name) is not None})
    return entry


def fleet_answer_as_json(answer: FleetAnswer) -> dict[str, Any]:
    """One budget over a fleet."""
    spares: dict[str, list[str]] = {}
    for tag, code in answer.spares:
        spares.setdefault(tag, []).append(code)
    return {
        "budget": answer.budget,
        "money": answer.money,
        "proved": answer.proved,
        "left_in_cautions": answer.worth,
        "bound": answer.bound,
        "warning_in_cautions": answer.warning_in_cautions,
        "not_asked": list(answer.not_asked),
        "parts": [answer_as_json(part) for part in answer.parts],
        "spares": spares,
        "swaps": _swaps(answer),
        "stopped": answer.stopped,
    }


def _swaps(answer: FleetAnswer) -> list[dict[str, Any]]:
    """Each two aircraft of which one gets parts of the other, with what goes each way, by tag or type."""
    moved: dict[tuple[str, str], list[str]] = {}
    for part in answer.parts:
        for line in part.lines:
            if line.from_aircraft not in (None, part.aircraft.code):
                what = line.from_stock or str(line.part_type)
                moved.setdefault((str(line.from_aircraft), part.aircraft.code), []).append(what)
    pairs = dict.fromkeys(tuple(sorted(pair)) for pair in moved)
    return [
        {"between": [off, to], "there": moved.get((off, to), []), "back": moved.get((to, off), [])}
        for off, to in pairs
    ]


def _change(change: Change) -> dict[str, Any]:
    return {
        **line_as_json(change.line),
        "hours": change.hours,
        "mass_g": round(change.mass_g, 1),
        "from_stock": change.line.from_stock,
        "at": change.at or None,
        "cures": [_unit(unit) for unit in change.cures],
        "with": list(change.together),
    }


def _unit(unit: Unit) -> dict[str, Any]:
    return {"rule": unit.rule, "places": list(unit.places), "level": unit.level.value}


def _stay(stay: Stay) -> dict[str, Any]:
    words = {"words": str(stay.words)} if stay.words else {}
    return {
        **_unit(stay.unit), "because": stay.because.value, **words,
        "need": None if stay.need is None else _need(stay.need),
    }  # fmt: skip


def _need(need: Need) -> dict[str, Any]:
    return {
        "part": need.part, "words": str(need_words(need)), "quantity": need.quantity,
        "value": need.value, "unit": need.unit,
        "at": need.at, "at_unit": need.at_unit, "at_most": need.at_most,
        "within": {name: {"value": value, "unit": unit} for name, value, unit in need.within},
    }  # fmt: skip
