"""Axes of the small pictures: round steps, one number for each, and places that can be clicked."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRectF

from hangar.window.kit.plot_axes import Axes, ticks


@pytest.mark.parametrize("wanted", [2, 3, 4, 5, 6])
@pytest.mark.parametrize("span", [(0.0, 3.4), (-60.0, 60.0), (0.0, 0.041), (0.0, 112.0), (0.0, 0.97)])
def test_ticks_are_round_different_and_about_as_many_as_wanted(
    span: tuple[float, float], wanted: int
) -> None:
    found = ticks(span, wanted)
    values, texts = [value for value, _ in found], [text for _, text in found]
    assert len(set(texts)) == len(texts)
    assert [float(text) for text in texts] == pytest.approx(values)
    assert all(span[0] <= value <= span[1] for value in values)
    assert 2 <= len(found) <= 2 * wanted + 1


def test_a_click_is_read_back_on_the_same_scale() -> None:
    axes = Axes(QRectF(30, 10, 400, 200), (-45.0, 45.0), (0.0, 2.0))
    assert axes.x_at(axes.at(12.5, 1.0).x()) == pytest.approx(12.5)
    assert axes.at(-45.0, 0.0).toTuple() == (30.0, 210.0)
    assert axes.at(45.0, 2.0).toTuple() == (430.0, 10.0)
