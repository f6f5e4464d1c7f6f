"""Let a package offer names that are loaded when they are first asked for."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any


def names_on_demand(package: str, homes: Mapping[str, str]) -> Callable[[str], Any]:
    """A module's ``__getattr__`` that fetches each name from the module it lives in.

    Args:
        package: name of the package that offers the names.
        homes: for each name the module of that package that holds it, or another module by its full name.

    Returns: the function; it raises AttributeError for a name that is not offered.

    >>> names_on_demand("hangar.base", {"SI_TRADE": "units"})("SI_TRADE").torque
    'N m'
    """

    def fetch(name: str) -> Any:
        if name not in homes:
            raise AttributeError(f"module {package!r} has no attribute {name!r}")
        home = homes[name]
        thing = getattr(import_module(home if "." in home else f"{package}.{home}"), name)
        # From now on the package has it, and nobody asks here again.
        setattr(sys.modules[package], name, thing)
        return thing

    return fetch
