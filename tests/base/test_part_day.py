"""Days that are known in part."""

from __future__ import annotations

import copy
import pickle
from datetime import date

import pytest

from hangar.base.part_day import UNKNOWN_DAY, PartDay, is_known, is_whole, part_day


def test_it_says_what_is_known_and_no_more() -> None:
    assert [str(part_day(text)) for text in ("1997", "1997-05", "1997-05-14", "")] == [
        "1997",
        "1997-05",
        "1997-05-14",
        "",
    ]


def test_it_sorts_as_the_first_day_it_may_be() -> None:
    days = [date(1997, 6, 1), part_day("1998"), part_day("1997-05"), UNKNOWN_DAY, part_day("1997")]
    assert [str(day) for day in sorted(days)] == ["", "1997", "1997-05", "1997-06-01", "1998"]


def test_a_year_is_not_its_first_day() -> None:
    assert part_day("1997") != date(1997, 1, 1)
    assert part_day("1997") == PartDay("1997")
    assert len({part_day("1997"), date(1997, 1, 1), PartDay("1997")}) == 2


def test_it_survives_copying() -> None:
    for day in (PartDay("1997-05"), UNKNOWN_DAY):
        assert pickle.loads(pickle.dumps(day)) == copy.deepcopy(day) == day


def test_its_last_day() -> None:
    assert PartDay("1996-02").last == date(1996, 2, 29)
    assert PartDay("1997").last == date(1997, 12, 31)


def test_what_is_known_of_it() -> None:
    assert (
        is_known(UNKNOWN_DAY),
        is_known(PartDay("1997")),
        is_whole(PartDay("1997")),
        is_whole(date(1997, 1, 1)),
    ) == (False, True, False, True)


@pytest.mark.parametrize("text", ["97", "1997-13", "1997-5", "soon"])
def test_what_is_no_such_day_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r"\w"):
        part_day(text)
