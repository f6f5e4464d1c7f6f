"""The guide: pages to read beside the program, from the Help menu."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt, QUrl
from PySide6.QtGui import QDesktopServices, QTextDocument
from PySide6.QtWidgets import (
    QDialog,
    QHBoxLayout,
    QListWidget,
    QListWidgetItem,
    QTextBrowser,
    QVBoxLayout,
    QWidget,
)

from hangar.base.places import resources_dir
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.words import language_spoken, say

PAGES = ("start", "first-hour", "rooms", "airframe-folder", "sheets", "findings", "files")
"""In the order in which they are listed."""


def guide_page(name: str) -> Path:
    """The file of a page, or of the list of changes: in the language spoken, else in English."""
    if name == "changelog":
        return resources_dir() / "changelog.md"
    folder = resources_dir() / "guide"
    translated = folder / language_spoken() / f"{name}.md"
    return translated if translated.is_file() else folder / f"{name}.md"


def page_title(page: Path) -> str:
    """The heading that a page begins with."""
    return page.read_text(encoding="utf-8").partition("\n")[0].removeprefix("# ")


class GuideBox(QDialog):
    """Pages on the left, the chosen one on the right; it stays open while the keeper works on."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("Guide to Hangar"))
        self.resize(900, 640)
        self.pages = QListWidget()
        self.pages.setAccessibleName(say("Pages of the guide"))
        self.text = QTextBrowser()
        self.text.setAccessibleName(say("Page of the guide"))
        self.text.document().setDocumentMargin(18)
        self.text.setOpenLinks(False)
        self.text.anchorClicked.connect(self._follow)
        for name in (*PAGES, "changelog"):
            page = guide_page(name)
            title = say("Changes") if name == "changelog" else say(page_title(page))
            item = QListWidgetItem(title, self.pages)
            item.setData(Qt.ItemDataRole.UserRole, str(page))
        self.pages.setFixedWidth(self.pages.sizeHintForColumn(0) + 40)
        self.pages.currentItemChanged.connect(self._show)
        self.message = PlainLabel(say("This page is in English."))
        self.message.setObjectName("quiet")
        column = QVBoxLayout()
        column.addWidget(self.message)
        column.addWidget(self.text, 1)
        row = QHBoxLayout(self)
        row.addWidget(self.pages)
        row.addLayout(column, 1)
        self.pages.setCurrentRow(0)

    def _show(self, item: QListWidgetItem | None) -> None:
        if item is not None:
            page = Path(item.data(Qt.ItemDataRole.UserRole))
            self.message.setVisible(language_spoken() not in ("en", page.parent.name))
            self.text.setSource(QUrl.fromLocalFile(str(page)), QTextDocument.ResourceType.MarkdownResource)

    def _follow(self, link: QUrl) -> None:
        if link.scheme() in ("http", "https"):
            QDesktopServices.openUrl(link)
            return
        for row in range(self.pages.count()):
            page = Path(self.pages.item(row).data(Qt.ItemDataRole.UserRole))
            if page.name == link.fileName():
                self.pages.setCurrentRow(row)


def open_guide(window: QWidget) -> GuideBox:
    """Show the guide that belongs to a window; the one that is open already, if it is."""
    box = window.findChild(GuideBox) or GuideBox(window)
    box.show()
    box.raise_()
    box.activateWindow()
    return box
