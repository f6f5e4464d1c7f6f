"""A fleet file that cannot be used, the copy to go back to, and what that costs."""

from __future__ import annotations

import shlex
from pathlib import Path

from hangar.base.errors import StoreFault
from hangar.base.text import NOTHING, Arg, Text, joined, plural, text
from hangar.store.backups import newest_sound_backup
from hangar.store.linking import last_turn


class BrokenFile(StoreFault):
    """A fleet file that cannot be used.

    ``found`` says what is wrong with it; ``newest_backup`` is the sound copy to go back to, if any, and
    ``cost`` which edits that would lose.
    """

    def __init__(self, sentence: Text | str, /, *, path: Path, **args: Arg) -> None:
        self.path = path
        self.found = sentence if isinstance(sentence, Text) else Text(sentence, {"path": str(path), **args})
        self.newest_backup = newest_sound_backup(path)
        self.cost = cost_of(path, self.newest_backup) if self.newest_backup else NOTHING
        offer = text(
            "The newest backup is {backup}. {cost} This puts it in place: {command}",
            backup=str(self.newest_backup),
            cost=self.cost,
            command=f"hangar check-file {shlex.quote(str(path))} --restore newest",
        )
        super().__init__(joined(self.found, offer) if self.newest_backup else self.found)


def cost_of(path: Path, backup: Path) -> Text:
    """A sentence on the edits, undos counted, that going back to a backup loses."""
    there, kept = last_turn(path), last_turn(backup)
    if there is None or kept is None:
        return text("How many edits were made after it cannot be told.")
    lost = max(0, there - kept)
    if not lost:
        return text("No edit was made after it.")
    return plural(
        "{count} edit was made after it and would be lost.",
        "{count} edits were made after it and would be lost.",
        count=lost,
    )
