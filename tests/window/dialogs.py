"""Every dialog of the window, one after the other, with the invented fleet behind it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from datetime import date

from PySide6.QtWidgets import QDialog

from hangar.base.text import text
from hangar.parts import RECORD_KINDS, Airframe, Flight, Pack, Snag
from hangar.parts.choices import Severity
from hangar.parts.fields import columns
from hangar.refit.refusal import LACKING, Refusal
from hangar.window.guide import open_guide
from hangar.window.kit.desk import Desk
from hangar.window.kit.notice import show_fault
from hangar.window.log.flight_dialog import FlightDialog
from hangar.window.log.log_dialogs import CloseSnagDialog, InspectionDialog
from hangar.window.main_window import MainWindow
from hangar.window.paper.print_dialog import PrintDialog
from hangar.window.paper.sheet_readings import SheetReadings
from hangar.window.positions.fit_servo_dialog import FitServoDialog
from hangar.window.positions.new_position import NewPositionDialog
from hangar.window.records.field_dialog import FieldDialog
from hangar.window.records.paste_rows import PasteDialog, read_block
from hangar.window.records.record_dialog import RecordDialog
from hangar.window.refit.why_not_dialog import WhyNotDialog
from tests.scenes import AIRCRAFT, BOXES

READ_BACK_BY = "MER60"


def all_dialogs(desk: Desk, window: MainWindow) -> Iterator[tuple[str, Callable[[], QDialog]]]:
    """Each by its name, made when it is asked for."""
    for name, make in BOXES:
        yield name, lambda make=make: make(desk, window)  # type: ignore[misc]
    for kind in RECORD_KINDS:
        yield f"form of {kind.KIND}", lambda kind=kind: RecordDialog(desk, kind, {}, window)  # type: ignore[misc]
    yield "flight", lambda: FlightDialog(desk, Flight, {"aircraft": AIRCRAFT}, window)
    yield "guide", lambda: open_guide(window)
    for sheet in ("field", "bench", "labels", "fleet"):
        yield f"print {sheet}", lambda sheet=sheet: PrintDialog(desk, sheet, [AIRCRAFT], window)  # type: ignore[misc]
    for sheet in ("field", "bench", "charging"):
        yield f"enter {sheet}", lambda sheet=sheet: _readings(desk, window, sheet)  # type: ignore[misc]
    yield "fit a servo", lambda: FitServoDialog(desk, desk.aircraft(AIRCRAFT).fits[0], window)
    yield "new position", lambda: NewPositionDialog(desk, AIRCRAFT, window)
    yield "close a snag", lambda: CloseSnagDialog(desk, _snag(), window)
    yield "inspection", lambda: _inspection(desk, window)
    yield "one field", lambda: _field(desk, window)
    yield "why not that type", lambda: _why_not(desk, window)
    yield "pasted rows", lambda: _pasted(desk, window)
    yield "fault", lambda: show_fault(ValueError("made up"), window)
    yield "keep what you changed", window.files.save_offer.question


def _readings(desk: Desk, window: MainWindow, sheet: str) -> SheetReadings:
    dialog = SheetReadings(desk, READ_BACK_BY, window)
    dialog.choose(sheet, READ_BACK_BY)
    return dialog


def _why_not(desk: Desk, window: MainWindow) -> WhyNotDialog:
    what = text("{place}: {what}", place="RUD", what="TS-A")
    refusals = (Refusal(what, LACKING["rating"], "rating"),)
    dialog = WhyNotDialog(desk, "RUD", lambda _stop: refusals, window)
    dialog.show_refusals(refusals)
    return dialog


def _snag() -> Snag:

    return Snag(
        aircraft=AIRCRAFT,
        raised_on=date(2026, 3, 1),
        text="Hinge of the rudder loose",
        severity=Severity.GROUNDS,
    )


def _inspection(desk: Desk, window: MainWindow) -> InspectionDialog:
    judgement = desk.judgement(AIRCRAFT)
    assert judgement is not None
    return InspectionDialog(desk, judgement, window)


def _field(desk: Desk, window: MainWindow) -> FieldDialog:
    record = desk.fleet.record(Airframe, AIRCRAFT)
    assert record is not None
    return FieldDialog(desk, record, "dive_speed_m_s", "", window)


def _pasted(desk: Desk, window: MainWindow) -> PasteDialog:
    fields = [spec.name for spec in columns(Pack)]
    rows = "tag\tpack_type\tbought_on\nP1\tnone such\t2020-01-01\nP2\t\tsoon\n"
    return PasteDialog(desk, read_block(desk, Pack, rows, {}, fields), window)
