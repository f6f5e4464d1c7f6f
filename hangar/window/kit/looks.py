"""The program's own light and dark colours, and how they are put on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication

from hangar.base.places import resources_dir


@dataclass(frozen=True)
class LevelLook:
    """Colours of one level: filled mark, sign on it, its edge, and words beside it."""

    fill: str
    sign: str
    edge: str
    words: str


@dataclass(frozen=True)
class Look:
    """One set of colours; each pair that carries words keeps 4.5 : 1, each mark 3 : 1."""

    name: str
    window: str
    paper: str
    raised: str
    ink: str
    soft: str
    line: str
    accent: str
    on_accent: str
    chosen: str
    outline: str
    rail: str
    rail_ink: str
    focus: str
    levels: Mapping[str, LevelLook]

    @property
    def is_dark(self) -> bool:
        """Whether the paper is darker than the ink."""
        return luminance(self.paper) < luminance(self.ink)


LIGHT = Look(
    name="light",
    window="#ECEAE3",
    paper="#FAF9F5",
    raised="#E2E4DD",
    ink="#1F2A30",
    soft="#4C585E",
    line="#7D8880",
    accent="#0B5C66",
    on_accent="#FFFFFF",
    chosen="#CFE3E1",
    outline="#D9DED6",
    rail="#10333B",
    rail_ink="#CFE0DF",
    focus="#17242B",
    levels={
        "warning": LevelLook("#B3221B", "#FFFFFF", "#7A120D", "#9B1A14"),
        "caution": LevelLook("#F3B324", "#2B1D00", "#7A5300", "#714C00"),
        "advisory": LevelLook("#1B66A8", "#FFFFFF", "#0E4372", "#14568F"),
        "cant-tell": LevelLook("#FAF9F5", "#3F4A50", "#59656B", "#3F4A50"),
    },
)
DARK = Look(
    name="dark",
    window="#171D20",
    paper="#20282C",
    raised="#2D373C",
    ink="#EAECE6",
    soft="#B4BFBF",
    line="#77858A",
    accent="#7CCFD2",
    on_accent="#0B2326",
    chosen="#26434A",
    outline="#36434A",
    rail="#0A1316",
    rail_ink="#A9BDBE",
    focus="#F4F2E8",
    levels={
        "warning": LevelLook("#D8392F", "#FFFFFF", "#FF9A90", "#FF9A90"),
        "caution": LevelLook("#F3B324", "#2B1D00", "#FFD77A", "#FFCB57"),
        "advisory": LevelLook("#2E74B5", "#FFFFFF", "#93C6F5", "#93C6F5"),
        "cant-tell": LevelLook("#20282C", "#CBD3D3", "#B4BFBF", "#CBD3D3"),
    },
)


LOOKS = {look.name: look for look in (LIGHT, DARK)}


def luminance(colour: str) -> float:
    """Relative luminance of a colour, 0 black to 1 white.

    Source: W3C Web Content Accessibility Guidelines 2.1, definition of relative luminance.
    """
    red, green, blue = (_linear(int(colour[at : at + 2], 16) / 255) for at in (1, 3, 5))
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def _linear(part: float) -> float:
    return part / 12.92 if part <= 0.03928 else float(((part + 0.055) / 1.055) ** 2.4)


def contrast(name: str, other: str) -> float:
    """Contrast ratio of two colours, 1 to 21.

    Source: W3C Web Content Accessibility Guidelines 2.1, definition of contrast ratio.

    >>> round(contrast("#000000", "#ffffff"), 1)
    21.0
    """
    bright, dim = sorted((luminance(name), luminance(other)), reverse=True)
    return (bright + 0.05) / (dim + 0.05)


def palette_of(look: Look) -> QPalette:
    """The Qt palette of a look."""
    role = QPalette.ColorRole
    palette = QPalette()
    for which, colour in {
        role.Window: look.window,
        role.WindowText: look.ink,
        role.Base: look.paper,
        role.AlternateBase: look.window,
        role.Text: look.ink,
        role.PlaceholderText: look.soft,
        role.Button: look.raised,
        role.ButtonText: look.ink,
        role.BrightText: look.ink,
        role.Highlight: look.accent,
        role.HighlightedText: look.on_accent,
        role.Link: look.accent,
        role.LinkVisited: look.accent,
        role.ToolTipBase: look.paper,
        role.ToolTipText: look.ink,
        role.Accent: look.accent,
        role.Mid: look.line,
    }.items():
        palette.setColor(which, QColor(colour))
    for which in (role.WindowText, role.Text, role.ButtonText):
        palette.setColor(QPalette.ColorGroup.Disabled, which, QColor(look.soft))
    return palette


def style_words(look: Look, points: float) -> str:
    """The few places where the plain style needs help; boxes to tick grow with the text."""
    box = round(points * 1.25)
    tick = (resources_dir() / "icons" / f"tick-{look.name}.png").as_posix()
    return f"""
    QToolTip {{ color: {look.ink}; background: {look.paper}; border: 1px solid {look.line}; padding: 4px; }}
    #rooms {{ background: {look.window}; border: none; outline: none; }}
    #rooms::item {{ padding: 9px 12px; margin: 2px 6px; border-radius: 6px; color: {look.ink}; }}
    #rooms::item:selected {{ background: {look.accent}; color: {look.on_accent}; }}
    #rooms::item:hover:!selected {{ background: {look.raised}; }}
    #rooms::item:focus {{ border: 2px solid {look.ink}; }}
    #notice {{ background: {look.paper}; border: 2px solid {look.levels["caution"].edge};
               border-radius: 6px; }}
    #refusal {{ color: {look.levels["warning"].words}; }}
    #quiet {{ color: {look.soft}; }}
    QTableView {{ gridline-color: {look.raised}; selection-background-color: {look.chosen};
                  selection-color: {look.ink}; alternate-background-color: {look.window}; }}
    QTableView::item {{ padding: 0px 7px; }}
    QTableView::item:selected {{ background: {look.chosen}; color: {look.ink}; }}
    QTableView::item:focus {{ border: 2px solid {look.accent}; padding: 0px 5px; }}
    QTreeView {{ border: none; selection-background-color: {look.chosen}; selection-color: {look.ink}; }}
    QTreeView::item {{ padding: 4px 7px; }}
    QTreeView::item:selected {{ background: {look.chosen}; color: {look.ink}; }}
    QHeaderView::section {{ background: {look.raised}; color: {look.ink}; padding: 5px 9px; border: none;
                            border-right: 1px solid {look.window}; }}
    QGraphicsView, QTextBrowser, QListView {{ border: none; background: {look.paper}; }}
    #cards {{ background: {look.window}; }}
    QListView::item:selected {{ background: {look.chosen}; color: {look.ink}; }}
    QCheckBox::indicator, QListView::indicator {{ width: {box}px; height: {box}px;
        border: {1 if box < 16 else 2}px solid {look.soft}; border-radius: 3px; background: {look.paper}; }}
    QCheckBox::indicator:checked, QListView::indicator:checked {{ border-color: {look.accent};
        background: {look.accent}; image: url("{tick}"); }}
    QCheckBox::indicator:disabled:checked, QListView::indicator:disabled:checked {{
        border-color: {look.soft}; background: {look.soft}; }}
    QCheckBox::indicator:unchecked:focus {{ border: 2px solid {look.accent}; }}
    QCheckBox::indicator:checked:focus {{ border: 2px solid {look.ink}; }}
    QRadioButton::indicator {{ width: {box}px; height: {box}px;
        border: {1 if box < 16 else 2}px solid {look.soft}; border-radius: {box // 2 + 1}px;
        background: {look.paper}; }}
    QRadioButton::indicator:checked {{ border-color: {look.accent}; background: qradialgradient(
        cx: 0.5, cy: 0.5, radius: 0.5, fx: 0.5, fy: 0.5, stop: 0.5 {look.accent}, stop: 0.6 {look.paper}); }}
    QRadioButton::indicator:focus {{ border: 2px solid {look.ink}; }}
    QTabBar {{ qproperty-drawBase: 0; }}
    QTabBar::tab {{ padding: 7px 14px; color: {look.soft}; background: transparent;
                    border: none; border-bottom: 3px solid transparent; }}
    QTabBar::tab:selected {{ color: {look.ink}; border-bottom: 3px solid {look.accent}; }}
    QTabBar::tab:focus {{ color: {look.ink}; text-decoration: underline; }}
    QTabWidget::pane {{ border: none; }}
    QGroupBox {{ background: {look.paper}; border: 1px solid {look.raised}; border-radius: 8px;
                 margin-top: 1.5em; padding: 8px; font-weight: bold; }}
    QGroupBox::title {{ subcontrol-origin: margin; left: 4px; color: {look.ink}; }}
    WayButton {{ outline: none; background: {look.paper}; border: 1px solid {look.soft};
                 border-radius: 8px; color: {look.ink}; }}
    WayButton:hover {{ border-color: {look.accent}; }}
    WayButton:focus {{ border: 2px solid {look.accent}; }}
    """


def wear(app: QApplication, look: Look, points: float, *, plainly: bool = False) -> None:
    """Put colours and text size on the whole program; ``plainly`` leaves out the finer points of style."""
    font = app.font()
    font.setPointSizeF(points)
    app.setFont(font)
    app.setPalette(palette_of(look))
    # Every widget there is takes a new sheet in, which costs as much where nothing is new.
    if not plainly and app.styleSheet() != (words := style_words(look, points)):
        app.setStyleSheet(words)
