"""The pages of a PDF on screen: one at a time, turned by key, as large as wanted."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QImage, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QScrollArea, QWidget

from hangar.window.kit.words import say

if TYPE_CHECKING:
    from pypdfium2 import PdfDocument

_POINTS_AN_INCH = 72.0
_LEAST_ZOOM, _MOST_ZOOM, _STEP = 0.25, 4.0, 1.25
FIT_PAGE, FIT_WIDTH = "page", "width"


class Pages:
    """An open PDF; every page can be had as a picture. Only ever used from the window's own thread."""

    def __init__(self, content: bytes) -> None:
        import pypdfium2

        self._document: PdfDocument = pypdfium2.PdfDocument(content)
        if self._document.get_formtype():
            self._document.init_forms()

    def __len__(self) -> int:
        return len(self._document)

    def size_pt(self, number: int) -> tuple[float, float]:
        """Width and height of a page, counted from 0."""
        width, height = self._document.get_page_size(number)
        return float(width), float(height)

    def picture(self, number: int, dots_an_inch: float) -> QImage:
        """A page, counted from 0, as it will be printed."""
        page = self._document[number]
        bitmap: Any = page.render(scale=dots_an_inch / _POINTS_AN_INCH, force_bitmap_format=_bgrx())
        image = QImage(
            bytes(bitmap.buffer), bitmap.width, bitmap.height, bitmap.stride, QImage.Format.Format_RGB32
        )
        # The picture must not lean on memory that goes with the bitmap.
        picture = image.copy()
        bitmap.close()
        page.close()
        return picture

    def words(self, number: int) -> str:
        """The words of a page, for a screen reader."""
        page = self._document[number]
        text = page.get_textpage()
        words = " ".join(str(text.get_text_bounded()).split())
        text.close()
        page.close()
        return words

    def close(self) -> None:
        """Let the file go."""
        self._document.close()


def _bgrx() -> int:
    import pypdfium2.raw

    return int(pypdfium2.raw.FPDFBitmap_BGRx)


class _Paper(QWidget):
    """One page, drawn on white whatever the colours of the window."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.image = QImage()

    def show_image(self, image: QImage) -> None:
        self.image = image
        self.resize(image.deviceIndependentSize().toSize() if not image.isNull() else QSize())
        self.update()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        if not self.image.isNull():
            painter.drawImage(QRectF(self.rect()), self.image)
        painter.end()


class SheetPreview(QScrollArea):
    """Shows one page, as large as the room allows or as chosen; ``keys`` turn it and change its size."""

    turned = Signal(int, int)
    """Number of the page shown, from 1 (0 without any), and how many there are."""
    zoomed = Signal(float)
    """The size on screen that a key asked for, over true size."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._pages: Pages | None = None
        self._number = 0
        self._zoom: float | str = FIT_PAGE
        self.paper = _Paper()
        self.setWidget(self.paper)
        self.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.setAccessibleName(say("Preview of the pages"))
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def sizeHint(self) -> QSize:
        height = self.fontMetrics().height()
        return QSize(height * 34, height * 40)

    @property
    def count(self) -> int:
        """How many pages there are."""
        return len(self._pages) if self._pages is not None else 0

    @property
    def number(self) -> int:
        """The page shown, counted from 1; 0 without any."""
        return self._number + 1 if self.count else 0

    def show_pdf(self, content: bytes | None) -> None:
        """Show another PDF, at the page where the last one stood; none for None."""
        self.let_go()
        self._pages = Pages(content) if content else None
        self._number = min(self._number, max(0, self.count - 1))
        self._show()

    def let_go(self) -> None:
        """Close what is open."""
        if self._pages is not None:
            self._pages.close()
        self._pages = None

    def turn_to(self, number: int) -> None:
        """Show a page, counted from 1; beyond the ends the first or last."""
        if self.count:
            self._number = min(max(number, 1), self.count) - 1
            self.verticalScrollBar().setValue(0)
            self._show()

    def zoom_to(self, zoom: float | str) -> None:
        """Show at a share of the true size, or fit the page or its width."""
        self._zoom = zoom if isinstance(zoom, str) else min(max(zoom, _LEAST_ZOOM), _MOST_ZOOM)
        self._show()

    def zoom_by(self, factor: float) -> None:
        """Make what is shown larger or smaller."""
        self.zoom_to(self.scale * factor)
        self.zoomed.emit(self.scale)

    @property
    def scale(self) -> float:
        """Size on screen over true size."""
        if self._pages is None or isinstance(self._zoom, float):
            return self._zoom if isinstance(self._zoom, float) else 1.0
        width, height = self._pages.size_pt(self._number)
        room = self.viewport().size()
        # A page is drawn on whole pixels, rounded up.
        frame = 2 * self.frameWidth() + 1
        across = (room.width() - frame) * _POINTS_AN_INCH / (width * self.logicalDpiX())
        down = (room.height() - frame) * _POINTS_AN_INCH / (height * self.logicalDpiY())
        return max(_LEAST_ZOOM, across if self._zoom == FIT_WIDTH else min(across, down))

    def _show(self) -> None:
        if self._pages is None:
            self.paper.show_image(QImage())
            self.setAccessibleDescription("")
        else:
            ratio = self.devicePixelRatioF()
            image = self._pages.picture(self._number, self.scale * self.logicalDpiX() * ratio)
            image.setDevicePixelRatio(ratio)
            self.paper.show_image(image)
            self.setAccessibleDescription(self._pages.words(self._number))
        self.turned.emit(self.number, self.count)

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if isinstance(self._zoom, str):
            self._show()

    def keys(self) -> dict[str, Callable[[], None]]:
        """What each key does, wherever in the dialog it is pressed."""
        return {
            "PgDown": lambda: self.turn_to(self.number + 1),
            "PgUp": lambda: self.turn_to(self.number - 1),
            "Ctrl+Home": lambda: self.turn_to(1),
            "Ctrl+End": lambda: self.turn_to(self.count),
            "Ctrl++": lambda: self.zoom_by(_STEP),
            "Ctrl+=": lambda: self.zoom_by(_STEP),
            "Ctrl+-": lambda: self.zoom_by(1 / _STEP),
            "Ctrl+0": lambda: self.zoom_to(FIT_PAGE),
        }
