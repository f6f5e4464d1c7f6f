"""What was read last of the supply on the bench, whole and by path; what was set aside counts no more."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TypeVar

from hangar.parts import Aircraft, PathCheck, PowerPath, SupplyCheck
from hangar.parts.readings import is_aside

_Check = TypeVar("_Check", SupplyCheck, PathCheck)


def newest_supply(aircraft: Aircraft, name: str) -> SupplyCheck | None:
    """The newest check of the whole supply that holds this reading."""
    return _newest(aircraft, aircraft.supply_checks, name)


def newest_path(aircraft: Aircraft, path: PowerPath, name: str) -> PathCheck | None:
    """The newest check of one power path that holds this reading."""
    return _newest(aircraft, path.checks, name)


def _newest(aircraft: Aircraft, checks: Iterable[_Check], name: str) -> _Check | None:
    counted = [
        check
        for check in checks
        if getattr(check, name) is not None and not is_aside(check, aircraft.set_aside)
    ]
    return max(counted, key=lambda check: check.checked_at, default=None)
