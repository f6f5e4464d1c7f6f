"""Small photos of the aircraft for their cards, read one after the other beside the event loop."""

from __future__ import annotations

from collections.abc import Callable

from PySide6.QtCore import QObject, QTimer, Signal
from PySide6.QtGui import QImage

from hangar.base.picture_head import NoPicture
from hangar.parts import Attachment
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk
from hangar.window.kit.pictures import shown_picture

MOST_PX = 224
"""How large a photo is kept, enough for a card on a screen of twice the usual density."""

Papers = tuple[Attachment, ...]


class CardPhotos(QObject):
    """Gives the photos there are and fetches those that are asked for. Signals: ``ready(code)``.

    Only what is drawn is fetched; an aircraft without a photo, or with one that cannot be read, has none.
    """

    ready = Signal(str)

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._papers: dict[str, Papers] = {}
        self._kept: dict[Papers | None, QImage | None] = {}
        self._wanted: list[str] = []
        self._task: BackgroundTask | None = None
        desk.touched.connect(lambda touched: self.read_again() if "attachment" in touched else None)
        # Cards are on screen before anybody looks for photos.
        QTimer.singleShot(0, self, self.read_again)

    def read_again(self) -> None:
        """List the pictures among the papers of each aircraft; their bytes stay where they are."""
        by_aircraft: dict[str, list[Attachment]] = {}
        for paper in self._desk.records(Attachment):
            if paper.aircraft is not None and paper.media_type.startswith("image/"):
                by_aircraft.setdefault(paper.aircraft, []).append(paper)
        before, self._papers = self._papers, {code: tuple(papers) for code, papers in by_aircraft.items()}
        for code in sorted({*before, *self._papers}):
            if before.get(code) != self._papers.get(code):
                self.ready.emit(code)

    def photo(self, code: str) -> QImage | None:
        """The small photo of an aircraft; None where there is none or it is still to be fetched."""
        papers = self._papers.get(code)
        if papers is None:
            return None
        if papers not in self._kept and code not in self._wanted:
            self._wanted.append(code)
            QTimer.singleShot(0, self, self._fetch)
        return self._kept.get(papers)

    def has_fetched(self, code: str) -> bool:
        """Whether an aircraft's photo, as it is among the papers, was fetched or found to be broken."""
        return self._papers.get(code) in self._kept

    def _fetch(self) -> None:
        if self._task is not None or not self._wanted:
            return
        code = self._wanted[0]
        papers = self._papers.get(code)
        if papers is None:
            self._wanted.remove(code)
            QTimer.singleShot(0, self, self._fetch)
            return
        self._task = BackgroundTask(self, _reading(code, papers, self._desk.fleet.paper))
        self._task.done.connect(lambda image: self._take(code, papers, image))
        self._task.failed.connect(lambda _fault: self._take(code, papers, None))
        self._task.start()

    def _take(self, code: str, papers: Papers, image: QImage | None) -> None:
        self._task = None
        self._kept[papers] = image
        self._wanted.remove(code)
        self.ready.emit(code)
        self._fetch()


def _reading(code: str, papers: Papers, read: Callable[[str], bytes]) -> Callable[[], QImage | None]:
    def work() -> QImage | None:
        from hangar.sheets.photo import photo_of

        photo = photo_of(code, papers, read)
        return None if photo is None or photo.content is None else small_picture(photo.content)

    return work


def small_picture(content: bytes) -> QImage | None:
    """A picture made small enough for a card; None where the bytes are no picture that can be shown."""
    try:
        return shown_picture(content, MOST_PX)
    except NoPicture:
        return None
