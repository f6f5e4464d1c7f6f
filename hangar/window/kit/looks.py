"""The program's own light and dark colours, and how they are put on."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from PySide6.QtGui import QColor, QFontDatabase, QPalette
from PySide6.QtWidgets import QApplication

from hangar.base.places import resources_dir

FONT = "DejaVu Sans Condensed"
"""The face that travels with the program: Latin, Greek and Cyrillic, figures of one width, on paper too."""
CAP, LEAD, TITLE, FIGURE, BIG = 0.86, 1.15, 1.4, 1.9, 2.4
"""Sizes of print, in shares of the body's."""


@dataclass(frozen=True)
class LevelLook:
    """Colours of one level: filled mark, sign on it, its edge, words beside it, the wash behind it."""

    fill: str
    sign: str
    edge: str
    words: str
    wash: str


@dataclass(frozen=True)
class Look:
    """One set of colours; each pair that carries words keeps 4.5 : 1, each mark and edge 3 : 1.

    ``window`` is the ground, ``paper`` a pane on it, ``raised`` bars and rows of groups; ``line`` the edges
    of controls, ``hair`` lines without meaning; ``sheet``, ``grid``, ``outline``, ``pen`` are for drawings.
    """

    name: str
    window: str
    paper: str
    raised: str
    sheet: str
    grid: str
    outline: str
    pen: str
    ink: str
    soft: str
    hair: str
    line: str
    accent: str
    on_accent: str
    chosen: str
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
    window="#F0EEE7",
    paper="#FDFCF9",
    raised="#E6E4DB",
    sheet="#EFF4F1",
    grid="#DEE8E3",
    outline="#FFFFFF",
    pen="#425A60",
    ink="#17242B",
    soft="#4C5960",
    hair="#D3D1C7",
    line="#78837F",
    accent="#0B5C66",
    on_accent="#FFFFFF",
    chosen="#D5E8E6",
    rail="#10333B",
    rail_ink="#CFE0DF",
    focus="#17242B",
    levels={
        "warning": LevelLook("#B3221B", "#FFFFFF", "#7A120D", "#9B1A14", "#FBE7E3"),
        "caution": LevelLook("#F3B324", "#2B1D00", "#7A5300", "#6B4800", "#FCF1D2"),
        "advisory": LevelLook("#1B66A8", "#FFFFFF", "#0E4372", "#14568F", "#E4EEF7"),
        "cant-tell": LevelLook("#FDFCF9", "#3F4A50", "#59656B", "#3F4A50", "#ECEBE5"),
    },
)
DARK = Look(
    name="dark",
    window="#11181B",
    paper="#1A2327",
    raised="#253136",
    sheet="#141D21",
    grid="#1C292E",
    outline="#243137",
    pen="#9DB2B6",
    ink="#E9ECE6",
    soft="#AAB8B9",
    hair="#324047",
    line="#7F8F94",
    accent="#7CCFD2",
    on_accent="#08262A",
    chosen="#1E454C",
    rail="#0A1316",
    rail_ink="#A9BDBE",
    focus="#F4F2E8",
    levels={
        "warning": LevelLook("#D8392F", "#FFFFFF", "#FF9A90", "#FF9A90", "#3A1D1C"),
        "caution": LevelLook("#F3B324", "#2B1D00", "#FFD77A", "#FFCB57", "#372B12"),
        "advisory": LevelLook("#2E74B5", "#FFFFFF", "#93C6F5", "#93C6F5", "#182D40"),
        "cant-tell": LevelLook("#1A2327", "#CBD3D3", "#AAB8B9", "#CBD3D3", "#253136"),
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
        role.Button: look.paper,
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
    """How every control looks; boxes, paddings and corners grow with the text."""

    def unit(units: float) -> int:
        return max(1, round(units * points / 10))

    box = round(points * 1.25)
    icons = resources_dir() / "icons"
    tick, down, up = ((icons / f"{name}-{look.name}.png").as_posix() for name in ("tick", "down", "up"))
    warning = look.levels["warning"]
    return f"""
    QToolTip {{ color: {look.ink}; background: {look.paper}; border: 1px solid {look.line}; padding: 4px; }}
    #notice {{ background: {look.paper}; border: 2px solid {look.levels["caution"].edge};
               border-radius: 6px; }}
    #refusal {{ color: {warning.words}; }}
    #quiet {{ color: {look.soft}; }}
    #cap {{ color: {look.soft}; font-size: {points * CAP:.1f}pt; }}
    #strong {{ font-weight: bold; }}
    #lead {{ font-size: {points * LEAD:.1f}pt; font-weight: bold; }}
    #title {{ font-size: {points * TITLE:.1f}pt; font-weight: bold; }}
    QLabel#caphead {{ font-size: {points * CAP:.1f}pt; font-weight: bold; color: {look.soft}; }}
    #pane {{ background: {look.paper}; border: 1px solid {look.hair}; border-radius: {unit(6)}px; }}
    QMenuBar {{ background: transparent; color: {look.ink}; }}
    QMenuBar::item {{ padding: {unit(5)}px {unit(9)}px; background: transparent; }}
    QMenuBar::item:selected {{ background: {look.chosen}; border-radius: {unit(4)}px; }}
    QMenu {{ background: {look.paper}; color: {look.ink}; border: 1px solid {look.line}; padding: 4px; }}
    QMenu::item {{ padding: {unit(5)}px {unit(22)}px; }}
    QMenu::item:selected {{ background: {look.chosen}; color: {look.ink}; }}
    QMenu::item:disabled {{ color: {look.soft}; }}
    QMenu::separator {{ height: 1px; background: {look.hair}; margin: 4px; }}
    QScrollArea {{ background: transparent; border: none; }}
    QStatusBar {{ color: {look.soft}; }}
    QStatusBar::item {{ border: none; }}
    QStatusBar QLabel {{ color: {look.soft}; font-size: {points * CAP:.1f}pt; padding: 0 {unit(6)}px; }}
    QPushButton {{ background: {look.paper}; color: {look.ink}; border: 1px solid {look.line};
        border-radius: {unit(4)}px; padding: {unit(5)}px {unit(12)}px; }}
    QPushButton:hover {{ background: {look.chosen}; }}
    QPushButton:pressed {{ background: {look.raised}; }}
    QPushButton:focus {{ border: 2px solid {look.focus}; padding: {unit(5) - 1}px {unit(12) - 1}px; }}
    QPushButton:disabled {{ border: 1px dashed {look.line}; color: {look.soft}; background: transparent; }}
    QPushButton:default {{ background: {look.accent}; color: {look.on_accent};
        border-color: {look.accent}; }}
    QPushButton[main="true"] {{ background: {look.accent}; color: {look.on_accent};
        border-color: {look.accent}; font-weight: bold; }}
    QPushButton[main="true"]:hover, QPushButton:default:hover {{ border-color: {look.focus}; }}
    QPushButton[main="true"]:disabled, QPushButton:default:disabled {{ background: transparent;
        color: {look.soft}; border: 1px dashed {look.line}; }}
    QPushButton[main="true"]:focus, QPushButton:default:focus {{ border: 2px solid {look.focus}; }}
    QPushButton[joined] {{ border-radius: 0px; margin-right: -1px; padding: {unit(5)}px {unit(11)}px; }}
    QPushButton[joined]:checked {{ background: {look.chosen}; color: {look.accent}; font-weight: bold; }}
    QPushButton[joined]:focus {{ border: 2px solid {look.focus};
        padding: {unit(5) - 1}px {unit(11) - 1}px; }}
    QPushButton[joined="first"] {{ border-top-left-radius: {unit(4)}px;
        border-bottom-left-radius: {unit(4)}px; }}
    QPushButton[joined="last"] {{ border-top-right-radius: {unit(4)}px;
        border-bottom-right-radius: {unit(4)}px; margin-right: 0px; }}
    QPushButton[joined="only"] {{ border-radius: {unit(4)}px; margin-right: 0px; }}
    QToolButton {{ color: {look.ink}; border: 1px solid {look.line}; border-radius: {unit(4)}px;
        background: {look.paper}; padding: {unit(4)}px {unit(8)}px; }}
    QToolButton[autoRaise="true"] {{ border-color: transparent; background: transparent; }}
    QToolButton:checked {{ background: {look.chosen}; }}
    QToolButton:hover {{ background: {look.chosen}; }}
    QToolButton:disabled {{ color: {look.soft}; }}
    QToolButton:focus {{ border: 2px solid {look.focus}; }}
    #lastact {{ color: {look.accent}; }}
    #lastact:disabled {{ color: {look.soft}; }}
    QLineEdit, QComboBox, QAbstractSpinBox {{ background: {look.paper}; color: {look.ink};
        border: 1px solid {look.line}; border-radius: {unit(4)}px; padding: {unit(4)}px {unit(7)}px;
        selection-background-color: {look.accent}; selection-color: {look.on_accent}; }}
    QAbstractSpinBox, QDateEdit {{ padding: {unit(3)}px {unit(4)}px; }}
    QAbstractSpinBox::up-button, QAbstractSpinBox::down-button {{ border: none; background: transparent;
        width: {unit(18)}px; }}
    QAbstractSpinBox::up-arrow {{ image: url("{up}"); width: {unit(9)}px; height: {unit(9)}px; }}
    QAbstractSpinBox::down-arrow {{ image: url("{down}"); width: {unit(9)}px; height: {unit(9)}px; }}
    QLineEdit:focus, QComboBox:focus, QAbstractSpinBox:focus {{ border: 2px solid {look.focus};
        padding: {unit(4) - 1}px {unit(7) - 1}px; }}
    QAbstractSpinBox:focus {{ padding: {unit(3) - 1}px {unit(4) - 1}px; }}
    QLineEdit:disabled, QComboBox:disabled, QAbstractSpinBox:disabled {{ color: {look.soft};
        background: transparent; border: 1px dashed {look.line}; }}
    QLineEdit[refused="true"] {{ border: 2px solid {warning.fill}; background: {warning.wash}; }}
    QComboBox {{ padding-right: {unit(22)}px; }}
    QComboBox:focus {{ padding-right: {unit(22) - 1}px; }}
    QComboBox::drop-down {{ border: none; width: {unit(20)}px; }}
    QComboBox::down-arrow {{ image: url("{down}"); width: {unit(10)}px; height: {unit(10)}px; }}
    QComboBox QAbstractItemView {{ background: {look.paper}; color: {look.ink};
        border: 1px solid {look.line}; selection-background-color: {look.chosen};
        selection-color: {look.ink}; }}
    QComboBox#title {{ border: 1px solid transparent; background: transparent; padding: 0px;
        padding-right: {unit(22)}px; }}
    QComboBox#title:hover {{ border-color: {look.line}; }}
    QComboBox#title:focus {{ border: 2px solid {look.focus}; }}
    QTableView {{ background: {look.paper}; gridline-color: {look.hair}; border: 1px solid {look.hair};
        padding: 1px; border-radius: {unit(6)}px; selection-background-color: {look.chosen};
        selection-color: {look.ink}; }}
    QTableView::item {{ padding: 0px 7px; border-bottom: 1px solid {look.hair}; }}
    QTableView::item:selected {{ background: {look.chosen}; color: {look.ink}; }}
    QTableView::item:focus {{ border: 2px solid {look.focus}; padding: 0px 5px; }}
    QCalendarWidget QAbstractItemView {{ border: none; border-radius: 0px; outline: none;
        selection-background-color: {look.accent}; selection-color: {look.on_accent}; }}
    QCalendarWidget QTableView::item {{ padding: 0px; border: none; }}
    QCalendarWidget #qt_calendar_navigationbar {{ background: {look.raised}; }}
    QCalendarWidget QToolButton {{ border-color: transparent; background: transparent; font-weight: bold; }}
    QToolButton#inline {{ padding: 0px; border: none; }}
    QTreeView {{ background: {look.paper}; border: 1px solid {look.hair}; padding: 1px;
        border-radius: {unit(6)}px; selection-background-color: {look.chosen}; selection-color: {look.ink}; }}
    QTreeView::item {{ padding: 4px 7px; }}
    QTreeView::item:selected {{ background: {look.chosen}; color: {look.ink}; }}
    QHeaderView {{ background: {look.paper}; }}
    QHeaderView::section {{ background: {look.paper}; color: {look.soft}; padding: 5px 7px; border: none;
        border-bottom: 1px solid {look.line}; font-weight: bold; font-size: {points * CAP:.1f}pt; }}
    QTableCornerButton::section {{ background: {look.paper}; border: none; }}
    QGraphicsView {{ border: 2px solid transparent; background: {look.sheet}; border-radius: {unit(6)}px; }}
    QTextBrowser, QListView {{ border: 1px solid {look.hair}; padding: 1px; border-radius: {unit(6)}px;
        background: {look.paper}; }}
    QTableView:focus, QTreeView:focus, QTextBrowser:focus, QListView:focus, QScrollArea:focus,
    QGraphicsView:focus {{ border: 2px solid {look.focus}; padding: 0px; }}
    QSlider {{ border: 2px solid transparent; border-radius: {unit(4)}px; }}
    QSlider:focus {{ border: 2px solid {look.focus}; }}
    QComboBox QListView {{ border-radius: 0px; border: none; padding: 0px; }}
    #cards {{ background: {look.window}; border: none; padding: 0px; }}
    QListView::item:selected {{ background: {look.chosen}; color: {look.ink}; }}
    QCheckBox::indicator, QListView::indicator {{ width: {box}px; height: {box}px;
        border: {1 if box < 16 else 2}px solid {look.soft}; border-radius: 3px; background: {look.paper}; }}
    QCheckBox::indicator:checked, QListView::indicator:checked {{ border-color: {look.accent};
        background: {look.accent}; image: url("{tick}"); }}
    QCheckBox::indicator:disabled:checked, QListView::indicator:disabled:checked {{
        border-color: {look.soft}; background: {look.soft}; }}
    QCheckBox::indicator:unchecked:focus {{ border: 2px solid {look.accent}; }}
    QCheckBox::indicator:checked:focus {{ border: 2px solid {look.focus}; }}
    QRadioButton::indicator {{ width: {box}px; height: {box}px;
        border: {1 if box < 16 else 2}px solid {look.soft}; border-radius: {box // 2 + 1}px;
        background: {look.paper}; }}
    QRadioButton::indicator:checked {{ border-color: {look.accent}; background: qradialgradient(
        cx: 0.5, cy: 0.5, radius: 0.5, fx: 0.5, fy: 0.5, stop: 0.5 {look.accent}, stop: 0.6 {look.paper}); }}
    QRadioButton::indicator:focus {{ border: 2px solid {look.focus}; }}
    QTabBar {{ qproperty-drawBase: 0; }}
    QTabBar::tab {{ padding: {unit(7)}px {unit(12)}px; color: {look.soft}; background: transparent;
                    border: none; border-bottom: 3px solid transparent; }}
    QTabBar::tab:selected {{ color: {look.ink}; border-bottom: 3px solid {look.accent}; }}
    QTabBar::tab:focus {{ color: {look.ink}; border: 2px solid {look.focus}; }}
    QTabWidget::pane {{ border: none; }}
    QGroupBox {{ background: {look.paper}; border: 1px solid {look.hair}; border-radius: {unit(6)}px;
                 margin-top: 1.5em; padding: 8px; font-weight: bold; }}
    QGroupBox::title {{ subcontrol-origin: margin; left: 4px; color: {look.ink}; }}
    WayButton {{ outline: none; background: {look.paper}; border: 1px solid {look.line};
                 border-radius: {unit(6)}px; color: {look.ink}; }}
    WayButton:hover {{ border-color: {look.accent}; }}
    WayButton:focus {{ border: 2px solid {look.focus}; }}
    QSplitter::handle {{ background: {look.window}; }}
    QSplitter::handle:hover {{ background: {look.hair}; }}
    """


def load_font() -> None:
    """Let the program write in the face it brings along; once is enough."""
    for name in ("DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf"):
        QFontDatabase.addApplicationFont(str(resources_dir() / "fonts" / name))


def family_of(face: str) -> str:
    """The family to write in: the program's own, or for ``desktop`` that of the system."""
    if face == "desktop":
        return QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont).family()
    return FONT


def wear(
    app: QApplication, look: Look, points: float, *, plainly: bool = False, family: str | None = None
) -> None:
    """Put colours and text size on the whole program; ``plainly`` leaves out the finer points of style.

    ``family`` is the face to write in; None leaves the one that is used.
    """
    font = app.font()
    font.setPointSizeF(points)
    if family:
        font.setFamilies([family])
    app.setFont(font)
    app.setPalette(palette_of(look))
    # Every widget takes a new sheet in, which costs as much where nothing is new.
    if not plainly and app.styleSheet() != (words := style_words(look, points)):
        app.setStyleSheet(words)
