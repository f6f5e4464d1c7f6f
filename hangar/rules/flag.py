"""What one rule hands to the engine: a flag raised, or the fields it would need to judge."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import KW_ONLY

from hangar.base.figure import Basis, Figure, Input, Working
from hangar.base.text import NOTHING, Arg, ItemList, Text, as_text, text
from hangar.base.values import value_class
from hangar.parts.choices import Criticality
from hangar.rules.cures import Need
from hangar.rules.finding import Level

Scalar = float | str | Text | ItemList


@value_class
class Sameness:
    """What makes a flag one of several that are told as one, the worst first.

    Attributes:
        noun: what the flag speaks of, such as ``servo``, ``lead`` or ``pack``.
        name: how it is called in a list.
        sentence: what is so of several of them, in the plural and without a full stop; a hole ``{worst}``
            stands before a number that is worse for one of them than for the others.
        group: flags of one rule, level and group are told together.
        word: for all of the group, such as ``aileron``; empty where they are told by their names.
        count: how many of the group the aircraft has.
        number: its number in a list, where the flag has no detail.
    """

    _: KW_ONLY
    noun: str
    name: str
    sentence: Text
    group: str = ""
    word: str = ""
    count: int = 0
    number: Arg = ""


@value_class
class Flag:
    """One thing a rule noticed; the engine makes a finding of it.

    Attributes:
        level: how soon somebody must act.
        about: position codes, tags and other codes it concerns.
        message: one line with the numbers, without the level word.
        detail: the numbers under it.
        figures: the numbers with their working.
        consequence: what the aircraft will do, when it is more exact than the rule's own words.
        remedy: what to do, when it is more exact than the rule's own words.
        source: where the limit comes from, when it is not the rule's own.
        missing: for can't-tell, the fields that are not known.
        criticality: of the function concerned.
        margin: available divided by needed.
        rests_on: what an acceptance of it rests on; None takes level, ``about`` and figures. Rules whose
            figures grow by the day give something that stands still.
        caused_by: slugs of findings whose cure cures this one as well.
        sameness: set where flags of this rule on other parts are told together with this one.
        need: what a part would have to have to cure it, where the rule names one, or how that is worked out.
    """

    _: KW_ONLY
    level: Level
    about: tuple[str, ...]
    message: Text
    detail: Text = NOTHING
    figures: tuple[Figure, ...] = ()
    consequence: Text = NOTHING
    remedy: Text = NOTHING
    source: Text = NOTHING
    missing: tuple[Text, ...] = ()
    criticality: Criticality = Criticality.COMFORT
    margin: float | None = None
    rests_on: tuple[Scalar, ...] | None = None
    caused_by: tuple[str, ...] = ()
    sameness: Sameness | None = None
    need: Need | Callable[[], Need | None] | None = None


Flags = Iterator[Flag]


def own_need(flag: Flag) -> Need | None:
    """What a part would have to have to cure a flag, worked out where the flag only says how."""
    return flag.need() if callable(flag.need) else flag.need


def value_of(flag: Flag, name: str) -> float | None:
    """A figure of a flag by its name; None where it has none of that name."""
    return next((float(figure.expected) for figure in flag.figures if figure.name.key == name), None)


def of_part(noun: str, name: str, sentence: Text, number: Arg = "") -> Sameness:
    """How a flag on one pack, regulator or switch is told with others: all of them by their names."""
    return Sameness(
        noun=noun, name=name, sentence=sentence, group=sentence.key.partition("{worst}")[0], number=number
    )


def cant_tell(
    *missing: Text, about: Iterable[str] = (), criticality: Criticality = Criticality.COMFORT
) -> Flag:
    """A flag that says which fields a rule waits for."""
    return Flag(
        level=Level.CANT_TELL, about=tuple(about), message=NOTHING, missing=missing, criticality=criticality
    )


def read(
    name: Text | str, value: float, unit: str = "", basis: Basis = Basis.MEASURED, source: Text = NOTHING
) -> Figure:
    """A figure of this aircraft or part that is read from a record as it stands."""
    return Figure(as_text(name), value, unit, basis=basis, working=Working(text("as entered"), source=source))


def rated(name: Text | str, value: float, unit: str = "") -> Figure:
    """A figure that the maker gives for the type."""
    return read(name, value, unit, Basis.RATED)


def allowed(name: Text | str, value: float, unit: str = "") -> Figure:
    """A figure that a check asks for: a limit of the limits, or made from one."""
    return Figure(
        as_text(name), value, unit, basis=Basis.LIMIT, working=Working(text("as set among the limits"))
    )


def worked(
    name: Text | str,
    value: float,
    unit: str,
    formula: Text | str,
    *inputs: Input,
    basis: Basis = Basis.COMPUTED,
    source: Text = NOTHING,
) -> Figure:
    """A figure that a rule works out itself."""
    return Figure(as_text(name), value, unit, basis=basis, working=Working(as_text(formula), inputs, source))
