"""What is taken out as tables runs nothing in a spreadsheet and comes back equal."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from hangar.base.errors import StoreFault
from hangar.base.places import demo_fleet_dir
from hangar.parts import RECORD_KINDS, Airframe, Setting, StockItem
from hangar.parts.choices import AircraftClass, StockKind
from hangar.store import Fleet, bring_in, take_out

TODAY = date(2026, 3, 14)


def test_the_demo_fleet_comes_in_and_out_and_in_again_unchanged(tmp_path: Path) -> None:
    with Fleet.in_memory() as first, Fleet.in_memory() as second:
        report = bring_in(first, [demo_fleet_dir()], today=TODAY)
        assert report.refused == ()
        assert report.taken["airframe"] == len(first.airframes()) == 8
        paths = take_out(first, tmp_path)
        assert {path.stem for path in paths} == {kind.KIND.replace("-", "_") for kind in RECORD_KINDS}
        again = bring_in(second, [tmp_path])
        assert again.taken == report.taken
        assert second.whole_fleet(TODAY) == first.whole_fleet(TODAY)
        for kind in RECORD_KINDS:
            assert second.records(kind) == first.records(kind)


DANGEROUS = ["=1+1", "+44", "-3", "@SUM(A1)", "'quoted", "'=x", "''", "-"]


def test_text_that_a_spreadsheet_would_run_is_defused_and_comes_back_equal(tmp_path: Path) -> None:
    settings = [Setting(name=f"s{number}", value=text) for number, text in enumerate(DANGEROUS)]
    with Fleet.in_memory() as first, Fleet.in_memory() as second:
        first.edit("Put", lambda edit: edit.put_all(settings))
        take_out(first, tmp_path)
        written = (tmp_path / "setting.csv").read_text("utf-8").splitlines()[1:]
        assert [line.partition(",")[2] for line in written] == [f"'{text}" for text in DANGEROUS]
        bring_in(second, [tmp_path])
        assert second.records(Setting) == tuple(settings)


def test_numbers_stay_numbers_on_the_way_out(tmp_path: Path) -> None:
    item = StockItem(code="SLEEVE", kind=StockKind.SLEEVE, on_hand=5, price=0.1)
    frame = Airframe(code="ALB", name="Albion", aircraft_class=AircraftClass.SAIL_SCALE, cg_fore_mm=-6.5)
    with Fleet.in_memory() as fleet:
        fleet.edit("Put", lambda edit: edit.put_all([item, frame]))
        take_out(fleet, tmp_path)
    assert "SLEEVE,sleeve,,,5,,pieces,,0.1,," in (tmp_path / "stock_item.csv").read_text("utf-8")
    assert ",-6.5," in (tmp_path / "airframe.csv").read_text("utf-8")


def test_taking_out_over_older_tables_leaves_no_old_row(trainer: Fleet, tmp_path: Path) -> None:
    take_out(trainer, tmp_path)
    trainer.edit("Remove", lambda edit: edit.remove(Airframe, ("DUN",)))
    take_out(trainer, tmp_path)
    assert (tmp_path / "position.csv").read_text("utf-8").count("\n") == 1


def test_taking_out_to_where_nothing_can_be_written_is_told(trainer: Fleet, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(StoreFault, match="The tables cannot be written to"):
        take_out(trainer, tmp_path / "file")


@pytest.mark.parametrize("name", ["tables", "fleet.xlsx"])
def test_a_remark_with_a_comma_does_not_change_how_numbers_are_read(tmp_path: Path, name: str) -> None:
    item = StockItem(
        code="SLEEVE", kind=StockKind.SLEEVE, on_hand=1.234, price=499.55071208699993, text="1,5"
    )
    with Fleet.in_memory() as first, Fleet.in_memory() as second:
        first.edit("Put", lambda edit: edit.put(item))
        take_out(first, tmp_path / name)
        assert bring_in(second, [tmp_path / name]).refused == ()
        assert second.records(StockItem) == (item,)
