"""Where the readings of a filled sheet go: gates, notes, mass and balance, what an output does."""

from __future__ import annotations

from pathlib import Path

import pytest

from hangar.base.kept_text import said_in
from hangar.parts import Airframe, Channel, Inspection, PlanProof, Position
from hangar.parts.choices import InspectionKind
from hangar.store import Fleet, bring_in
from tests.sheets.cases import TODAY
from tests.sheets.filling import TICK, box_names, fill
from tests.store.filled_sheets.answers import Sheets, filled


def test_ticked_stages_open_the_gates_of_the_refit_they_were_printed_for(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    path = sheets("bench", "MER60")
    ticks = {name: TICK for name, is_tick in box_names(path).items() if is_tick and name.endswith("Passed")}
    bring_in(fleet, [fill(path, tmp_path / "filled.pdf", ticks)])
    proofs = fleet.records(PlanProof)
    assert {proof.proof for proof in proofs} >= {"B0", "B14"}
    assert {proof.ticked_on for proof in proofs} == {TODAY}
    (refit,) = (
        inspection
        for inspection in fleet.records(Inspection, aircraft="MER60")
        if inspection.inspected_on == TODAY
    )
    assert (refit.kind, refit.passed) == (InspectionKind.AFTER_REFIT, True)


def test_what_has_no_field_of_its_own_is_kept_in_words(fleet: Fleet, sheets: Sheets, tmp_path: Path) -> None:
    out = filled(
        sheets, "bench", "MARQ", tmp_path / "words.pdf",
        B0__Passed=TICK, Second__person="Bo",
    )  # fmt: skip
    bring_in(fleet, [out])
    gate = fleet.record(Inspection, "MARQ", TODAY, InspectionKind.GATE)
    assert gate is not None
    assert gate.passed is None
    for words in (
        "ticked: B0;",
        "Second person Bo",
        "not ticked: B1",
    ):
        assert words in str(said_in(gate.findings))


def test_mass_and_balance_have_a_box_each(fleet: Fleet, sheets: Sheets, tmp_path: Path) -> None:
    frame = fleet.record(Airframe, "MARQ")
    assert frame is not None
    mass_g = (frame.all_up_mass_g or 0) + 50
    out = filled(
        sheets,
        "bench",
        "MARQ",
        tmp_path / "mass.pdf",
        B13__Mass=f"{mass_g / 1000} kg",
        B13__Balance__mm="11 cm",
    )
    bring_in(fleet, [out])
    after = fleet.record(Airframe, "MARQ")
    assert after is not None
    assert after.all_up_mass_g == pytest.approx(mass_g)
    assert (after.cg_measured_mm, after.cg_measured_on) == (110, TODAY)


def test_what_an_output_does_is_entered_only_where_nothing_was_known(
    fleet: Fleet, sheets: Sheets, tmp_path: Path
) -> None:
    channels = {channel.number: channel for channel in fleet.records(Channel, aircraft="MARQ")}
    out = filled(sheets, "field", "MARQ", tmp_path / "proved.pdf", **{"ELE-L__Failsafe": TICK})
    bring_in(fleet, [out])
    position = fleet.record(Position, "MARQ", "ELE-L")
    assert position is not None
    assert position.channel in channels
    proved = fleet.record(Channel, "MARQ", position.port, position.channel)
    assert proved is not None
    assert proved.failsafe_proved_on == TODAY
