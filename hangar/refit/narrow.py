"""Of a long list of servos the few that most plans want: each the cheapest of at least so much torque."""

from __future__ import annotations

from collections.abc import Mapping

from hangar.parts import ServoType
from hangar.parts.choices import PlanAction
from hangar.refit.choice import Choice, ChoiceList
from hangar.refit.goal import Goal
from hangar.refit.partners import torque_nm

LONG = 40
"""Choices of a list from which on those are looked at first."""


def promising(choice_list: ChoiceList, servo_types: Mapping[str, ServoType], goal: Goal) -> int:
    """The choices of a list to look among first, a bit for each; all of a short one.

    Kept are what changes no servo, and of the servo types each that is stronger than every cheaper one, with
    all its arms and leads.
    """
    choices = choice_list.choices
    if len(choices) <= LONG:
        return -1
    by_cost = sorted(range(len(choices)), key=lambda number: goal.of_choice(choices[number]))
    kept, strongest = set[str | None](), -1.0
    for number in by_cost:
        kind = _type_of(choices[number])
        servo_type = servo_types.get(kind or "")
        strength = 0.0 if servo_type is None else torque_nm(servo_type)
        if kind is None or strength > strongest:
            kept.add(kind)
            strongest = max(strongest, strength)
    return sum(1 << number for number in by_cost if _type_of(choices[number]) in kept)


def _type_of(choice: Choice) -> str | None:
    """The servo type that a choice fits; None where it fits none."""
    return next((line.part_type for line in choice.lines if line.action is PlanAction.FIT_SERVO), None)
