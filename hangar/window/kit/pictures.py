"""A keeper's picture for the screen, opened through the one door that sheets use too."""

from __future__ import annotations

from PySide6.QtGui import QImage


def shown_picture(content: bytes, most_px: int) -> QImage:
    """A picture upright and at most so many points long; may be asked beside the event loop.

    Raises: NoPicture saying why it cannot be shown.
    """
    # The image library is loaded with the first picture.
    from hangar.base.pictures import small_points

    width, height, points = small_points(content, most_px)
    # The copy is Qt's own: the points given to it are gone when this returns.
    return QImage(points, width, height, width * 4, QImage.Format.Format_RGBA8888).copy()
