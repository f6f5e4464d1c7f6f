"""The one door through which a keeper's picture is opened, for the fleet file, sheets and screens alike."""

from __future__ import annotations

import io
import warnings

from PIL import Image, ImageOps

from hangar.base.picture_head import DAMAGED, TOO_LARGE, NoPicture, picture_head, refuse_large


def upright_picture(content: bytes, most_px: int) -> Image.Image:
    """A picture turned as its camera was held, at most so many points long, with its clear parts.

    The library is told which of its readers to use, by content: left to choose, it would hand some
    files to a program of the system.

    Raises: NoPicture saying why it cannot be shown, whatever the bytes.
    """
    head = picture_head(content)
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore")
            with Image.open(io.BytesIO(content), formats=[head.kind]) as picture:
                refuse_large(picture.width, picture.height)
                picture.draft("RGB", (2 * most_px, 2 * most_px))
                small = ImageOps.exif_transpose(picture)
                small.thumbnail((most_px, most_px))
                return small.convert("RGBA")
    except NoPicture:
        raise
    except Image.DecompressionBombError as fault:
        raise NoPicture(TOO_LARGE) from fault
    except Exception as fault:
        raise NoPicture(DAMAGED) from fault


def small_points(content: bytes, most_px: int) -> tuple[int, int, bytes]:
    """Width, height and points (red, green, blue, cover; row by row) of :func:`upright_picture`.

    Raises: NoPicture saying why it cannot be shown.
    """
    picture = upright_picture(content, most_px)
    return picture.width, picture.height, picture.tobytes()


THINNED_PX = 2560
"""So many points long is a photo that was made smaller: enough for a whole page at 220 dots an inch."""

_QUALITIES = ((THINNED_PX, 88), (THINNED_PX, 75), (1920, 75), (1280, 70))


def thinned(content: bytes, most_bytes: int) -> bytes:
    """A photo as a JPEG of at most so many bytes, turned as its camera was held.

    What its camera noted beside the picture, the place among it, is left out.

    Raises: NoPicture saying why it cannot be opened.
    """
    for longest_px, quality in _QUALITIES:
        clear = upright_picture(content, longest_px)
        picture = Image.new("RGB", clear.size, "white")
        picture.paste(clear, mask=clear.getchannel("A"))
        out = io.BytesIO()
        picture.save(out, "JPEG", quality=quality, optimize=True)
        if out.tell() <= most_bytes:
            break
    return out.getvalue()
