"""Words around findings: the level word, lists of parts, and the one-line summary."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from hangar.base.text import ItemList, Text, fixed, joined, listed, plural, text
from hangar.parts import ServoFit
from hangar.parts.choices import Function, Side
from hangar.rules.finding import Finding, Level

LEVEL_WORDS = {
    Level.WARNING: "Warning",
    Level.CAUTION: "Caution",
    Level.ADVISORY: "Advisory",
    Level.CANT_TELL: "Can't tell",
}


def line(finding: Finding) -> Text:
    """A finding in one line with its level word."""
    return text("{level}: {message}", level=text(LEVEL_WORDS[finding.level]), message=finding.message)


_MORE_COMMON = "aft fore-and-aft roll-left roll-right nose wheel air first second".split()  # noqa: SIM905
_COMMON = frozenset(word for name in (*Function, *Side, *_MORE_COMMON) for word in name.split())
"""Words of which the common names of positions are made."""


def _is_common(name: str) -> bool:
    """Whether a position is called by what it is, such as "Left aileron", and not by a name of its own."""
    return all(word.removesuffix("s") in _COMMON or word in _COMMON for word in name.lower().split())


def place(fit: ServoFit) -> Text:
    """A position by name in the middle of a sentence: ``left aileron``.

    The name is the keeper's; English alone begins a common one with a small letter.
    """
    name = fit.position.name
    if "," in name or "servo" in name.lower():
        return text('position "{name}"', name=name)
    return text("{name:small}", name=name) if _is_common(name) else text("{name}", name=name)


def thing_at(fit: ServoFit, noun: str = "servo") -> Text:
    """What sits at a position, with its article: ``the left aileron servo``, ``the servo of the flaps``."""
    name, thing = place(fit), fixed(noun)
    words = str(name)
    if name.key.startswith("position"):
        return text("the {thing} at {position}", thing=thing, position=name)
    if words.endswith("s") and not words.endswith("ss"):
        return text("the {thing} of the {position}", thing=thing, position=name)
    return text("the {position} {thing}", thing=thing, position=name)


def parts_of(fits: Iterable[ServoFit]) -> tuple[str, ...]:
    """Position codes and servo tags of several positions."""
    clauses = []
    for fit in fits:
        clauses.append(fit.position.code)
        if fit.servo is not None:
            clauses.append(fit.servo.tag)
    return tuple(filter(None, clauses))


def tags(fits: Iterable[ServoFit]) -> ItemList:
    """Positions with their servos' tags: ``ELE (0203)``."""
    return listed(
        [text("{code} ({tag})", code=fit.code, tag=fit.tag) if fit.tag else fit.code for fit in fits]
    )


def packs(names: Sequence[str], name: str, many: str) -> Text:
    """Packs by their tags with the verb that goes with them.

    >>> str(packs(["B014"], "has", "have")), str(packs(["B1", "B2"], "has", "have"))
    ('pack B014 has', 'packs B1 and B2 have')
    """
    if len(names) == 1:
        return text("pack {name} {does}", name=names[0], does=fixed(name))
    return text("packs {names} {do}", names=listed(names), do=fixed(many))


def summary(findings: Iterable[Finding]) -> Text:
    """What the findings come to, in one line; it never says more than the data entered allow.

    >>> str(summary([]))
    'no open warnings on the data entered'
    """
    counts: Counter[Level] = Counter()
    accepted = 0
    for finding in findings:
        if finding.is_open:
            counts[finding.level] += 1
        else:
            accepted += 1
    words = [text("no open warnings on the data entered")]
    if counts[Level.WARNING]:
        words = [
            plural("{count:word} open warning", "{count:word} open warnings", count=counts[Level.WARNING])
        ]
    if counts[Level.CAUTION]:
        words.append(plural("{count:word} caution", "{count:word} cautions", count=counts[Level.CAUTION]))
    if counts[Level.ADVISORY]:
        words.append(plural("{count:word} advisory", "{count:word} advisories", count=counts[Level.ADVISORY]))
    if counts[Level.CANT_TELL]:
        words.append(
            plural(
                "{count:word} thing that cannot be told",
                "{count:word} things that cannot be told",
                count=counts[Level.CANT_TELL],
            )
        )
    if accepted:
        words.append(text("{count} accepted in writing", count=accepted))
    return joined(*words, between="{first}, {then}")
