"""What an answer reads of a fleet, wherever the fleet is kept."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any, Protocol

from hangar.answers.judging import Judgement
from hangar.base.text import Text
from hangar.parts import Aircraft, Library, Record

Progress = Callable[[float, Text | str], None]
"""Told the share that is done and what is done now."""
Stop = Callable[[], bool]
"""Asked again and again whether to stop."""


class Records(Protocol):
    """Where records are read from: a fleet, an edit, or a session with a fleet."""

    def records(self, kind: type[Any], /, **equal: Any) -> tuple[Any, ...]:
        """All records of one kind whose fields equal the given ones."""


class FleetReading(Protocol):
    """A fleet read and judged for a day."""

    @property
    def today(self) -> date:
        """The day everything is judged for."""

    def records(self, kind: type[Record], /, **equal: Any) -> tuple[Any, ...]:
        """All records of one kind whose fields equal the given ones."""

    def codes(self) -> tuple[str, ...]:
        """Codes of all aircraft, in the fleet's order."""

    def aircraft(self, code: str) -> Aircraft:
        """One aircraft as it stands."""

    def read_all(self) -> tuple[Aircraft, ...]:
        """Every aircraft."""

    def library(self) -> Library:
        """The types and the parts bay."""

    def judgement(self, code: str) -> Judgement | None:
        """Figures and findings of an aircraft; None where it could not be judged."""
