from __future__ import annotations

from collections import Counter

import pytest

from hangar.refit import plan
from tests.refit.brute import brute_front
from tests.refit.cases import seeds
from tests.refit.generator import SmallCase, second_pack_case, small_case

WORTHLESS_SWAPS = (721, 829)
"""Cases in which a spare servo changes nothing that the tables count, and so must not be shown."""


DOUBTED = 198
"""A case in which a servo could stall in the peak: the planner does not call its front proved, but it is."""
SEEDS = sorted({*seeds(), *WORTHLESS_SWAPS, DOUBTED})
LOCKED_TAIL = 146
"""A case in which other packs bring a warning to a lead that was asked to stay."""
SECOND_PACKS = sorted({*seeds(4), LOCKED_TAIL})
SAGGING = (57, 85, 100, 139, 164, 198)
"""Cases in which a pack sags so far that servos are held fast and draw less than the tables count."""


@pytest.mark.parametrize("seed", SEEDS)
def test_the_planner_finds_what_trying_every_refit_finds(seed: int) -> None:
    finds_the_same(small_case(seed))


@pytest.mark.parametrize("seed", SECOND_PACKS)
def test_with_a_second_pack_the_planner_finds_what_trying_every_refit_finds(seed: int) -> None:
    finds_the_same(second_pack_case(seed))


@pytest.mark.parametrize("seed", SAGGING)
def test_a_supply_that_sags_very_far_is_counted_on_the_safe_side(seed: int) -> None:
    case = second_pack_case(seed, soft=True)
    front = plan(case.aircraft, case.library, {}, case.limits)
    tried = brute_front(case)
    for point in front.points[1:]:
        assert point.certified is not None
        price, mass_g, margin, level = point.certified
        assert any(
            one[0] <= price and one[1] <= mass_g and one[2] >= margin and one[3] >= level
            for one in tried.vectors
        )


def finds_the_same(case: SmallCase) -> None:
    front = plan(case.aircraft, case.library, {}, case.limits)
    tried = brute_front(case)
    waived = any("Nothing meets every rule" in str(doubt) for doubt in front.doubts)
    if not tried.possible:
        assert waived or len(front.points) == 1
        return
    assert not waived
    assert front.exact or any(str(doubt).startswith("Not proved best:") for doubt in front.doubts), (
        front.doubts
    )
    assert Counter(point.certified for point in front.points if point.changes) == tried.vectors
