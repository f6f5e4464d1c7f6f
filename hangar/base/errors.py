"""Errors sorted by who must act; the text of each is a sentence for the keeper."""

from __future__ import annotations


class HangarError(Exception):
    """Raised on purpose; ``str(error)`` is one sentence the keeper can act on."""


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
