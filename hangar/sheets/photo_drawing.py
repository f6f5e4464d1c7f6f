"""The photo of an aircraft on a sheet: turned upright, made small, printed."""

from __future__ import annotations

import io
from functools import lru_cache

from PIL import Image
from reportlab.lib.utils import ImageReader

from hangar.base.picture_head import NoPicture
from hangar.base.pictures import upright_picture
from hangar.base.text import series, text
from hangar.sheets.kit import Sheet
from hangar.sheets.photo import AircraftPhoto, LookForPhoto
from hangar.sheets.style import MM

_MOST_PIXELS = 1000
_QUALITY = 82


def draw_photo(
    sheet: Sheet, given: AircraftPhoto | LookForPhoto | None, width_mm: float, height_mm: float
) -> None:
    """Draw a photo as large as the room given allows, its name under it, or say why there is none."""
    photo = given() if callable(given) else given
    if photo is None:
        return
    sheet.gap(1.5)
    for trouble in photo.troubles:
        sheet.write(trouble)
    if photo.content is None:
        return
    try:
        jpeg, size = upright_jpeg(photo.content, colour=sheet.style.colour)
    except NoPicture as fault:
        sheet.write(text("Photo {name} is not shown: {fault}.", name=photo.name, fault=fault.text))
        return
    scale = min(width_mm / size[0], height_mm / size[1])
    wide, high = size[0] * scale, size[1] * scale
    sheet.need(high + 2 * sheet.line_mm())
    bottom = (sheet.page_height_mm - sheet.y_mm - high) * MM
    reader = ImageReader(io.BytesIO(jpeg))
    sheet.canvas.drawImage(reader, sheet.left_mm * MM, bottom, wide * MM, high * MM)
    sheet.rect(sheet.left_mm, sheet.y_mm, wide, high, line_pt=0.5)
    sheet.gap(high)
    more = [text("{count} more among its papers", count=photo.others)] if photo.others else []
    sheet.write(text("Photo: {what}.", what=series([photo.name, *more])))


@lru_cache(maxsize=16)
def upright_jpeg(content: bytes, *, colour: bool) -> tuple[bytes, tuple[int, int]]:
    """A picture turned as its camera was held, at most 1000 points long, as JPEG; and its size in points.

    Raises: NoPicture saying why it cannot be shown.
    """
    clear = upright_picture(content, _MOST_PIXELS)
    flat = Image.new("RGB", clear.size, "white")
    flat.paste(clear, mask=clear.getchannel("A"))
    out = io.BytesIO()
    (flat if colour else flat.convert("L")).save(out, "JPEG", quality=_QUALITY, optimize=True)
    return out.getvalue(), flat.size
