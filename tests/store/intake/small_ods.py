"""Writes the smallest .ods file that a spreadsheet program opens."""

from __future__ import annotations

import zipfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from xml.sax.saxutils import escape, quoteattr

_NS = "urn:oasis:names:tc:opendocument:xmlns:"
_MIME = "application/vnd.oasis.opendocument.spreadsheet"


def write_ods(path: Path, tabs: Mapping[str, Sequence[Sequence[str]]]) -> None:
    """Write tabs of text and numbers."""
    body = "".join(
        f"<table:table table:name={quoteattr(name)}>" + "".join(_row(row) for row in rows) + "</table:table>"
        for name, rows in tabs.items()
    )
    content = (
        f'<?xml version="1.0" encoding="UTF-8"?><office:document-content xmlns:office="{_NS}office:1.0"'
        f' xmlns:table="{_NS}table:1.0" xmlns:text="{_NS}text:1.0"><office:body><office:spreadsheet>{body}'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("mimetype", _MIME)
        archive.writestr("content.xml", content)


def _row(row: Sequence[str]) -> str:
    return "<table:table-row>" + "".join(_cell(text) for text in row) + "</table:table-row>"


def _cell(text: str) -> str:
    if not text:
        return "<table:table-cell/>"
    shown = f"<text:p>{escape(text)}</text:p>"
    plain = text.replace(",", ".")
    if plain.replace(".", "", 1).isdigit():
        return (
            f'<table:table-cell office:value-type="float" office:value="{plain}">{shown}</table:table-cell>'
        )
    return f'<table:table-cell office:value-type="string">{shown}</table:table-cell>'
