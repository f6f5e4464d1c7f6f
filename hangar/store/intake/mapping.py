"""What was understood of a sheet as a file that a person can edit, and back."""

from __future__ import annotations

import tomllib
from typing import Any

from hangar.base.errors import BadInput
from hangar.parts.choices import AircraftClass, PowerKind
from hangar.store.intake.account import About
from hangar.store.intake.columns import DIMENSION
from hangar.store.intake.reading import Answers, Reading
from hangar.store.intake.vocabulary import squeezed, unit_squeezed, units_of

_ORDERS = {"day/month/year": "dmy", "month/day/year": "mdy"}
_KEYS = ("columns", "day_order", "torque_unit", "class", "answers")


def mapping_text(reading: Reading) -> str:
    """The mapping of a reading, with what else could be said as comments."""
    words = {order: written for written, order in _ORDERS.items()}
    lines = ["# How the sheet is read. Edit a line and bring the sheet in again with --map.", ""]
    order = words.get(reading.order, "")
    lines.append(
        f'day_order = "{order}"  # {" or ".join(_ORDERS)}'
        if order
        else f'# day_order = "{next(iter(_ORDERS))}"'
    )
    lines.append('# torque_unit = "kgf·cm"  # of bare torques in columns without a unit')
    lines += ["", "[columns]  # heading = role and unit; unused leaves a column out"]
    seen: set[str] = set()
    for table in reading.tables:
        for column in table.columns.values():
            if column.address not in seen:
                seen.add(column.address)
                unit = f" [{column.unit[0]}]" if column.unit and column.role in DIMENSION else ""
                role = f"{column.role}{unit}" if column.role else "unused"
                lines.append(f"{_quoted(column.address)} = {_quoted(role)}  # {column.score:.0f} bits")
    lines += [
        "",
        "[class]  # aircraft = class and drive",
        f"# classes: {', '.join(AircraftClass)}",
        f"# drives: {', '.join(PowerKind)}",
    ]
    for plane in reading.facts.planes.values():
        known = ", ".join(filter(None, (plane.aircraft_class, plane.power)))
        line = f"{_quoted(plane.name)} = {_quoted(known)}"
        lines.append(line if plane.aircraft_class and plane.power else f"# {line}")
    lines += ["", "[answers]  # question = answer"]
    lines += [f"{_quoted(key)} = {_quoted(answer)}" for key, answer in reading.answers.replies.items()]
    return "\n".join(lines) + "\n"


def answers_text(answers: Answers) -> str:
    """What the keeper answered, and nothing else, as :func:`answers_from` reads it."""
    words = {order: written for written, order in _ORDERS.items()}
    lines = [f'day_order = "{words[answers.order]}"'] if answers.order else []
    lines += [f"torque_unit = {_quoted(answers.torque_unit)}"] if answers.torque_unit else []
    for name, some in (
        ("columns", answers.columns), ("class", answers.classes), ("answers", answers.replies)
    ):  # fmt: skip
        if some:
            lines += [f"[{name}]", *(f"{_quoted(key)} = {_quoted(words)}" for key, words in some.items())]
    return "\n".join(lines)


def _quoted(text: str) -> str:
    return (
        '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n").replace("\t", "\\t") + '"'
    )


def answers_from(text: str, name: str) -> Answers:
    """The answers in a mapping file called ``name``.

    Raises: BadInput naming what is not understood.
    """
    try:
        data: dict[str, Any] = tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise BadInput("{file} is no readable mapping: {fault}.", file=name, fault=str(fault)) from fault
    for key in data:
        if key not in _KEYS:
            raise BadInput(
                "{file} has an entry {key}; allowed are {keys}.", file=name, key=key, keys=", ".join(_KEYS)
            )
    order = data.get("day_order", "")
    if order and order not in _ORDERS:
        raise BadInput(
            "{file}: the order of days is {found}; allowed are {orders}.",
            file=name,
            found=str(order),
            orders=" and ".join(_ORDERS),
        )
    unit = str(data.get("torque_unit", ""))
    if unit and unit_squeezed(unit) not in units_of("torque"):
        symbols = ", ".join(dict.fromkeys(unit.symbol for unit in units_of("torque").values()))
        raise BadInput(
            "{file}: the unit of torques is {found}; allowed are {symbols}.",
            file=name,
            found=unit,
            symbols=symbols,
        )
    columns = {str(heading): str(role) for heading, role in dict(data.get("columns", {})).items()}
    answers = {str(key): str(answer) for key, answer in dict(data.get("answers", {})).items()}
    for key in answers:
        if key.partition(":")[0] not in set(About):
            raise BadInput(
                "{file} answers a question {key}; questions are about {kinds}.",
                file=name,
                key=key,
                kinds=", ".join(About),
            )
    classes = {squeezed(str(plane)): str(words) for plane, words in dict(data.get("class", {})).items()}
    return Answers(columns, _ORDERS.get(order, ""), unit, classes, answers)


def refuse_unfitting(answers: Answers, reading: Reading, name: str) -> None:
    """Refuse a mapping that names what the sheet does not have.

    Raises: BadInput naming the entry.
    """
    columns = [column for table in reading.tables for column in table.columns.values()]
    headings = {name for column in columns for name in (column.heading, column.address)}
    for heading in answers.columns:
        if heading not in headings:
            raise BadInput(
                "{file} names a column {heading}; the sheet has none of that heading.",
                file=name,
                heading=heading,
            )
    planes = set(reading.facts.planes)
    for plane in answers.classes:
        if plane not in planes:
            raise BadInput(
                "{file} names an aircraft {plane}; the sheet has none of that name.", file=name, plane=plane
            )
