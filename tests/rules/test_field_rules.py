"""The table of legal figures and codes."""

from __future__ import annotations

from hangar.base.units import convert
from hangar.rules.field_rules import field_rules


def test_every_figure_says_where_it_holds_and_where_it_is_from() -> None:
    for figure in field_rules():
        assert figure.item
        assert figure.shown
        assert figure.where
        assert figure.source
        assert figure.as_of or figure.note


def test_figures_given_in_other_units_were_turned_right() -> None:
    by_item = {figure.item: figure.shown for figure in field_rules()}
    # 200 mph and 25 ft by the exact definitions in NIST Special Publication 811, appendix B.
    assert by_item["greatest turbine speed"] == f"{convert(200, 'mph', 'm/s'):.1f} m/s"
    assert by_item["distance from persons after launch"] == f"{convert(25, 'ft', 'm'):.1f} m"
    assert by_item["giant scale, span of a monoplane"] == "2032 mm"
    assert convert(80, "in", "mm") == 2032.0
