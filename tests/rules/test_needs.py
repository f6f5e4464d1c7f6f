"""What a rule says a part would need is enough, and a tenth less is not."""

from __future__ import annotations

import dataclasses
import re
from collections.abc import Callable

import pytest

from hangar.base.figure import Basis
from hangar.parts import Aircraft
from hangar.rules import Rule, all_rules
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_fit, with_pack, with_path, with_receiver
from hangar.rules.cures import PARTS, SMALL_WORK, Need
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, own_need
from hangar.rules.needs import need_of, need_words
from hangar.rules.registry import Scene
from hangar.survey import survey
from tests.all_cases import all_cases


def flags(slug: str, aircraft: Aircraft) -> list[Flag]:
    case = Case(aircraft, survey(aircraft, ex.home_day()))
    return [flag for flag in all_rules()[slug].check(case) if flag.level is not Level.CANT_TELL]


def example(slug: str) -> Aircraft:
    made = all_rules()[slug].flags()
    assert isinstance(made, Aircraft)
    return made


def amount(need: Need) -> float:
    assert need.value is not None
    return need.value


def with_torque(aircraft: Aircraft, code: str, need: Need) -> Aircraft:
    """The servo there times what it lacks, its current unchanged."""
    torque = survey(aircraft, ex.home_day()).positions[code].torque_nm
    fit = aircraft.fit(code)
    assert torque is not None
    assert fit is not None
    assert fit.servo_type is not None
    times = amount(need) / torque.expected
    return with_fit(aircraft, code, servo_type={"ratings": ex.boasted(fit.servo_type, times)})


@pytest.mark.parametrize(
    "slug", ["torque-short-cyclic", "torque-short-tail", "torque-below-giant-minimum", "torque-short-surface"]
)
def test_the_torque_that_is_asked_for_is_enough(slug: str) -> None:
    aircraft = example(slug)
    for flag in flags(slug, aircraft):
        need, code = own_need(flag), flag.about[0]
        assert need is not None
        assert (need.part, need.quantity, need.unit) == ("servo", "torque", "N m")
        assert need.within
        more = with_torque(aircraft, code, dataclasses.replace(need, value=1.01 * amount(need)))
        assert not [left for left in flags(slug, more) if code in left.about and _is_as_grave(left, flag)]
        less = with_torque(aircraft, code, dataclasses.replace(need, value=0.9 * amount(need)))
        assert [left for left in flags(slug, less) if code in left.about]


def _is_as_grave(left: Flag, flag: Flag) -> bool:
    """What is enough leaves no warning and no caution; of an advisory nothing."""
    return left.level.rank <= max(flag.level.rank, Level.CAUTION.rank)


def test_the_switch_that_is_asked_for_is_enough() -> None:
    aircraft = example("switch-current")
    (first, *_) = flags("switch-current", aircraft)
    need = own_need(first)
    assert need is not None
    enough = with_path(aircraft, switch_type={"continuous_a": 1.01 * amount(need), "burst_a": 100.0})
    assert not flags("switch-current", enough)


def test_the_pack_that_is_asked_for_is_enough() -> None:
    aircraft = example("pack-too-small")
    (first,) = flags("pack-too-small", aircraft)
    need = own_need(first)
    assert need is not None
    (path,) = aircraft.radio_paths
    (fed,) = path.packs
    for share, is_left in ((1.03, False), (0.9, True)):
        mah = share * amount(need)
        # It holds as much of its label as the one that is there.
        held = mah * (fed.pack.capacity_mah or 0.0) / fed.pack_type.capacity_mah
        changed = with_pack(aircraft, pack_type={"capacity_mah": mah}, pack={"capacity_mah": held})
        left = flags("pack-too-small", changed)
        assert bool([flag for flag in left if flag.level is first.level]) is is_left
    assert fed.pack_type.capacity_mah < amount(need)


WAITING = [
    rule
    for rule in all_rules().values()
    if set(rule.cures or ()) & PARTS and not set(rule.cures or ()) & SMALL_WORK and not rule.reminder
]
"""Rules that a part cures and no handwork that can always be done."""


@all_cases("rule", WAITING)
def test_every_rule_that_waits_for_a_part_says_which(rule: Rule) -> None:
    scene = rule.flags()
    scene = scene if isinstance(scene, Scene) else Scene(scene)
    seen = survey(scene.aircraft, scene.conditions or ex.home_day())
    case = Case(scene.aircraft, seen, library=scene.library)
    raised = [flag for flag in rule.check(case) if flag.level is not Level.CANT_TELL]
    assert raised
    for flag in raised:
        need = need_of(case, rule, flag)
        assert need is not None, rule.slug
        words = str(need_words(need))
        assert words
        assert "what is wanted" not in words
        assert "a part" not in words
        # A rule that compares numbers asks for a number.
        limits = [figure for figure in flag.figures if figure.basis in (Basis.LIMIT, Basis.RATED)]
        assert need.value is not None or need.within or not limits, (rule.slug, words)
        if need.value is not None:
            assert need.value > 0.0
            assert re.search(r"\d", words), words


CURED: dict[str, Callable[[Aircraft, float], Aircraft]] = {
    "arm-spline-mismatch": lambda own, teeth: with_fit(own, "ELE", installation={"arm_teeth": int(teeth)}),
    "arm-length-throw": lambda own, arm_mm: with_fit(own, "ELE", linkage={"arm_mm": arm_mm}),
    "arm-too-long": lambda own, arm_mm: with_fit(own, "ELE", linkage={"arm_mm": arm_mm}),
    "channel-beyond-receiver": lambda own, count: with_receiver(own, channels=int(count)),
    "servo-hours": lambda own, hours: with_fit(own, "ELE", servo={"hours_h": hours}),
    "regulator-setting-vs-servos": lambda own, volts: with_path(own, regulator={"set_v": volts}),
    "receiver-bus-current": lambda own, amps: with_receiver(own, bus_limit_a=amps),
    "connector-current": lambda own, amps: with_path(own, feed={"joint_limit_a": amps}),
    "pulse-narrow-on-wide": lambda own, pulse_us: with_fit(own, "TAIL", servo_type={"pulse_us": pulse_us}),
    "frame-rate-too-high": lambda own, rate_hz: with_fit(own, "RUD", servo_type={"max_rate_hz": rate_hz}),
    "pack-cycles": lambda own, count: with_pack(own, pack={"cycles": int(count)}),
    "pack-below-one-hour": lambda own, mah: with_pack(
        own, pack_type={"capacity_mah": mah / 2.0}, pack={"capacity_mah": mah / 2.0 * _held(own)}
    ),
}
"""How a part is fitted that is a little better than what each rule asks for."""


def _held(aircraft: Aircraft) -> float:
    """Share of its label that the first pack holds."""
    fed = aircraft.radio_paths[0].packs[0]
    return (fed.pack.capacity_mah or 0.0) / fed.pack_type.capacity_mah


@pytest.mark.parametrize("slug", CURED)
def test_the_figure_that_is_asked_for_is_enough(slug: str) -> None:
    aircraft, rule = example(slug), all_rules()[slug]
    case = Case(aircraft, survey(aircraft, ex.home_day()))
    needs = [need_of(case, rule, flag) for flag in flags(slug, aircraft)]
    values = [need.value for need in needs if need is not None and need.value is not None]
    assert values
    is_most = any(need is not None and need.at_most for need in needs)
    exact = slug in ("arm-spline-mismatch", "channel-beyond-receiver", "pulse-narrow-on-wide")
    value = min(values) * (1.0 if exact else 0.97) if is_most else max(values) * (1.0 if exact else 1.03)
    assert not flags(slug, CURED[slug](aircraft, value)), value
    worse = value * (2.0 if is_most else 0.5)
    assert flags(slug, CURED[slug](aircraft, worse)), worse


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
