"""``python -m hangar`` and the ``hangar`` command."""

from __future__ import annotations

import gc
import sys

from hangar import commands


def main() -> int:
    """Run the command and return its exit code."""
    look_rarely_for_cycles()
    return commands.main()


def look_rarely_for_cycles() -> None:
    """Let Python look for cycles among dead objects seldom.

    Records are trees without cycles: looking often costs a tenth of the start and of a large fleet's
    inspection, and finds next to nothing.
    """
    gc.set_threshold(100_000, 20, 100)


if __name__ == "__main__":
    sys.exit(main())
