"""``python -m hangar`` and the ``hangar`` command."""

from __future__ import annotations

import sys

from hangar.commands import main

if __name__ == "__main__":
    sys.exit(main())
