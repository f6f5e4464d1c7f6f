"""Field, bench, build sheet and overview print what is required without a signal, and mark what is wrong."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest

from hangar.answers.bench_bands import bands_of
from hangar.base.units import SI_TRADE
from hangar.parts import Channel
from hangar.parts.choices import FailsafeAction, Function
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.case import SheetCase
from tests.sheets.cases import case_of, demo_case
from tests.sheets.reading import text_of


def words_of(kind: str, case: SheetCase, tmp_path: Path) -> str:
    write_sheet(kind, [case], tmp_path / "sheet.pdf", SheetStyle())
    return " ".join(text_of(tmp_path / "sheet.pdf"))


def with_throttle(code: str, failsafe: FailsafeAction | None) -> SheetCase:
    case = demo_case(code)

    def changed(channel: Channel) -> Channel:
        return replace(channel, failsafe=failsafe) if channel.function is Function.THROTTLE else channel

    aircraft = replace(
        case.aircraft,
        channels=tuple(changed(channel) for channel in case.aircraft.channels),
        fits=tuple(
            replace(fit, channel=changed(fit.channel)) if fit.channel else fit for fit in case.aircraft.fits
        ),
    )
    return replace(case_of(aircraft), library=case.library)


@pytest.mark.parametrize("kind", ["field", "bench"])
def test_a_wrong_setting_is_never_printed_as_the_target(kind: str, tmp_path: Path) -> None:
    turbine = words_of(kind, demo_case("PERT"), tmp_path)
    assert "hold in 2 s" not in turbine
    assert "idle or off in 2 s; set to hold: WRONG" in turbine
    petrol = words_of(kind, demo_case("CIND"), tmp_path)
    assert "idle or off; set to hold: WRONG" in petrol


@pytest.mark.parametrize("kind", ["field", "bench"])
def test_a_setting_that_agrees_is_the_target(kind: str, tmp_path: Path) -> None:
    words = words_of(kind, with_throttle("PERT", FailsafeAction.OFF), tmp_path)
    assert "off in 2 s" in words
    assert "idle or off in 2 s" not in words
    assert "WRONG" not in words
    assert "idle or off in 2 s, as preset" in words_of(
        kind, with_throttle("PERT", FailsafeAction.PRESET), tmp_path
    )


@pytest.mark.parametrize("kind", ["field", "bench"])
def test_a_setting_nobody_knows_leaves_a_box_and_the_target_still_stands_there(
    kind: str, tmp_path: Path
) -> None:
    case = with_throttle("CIND", None)
    assert "idle or off without a signal" in words_of(kind, case, tmp_path)
    assert [str(band.action) for band in bands_of(kind, case, SI_TRADE, "THR", "No signal")] == [
        "idle",
        "off",
    ]


def test_build_sheet_and_overview_mark_the_wrong_setting(tmp_path: Path) -> None:
    for kind in ("build", "fleet"):
        words = words_of(kind, demo_case("CIND"), tmp_path)
        assert "hold: WRONG" in words
        assert not re.search(r"hold: WRONG,? (proved )?\d{4}-", words)


def test_the_screen_expects_what_is_required() -> None:
    case = demo_case("CIND")
    about = next(fit.code for fit in case.aircraft.fits if fit.function is Function.THROTTLE)
    bands = bands_of("bench", case, SI_TRADE, about, "It did")
    assert [str(band.action) for band in bands] == ["idle", "off"]
    assert not any(band.holds("hold") for band in bands)
