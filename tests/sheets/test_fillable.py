"""The field sheet to fill on a tablet: every box a field of its own name, read back after filling."""

from __future__ import annotations

from pathlib import Path

from pypdf import PdfReader, PdfWriter

from hangar.sheets import SheetStyle, write_sheet
from tests.sheets.cases import demo_case, demo_cases, released


def fields_of(path: Path) -> dict[str, object]:
    return dict(PdfReader(path).get_fields() or {})


def test_a_sheet_for_paper_has_no_fields(tmp_path: Path) -> None:
    write_sheet("field", [demo_case("MARQ")], tmp_path / "field.pdf", SheetStyle())
    assert fields_of(tmp_path / "field.pdf") == {}


def test_every_box_of_a_sheet_is_a_field_inside_the_page_with_a_name_of_its_own(tmp_path: Path) -> None:
    out = tmp_path / "field.pdf"
    write_sheet("field", demo_cases(), out, SheetStyle(fillable=True))
    names, kinds = [], set()
    for page in PdfReader(out).pages:
        for annotation in page.get("/Annots", []):
            field = annotation.get_object()
            names.append(field["/T"])
            kinds.add(field["/FT"])
            left, bottom, right, top = (float(edge) for edge in field["/Rect"])
            assert 30 < left < right < 566
            assert 30 < bottom < top < 812
            assert field["/TU"]
    assert kinds == {"/Btn", "/Tx"}
    assert len(names) == len(set(names)) > 200


def test_what_is_filled_in_is_read_back(tmp_path: Path) -> None:
    out, filled = tmp_path / "field.pdf", tmp_path / "filled.pdf"
    write_sheet("field", [released(demo_case("MARQ"))], out, SheetStyle(fillable=True))
    writer = PdfWriter(clone_from=out)
    read_name = next(name for name in fields_of(out) if name.startswith("MARQ B021 Read"))
    tick_name = next(name for name in fields_of(out) if name.endswith("line complete"))
    for page in writer.pages:
        writer.update_page_form_field_values(page, {read_name: "4.91", tick_name: "/Yes"})
    writer.write(filled)
    fields = PdfReader(filled).get_fields() or {}
    assert fields[read_name]["/V"] == "4.91"
    assert fields[tick_name]["/V"] == "/Yes"
    assert not any(field.get("/V") == "/Yes" for name, field in fields.items() if name != tick_name)


def test_a_sheet_to_fill_gives_the_same_bytes_each_time(tmp_path: Path) -> None:
    for name in ("one.pdf", "two.pdf"):
        write_sheet("field", [demo_case("MARQ")], tmp_path / name, SheetStyle(fillable=True))
    assert (tmp_path / "one.pdf").read_bytes() == (tmp_path / "two.pdf").read_bytes()
