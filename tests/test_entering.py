"""The commands that enter much at once, each one edit to undo."""

from __future__ import annotations

from pathlib import Path

import pytest

from hangar.commands import main
from hangar.store import Fleet


@pytest.fixture
def place(tmp_path: Path) -> str:
    """An empty fleet."""
    path = tmp_path / "club.hangar"
    Fleet.create(path).close()
    return str(path)


def test_an_aircraft_is_entered_fitted_out_and_copied(place: str, capsys: pytest.CaptureFixture[str]) -> None:
    layout = ["--layout", "drive=glow", "swashplate=140"]
    new = ["new-aircraft", place, "--aircraft", "MER61", "--name", "Merlane 61", "--class", "heli-ic"]
    assert main([*new, *layout]) == 0
    assert capsys.readouterr().out == "Enter MER61 from its layout.\n"
    pack = ["--pack-type", "NiMH 5 cells 1500 mAh", "--switch", "EL-15", "--switch-kind", "electronic"]
    assert main(["fit-pack", place, "--aircraft", "MER61", *pack, "--lead", "8 in"]) == 0
    assert capsys.readouterr().out == "Fit pack B001 in RX-A.\n"
    assert main(["copy-aircraft", place, "--aircraft", "MER61", "--to", "MER62"]) == 0
    assert capsys.readouterr().out == "Copy MER61 to MER62.\n"
    with Fleet.open(place) as fleet:
        for code in ("MER61", "MER62"):
            assert len(fleet.aircraft(code).fits) == 5
        (path,) = fleet.aircraft("MER61").radio_paths
        assert path.feed.lead_length_mm == pytest.approx(203.2)
        for label in ("Copy MER61 to MER62", "Fit pack B001 in RX-A", "Enter MER61 from its layout"):
            assert str(fleet.undo_label) == label
            fleet.undo()
        assert fleet.aircraft_codes() == ()


def test_one_type_is_fitted_at_three(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from hangar.base.places import demo_fleet_dir

    place = str(tmp_path / "club.hangar")
    assert main(["bring-in", place, str(demo_fleet_dir())]) == 0
    capsys.readouterr()
    where = ["--aircraft", "MER60", "--position", "CYC-1", "CYC-2", "CYC-3"]
    what = ["--servo-type", "OF-D620", "--first-tag", "0995", "--arm", "14", "--lead", "300"]
    assert main(["fit-type", place, *where, *what]) == 0
    assert capsys.readouterr().out == "Fit OF-D620 0995, 0996, 0997 at CYC-1, CYC-2, CYC-3.\n"


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--class", "blimp"], 'There is no class "blimp"; the classes are heli-ic,'),
        (["--class", "sport", "--layout", "tail"], 'found "tail"; a word such as swashplate=120'),
        (["--class", "sport", "--layout", "tail=x"], 'Tail: there is no "x"; allowed is 1, 2, t, v,'),
    ],
)
def test_what_is_no_layout_is_told_and_nothing_is_entered(
    place: str, capsys: pytest.CaptureFixture[str], words: list[str], told: str
) -> None:
    assert main(["new-aircraft", place, "--aircraft", "MER61", *words]) == 2
    assert told in capsys.readouterr().err
    with Fleet.open(place) as fleet:
        assert fleet.aircraft_codes() == ()
