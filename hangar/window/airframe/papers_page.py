"""The Papers page: photos and papers of an aircraft and of what is fitted in it, with a look at pictures."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import (
    QColor,
    QDragEnterEvent,
    QDropEvent,
    QImage,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QShortcut,
)
from PySide6.QtWidgets import QPushButton, QSplitter, QVBoxLayout, QWidget

from hangar.answers.judging import Judgement
from hangar.base.errors import StoreFault
from hangar.base.picture_head import NoPicture
from hangar.base.text import text
from hangar.parts import Aircraft, Attachment
from hangar.window.kit.asking_files import ask_open_many, ask_save
from hangar.window.kit.background_task import BackgroundTask
from hangar.window.kit.desk import Desk
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.flow_row import FlowRow
from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.pictures import shown_picture
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import decimal, put, say
from hangar.window.tables.columns import Column, field_columns
from hangar.window.tables.rows_model import RowsModel
from hangar.window.tables.rows_view import RowsView

if TYPE_CHECKING:
    from hangar.store import Edit
    from hangar.window.paper.sheet_readings import SheetReadings

_KILO = 1000
_SHOWN_PX = 2000
"""How large a picture is opened, enough for a window that fills the screen."""


def paper_columns(desk: Desk) -> tuple[Column[Attachment], ...]:
    """Name, what it is of, kind, size, day, notes."""
    (notes,) = field_columns(desk, Attachment, ("notes",))
    return (
        Column(say("Name"), lambda attachment, _units: attachment.name, widest=36),
        Column(say("Of"), lambda attachment, _units: owner_words(attachment)),
        Column(say("Kind"), lambda attachment, _units: attachment.media_type.split("/")[-1]),
        Column(
            say("Size"),
            lambda attachment, _units: size_words(attachment),
            raw=lambda attachment: attachment.size_bytes,
            number=True,
        ),
        Column(
            say("Added"),
            lambda attachment, _units: str(attachment.added_on or UNKNOWN),
            raw=lambda attachment: attachment.added_on,
        ),
        notes,
    )


def owner_words(paper: Attachment) -> str:
    """What a paper belongs to."""
    if paper.servo:
        return say("servo {tag}", tag=paper.servo)
    if paper.pack:
        return say("pack {tag}", tag=paper.pack)
    return paper.aircraft or say("the fleet")


def size_words(paper: Attachment) -> str:
    """A size in kilobytes or megabytes."""
    kilo = paper.size_bytes / _KILO
    return f"{kilo:.0f} kB" if kilo < _KILO else decimal(f"{kilo / _KILO:.1f} MB")


def papers_of(desk: Desk, aircraft: Aircraft) -> tuple[Attachment, ...]:
    """The papers of an aircraft, its servos and its packs."""
    servos = {fit.tag for fit in aircraft.fits if fit.tag}
    packs = {fed.pack.tag for path in aircraft.paths for fed in path.packs}
    papers: tuple[Attachment, ...] = desk.records(Attachment)
    return tuple(
        paper
        for paper in papers
        if paper.aircraft == aircraft.code or paper.servo in servos or paper.pack in packs
    )


class Photo(QWidget):
    """A picture as large as the room allows, or words where there is none to show."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._view = view
        self._image = QImage()
        self._words = ""
        view.changed.connect(self.update)

    def sizeHint(self) -> QSize:
        height = self.fontMetrics().height()
        return QSize(height * 26, height * 18)

    def show_words(self, name: str, words: str) -> None:
        """Say why no picture is shown."""
        self._show(name, QImage(), words)

    def show_picture(self, name: str, picture: QImage) -> None:
        """Show a picture."""
        self._show(name, picture, "")

    def _show(self, name: str, picture: QImage, words: str) -> None:
        self._image, self._words = picture, words
        self.setAccessibleName(name)
        self.setAccessibleDescription(words or say("picture"))
        self.update()

    @property
    def has_picture(self) -> bool:
        """Whether a picture is shown."""
        return not self._image.isNull()

    def paintEvent(self, _event: QPaintEvent) -> None:
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        room = QRectF(self.rect())
        look = self._view.look
        painter.fillRect(room, QColor(look.paper))
        if self._image.isNull():
            painter.setPen(QColor(look.soft))
            flags = Qt.AlignmentFlag.AlignCenter | Qt.TextFlag.TextWordWrap
            painter.drawText(room.adjusted(16, 16, -16, -16), flags, self._words)
        else:
            size = self._image.size().scaled(self.size(), Qt.AspectRatioMode.KeepAspectRatio)
            place = QRectF(0, 0, size.width(), size.height())
            place.moveCenter(room.center())
            painter.drawImage(place, self._image)
        painter.end()


class PapersPage(QSplitter):
    """The list on the left, the picture on the right; files can be dropped here."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._aircraft: Aircraft | None = None
        self._shown: str | None = None
        self._model: RowsModel[Attachment] = RowsModel(
            desk, paper_columns(desk), lambda attachment: attachment.name, self
        )
        self.table = RowsView(self._model, say("Photos and papers"))
        self.photo = Photo(desk.view)
        self.add_button = QPushButton(say("&Add photos or papers…"))
        self.save_button = QPushButton(say("&Save a copy…"))
        self.remove_button = QPushButton(say("&Remove"))
        self.readings_button = QPushButton(say("E&nter a filled sheet…"))
        self.readings_button.setToolTip(say("Readings that were written on a printed sheet, box by box"))
        self._arrange()
        self.setAcceptDrops(not desk.read_only)
        self.add_button.clicked.connect(self.ask_add)
        self.save_button.clicked.connect(self.ask_save)
        self.remove_button.clicked.connect(self.remove_chosen)
        self.readings_button.clicked.connect(self.open_readings)
        delete = QShortcut(QKeySequence(QKeySequence.StandardKey.Delete), self.table)
        delete.setContext(Qt.ShortcutContext.WidgetShortcut)
        delete.activated.connect(self.remove_chosen)
        self.table.row_chosen.connect(lambda _row: self._show_chosen())

    def _arrange(self) -> None:
        left = QWidget()
        column = QVBoxLayout(left)
        column.setContentsMargins(10, 10, 4, 10)
        row = FlowRow(self.add_button, self.save_button, self.remove_button, self.readings_button)
        label = PlainLabel(say("Files can be dropped here as well."), wordWrap=True)
        label.setObjectName("quiet")
        column.addLayout(row)
        column.addWidget(self.table, 1)
        column.addWidget(label)
        self.addWidget(left)
        self.addWidget(self.photo)
        self.setSizes([560, 560])
        self.setChildrenCollapsible(False)
        hand_focus(self, self.table)

    def show_judgement(self, judgement: Judgement) -> None:
        """Show the papers of this aircraft."""
        self._aircraft = judgement.aircraft
        rows = papers_of(self._desk, judgement.aircraft)
        self._model.show_rows(rows)
        if rows and self.table.current_row is None:
            self.table.choose_row(rows[0].name)
        self._show_chosen()

    def _show_chosen(self) -> None:
        paper: Attachment | None = self.table.current_row
        can_write = not self._desk.read_only
        self.add_button.setEnabled(can_write)
        self.save_button.setEnabled(paper is not None)
        self.remove_button.setEnabled(paper is not None and can_write)
        if paper is None:
            self._shown = None
            self.photo.show_words(say("Photo"), say("No photo or paper is kept here yet."))
        elif paper.sha256 != self._shown:
            self._shown = paper.sha256
            self._show_paper(paper)

    def _show_paper(self, paper: Attachment) -> None:
        if not paper.media_type.startswith("image/"):
            words = say("{name} is no picture; save a copy to open it.", name=paper.name)
            self.photo.show_words(paper.name, words)
            return
        self.photo.show_words(paper.name, say("Opening {name}…", name=paper.name))
        read = self._desk.fleet.paper
        # A large picture takes a while to open; meanwhile the window answers.
        opening = BackgroundTask(self, lambda: shown_picture(read(paper.name), _SHOWN_PX))
        opening.done.connect(lambda picture: self._take(paper, picture))
        opening.failed.connect(lambda fault: self._take(paper, fault))
        opening.start()

    def _take(self, paper: Attachment, picture: QImage | Exception) -> None:
        if paper.sha256 != self._shown:
            return
        if isinstance(picture, QImage):
            self.photo.show_picture(paper.name, picture)
        elif isinstance(picture, NoPicture):
            words = say("{name} cannot be shown as a picture: {why}.", name=paper.name, why=put(str(picture)))
            self.photo.show_words(paper.name, words)
        else:
            self.photo.show_words(paper.name, put(picture))

    def ask_add(self) -> None:
        """Ask for files to take in."""
        self.add_files(ask_open_many(self, self._desk.view, say("Photos and papers to keep")))

    def add_files(self, sources: Sequence[Path]) -> bool:
        """Take files in as papers of this aircraft, all in one undoable step."""
        from hangar.store import Owner

        aircraft = self._aircraft
        if aircraft is None or not sources or self._desk.read_only:
            return False

        def work(edit: Edit) -> None:
            for source in sources:
                edit.attach(source, Owner(aircraft=aircraft.code), self._desk.today)

        names = ", ".join(source.name for source in sources)
        return self._desk.edit(text("Keep {names}", names=names), work)

    def ask_save(self) -> None:
        """Ask where a copy of the chosen paper goes."""
        paper = self.table.current_row
        if paper is not None:
            path = ask_save(self, self._desk.view, say("Save a copy"), paper.name)
            if path:
                self._desk.attempt(lambda: self.save_copy(paper, path))

    def save_copy(self, paper: Attachment, out: Path) -> None:
        """Write a paper's bytes to a file.

        Raises: HangarError when they are gone or cannot be written.
        """
        content = self._desk.fleet.paper(paper.name)
        try:
            out.write_bytes(content)
        except OSError as fault:
            raise StoreFault(
                say("{path} cannot be written: {why}.", path=str(out), why=fault.strerror)
            ) from fault

    def remove_chosen(self) -> None:
        """Take the chosen paper away; undo brings it back."""
        paper = self.table.current_row
        if paper is not None and not self._desk.read_only:
            label = text("Remove {name}", name=paper.name)
            self._desk.edit(label, lambda edit: edit.remove(Attachment, (paper.name,)))

    def open_readings(self) -> SheetReadings:
        """Show the page on which a filled sheet of this aircraft is typed in."""
        from hangar.window.paper.sheet_readings import open_sheet_readings

        return open_sheet_readings(self._desk, self._aircraft.code if self._aircraft else None, self)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if event.mimeData().hasUrls():
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        files = [Path(url.toLocalFile()) for url in event.mimeData().urls() if url.isLocalFile()]
        if self.add_files(files):
            event.acceptProposedAction()
