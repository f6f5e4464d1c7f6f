"""Two ways to fill a PDF form that share no code: a writer of files, and a viewer's own form filling."""

from __future__ import annotations

import ctypes
from collections.abc import Mapping
from pathlib import Path

import pypdfium2
import pypdfium2.raw as raw
from pypdf import PdfReader, PdfWriter

TICK = "/Yes"
_READ_ONLY = 1


def box_names(path: Path) -> dict[str, bool]:
    """Every box of a form that is to be filled, and whether it is one to tick."""
    fields = PdfReader(path).get_fields() or {}
    return {
        name: field.get("/FT") == "/Btn"
        for name, field in fields.items()
        if not field.get("/Ff", 0) & _READ_ONLY
    }


def fill(path: Path, out: Path, texts: Mapping[str, str]) -> Path:
    """Write the values into the file; a tick is ``TICK``."""
    assert not set(texts) - set(box_names(path)), set(texts) - set(box_names(path))
    writer = PdfWriter(clone_from=path)
    for page in writer.pages:
        writer.update_page_form_field_values(page, dict(texts))
    writer.write(out)
    return out


def fill_in_viewer(path: Path, out: Path, texts: Mapping[str, str]) -> Path:
    """Click and type as a viewer does, and save."""
    document = pypdfium2.PdfDocument(path)
    document.init_forms()
    form = document.formenv
    for page in document:
        for number in range(raw.FPDFPage_GetAnnotCount(page)):
            box = raw.FPDFPage_GetAnnot(page, number)
            text = texts.get(_name_of(form, box))
            if text == TICK:
                _click(form, page, box)
            elif text is not None:
                raw.FORM_SetFocusedAnnot(form, box)
                raw.FORM_SelectAllText(form, page)
                raw.FORM_ReplaceSelection(form, page, _wide(text))
            raw.FORM_ForceToKillFocus(form)
            raw.FPDFPage_CloseAnnot(box)
        page.close()
    document.save(out)
    document.close()
    return out


def flatten(path: Path, out: Path) -> Path:
    """Turn the boxes into plain ink, as a printing service does."""
    document = pypdfium2.PdfDocument(path)
    document.init_forms()
    for page in document:
        page.flatten()
        page.close()
    document.save(out)
    document.close()
    return out


def _name_of(form: object, box: object) -> str:
    length = raw.FPDFAnnot_GetFormFieldName(form, box, None, 0)
    buffer = ctypes.create_string_buffer(length)
    raw.FPDFAnnot_GetFormFieldName(form, box, ctypes.cast(buffer, ctypes.POINTER(raw.FPDF_WCHAR)), length)
    return buffer.raw[: length - 2].decode("utf-16-le")


def _click(form: object, page: object, box: object) -> None:
    edges = raw.FS_RECTF()
    raw.FPDFAnnot_GetRect(box, edges)
    x, y = (edges.left + edges.right) / 2, (edges.top + edges.bottom) / 2
    raw.FORM_OnLButtonDown(form, page, 0, x, y)
    raw.FORM_OnLButtonUp(form, page, 0, x, y)


def _wide(text: str) -> object:
    buffer = ctypes.create_string_buffer(f"{text}\0".encode("utf-16-le"))
    return ctypes.cast(buffer, ctypes.POINTER(raw.FPDF_WCHAR))
