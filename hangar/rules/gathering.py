"""One cause, one finding: flags of a rule on parts that are alike are told as one, the worst first."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Sequence

from hangar.base.figure import Figure
from hangar.base.text import NOTHING, Arg, Text, fixed, joined, listed, text
from hangar.parts.choices import Criticality
from hangar.rules.flag import Flag, Sameness

_WORST = text("at worst ")


def gathered(flags: Iterable[Flag]) -> Iterator[Flag]:
    """The flags of one rule, those with a common level and group told as one."""
    groups: dict[tuple[str, str, str], list[Flag]] = {}
    for flag in flags:
        if flag.sameness is None:
            yield flag
        else:
            groups.setdefault((flag.level, flag.sameness.noun, flag.sameness.group), []).append(flag)
    for group in groups.values():
        yield group[0] if len(group) == 1 else _as_one(sorted(group, key=_margin))


def _margin(flag: Flag) -> float:
    return float("inf") if flag.margin is None else flag.margin


def _as_one(flags: Sequence[Flag]) -> Flag:
    worst, same = flags[0], [flag.sameness for flag in flags if flag.sameness is not None]
    if len({sameness.name for sameness in same}) == 1:
        return worst
    alike = len({sameness.sentence for sameness in same}) == 1
    sentence = same[0].sentence.with_args(worst=NOTHING if alike else _WORST)
    causes = [slug for slug in worst.caused_by if all(slug in flag.caused_by for flag in flags)]
    return dataclasses.replace(
        worst,
        about=tuple(dict.fromkeys(part for flag in flags for part in flag.about)),
        message=text("{subject} {told}", subject=_subject(same), told=sentence),
        detail=_details(flags),
        figures=tuple(_named(figure, flag) for flag in flags for figure in flag.figures),
        criticality=min((flag.criticality for flag in flags), key=list(Criticality).index),
        rests_on=None
        if any(flag.rests_on is None for flag in flags)
        else tuple(part for flag in flags for part in (flag.about[0], *(flag.rests_on or ()))),
        caused_by=tuple(causes),
        sameness=None,
    )


def _subject(same: Sequence[Sameness]) -> Text:
    first, count = same[0], len(same)
    nouns = fixed(plural_of(first.noun))
    if not first.word:
        names = listed([sameness.name for sameness in same])
        alone = first.noun in ("servo", "pack", "regulator", "switch", "receiver")
        return (
            text("{nouns:^} {names}", nouns=nouns, names=names)
            if alone
            else text("the {nouns} of {names}", nouns=nouns, names=names)
        )
    kind = fixed(first.word)
    if count < first.count:
        return text(
            "{count:word} of the {whole:word} {kind} {nouns}",
            count=count,
            whole=first.count,
            kind=kind,
            nouns=nouns,
        )
    if count == 2:
        return text("both {kind} {nouns}", kind=kind, nouns=nouns)
    return text("all {count:word} {kind} {nouns}", count=count, kind=kind, nouns=nouns)


_NOUNS = (
    "servo", "lead", "arm", "rod", "clevis", "cable", "linkage", "surface", "pack", "regulator", "switch",
    "receiver", "horn", "gyro", "plug",
)  # fmt: skip
"""What flags speak of; of each the plural can be translated."""


def plural_of(noun: str) -> str:
    """Several of a part.

    >>> plural_of("clevis"), plural_of("switch"), plural_of("rod")
    ('clevises', 'switches', 'rods')
    """
    return f"{noun}es" if noun.endswith(("s", "ch", "x")) else f"{noun}s"


def _details(flags: Sequence[Flag]) -> Text:
    """Each detail once, after the names it holds for."""
    names: dict[Arg, list[Arg]] = {}
    for flag in flags:
        tag = next((part for part in flag.about[1:2] if flag.sameness and part != flag.sameness.name), "")
        name = flag.sameness.name if flag.sameness else ""
        number = flag.sameness.number if flag.sameness else ""
        who = text("{name} ({tag})", name=name, tag=tag) if tag else name
        names.setdefault(flag.detail or number or NOTHING, []).append(who)
    if list(names) == [NOTHING]:
        named = text("{names}", names=listed(names[NOTHING], most=12))
        return named if flags[0].sameness and flags[0].sameness.word else NOTHING
    rows = [
        text("{who}: {detail}", who=listed(who, most=12), detail=detail)
        if detail
        else text("{who}", who=listed(who))
        for detail, who in names.items()
    ]
    return joined(*rows, between="{first}. {then}")


_OF_ONE = "{name} {figure}"


def _named(figure: Figure, flag: Flag) -> Figure:
    if not flag.sameness:
        return figure
    return figure.named(Text(_OF_ONE, {"name": flag.sameness.name, "figure": figure.name}))


def whose_figure(name: Text) -> tuple[str, Text]:
    """The part that a gathered finding's figure belongs to, empty for none, and what the figure is called."""
    called = name.args.get("figure")
    if name.key != _OF_ONE or not isinstance(called, Text):
        return "", name
    return str(name.args["name"]), called


WORDS_OF_TABLES = tuple(map(plural_of, _NOUNS))
