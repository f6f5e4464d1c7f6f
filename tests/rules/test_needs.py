"""What a rule says a part would need is enough, and a tenth less is not."""

from __future__ import annotations

import dataclasses

import pytest

from hangar.parts import Aircraft
from hangar.rules import all_rules
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit, with_pack, with_path
from hangar.rules.cures import Need
from hangar.rules.finding import Level
from hangar.rules.flag import Flag
from hangar.rules.needs import need_words
from hangar.survey import survey


def flags(slug: str, aircraft: Aircraft) -> list[Flag]:
    case = Case(aircraft, survey(aircraft, ex.home_day()))
    return [flag for flag in all_rules()[slug].check(case) if flag.level is not Level.CANT_TELL]


def example(slug: str) -> Aircraft:
    made = all_rules()[slug].flags()
    assert isinstance(made, Aircraft)
    return made


def with_torque(aircraft: Aircraft, code: str, need: Need) -> Aircraft:
    """The servo there times what it lacks, its current unchanged."""
    torque = survey(aircraft, ex.home_day()).positions[code].torque_nm
    fit = aircraft.fit(code)
    assert torque is not None
    assert fit is not None
    assert fit.servo_type is not None
    times = need.value / torque.expected
    return with_fit(aircraft, code, servo_type={"ratings": ex.boasted(fit.servo_type, times)})


@pytest.mark.parametrize(
    "slug", ["torque-short-cyclic", "torque-short-tail", "torque-below-giant-minimum", "torque-short-surface"]
)
def test_the_torque_that_is_asked_for_is_enough(slug: str) -> None:
    aircraft = example(slug)
    for flag in flags(slug, aircraft):
        need, code = flag.need, flag.about[0]
        assert need is not None
        assert (need.part, need.quantity, need.unit) == ("servo", "torque", "N m")
        assert need.within
        more = with_torque(aircraft, code, dataclasses.replace(need, value=1.01 * need.value))
        assert not [left for left in flags(slug, more) if code in left.about and _is_as_grave(left, flag)]
        less = with_torque(aircraft, code, dataclasses.replace(need, value=0.9 * need.value))
        assert [left for left in flags(slug, less) if code in left.about]


def _is_as_grave(left: Flag, flag: Flag) -> bool:
    """What is enough leaves no warning and no caution; of an advisory nothing."""
    return left.level.rank <= max(flag.level.rank, Level.CAUTION.rank)


def test_the_switch_that_is_asked_for_is_enough() -> None:
    aircraft = example("switch-current")
    (first, *_) = flags("switch-current", aircraft)
    assert first.need is not None
    enough = with_path(aircraft, switch_type={"continuous_a": 1.01 * first.need.value, "burst_a": 100.0})
    assert not flags("switch-current", enough)


def test_the_pack_that_is_asked_for_is_enough() -> None:
    aircraft = example("pack-too-small")
    (first,) = flags("pack-too-small", aircraft)
    assert first.need is not None
    (path,) = aircraft.radio_paths
    (fed,) = path.packs
    for share, is_left in ((1.03, False), (0.9, True)):
        mah = share * first.need.value
        # It holds as much of its label as the one that is there.
        held = mah * (fed.pack.capacity_mah or 0.0) / fed.pack_type.capacity_mah
        changed = with_pack(aircraft, pack_type={"capacity_mah": mah}, pack={"capacity_mah": held})
        left = flags("pack-too-small", changed)
        assert bool([flag for flag in left if flag.level is first.level]) is is_left
    assert fed.pack_type.capacity_mah < first.need.value


def test_a_need_is_said_as_in_a_shop() -> None:
    need = Need(
        part="servo", quantity="torque", value=3.58, unit="N m", at=6.58, at_unit="V",
        within=(("length", 40.0, "mm"), ("width", 22.0, "mm")),
    )  # fmt: skip
    assert str(need_words(need)) == (
        "a servo of at least 3.58 N·m at 6.58 V, at most 40 mm long, at most 22 mm wide"
    )
    band = Need(part="servo", quantity="dead band", value=2.0, unit="us", at_most=True)
    assert str(need_words(band)) == "a servo with a dead band of at most 2 µs"
    pack = Need(part="pack", quantity="capacity", value=2000.0, unit="mAh")
    assert str(need_words(pack)) == "a pack with a capacity of at least 2000 mAh"
