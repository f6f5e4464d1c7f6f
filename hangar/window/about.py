"""The About box: what Hangar is, and the cautions that hold for everything it shows."""

from __future__ import annotations

from PySide6.QtGui import QTextCursor, QTextDocument
from PySide6.QtWidgets import QDialog, QDialogButtonBox, QTextBrowser, QVBoxLayout, QWidget

from hangar import __version__
from hangar.base.places import resources_dir
from hangar.window.kit.words import say

CAUTIONS = (
    "The maker's manual, the club's rules and the law govern; where Hangar differs, they are right.",
    "Computed loads are estimates with a band. No open warnings on the data entered does not mean that "
    "nothing is wrong: Hangar knows only what was entered.",
    "Blades and propellers in motion maim. Work on the set-up with blades off or the motor unplugged.",
    "Lithium packs burn. Right charger mode, right cell count, never unattended, never in the aircraft.",
    "Prove the failsafe with the engine stopped, or with blades or propeller off.",
    "Do not make a first flight alone.",
)


class AboutBox(QDialog):
    """Version, cautions, and the licences of what others made."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle(say("About Hangar"))
        self.resize(560, 420)
        page = QTextBrowser()
        page.setAccessibleName(say("About Hangar and cautions"))
        cautions = "".join(f"<li style='margin-bottom:6px'>{say(line)}</li>" for line in CAUTIONS)
        page.setHtml(f"<h2>Hangar {__version__}</h2><h4>{say('Cautions')}</h4><ul>{cautions}</ul>")
        page.append(f"<h4>{say('Work of others in Hangar')}</h4>")
        others = QTextDocument()
        others.setMarkdown((resources_dir() / "licences.md").read_text(encoding="utf-8"))
        page.append(others.toHtml())
        page.moveCursor(QTextCursor.MoveOperation.Start)
        page.document().setDocumentMargin(14)
        buttons = QDialogButtonBox(QDialogButtonBox.StandardButton.Close)
        buttons.rejected.connect(self.reject)
        column = QVBoxLayout(self)
        column.addWidget(page)
        column.addWidget(buttons)
