"""The servos that lie in Stores, beside the plan view: drag one onto a dot to fit it there."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QMimeData, QSize, Qt
from PySide6.QtWidgets import QAbstractItemView, QListWidget, QListWidgetItem, QVBoxLayout, QWidget

from hangar.acts import fitting
from hangar.answers import bay
from hangar.parts import ServoFit
from hangar.window.kit.desk import Desk
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import say

SERVO_MIME = "application/x-hangar-servo"
TAG, STOCKED = "tag ", "type "
_WHAT = Qt.ItemDataRole.UserRole + 1


def servo_in(data: QMimeData) -> str | None:
    """What a drag carries, as ``BayStrip`` named it; None when it is no servo of the bay."""
    if not data.hasFormat(SERVO_MIME):
        return None
    return bytes(data.data(SERVO_MIME).data()).decode()


def fit_from_bay(desk: Desk, fit: ServoFit, what: str) -> None:
    """Fit what was dragged: a servo by its tag, or one of a type in stock under the next free tag."""
    if what.startswith(TAG):
        desk.do(fitting.fit_servo, fit, what.removeprefix(TAG), desk.today)
    else:
        desk.do(fitting.fit_new, fit, what.removeprefix(STOCKED), bay.next_tag(desk), desk.today)


class BayStrip(QListWidget):
    """Spare servos by tag, and types in stock that have no tag yet."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self.setAccessibleName(say("Servos in Stores"))
        self.setToolTip(say("Drag a servo onto a dot to fit it there; Enter fits it at the chosen position."))
        self.setDragEnabled(not desk.read_only)
        self.setDragDropMode(QAbstractItemView.DragDropMode.DragOnly)
        self.setDefaultDropAction(Qt.DropAction.CopyAction)
        self.setUniformItemSizes(True)

    def sizeHint(self) -> QSize:
        height = self.fontMetrics().height()
        return QSize(height * 14, height * 7)

    def minimumSizeHint(self) -> QSize:
        height = self.fontMetrics().height()
        return QSize(height * 8, height * 3)

    def read_again(self) -> None:
        """Read what lies in the bay."""
        chosen = self.currentItem().data(_WHAT) if self.currentItem() is not None else None
        self.clear()
        for servo in bay.spare_servos(self._desk):
            self._add(f"{servo.tag}  {servo.servo_type}", f"{TAG}{servo.tag}", chosen)
        for code, count in bay.stocked_types(self._desk).items():
            words = say("{type}, new, {count:g} in Stores", type=code, count=count)
            self._add(words, f"{STOCKED}{code}", chosen)

    def _add(self, words: str, what: str, chosen: str | None) -> None:
        item = QListWidgetItem(words, self)
        item.setData(_WHAT, what)
        item.setFlags(item.flags() | Qt.ItemFlag.ItemIsDragEnabled)
        if what == chosen:
            self.setCurrentItem(item)

    def what_of(self, item: QListWidgetItem) -> str:
        """What a line of the list stands for."""
        return str(item.data(_WHAT))

    def mimeTypes(self) -> list[str]:
        return [SERVO_MIME]

    def mimeData(self, items: Sequence[QListWidgetItem]) -> QMimeData:
        data = QMimeData()
        if items:
            data.setData(SERVO_MIME, self.what_of(items[0]).encode())
            data.setText(items[0].text())
        return data


class BayBox(QWidget):
    """The strip with a line above it that says what it is for."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.strip = BayStrip(desk)
        self._words = PlainLabel(wordWrap=True)
        self._words.setObjectName("quiet")
        column = QVBoxLayout(self)
        column.setContentsMargins(8, 4, 8, 8)
        column.addWidget(self._words)
        column.addWidget(self.strip, 1)

    def read_again(self) -> None:
        """Read what lies in the bay."""
        self.strip.read_again()
        is_empty = self.strip.count() == 0
        self.strip.setVisible(not is_empty)
        self._words.setText(say("No servo lies in Stores.") if is_empty else say("Stores: drag to a dot"))
