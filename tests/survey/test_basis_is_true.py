"""What rests on an assumed value is told as typical: found by moving each assumed value."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from functools import cache

from hangar.base.figure import Basis, Figure
from hangar.parts import Aircraft
from hangar.rules.examples import DAY
from hangar.survey import Conditions, Survey, survey
from hangar.survey.defaults import Defaults, class_defaults
from tests.all_cases import all_cases
from tests.rules.clean.fleet import CLEAN

QUANTITIES = [field.name for field in dataclasses.fields(Defaults)]
_ROUNDING = 1e-9


@cache
def _made(name: str) -> Aircraft:
    return CLEAN[name]()


@cache
def _base(name: str) -> Survey:
    return survey(_made(name), Conditions(today=DAY))


def _figures(looked: Survey) -> dict[str, Figure]:
    return dict(looked.figures())


def _moved(quantity: str) -> Conditions:
    typical = getattr(class_defaults(), quantity)
    times = 0.97
    own = {f"{quantity}.{key}": value * times for key, value in typical.by.items()}
    return Conditions(today=DAY, defaults=own)


def _changed(before: Figure, after: Figure) -> bool:
    numbers = zip((before.expected, *_ends(before)), (after.expected, *_ends(after)), strict=True)
    return any(abs(old - new) > _ROUNDING * max(abs(old), 1e-6) for old, new in numbers)


def _ends(figure: Figure) -> tuple[float, float]:
    low = figure.expected if figure.low is None else figure.low
    return low, figure.expected if figure.design is None else figure.design


def _is_measured(old: Figure, new: Figure) -> bool:
    """Whether it is measured: what was expected before the readings hardly moves it within its own band."""
    low, high = _ends(old)
    return old.basis is Basis.MEASURED and abs(new.expected - old.expected) < 0.02 * (high - low)


def _untrue(name: str, quantity: str) -> Iterator[str]:
    before, after = _figures(_base(name)), _figures(survey(_made(name), _moved(quantity)))
    for figure, old in before.items():
        new = after.get(figure)
        if new is None or not _changed(old, new) or _is_measured(old, new):
            continue
        if old.basis is not Basis.TYPICAL:
            yield f"{figure} is {old.basis}"


@all_cases("quantity", QUANTITIES)
def test_a_figure_that_moves_with_an_assumed_value_is_typical(quantity: str) -> None:
    untrue = {f"{name}: {words}" for name in CLEAN for words in _untrue(name, quantity)}
    assert untrue == set()


def test_the_linkage_s_efficiency_is_assumed_and_what_rests_on_it_typical() -> None:
    figures = _figures(_base("trainer"))
    resting = [name for name in figures if name.endswith(" load_nm")]
    assert resting
    assert {figures[name].basis for name in resting} == {Basis.TYPICAL}
