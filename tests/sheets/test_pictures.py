"""Whatever is kept as a photo: PNG, JPEG, WebP and GIF of a sane size are shown, all else is told."""

from __future__ import annotations

import io
import subprocess
from collections.abc import Callable
from datetime import date
from pathlib import Path
from random import Random

import pytest
from PIL import EpsImagePlugin, Image

from hangar.base.picture_head import MOST_BYTES, MOST_SCANS, NoPicture, media_type_of, picture_head
from hangar.base.pictures import small_points, upright_picture
from hangar.parts import Attachment
from hangar.sheets.photo import AircraftPhoto
from hangar.store import Fleet, Owner
from tests.sheets.hostile_pictures import (
    EPS,
    NESTED_SVG,
    gif_of,
    jpeg_of,
    png_of,
    saved,
    second_head,
    webp_of,
    with_many_scans,
)
from tests.sheets.test_photo import words_with

KINDS = ("PNG", "JPEG", "WEBP", "GIF")
HUGE = 16_000
DAY = date(2026, 3, 14)


@pytest.mark.parametrize("kind", KINDS)
def test_size_and_kind_are_those_that_the_library_finds(kind: str) -> None:
    for width, height in ((1, 1), (40, 30), (333, 7)):
        head = picture_head(saved(kind, width, height))
        assert (head.kind, head.width, head.height) == (kind, width, height)
        with Image.open(io.BytesIO(saved(kind, width, height))) as opened:
            assert opened.format == kind
        assert upright_picture(saved(kind, width, height), 1000).size == (width, height)


@pytest.mark.parametrize("options", [{"lossless": True}, {"exact": True, "quality": 20}])
def test_every_form_of_webp_is_measured(options: dict[str, object]) -> None:
    head = picture_head(saved("WEBP", 123, 45, **options))
    assert (head.width, head.height) == (123, 45)
    clear = Image.new("RGBA", (61, 47), (10, 20, 30, 40))
    out = io.BytesIO()
    clear.save(out, "WEBP")
    assert (picture_head(out.getvalue()).width, picture_head(out.getvalue()).height) == (61, 47)


HOSTILE: dict[str, tuple[Callable[[], bytes], str]] = {
    "drawing": (lambda: NESTED_SVG.encode(), "no PNG, JPEG, WebP or GIF"),
    "program": (lambda: EPS, "no PNG, JPEG, WebP or GIF"),
    "TIFF": (lambda: saved("TIFF"), "no PNG, JPEG, WebP or GIF"),
    "nothing": (lambda: b"", "no PNG, JPEG, WebP or GIF"),
    "head only": (lambda: b"\x89PNG\r\n\x1a\n", "its beginning is damaged"),
    "no size": (lambda: png_of(0, 10), "its beginning is damaged"),
    "large PNG": (lambda: png_of(HUGE, HUGE), "more than 64 million points"),
    "large GIF": (lambda: gif_of(HUGE, HUGE), "more than 64 million points"),
    "large frame of a GIF": (lambda: gif_of(2, 2, (HUGE, HUGE)), "more than 64 million points"),
    "large WebP": (lambda: webp_of(HUGE, HUGE), "more than 64 million points"),
    "large JPEG": (lambda: jpeg_of(HUGE, HUGE), "more than 64 million points"),
    "two heads": (lambda: png_of(4, 4, second_head(HUGE, HUGE)), "more than 64 million points|damaged"),
    "many layers": (lambda: with_many_scans(MOST_SCANS), "more than 100 layers"),
    "large file": (lambda: saved("PNG") + bytes(MOST_BYTES), "larger than 50 MB"),
    "cut short": (lambda: saved("PNG", 300, 300)[:400], "its bytes are damaged"),
}
OPENED = {"large frame of a GIF", "two heads", "cut short"}
"""Only their insides tell."""


@pytest.mark.parametrize("name", HOSTILE)
def test_what_cannot_or_must_not_be_opened_is_told(name: str) -> None:
    make, words = HOSTILE[name]
    content = make()
    assert len(content) < 1_000_000 or name == "large file"
    with pytest.raises(NoPicture, match=words) as fault:
        small_points(content, 1000)
    assert not str(fault.value).endswith(".")


@pytest.mark.parametrize("name", [name for name in HOSTILE if name not in OPENED])
def test_most_are_told_before_the_library_sees_them(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    opened: list[object] = []
    monkeypatch.setattr(Image, "open", lambda *given, **more: opened.append(given))
    with pytest.raises(NoPicture):
        small_points(HOSTILE[name][0](), 1000)
    assert not opened


def test_no_program_of_the_system_is_started_for_a_picture(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    started: list[object] = []
    monkeypatch.setattr(EpsImagePlugin, "Ghostscript", lambda *given, **more: started.append(given))
    monkeypatch.setattr(subprocess, "Popen", lambda *given, **more: started.append(given))
    words = words_with("passport", AircraftPhoto("side.png", EPS), tmp_path / "sheet.pdf")
    assert "Photo side.png is not shown: it is no PNG, JPEG, WebP or GIF picture." in words
    assert not started


@pytest.mark.parametrize("kind", KINDS)
def test_pictures_with_bytes_changed_by_chance_are_shown_or_told(kind: str) -> None:
    chance = Random(11)
    whole = saved(kind, 64, 48)
    outcomes = set()
    for _ in range(150):
        spoiled = bytearray(whole)
        for _ in range(chance.choice((1, 1, 3, 20))):
            spoiled[chance.randrange(len(spoiled))] = chance.randrange(256)
        try:
            width, height, points = small_points(bytes(spoiled), 50)
            assert len(points) == width * height * 4
            outcomes.add("shown")
        except NoPicture:
            outcomes.add("told")
    assert outcomes == {"shown", "told"}


def test_a_photo_of_a_telephone_is_opened(tmp_path: Path) -> None:
    large = saved("JPEG", 9000, 6000, quality=90)
    assert upright_picture(large, 1000).size == (1000, 667)


def test_the_kind_of_a_paper_is_told_by_its_content(tmp_path: Path) -> None:
    contents = {
        "side.png": saved("JPEG"),
        "side": saved("WEBP"),
        "program.png": EPS,
        "drawing.svg": NESTED_SVG.encode(),
        "letter.pdf": b"%PDF-1.7",
    }
    with Fleet.in_memory() as fleet:
        for name, content in contents.items():
            (tmp_path / name).write_bytes(content)
            fleet.edit("Keep", lambda edit, name=name: edit.attach(tmp_path / name, Owner(), DAY))  # type: ignore[misc]
        kinds = {paper.name: paper.media_type for paper in fleet.records(Attachment)}
    assert kinds == {
        "side.png": "image/jpeg",
        "side": "image/webp",
        "program.png": "application/octet-stream",
        "drawing.svg": "image/svg+xml",
        "letter.pdf": "application/pdf",
    }
    assert media_type_of(b"") is None
