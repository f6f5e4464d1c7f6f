"""A fleet file that cannot be used, the copy to go back to, and what that costs."""

from __future__ import annotations

import shlex
from pathlib import Path

from hangar.base.errors import StoreFault
from hangar.store.backups import newest_sound_backup
from hangar.store.linking import last_turn


class BrokenFile(StoreFault):
    """A fleet file that cannot be used.

    ``found`` says what is wrong with it; ``newest_backup`` is the sound copy to go back to, if any, and
    ``cost`` which edits that would lose.
    """

    def __init__(self, words: str, path: Path) -> None:
        self.path, self.found = path, words
        self.newest_backup = newest_sound_backup(path)
        self.cost = cost_of(path, self.newest_backup) if self.newest_backup else ""
        offer = (
            f" The newest backup is {self.newest_backup}. {self.cost} This puts it in place:"
            f" hangar check-file {shlex.quote(str(path))} --restore newest"
            if self.newest_backup
            else ""
        )
        # A file's name may hold any sign, so none of this is a hole to be filled.
        super().__init__("{words}{offer}", words=words, offer=offer)


def cost_of(path: Path, backup: Path) -> str:
    """A sentence on the edits, undos counted, that going back to a backup loses."""
    there, kept = last_turn(path), last_turn(backup)
    if there is None or kept is None:
        return "How many edits were made after it cannot be told."
    lost = max(0, there - kept)
    if not lost:
        return "No edit was made after it."
    return (
        "1 edit was made after it and would be lost."
        if lost == 1
        else (f"{lost} edits were made after it and would be lost.")
    )
