from __future__ import annotations

import pytest

from tests.all_cases import all_cases


@pytest.fixture
def limit() -> int:
    return 3


@all_cases("number, word", [(1, "one"), (2, "two")])
def test_every_case_is_looked_at_with_fixtures(number: int, word: str, limit: int) -> None:
    assert number < limit
    assert word in ("one", "two")


def test_a_case_that_fails_is_named_and_hides_no_other() -> None:
    @all_cases("number", range(5))
    def check(number: int) -> None:
        assert number % 2 == 0

    with pytest.raises(AssertionError, match=r"2 of 5 cases fail: number=1; number=3") as fault:
        check()
    assert isinstance(fault.value.__cause__, AssertionError)


def test_no_case_at_all_is_no_success() -> None:
    @all_cases("number", [])
    def check(number: int) -> None:
        raise AssertionError

    with pytest.raises(AssertionError, match="no case"):
        check()
