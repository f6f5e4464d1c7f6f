"""Load Qt and keep Python's own import.

Importing PySide6 puts a slower ``__import__`` in place that looks for ``from __feature__``, which
Hangar does not use; every later import would pay for it.
"""

from __future__ import annotations

import builtins

_own = builtins.__import__
import PySide6.QtWidgets  # noqa: E402, F401

builtins.__import__ = _own
