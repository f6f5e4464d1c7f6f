"""What the first bytes of a picture say of it, read without any image library.

Only PNG, JPEG, WebP and GIF are shown, whatever a file is called: other kinds are programs to be run
(EPS, SVG) or have decoders that few people look at.
"""

from __future__ import annotations

from dataclasses import dataclass

from hangar.base.text import Text, text

MOST_BYTES = 50_000_000
"""The largest file that is read as a picture."""

MOST_POINTS = 64_000_000
"""The most points a picture may have; opened, each takes three or four bytes."""

MOST_SCANS = 100
"""So often a JPEG may go over its points; one made to keep a reader busy goes over them by the thousand."""


class NoPicture(ValueError):
    """The bytes cannot be shown as a picture; ``text`` says why, without a full stop."""

    def __init__(self, sentence: Text) -> None:
        self.text = sentence
        super().__init__(sentence)


@dataclass(frozen=True, slots=True)
class PictureHead:
    """The kind of a picture, as image libraries call it, and its size in points."""

    kind: str
    width: int
    height: int


_MEDIA = {"PNG": "image/png", "JPEG": "image/jpeg", "WEBP": "image/webp", "GIF": "image/gif"}
MEDIA_TYPES = frozenset(_MEDIA.values())
"""The media types of the kinds that are shown."""

TOO_LARGE = text("the picture has more than {most} million points", most=MOST_POINTS // 1_000_000)
DAMAGED = text("its bytes are damaged")
_NONE = text("it is no PNG, JPEG, WebP or GIF picture")
_CUT = text("its beginning is damaged or missing")


def media_type_of(content: bytes) -> str | None:
    """The media type by the first bytes; None for what is never shown as a picture."""
    kind = _kind(content)
    return None if kind is None else _MEDIA[kind]


def picture_head(content: bytes) -> PictureHead:
    """The kind and size of a picture that may be opened.

    Raises: NoPicture for any other kind of file, one cut short, and one too large to open.
    """
    kind = _kind(content)
    if kind is None:
        raise NoPicture(_NONE)
    if len(content) > MOST_BYTES:
        raise NoPicture(text("the file is larger than {most} MB", most=MOST_BYTES // 1_000_000))
    size = _SIZES[kind](content)
    if size is None or not all(size):
        raise NoPicture(_CUT)
    refuse_large(*size)
    if kind == "JPEG" and content.count(b"\xff\xda") > MOST_SCANS:
        raise NoPicture(text("the picture is made of more than {most} layers", most=MOST_SCANS))
    return PictureHead(kind, *size)


def refuse_large(width: int, height: int) -> None:
    """Raise NoPicture for a picture of more points than may be opened."""
    if width * height > MOST_POINTS:
        raise NoPicture(TOO_LARGE)


def _kind(content: bytes) -> str | None:
    if content.startswith(b"\x89PNG\r\n\x1a\n"):
        return "PNG"
    if content.startswith(b"\xff\xd8\xff"):
        return "JPEG"
    if content[:4] == b"RIFF" and content[8:12] == b"WEBP":
        return "WEBP"
    return "GIF" if content[:6] in (b"GIF87a", b"GIF89a") else None


def _size_of_png(content: bytes) -> tuple[int, int] | None:
    if content[12:16] != b"IHDR" or len(content) < 24:
        return None
    return int.from_bytes(content[16:20], "big"), int.from_bytes(content[20:24], "big")


def _size_of_gif(content: bytes) -> tuple[int, int] | None:
    if len(content) < 10:
        return None
    return int.from_bytes(content[6:8], "little"), int.from_bytes(content[8:10], "little")


def _size_of_webp(content: bytes) -> tuple[int, int] | None:
    if len(content) < 30:
        return None
    chunk, body = content[12:16], content[20:30]
    if chunk == b"VP8X":
        return 1 + int.from_bytes(body[4:7], "little"), 1 + int.from_bytes(body[7:10], "little")
    if chunk == b"VP8L":
        bits = int.from_bytes(body[1:5], "little")
        return 1 + (bits & 0x3FFF), 1 + (bits >> 14 & 0x3FFF)
    if chunk == b"VP8 ":
        return int.from_bytes(body[6:8], "little") & 0x3FFF, int.from_bytes(body[8:10], "little") & 0x3FFF
    return None


_FRAMES = frozenset(range(0xC0, 0xD0)) - {0xC4, 0xC8, 0xCC}
"""Markers of a JPEG that begin a frame and give its size; ITU-T T.81, table B.1."""
_ALONE = frozenset({0x01, *range(0xD0, 0xDA)})


def _size_of_jpeg(content: bytes) -> tuple[int, int] | None:
    at = 2
    while at + 9 < len(content):
        if content[at] != 0xFF:
            return None
        marker = content[at + 1]
        if marker == 0xFF:
            at += 1
        elif marker in _ALONE:
            at += 2
        elif marker in _FRAMES:
            high, wide = content[at + 5 : at + 7], content[at + 7 : at + 9]
            return int.from_bytes(wide, "big"), int.from_bytes(high, "big")
        else:
            at += 2 + max(2, int.from_bytes(content[at + 2 : at + 4], "big"))
    return None


_SIZES = {"PNG": _size_of_png, "GIF": _size_of_gif, "WEBP": _size_of_webp, "JPEG": _size_of_jpeg}
