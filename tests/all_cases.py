"""One test over many cases of one idea: it looks at every case and names those that failed."""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterable
from typing import Any

MOST_NAMED = 12


def all_cases(
    names: str, cases: Iterable[Any] | Callable[[], Iterable[Any]]
) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Turn a check of one case into a test of all of them; what it takes besides are fixtures.

    Args:
        names: what the check calls the parts of a case, parted by commas.
        cases: a value for each, or a tuple where there are several names; a function that gives them
            is called when the test runs, so that collecting tests does not wait for what it makes.
    """
    parts = [name.strip() for name in names.split(",")]
    kept = cases if callable(cases) else tuple(cases)

    def of(check: Callable[..., None]) -> Callable[..., None]:
        def test(**fixtures: object) -> None:
            every = kept() if callable(kept) else kept
            given = [dict(zip(parts, case if len(parts) > 1 else (case,), strict=True)) for case in every]
            assert given, "there is no case to look at"
            failed: list[tuple[dict[str, object], Exception]] = []
            for case in given:
                try:
                    check(**fixtures, **case)
                except Exception as fault:  # noqa: BLE001 the others are looked at first
                    failed.append((case, fault))
            if failed:
                named = "; ".join(_words(case) for case, _ in failed[:MOST_NAMED])
                first, why = failed[0]
                count = f"{len(failed)} of {len(given)} cases fail"
                raise AssertionError(f"{count}: {named}\nthe first, {_words(first)}: {why}") from why

        own = inspect.signature(check)
        taken = [fixture for name, fixture in own.parameters.items() if name not in parts]
        test.__name__, test.__doc__, test.__module__ = check.__name__, check.__doc__, check.__module__
        test.__signature__ = own.replace(parameters=taken)  # type: ignore[attr-defined]
        return test

    return of


def _words(case: dict[str, object]) -> str:
    return ", ".join(f"{name}={_called(value):.60}" for name, value in case.items())


def _called(value: object) -> str:
    """The short name of a value where it has one."""
    for name in ("slug", "KIND", "name", "__name__", "code"):
        if isinstance(short := getattr(value, name, None), str):
            return short
    return str(getattr(getattr(value, "aircraft", value), "code", value))
