"""What the roles of columns and the states of cells are called."""

from __future__ import annotations

from hangar.base.text import Text, text
from hangar.store.intake.account import State
from hangar.store.intake.columns import Column

ROLE_WORDS: dict[str, Text] = {
    "aircraft": text("Aircraft"),
    "channel": text("Channel"),
    "function": text("Function"),
    "side": text("Side"),
    "servo": text("Servo"),
    "model": text("Servo type"),
    "maker": text("Servo maker"),
    "drive": text("Analog or digital"),
    "torque": text("Stall torque"),
    "speed": text("Transit time"),
    "volts": text("At volts"),
    "fitted": text("Fitted on"),
    "removed": text("Taken out on"),
    "bought": text("Bought on"),
    "tested": text("Tested on"),
    "pack": text("Pack"),
    "chemistry": text("Cell chemistry"),
    "cells": text("Number of cells"),
    "capacity": text("Capacity"),
    "measured": text("Measured capacity"),
    "load": text("Test load"),
    "rest": text("Volts at rest"),
    "loaded": text("Volts under load"),
    "load_time": text("Time under load"),
    "resistance": text("Resistance"),
    "cycles": text("Cycles"),
    "lead": text("Lead length"),
    "span": text("Span"),
    "mass": text("Mass"),
    "price": text("Price"),
    "count": text("How many"),
    "notes": text("Notes"),
    "tag": text("Number or tag"),
    "description": text("Description"),
    "power": text("Drive of the aircraft"),
    "class": text("Class of the aircraft"),
    "place": text("Where it is"),
    "owner": text("Owner"),
    "output": text("What is on the channel"),
    "work": text("Servo of a function"),
    "group": text("Group"),
}
"""Every role that a column may be given."""

NOT_USED = text("Not used")

STATE_WORDS: dict[State, Text] = {
    State.READ: text("read"),
    State.DOUBTED: text("doubted"),
    State.UNUSED: text("unused"),
}
LEFT = text("left out")


def column_words(column: Column) -> Text:
    """The role of a column with its unit: "Stall torque [kgf·cm]"."""
    words = ROLE_WORDS.get(column.role, NOT_USED)
    return text("{role} [{unit}]", role=words, unit=column.unit[0]) if column.unit else words
