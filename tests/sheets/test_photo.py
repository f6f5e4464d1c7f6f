"""Photos on the passport and the build sheet: upright, small, and said in words where there is none."""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from PIL import Image
from pypdf import PdfReader

from hangar.base.errors import StoreFault
from hangar.base.places import demo_fleet_dir
from hangar.base.text import text
from hangar.commands.running import main
from hangar.parts import Airframe, Attachment
from hangar.parts.choices import AircraftClass
from hangar.parts.papers import PaperPlace
from hangar.sheets import SheetStyle, write_sheet
from hangar.sheets.photo import AircraftPhoto, photo_of, photos_of
from hangar.sheets.photo_drawing import upright_jpeg
from hangar.store import Edit, Fleet, Owner
from tests.sheets.cases import demo_case
from tests.sheets.reading import text_of

ROTATED_BY_90 = 6
"""Value of the orientation tag of a camera held upright; Exif 2.32 (CIPA DC-008), table 4."""
ORIENTATION = 0x0112
KINDS = ["passport", "build"]


def picture(
    width: int = 1600, height: int = 1200, orientation: int = 1, kind: str = "JPEG", mode: str = "RGB"
) -> bytes:
    """A picture red in its upper left quarter, blue elsewhere."""
    image = Image.new("RGB", (width, height), (20, 40, 200))
    image.paste((220, 20, 20), (0, 0, width // 2, height // 2))
    exif = Image.Exif()
    exif[ORIENTATION] = orientation
    out = io.BytesIO()
    image.convert(mode).save(out, kind, exif=exif)
    return out.getvalue()


def paper(
    name: str, *, day: date | None = None, media: str = "image/jpeg", aircraft: str = "MARQ"
) -> Attachment:
    return Attachment(
        name=name, aircraft=aircraft, media_type=media, size_bytes=1, sha256=name, added_on=day
    )  # fmt: skip


def words_with(kind: str, photo: AircraftPhoto, out: Path) -> str:
    write_sheet(kind, [replace(demo_case("MARQ"), photo=photo)], out, SheetStyle())
    return " ".join(text_of(out))


@pytest.mark.parametrize("kind", KINDS)
def test_the_photo_is_embedded_small_and_named(kind: str, tmp_path: Path) -> None:
    write_sheet(kind, [demo_case("MARQ")], tmp_path / "bare.pdf", SheetStyle())
    out = tmp_path / "sheet.pdf"
    large = Image.effect_noise((4000, 3000), 60).convert("RGB")
    held = io.BytesIO()
    large.save(held, "JPEG", quality=95)
    words = words_with(kind, AircraftPhoto("biplane.jpg", held.getvalue(), others=2), out)
    assert "Photo: biplane.jpg; 2 more among its papers." in words
    (image,) = PdfReader(out).pages[0].images
    assert image.image is not None
    assert max(image.image.size) == 1000
    # Noise is the worst that a JPEG can be asked to hold.
    assert out.stat().st_size - (tmp_path / "bare.pdf").stat().st_size < 900_000
    assert len(held.getvalue()) > 4_000_000


def test_the_rotation_of_the_camera_is_honoured(tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    words_with("passport", AircraftPhoto("x.jpg", picture(1600, 1200, ROTATED_BY_90)), out)
    (image,) = PdfReader(out).pages[0].images
    assert image.image is not None
    assert image.image.size == (750, 1000)
    # Turned clockwise by a quarter, what was the upper left is the upper right.
    red, _, blue = image.image.convert("RGB").getpixel((700, 100))  # type: ignore[misc]
    assert red > 150 > blue


def test_the_photo_keeps_its_shape_and_stays_within_the_margins(tmp_path: Path) -> None:
    for size in ((3000, 200), (200, 3000), (900, 900)):
        words = words_with("passport", AircraftPhoto("x.jpg", picture(*size)), tmp_path / "sheet.pdf")
        assert "Photo: x.jpg." in words
        content = PdfReader(tmp_path / "sheet.pdf").pages[0].get_contents()
        assert content is not None
        (placed,) = re.findall(r"q\s+([\d. ]+) cm\s+/\S+ Do\b", content.get_data().decode("latin1"))
        wide, _, _, high, left, _ = (float(word) for word in placed.split())
        assert wide / high == pytest.approx(size[0] / size[1], rel=0.05)
        assert left + wide < 566


@pytest.mark.parametrize("kind", KINDS)
def test_a_photo_that_cannot_be_shown_is_said_in_words(kind: str, tmp_path: Path) -> None:
    gone = AircraftPhoto("x.jpg", None, 0, (text("Paper x.jpg cannot be read: No such file."),))
    assert "Paper x.jpg cannot be read: No such file." in words_with(kind, gone, tmp_path / "a.pdf")
    broken = AircraftPhoto("y.jpg", picture()[:500])
    words = words_with(kind, broken, tmp_path / "b.pdf")
    assert "Photo y.jpg is not shown: its bytes are damaged." in words
    assert "Photo" not in words_with(kind, None, tmp_path / "c.pdf")  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("kind", "mode"), [("PNG", "RGBA"), ("PNG", "P"), ("WEBP", "RGB"), ("GIF", "P"), ("JPEG", "CMYK")]
)
def test_pictures_of_the_usual_kinds_are_shown(kind: str, mode: str) -> None:
    jpeg, size = upright_jpeg(picture(60, 40, kind=kind, mode=mode), colour=True)
    assert size == (60, 40)
    assert Image.open(io.BytesIO(jpeg)).format == "JPEG"


def test_black_and_white_takes_the_colours_out() -> None:
    jpeg, _ = upright_jpeg(picture(60, 40), colour=False)
    assert Image.open(io.BytesIO(jpeg)).mode == "L"


def test_the_oldest_picture_that_can_be_read_is_the_one() -> None:
    papers = [
        paper("new.jpg", day=date(2026, 1, 2)),
        paper("old.jpg", day=date(2020, 1, 2)),
        paper("older.jpg", day=date(2019, 1, 2)),
        paper("oldest.jpg", day=date(2018, 1, 2)),
        paper("manual.pdf", media="application/pdf"),
        paper("other.jpg", aircraft="DUNN"),
    ]

    def read(name: str) -> bytes:
        if name == "older.jpg":
            raise StoreFault("Paper older.jpg was changed.")
        return b"words" if name == "oldest.jpg" else picture(8, 8)

    photo = photo_of("MARQ", papers, read)
    assert photo is not None
    assert photo == AircraftPhoto("old.jpg", picture(8, 8), 3, photo.troubles)
    assert [str(trouble) for trouble in photo.troubles] == [
        "Photo oldest.jpg is not shown: it is no PNG, JPEG, WebP or GIF picture.",
        "Paper older.jpg was changed.",
    ]
    assert photo_of("NIM7", papers, read) is None
    assert photo_of("DUNN", papers, lambda name: read("older.jpg")) == AircraftPhoto(
        "other.jpg", None, 0, (text("Paper older.jpg was changed."),)
    )


def test_a_photo_is_read_when_it_is_drawn_and_the_papers_of_a_fleet_are_gone_through_once() -> None:
    papers = [paper(f"{code}.jpg", aircraft=code) for code in ("MARQ", "DUNN", "SISK")]
    gone_through, read = 0, list[str]()

    def one_by_one() -> Iterator[Attachment]:
        nonlocal gone_through
        gone_through += 1
        yield from papers

    def content(name: str) -> bytes:
        read.append(name)
        return picture(8, 8)

    look = photos_of(one_by_one(), content)
    finds = [look(code) for code in ("MARQ", "DUNN", "NIM7")]
    assert (gone_through, read) == (1, [])
    assert [find() for find in finds] == [
        photo_of(code, papers, content) for code in ("MARQ", "DUNN", "NIM7")
    ]
    assert read == ["MARQ.jpg", "DUNN.jpg"] * 2


def test_the_command_prints_the_photo_of_a_file_and_says_when_its_bytes_are_gone(tmp_path: Path) -> None:
    (tmp_path / "side.jpg").write_bytes(picture())
    file = tmp_path / "fleet.hangar"

    def attach(edit: Edit) -> None:
        edit.attach(tmp_path / "side.jpg", Owner(aircraft="A"), date(2026, 1, 2), PaperPlace.BESIDE)

    with Fleet.create(file) as fleet:
        fleet.edit(
            "one", lambda edit: edit.put(Airframe(code="A", name="A", aircraft_class=AircraftClass.SPORT))
        )
        fleet.edit("two", attach)
    out = tmp_path / "passport.pdf"
    assert main(["sheet", "passport", str(file), "--out", str(out)]) == 0
    assert len(PdfReader(out).pages[0].images) == 1
    for kept in (tmp_path / "fleet papers").iterdir():
        kept.unlink()
    assert main(["sheet", "passport", str(file), "--out", str(out)]) == 0
    assert "Paper side.jpg cannot be read" in text_of(out)[0]
    assert main(["sheet", "passport", str(demo_fleet_dir()), "--aircraft", "DUNN", "--out", str(out)]) == 0
    assert not PdfReader(out).pages[0].images
