"""A choice of few as a joined strip of buttons, and pages that are turned by one."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics, QResizeEvent, QShowEvent
from PySide6.QtWidgets import (
    QAbstractButton,
    QButtonGroup,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSizePolicy,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from hangar.window.kit.handed_focus import hand_focus
from hangar.window.kit.plain_words import plain_tip
from hangar.window.kit.still_boxes import ListBox

MOST_JOINED = 6
"""A choice of more is a box."""


class PageStack(QStackedWidget):
    """Pages of which one is shown; it asks for the room of that one only, with all lines of its sentences."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.currentChanged.connect(lambda _at: self.updateGeometry())

    def minimumSizeHint(self) -> QSize:
        page = self.currentWidget()
        if page is None:
            return QSize()
        least, layout = page.minimumSizeHint().expandedTo(page.minimumSize()), page.layout()
        if layout is not None and layout.hasHeightForWidth():
            least = least.expandedTo(QSize(0, layout.minimumHeightForWidth(self.width())))
        return least

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()


class _Held(QWidget):
    """Holds a widget that asks for its least height only: a layout would ask for the height it likes best."""

    def __init__(self, held: QWidget) -> None:
        super().__init__()
        self._held = held
        held.setParent(self)

    def minimumSizeHint(self) -> QSize:
        return self._held.minimumSizeHint()

    def sizeHint(self) -> QSize:
        return self._held.sizeHint()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._held.setGeometry(self.rect())

    def event(self, event: QEvent) -> bool:
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().event(event)


class RoomyPages(QScrollArea):
    """A stack that scrolls down where its page needs more height than there is; never sideways."""

    def __init__(self, stack: PageStack, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._stack = stack
        self.setWidget(_Held(stack))
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)

    def minimumSizeHint(self) -> QSize:
        least = self._stack.minimumSizeHint()
        bar = self.verticalScrollBar().sizeHint().width()
        return QSize(least.width() + bar, min(least.height(), self.fontMetrics().height() * 12))


class JoinedStrip(QWidget):
    """Buttons side by side, one of them chosen; a box where there is no room for them or they are many.

    Signals: ``changed(number)`` when another is chosen.
    """

    changed = Signal(int)

    def __init__(self, name: str, parent: QWidget | None = None, *, is_box: bool = False) -> None:
        super().__init__(parent)
        self._chosen = -1
        self._always_box = is_box
        self._group = QButtonGroup(self)
        self._group.setExclusive(True)
        self._row = QWidget(self)
        self._buttons = QHBoxLayout(self._row)
        self._buttons.setContentsMargins(0, 0, 0, 0)
        self._buttons.setSpacing(0)
        self.box = ListBox(self)
        # By itself it keeps the room of what was in it when it was shown first.
        self.box.setSizeAdjustPolicy(ListBox.SizeAdjustPolicy.AdjustToContents)
        self.box.hide()
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(name)
        self._group.idClicked.connect(self.choose)
        self.box.activated.connect(self.choose)

    def setAccessibleName(self, name: str) -> None:
        super().setAccessibleName(name)
        self._row.setAccessibleName(name)
        self.box.setAccessibleName(name)

    @property
    def chosen(self) -> int:
        """Number of the choice made; -1 while there is none."""
        return self._chosen

    def count(self) -> int:
        """How many can be chosen from."""
        return self.box.count()

    def add(self, words: str) -> int:
        """Add a choice; the first is chosen at once. Returns: its number."""
        number = self.box.count()
        button = QPushButton(words)
        button.setCheckable(True)
        button.setAutoDefault(False)
        self._group.addButton(button, number)
        self._buttons.addWidget(button)
        self.box.addItem(words.replace("&", ""))
        for at, joined in enumerate(self._group.buttons()):
            place = "first" if at == 0 else "last" if at == number else "middle"
            joined.setProperty("joined", "only" if number == 0 else place)
        if number == 0:
            self._mark(0)
        self._fit()
        return number

    def words(self, number: int) -> str:
        """What a choice is called, with the mark of its key."""
        button = self._button(number)
        return button.text() if button is not None else ""

    def put_words(self, number: int, words: str) -> None:
        """Call a choice something else."""
        button = self._button(number)
        if button is not None and button.text() != words:
            button.setText(words)
            self.box.setItemText(number, words.replace("&", ""))
            self._make_room()
            self._fit()

    def put_tip(self, number: int, words: str) -> None:
        """Say more of a choice where the pointer rests on it."""
        button = self._button(number)
        if button is not None:
            button.setToolTip(plain_tip(words))

    def _button(self, number: int) -> QAbstractButton | None:
        return self._group.button(number)

    def choose(self, number: int) -> None:
        """Choose one."""
        if 0 <= number < self.count() and number != self._chosen:
            self._mark(number)
            self.changed.emit(number)

    def _mark(self, number: int) -> None:
        self._chosen = number
        button = self._button(number)
        if button is not None:
            button.setChecked(True)
            hand_focus(self, self.box if self._is_box else button)
        self.box.setCurrentIndex(number)

    @property
    def _is_box(self) -> bool:
        return not self.box.isHidden()

    def _make_room(self) -> None:
        """The chosen one is written bold: each is wide enough to be."""
        font = QFont(self.font())
        font.setBold(True)
        wider = QFontMetrics(font)
        for button in self._group.buttons():
            words = button.text().replace("&", "")
            more = wider.horizontalAdvance(words) - self.fontMetrics().horizontalAdvance(words)
            button.setMinimumWidth(0)
            button.setMinimumWidth(button.sizeHint().width() + max(0, more) + 2)

    def sizeHint(self) -> QSize:
        return self.box.sizeHint() if self._must_be_box else self._row.sizeHint()

    @property
    def _must_be_box(self) -> bool:
        return self._always_box or self.count() > MOST_JOINED

    def minimumSizeHint(self) -> QSize:
        return QSize(min(self.box.sizeHint().width(), self.sizeHint().width()), self.sizeHint().height())

    def _fit(self) -> None:
        as_box = self._must_be_box or self.width() < self._row.sizeHint().width()
        if as_box != self._is_box:
            had_focus = self.box.hasFocus() or any(button.hasFocus() for button in self._group.buttons())
            self.box.setVisible(as_box)
            self._row.setVisible(not as_box)
            self._mark(self._chosen)
            if had_focus:
                self.setFocus()
        self._row.setGeometry(self.rect())
        self.box.setGeometry(0, 0, min(self.width(), self.box.sizeHint().width()), self.height())
        self.updateGeometry()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self._fit()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._make_room()
        self._fit()

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            self._make_room()
            self.updateGeometry()


class StripPages(QWidget):
    """Pages of which one is shown, turned by a strip above them. Signals: ``currentChanged(number)``.

    A page that is turned by a strip itself lends its strip to the line of the outer one: there is never a
    second line of them.
    """

    currentChanged = Signal(int)

    def __init__(self, name: str = "", parent: QWidget | None = None, *, is_box: bool = False) -> None:
        super().__init__(parent)
        self.strip = JoinedStrip(name, is_box=is_box)
        self.stack = PageStack()
        self.line = QWidget()
        self._lent: dict[QWidget, QWidget] = {}
        self._head = QHBoxLayout(self.line)
        self._head.setContentsMargins(12, 8, 12, 4)
        self._head.addWidget(self.strip)
        self._head.addStretch(1)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(0)
        self._column.addWidget(self.line)
        self._column.addWidget(self.stack, 1)
        hand_focus(self, self.strip)
        self.strip.changed.connect(self._turn)

    def add_beside(self, widget: QWidget) -> None:
        """Put something at the right end of the strip's line."""
        self._head.addWidget(widget, 0, Qt.AlignmentFlag.AlignVCenter)

    def lend_line(self) -> QWidget:
        """Give the line of the strip to outer pages."""
        self._column.removeWidget(self.line)
        self._head.setContentsMargins(0, 0, 0, 0)
        return self.line

    def _take_line(self, page: QWidget) -> None:
        if isinstance(page, StripPages):
            line = page.lend_line()
            self._lent[page] = line
            self._head.addWidget(line, 0)
            line.setVisible(self.stack.currentWidget() is page)

    def addTab(self, page: QWidget, title: str) -> int:
        """Add a page. Returns: its number."""
        self.stack.addWidget(page)
        self._take_line(page)
        return self.strip.add(title)

    def _turn(self, number: int) -> None:
        self.stack.setCurrentIndex(number)
        self._show_line()
        self.currentChanged.emit(number)

    def _show_line(self) -> None:
        for page, line in self._lent.items():
            line.setVisible(self.stack.currentWidget() is page)

    def count(self) -> int:
        """How many pages there are."""
        return self.stack.count()

    def widget(self, number: int) -> QWidget | None:
        """One of the pages."""
        return self.stack.widget(number)

    def indexOf(self, page: QWidget) -> int:
        """The number of a page."""
        return self.stack.indexOf(page)

    def currentIndex(self) -> int:
        """Number of the page that is shown."""
        return self.stack.currentIndex()

    def currentWidget(self) -> QWidget | None:
        """The page that is shown."""
        return self.stack.currentWidget()

    def setCurrentIndex(self, number: int) -> None:
        """Turn to a page by its number."""
        self.strip.choose(number)

    def setCurrentWidget(self, page: QWidget) -> None:
        """Turn to a page."""
        self.strip.choose(self.stack.indexOf(page))

    def tabText(self, number: int) -> str:
        """What a page is called."""
        return self.strip.words(number)

    def setTabText(self, number: int, words: str) -> None:
        """Call a page something else."""
        self.strip.put_words(number, words)

    def put_page(self, number: int, page: QWidget) -> None:
        """Put another page in the place of one; the old one is let go."""
        old = self.stack.widget(number)
        is_shown = self.stack.currentIndex() == number
        if old is None:
            return
        lent = self._lent.pop(old, None)
        if lent is not None:
            lent.setParent(None)
            lent.deleteLater()
        self.stack.removeWidget(old)
        self.stack.insertWidget(number, page)
        self._take_line(page)
        if is_shown:
            self.stack.setCurrentIndex(number)
        self._show_line()
        old.deleteLater()
