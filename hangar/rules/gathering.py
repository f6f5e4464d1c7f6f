"""One cause, one finding: flags of a rule on parts that are alike are told as one, the worst first."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator, Sequence

from hangar.base.figure import Figure
from hangar.parts.choices import Criticality
from hangar.rules.flag import Flag, Share
from hangar.rules.words import counted, listed

_WORST = "at worst "


def gathered(flags: Iterable[Flag]) -> Iterator[Flag]:
    """The flags of one rule, those with a common level and kin told as one."""
    groups: dict[tuple[str, str, str], list[Flag]] = {}
    for flag in flags:
        if flag.share is None:
            yield flag
        else:
            groups.setdefault((flag.level, flag.share.noun, flag.share.kin), []).append(flag)
    for group in groups.values():
        yield group[0] if len(group) == 1 else _as_one(sorted(group, key=_margin))


def _margin(flag: Flag) -> float:
    return float("inf") if flag.margin is None else flag.margin


def _as_one(flags: Sequence[Flag]) -> Flag:
    worst, shares = flags[0], [flag.share for flag in flags if flag.share is not None]
    if len({share.name for share in shares}) == 1:
        return worst
    alike = len({share.told for share in shares}) == 1
    told = shares[0].told.replace("{worst}", "" if alike else _WORST)
    causes = [slug for slug in worst.caused_by if all(slug in flag.caused_by for flag in flags)]
    return dataclasses.replace(
        worst,
        about=tuple(dict.fromkeys(part for flag in flags for part in flag.about)),
        message=f"{_subject(shares)} {told}.",
        detail=_details(flags),
        figures=tuple(_named(figure, flag) for flag in flags for figure in flag.figures),
        criticality=min((flag.criticality for flag in flags), key=list(Criticality).index),
        rests_on=None
        if any(flag.rests_on is None for flag in flags)
        else tuple(part for flag in flags for part in (flag.about[0], *(flag.rests_on or ()))),
        caused_by=tuple(causes),
        share=None,
    )


def _subject(shares: Sequence[Share]) -> str:
    first, count = shares[0], len(shares)
    nouns = plural_of(first.noun)
    if not first.kind:
        names = listed([share.name for share in shares])
        alone = first.noun in ("servo", "pack", "regulator", "switch", "receiver")
        return f"{nouns.capitalize()} {names}" if alone else f"The {nouns} of {names}"
    if count < first.of:
        return f"{_word(count).capitalize()} of the {_word(first.of)} {first.kind} {nouns}"
    whole = "both" if count == 2 else f"all {_word(count)}"
    return f"{whole.capitalize()} {first.kind} {nouns}"


def _word(number: int) -> str:
    return counted(number, "of", "of").partition(" ")[0]


def plural_of(noun: str) -> str:
    """Several of a part.

    >>> plural_of("clevis"), plural_of("switch"), plural_of("rod")
    ('clevises', 'switches', 'rods')
    """
    return f"{noun}es" if noun.endswith(("s", "ch", "x")) else f"{noun}s"


def _details(flags: Sequence[Flag]) -> str:
    """Each detail once, after the names it holds for."""
    names: dict[str, list[str]] = {}
    for flag in flags:
        tag = next((part for part in flag.about[1:2] if flag.share and part != flag.share.name), "")
        name = flag.share.name if flag.share else ""
        number = flag.share.number if flag.share else ""
        names.setdefault(flag.detail or number, []).append(f"{name} ({tag})" if tag else name)
    if list(names) == [""] and not (flags[0].share and flags[0].share.kind):
        return ""
    if list(names) == [""]:
        return listed(names[""], most=12)
    return ". ".join(
        f"{listed(who, most=12)}: {detail}" if detail else listed(who) for detail, who in names.items()
    )


def _named(figure: Figure, flag: Flag) -> Figure:
    return figure.named(f"{flag.share.name} {figure.name}") if flag.share else figure
