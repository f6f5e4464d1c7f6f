"""Mappings whose values are worked out when somebody looks: who surveys an aircraft reads a few of them."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from typing import TypeVar

_Key = TypeVar("_Key")
_Value = TypeVar("_Value")


class LazyMapping(Mapping[_Key, _Value]):
    """A mapping that is worked out as a whole when it is first looked into.

    >>> LazyMapping(lambda: {"RX": 4.8})["RX"]
    4.8
    """

    __slots__ = ("_found", "_work")

    def __init__(self, work: Callable[[], Mapping[_Key, _Value]]) -> None:
        self._work = work
        self._found: Mapping[_Key, _Value] | None = None

    def _worked(self) -> Mapping[_Key, _Value]:
        if self._found is None:
            self._found = self._work()
        return self._found

    def __getitem__(self, key: _Key) -> _Value:
        return self._worked()[key]

    def __iter__(self) -> Iterator[_Key]:
        return iter(self._worked())

    def __len__(self) -> int:
        return len(self._worked())

    def __repr__(self) -> str:
        return repr(self._worked())


class LazyValues(Mapping[_Key, _Value]):
    """A mapping of known keys whose values are worked out one by one, each when it is first asked for.

    >>> squares = LazyValues((1, 2, 3), lambda number: number * number)
    >>> squares[2], list(squares), 4 in squares
    (4, [1, 2, 3], False)
    """

    __slots__ = ("_found", "_keys", "_work")

    def __init__(self, keys: tuple[_Key, ...], work: Callable[[_Key], _Value]) -> None:
        self._keys, self._work = keys, work
        self._found: dict[_Key, _Value] = {}

    def __getitem__(self, key: _Key) -> _Value:
        if key not in self._found:
            if key not in self._keys:
                raise KeyError(key)
            self._found[key] = self._work(key)
        return self._found[key]

    def __iter__(self) -> Iterator[_Key]:
        return iter(self._keys)

    def __len__(self) -> int:
        return len(self._keys)

    def __contains__(self, key: object) -> bool:
        return key in self._keys

    def __repr__(self) -> str:
        return repr(dict(self))
