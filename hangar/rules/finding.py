"""What a rule says: level, words, numbers, remedy and source."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import KW_ONLY
from datetime import date
from enum import StrEnum

from hangar.base.figure import Figure
from hangar.base.late_text import LateText
from hangar.base.text import NOTHING, Text, joined
from hangar.base.values import value_class
from hangar.parts.choices import Criticality


class Level(StrEnum):
    """How soon somebody must act, after 14 CFR 25.1322; can't-tell is no level of safety."""

    WARNING = "warning"
    CAUTION = "caution"
    ADVISORY = "advisory"
    CANT_TELL = "cant-tell"

    @property
    def rank(self) -> int:
        """0 for the gravest."""
        return _RANKS[self]


_RANKS = {level: place for place, level in enumerate(Level)}


@value_class
class Finding:
    """One thing that does not match, or that cannot be judged.

    Attributes:
        rule: slug of the rule.
        level: how soon somebody must act.
        aircraft: code of the aircraft.
        about: tags and position codes that it concerns.
        message: one line, without the level word.
        detail: the numbers under it, one sentence.
        figures: the numbers with their working.
        consequence: what the aircraft, or the keeper, will see of it, told first; of a fold the gravest.
        remedy: what to do.
        source: where limit and formula come from.
        missing: for can't-tell, the fields that are not known.
        criticality: of the function concerned.
        margin: available divided by needed, to order findings; None when there is none.
        accepted_until: accepted in writing until that day, or None.
        accepted_because: the reason written.
        folded: what stands under it as one: its consequences, or first its cause where it is graver.
        returned: an acceptance was there, but its day has passed or what it rested on has changed.
        inputs: fingerprint of what it rests on, which an acceptance keeps.
        title: the rule's title.
        caused_by: slugs of findings whose cure cures this one as well.
    """

    _: KW_ONLY
    rule: str
    level: Level
    aircraft: str
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
    accepted_until: date | None = None
    accepted_because: str | None = None
    folded: tuple[Finding, ...] = ()
    returned: bool = False
    inputs: str = ""
    title: Text = NOTHING
    caused_by: tuple[str, ...] = ()

    @property
    def is_open(self) -> bool:
        """Whether nobody has accepted it in writing."""
        return self.accepted_until is None

    @property
    def sentence(self) -> Text:
        """Consequence and message, as they head a line on screen, card and sheet."""
        return joined(self.consequence, self.message)

    def settle(self) -> None:
        """Make the texts now that wait to be read, so that they hold no figures any longer."""
        for finding in self.with_folded():
            if isinstance(finding.remedy, LateText):
                finding.remedy.settle()

    def with_folded(self) -> Iterator[Finding]:
        """This finding and everything folded under it."""
        yield self
        for below in self.folded:
            yield from below.with_folded()
