"""The figures of a survey by subject: figures made by one formula stand together, whatever they are of."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from hangar.base.figure import Figure, Input
from hangar.base.text import Arg, Text, text
from hangar.survey import Scenario, Survey

SUBJECTS: Mapping[Text, tuple[str, ...]] = {
    text("Load of the air or the rotor"): (
        "load_speed_m_s", "load_deflection_deg", "surface_moment_nm", "load_nm", "caution_speed_m_s",
    ),
    text("Volts and current of the servos"): (
        "servo_v", "delivered_v", "stall_a", "idle_a", "run_a", "average_a", "lead_ohm", "lead_current_a",
        "lead_drop_v",
    ),
    text("What the servos can do"): (
        "torque_nm", "transit_s", "torque_at_1_deg_nm", "deg_to_half_torque", "torque_share", "wanted_deg",
        "held_deg", "control_left", "full_to_m_s",
    ),
    text("Linkage, travel and give"): (
        "servo_travel_deg", "rod_force_n", "rod_buckling_n", "rod_margin", "free_play_deg",
        "stiffness_nm_deg", "divergence_m_s", "careful_divergence_m_s",
    ),
}  # fmt: skip
OTHER, PATHS, CASES, SUPPLY, AIRCRAFT = (
    text("Other figures of the servos"), text("Supply, path by path"), text("Supply, load case by load case"),
    text("Supply in all"), text("Aircraft"),
)  # fmt: skip
_CASES: Mapping[str, str] = {scenario: scenario for scenario in Scenario}
_AFTER_MISSING = ("load_nm", "delivered_v", "servo_v", "torque_nm", "control_left")


@dataclass(frozen=True)
class Line:
    """One kind of figure over the columns: what it is called, and the figure of each column that has one."""

    name: Text
    figures: Mapping[str, Figure]


@dataclass
class Formula:
    """Figures made the same way; ``number`` is what they are called by elsewhere."""

    number: int
    key: str
    formula: Text
    source: Text
    lines: dict[str, Line] = field(default_factory=dict)

    def name(self, put: Callable[[Arg], str]) -> str:
        """What it works out, in words; of several lines what they share."""
        names = [put(line.name) for line in self.lines.values()]
        return names[0] if len(names) == 1 else names[0].partition(",")[0]


@dataclass(frozen=True)
class Block:
    """One subject: columns, and the formulas whose figures stand in them.

    ``unknown`` holds the column and field of each figure that could not be had for want of data.
    """

    title: Text
    columns: tuple[str, ...]
    formulas: tuple[Formula, ...]
    unknown: frozenset[tuple[str, str]] = frozenset()

    @property
    def is_list(self) -> bool:
        """Whether all figures are of one thing, so that there is nothing to set side by side."""
        return len(self.columns) == 1


Columns = Mapping[str, Iterable[tuple[str, Figure]]]


def blocks_of(survey: Survey) -> list[Block]:
    """Every figure of a survey, each once, in the blocks in which it is printed."""
    numbers = iter(range(1, 100_000))
    blocks = [*_position_blocks(survey, numbers), *_supply_blocks(survey, numbers)]
    return [block for block in blocks if block.formulas]


def _position_blocks(survey: Survey, numbers: Iterator[int]) -> Iterator[Block]:
    unknown = frozenset(
        (code, key)
        for code, position in survey.positions.items()
        for key in (*position.missing_for, *(_AFTER_MISSING if position.missing else ()))
    )
    figures = {code: list(position.figures()) for code, position in survey.positions.items()}
    known = {key for keys in SUBJECTS.values() for key in keys}
    others = {_base(key) for figure in figures.values() for key, _ in figure if _base(key) not in known}
    for title, keys in (*SUBJECTS.items(), (OTHER, tuple(sorted(others)))):
        columns = {
            code: sorted(
                ((key, figure) for key, figure in pairs if _base(key) in keys),
                key=lambda pair: keys.index(_base(pair[0])),
            )
            for code, pairs in figures.items()
        }
        yield Block(title, tuple(columns), _formulas(columns, numbers), unknown)


def _supply_blocks(survey: Survey, numbers: Iterator[int]) -> Iterator[Block]:
    # A load case is a word of ours, and stays one at the head of its column.
    cases: dict[str, list[tuple[str, Figure]]] = {
        scenario: list(case.figures()) for scenario, case in survey.scenarios.items()
    }
    yield Block(CASES, tuple(cases), _formulas(cases, numbers))
    paths: dict[str, list[tuple[str, Figure]]] = {}
    for key, figure in survey.supply.figures():
        base, _, of_what = key.partition(" ")
        if of_what:
            paths.setdefault(of_what, []).append((base, figure))
    # The only path gives the volts of the whole supply: one number, one working.
    of_paths = [figure for path in paths.values() for _, figure in path]
    whole = [
        (key, figure) for key, figure in survey.supply.figures() if " " not in key and figure not in of_paths
    ]
    yield Block(PATHS, tuple(paths), _formulas(paths, numbers))
    yield Block(SUPPLY, ("",), _formulas({"": whole}, numbers))
    yield Block(AIRCRAFT, ("",), _formulas({"": list(survey.airframe.figures())}, numbers))


def _base(key: str) -> str:
    return key.partition(" ")[0]


def _formulas(columns: Columns, numbers: Iterator[int]) -> tuple[Formula, ...]:
    """Figures of one field and one formula as one entry; those of several load cases are its lines."""
    formulas: dict[tuple[str, Text, Text], Formula] = {}
    collected: dict[tuple[str, Text, Text], dict[str, tuple[Text, dict[str, Figure]]]] = {}
    for column, figures in columns.items():
        for key, figure in figures:
            base, _, of_what = key.partition(" ")
            same = (base, _formula_of(figure), figure.working.source)
            name = figure.name
            if of_what not in str(name):
                name = text("{figure}, {what}", figure=name, what=_CASES.get(of_what, of_what))
            _, held = collected.setdefault(same, {}).setdefault(of_what, (name, {}))
            held[column] = figure
    for (base, formula, source), lines in collected.items():
        entry = Formula(next(numbers), base, formula, source)
        entry.lines.update({of_what: Line(name, held) for of_what, (name, held) in lines.items()})
        formulas[base, formula, source] = entry
    return tuple(formulas.values())


def _formula_of(figure: Figure) -> Text:
    """How it was made, whatever the load case."""
    sentence = figure.working.formula
    formula = sentence.args.get("formula")
    return formula if "case" in sentence.args and isinstance(formula, Text) else sentence


@dataclass(frozen=True)
class InputRow:
    """One input over the columns; ``of`` are the numbers of the formulas it went into.

    ``nth`` tells inputs of one name apart, as of the first and the second pack.
    """

    name: Text
    unit: str
    nth: int
    of: tuple[int, ...]
    values: Mapping[str, Input]


def given_in(block: Block, elsewhere: Mapping[tuple[str, str], int]) -> list[InputRow]:
    """The inputs of a block, each once where every formula takes the same.

    ``elsewhere`` holds the numbers of figures by column and ``value_key``; these are not given again.
    """
    wanted: dict[tuple[Text, str, int], list[tuple[int, dict[str, Input]]]] = {}
    for formula in block.formulas:
        for line in formula.lines.values():
            taken: dict[tuple[Text, str, int], dict[str, Input]] = {}
            for column, figure in line.figures.items():
                times = Counter[tuple[Text, str]]()
                for given_input in figure.working.inputs:
                    if elsewhere.get((column, value_key(given_input)), formula.number) == formula.number:
                        times[given_input.name, given_input.unit] += 1
                        nth = times[given_input.name, given_input.unit]
                        taken.setdefault((given_input.name, given_input.unit, nth), {})[column] = given_input
            for name, values in taken.items():
                wanted.setdefault(name, []).append((formula.number, values))
    return [given for key, rows in wanted.items() for given in _merged(*key, rows)]


def value_key(item: Input | Figure) -> str:
    """What tells one number of one name: a figure that went into another has the same."""
    value = item.expected if isinstance(item, Figure) else item.value
    return f"{item.name} {value!r} {item.unit}"


def _merged(
    name: Text, unit: str, nth: int, taken: Sequence[tuple[int, dict[str, Input]]]
) -> Iterator[InputRow]:
    merged: list[tuple[list[int], dict[str, Input]]] = []
    for number, values in taken:
        for numbers, held in merged:
            if all(held.get(column, value) == value for column, value in values.items()):
                held.update(values)
                numbers.append(number)
                break
        else:
            merged.append(([number], dict(values)))
    for numbers, held in merged:
        yield InputRow(name, unit, nth, tuple(dict.fromkeys(numbers)), held)


def numbered(blocks: Sequence[Block]) -> dict[tuple[str, str], int]:
    """The number of every figure by its column and ``value_key``."""
    return {
        (column, value_key(figure)): formula.number
        for block in blocks
        for formula in block.formulas
        for line in formula.lines.values()
        for column, figure in line.figures.items()
    }
