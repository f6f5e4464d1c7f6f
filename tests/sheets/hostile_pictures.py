"""Files made to freeze, fill or mislead whoever opens them as a picture."""

from __future__ import annotations

import io
import struct
import zlib

from PIL import Image

_LEVELS = "".join(
    f'<g id="a{number}">' + f'<use href="#a{number - 1}"/>' * 10 + "</g>" for number in range(1, 10)
)
NESTED_SVG = f'<svg xmlns="http://www.w3.org/2000/svg"><rect id="a0"/>{_LEVELS}<use href="#a9"/></svg>'
"""Ten thousand million squares, if anybody drew them."""

EPS = b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 10 10\n%%EndComments\n(secret) run\n%%EOF\n"


def _chunk(name: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + name + body + struct.pack(">I", zlib.crc32(name + body))


def png_of(width: int, height: int, *more: bytes) -> bytes:
    """A PNG that says it has so many points; what follows is almost nothing."""
    head = _chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))
    rows = _chunk(b"IDAT", zlib.compress(bytes(100_000)))
    return b"\x89PNG\r\n\x1a\n" + head + b"".join(more) + rows + _chunk(b"IEND", b"")


def second_head(width: int, height: int) -> bytes:
    """A head that comes after the first, whose size nobody looked at."""
    return _chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0))


def saved(kind: str, width: int = 40, height: int = 30, **options: object) -> bytes:
    """A plain picture of that kind."""
    out = io.BytesIO()
    Image.radial_gradient("L").resize((width, height)).convert("RGB").save(out, kind, **options)
    return out.getvalue()


def with_many_scans(count: int) -> bytes:
    """A progressive JPEG that goes over its points again and again."""
    plain = saved("JPEG", 400, 300, progressive=True)
    first = plain.index(b"\xff\xda")
    second = plain.index(b"\xff\xda", first + 2)
    return plain[:first] + plain[first:second] * count + plain[second:]


def gif_of(width: int, height: int, frame: tuple[int, int] = (2, 2)) -> bytes:
    """A GIF whose screen, or whose first frame, says it is so large."""
    screen = b"GIF89a" + struct.pack("<HHBBB", width, height, 0x80, 0, 0) + bytes(6)
    return screen + b"," + struct.pack("<HHHHB", 0, 0, *frame, 0) + b"\x02\x02\x44\x01\x00;"


def webp_of(width: int, height: int) -> bytes:
    """A WebP whose canvas says it is so large."""
    plain = saved("WEBP")
    body = b"VP8X" + struct.pack("<I", 10) + bytes(4)
    body += (width - 1).to_bytes(3, "little") + (height - 1).to_bytes(3, "little") + plain[12:]
    return b"RIFF" + struct.pack("<I", len(body) + 4) + b"WEBP" + body


def jpeg_of(width: int, height: int) -> bytes:
    """A JPEG whose frame says it is so large."""
    plain = bytearray(saved("JPEG"))
    at = plain.index(b"\xff\xc0")
    plain[at + 5 : at + 9] = struct.pack(">HH", height, width)
    return bytes(plain)
