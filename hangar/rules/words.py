"""Words around findings: the level word, lists of parts, and the one-line summary."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence

from hangar.parts import ServoFit
from hangar.rules.finding import Finding, Level

LEVEL_WORDS = {
    Level.WARNING: "Warning",
    Level.CAUTION: "Caution",
    Level.ADVISORY: "Advisory",
    Level.CANT_TELL: "Can't tell",
}

_NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def line(finding: Finding) -> str:
    """A finding in one line with its level word."""
    return f"{LEVEL_WORDS[finding.level]}: {finding.message}"


def listed(words: Sequence[str], most: int = 6) -> str:
    """Words in a row, the last with "and"; past ``most`` the rest is counted.

    >>> listed(["0301", "0302", "0303"])
    '0301, 0302 and 0303'
    """
    if len(words) > most:
        return ", ".join(words[:most]) + f" and {len(words) - most} more"
    if len(words) < 2:
        return "".join(words)
    return ", ".join(words[:-1]) + " and " + words[-1]


def counted(number: int, one: str, many: str | None = None) -> str:
    """A number of things in words.

    >>> counted(3, "servo"), counted(1, "pack"), counted(14, "box", "boxes")
    ('three servos', 'one pack', '14 boxes')
    """
    word = _NUMBERS[number] if number < len(_NUMBERS) else str(number)
    return f"{word} {one if number == 1 else many or one + 's'}"


def place(fit: ServoFit) -> str:
    """A position by name in the middle of a sentence: ``left aileron``."""
    whole = fit.position.name
    name = whole.removesuffix(" servo")
    if "," in name or "servo" in name.lower():
        return f'position "{whole}"'
    return name[:1].lower() + name[1:] if name[1:2].islower() else name


def thing_at(fit: ServoFit, noun: str = "servo") -> str:
    """What sits at a position, with its article: ``the left aileron servo``, ``the servo of the flaps``."""
    name = place(fit)
    if name.startswith('position "'):
        return f"the {noun} at {name}"
    if name.endswith("s") and not name.endswith("ss"):
        return f"the {noun} of the {name}"
    return f"the {name} {noun}"


def sentence(text: str, names: Iterable[str] = ()) -> str:
    """Words as a sentence: a capital letter first, unless they begin with one of the names, and a full stop.

    >>> sentence("needs 1.4 N m"), sentence("b1 is old", ["b1"])
    ('Needs 1.4 N m.', 'b1 is old.')
    """
    if not text:
        return ""
    named = any(text.startswith(name) for name in names)
    text = text if named else text[:1].upper() + text[1:]
    return text + ("" if text.endswith((".", "?", "!")) else ".")


def parts_of(fits: Iterable[ServoFit]) -> tuple[str, ...]:
    """Position codes and servo tags of several positions."""
    found = []
    for fit in fits:
        found.append(fit.position.code)
        if fit.servo is not None:
            found.append(fit.servo.tag)
    return tuple(filter(None, found))


def tags(fits: Iterable[ServoFit]) -> str:
    """Positions with their servos' tags: ``ELE (0203)``."""
    return listed([f"{fit.code} ({fit.tag})" if fit.tag else fit.code for fit in fits])


def packs(names: Sequence[str], one: str, many: str) -> str:
    """Packs by their tags with the verb that goes with them.

    >>> packs(["B014"], "has", "have"), packs(["B1", "B2"], "has", "have")
    ('pack B014 has', 'packs B1 and B2 have')
    """
    return f"pack {names[0]} {one}" if len(names) == 1 else f"packs {listed(names)} {many}"


def dots(text: str) -> str:
    """A sentence that begins with a capital letter and ends with a full stop."""
    return text[:1].upper() + text[1:] + ("" if text.endswith((".", "?")) else ".")


def summary(findings: Iterable[Finding]) -> str:
    """What the findings come to, in one line; it never says more than the data entered allow.

    >>> summary([])
    'no open warnings on the data entered'
    """
    counts: Counter[Level] = Counter()
    accepted = 0
    for finding in findings:
        if finding.is_open:
            counts[finding.level] += 1
        else:
            accepted += 1
    words = []
    if counts[Level.WARNING]:
        words.append(counted(counts[Level.WARNING], "open warning"))
    else:
        words.append("no open warnings on the data entered")
    if counts[Level.CAUTION]:
        words.append(counted(counts[Level.CAUTION], "caution"))
    if counts[Level.ADVISORY]:
        words.append(counted(counts[Level.ADVISORY], "advisory", "advisories"))
    if counts[Level.CANT_TELL]:
        words.append(counted(counts[Level.CANT_TELL], "thing") + " that cannot be told")
    if accepted:
        words.append(f"{accepted} accepted in writing")
    return ", ".join(words)
