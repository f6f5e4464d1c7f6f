"""Errors sorted by who must act; the text of each is a sentence for the keeper."""

from __future__ import annotations

from hangar.base.text import Arg, Text


class HangarError(Exception):
    """Raised on purpose; ``text`` is one sentence the keeper can act on, ``str(error)`` the same in English.

    Args:
        said: the sentence, or its English with named holes.
        args: what stands in the holes.

    >>> str(BadInput("{found} is not allowed; {most} is the most.", found=7, most=5))
    '7 is not allowed; 5 is the most.'
    """

    def __init__(self, sentence: Text | str, /, **args: Arg) -> None:
        self.text = sentence if isinstance(sentence, Text) else Text(sentence, args)
        super().__init__(self.text)

    def __str__(self) -> str:
        return str(self.text)


def words_of(fault: BaseException) -> Text | str:
    """What an error says: a text of ours, or the words of whoever raised it."""
    return fault.text if isinstance(fault, HangarError) else str(fault)


class BadInput(HangarError):
    """An impossible value was given: it names what was found and what is allowed."""


class OutOfValidity(BadInput):
    """A physical formula was asked outside the range in which it holds."""


class Unreachable(BadInput):
    """A linkage cannot take the asked position: its rod cannot close the loop."""


class StoreFault(HangarError):
    """The surroundings failed: disk full, file locked, newer file, not a fleet file."""


class NoAnswer(HangarError):
    """The question has no answer; the text names the limit that bit first."""
