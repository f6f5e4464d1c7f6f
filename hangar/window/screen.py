"""Whether a window can be opened here, asked before Qt is started: Qt itself would abort the program.

Only Linux needs the question: there Qt leaves libraries of the screen to the system.
"""

from __future__ import annotations

import ctypes
import os
import re
import sys
from collections.abc import Mapping
from importlib import import_module
from pathlib import Path

_PACKAGES = {
    "libxcb-cursor": "libxcb-cursor0",
    "libxcb-icccm": "libxcb-icccm4",
    "libxcb-image": "libxcb-image0",
    "libxcb-keysyms": "libxcb-keysyms1",
    "libxcb-randr": "libxcb-randr0",
    "libxcb-render-util": "libxcb-render-util0",
    "libxcb-shape": "libxcb-shape0",
    "libxcb-xkb": "libxcb-xkb1",
    "libxkbcommon-x11": "libxkbcommon-x11-0",
    "libxkbcommon": "libxkbcommon0",
    "libX11-xcb": "libx11-xcb1",
    "libEGL": "libegl1",
    "libGL": "libgl1",
    "libfontconfig": "libfontconfig1",
    "libdbus-1": "libdbus-1-3",
}
"""Debian's and Ubuntu's packages of the libraries that Qt leaves to the system."""
_MISSING = re.compile(r"(lib[\w+-]+)\.so[\w.]*: cannot open shared object file")


def screen_trouble(environment: Mapping[str, str] | None = None) -> str | None:
    """Why no window can be opened here, as one sentence that says what to do; None where one can."""
    if not sys.platform.startswith("linux"):
        return None
    around = os.environ if environment is None else environment
    try:
        import_module("hangar.window.plain_import")  # before everything that imports Qt
        from PySide6.QtCore import QLibraryInfo
    except ImportError as fault:
        return missing_words(fault)
    folder = Path(QLibraryInfo.path(QLibraryInfo.LibraryPath.PluginsPath)) / "platforms"
    troubles = [_platform_trouble(name, folder, around) for name in platforms(around)]
    return None if None in troubles else troubles[0]


def platforms(around: Mapping[str, str]) -> tuple[str, ...]:
    """The platforms that Qt tries, in its order.

    >>> platforms({"QT_QPA_PLATFORM": "offscreen;xcb"}), platforms({"XDG_SESSION_TYPE": "wayland"})
    (('offscreen', 'xcb'), ('wayland', 'xcb'))
    """
    asked = around.get("QT_QPA_PLATFORM", "")
    if asked:
        return tuple(part.partition(":")[0] for part in asked.split(";"))
    return ("wayland", "xcb") if around.get("XDG_SESSION_TYPE") == "wayland" else ("xcb",)


def missing_words(fault: Exception) -> str:
    """A loader's complaint as a sentence that says which package to install."""
    match = _MISSING.search(str(fault))
    if match is None:
        return f"the window cannot be opened, Qt's libraries cannot be loaded: {fault}."
    package = _PACKAGES.get(match[1])
    how = f"on Debian or Ubuntu run: apt-get install {package}" if package else "install it"
    return f"the window cannot be opened, the system library {match[1]} is missing; {how}."


def _platform_trouble(name: str, folder: Path, around: Mapping[str, str]) -> str | None:
    plugin = folder / f"libq{name}.so"
    if not plugin.exists():
        return f"the window cannot be opened, QT_QPA_PLATFORM names {name!r}, which Qt does not have here."
    try:
        ctypes.CDLL(str(plugin))
    except OSError as fault:
        return missing_words(fault)
    if name == "xcb":
        return _x_trouble(around.get("DISPLAY", ""))
    return _wayland_trouble(around) if name == "wayland" else None


def _x_trouble(display: str) -> str | None:
    if not display:
        return (
            "the window cannot be opened, there is no screen here (DISPLAY is not set); sit at a screen, "
            "or ask for a command that needs none: hangar --help."
        )
    xcb = ctypes.CDLL("libxcb.so.1")
    xcb.xcb_connect.restype = ctypes.c_void_p
    for function in (xcb.xcb_connection_has_error, xcb.xcb_disconnect):
        function.argtypes = (ctypes.c_void_p,)
    link = xcb.xcb_connect(display.encode(), None)
    failed = bool(xcb.xcb_connection_has_error(link))
    xcb.xcb_disconnect(link)
    if not failed:
        return None
    return (
        f"the window cannot be opened, the screen {display} does not answer; set DISPLAY to the screen "
        "you sit at, or ask for a command that needs none: hangar --help."
    )


def _wayland_trouble(around: Mapping[str, str]) -> str | None:
    place = Path(around.get("XDG_RUNTIME_DIR", "/")) / around.get("WAYLAND_DISPLAY", "wayland-0")
    return None if place.exists() else f"the window cannot be opened, the screen {place} does not answer."


if __name__ == "__main__":
    # For the script that sets Hangar up: the sentence on the error stream, and whether there is one.
    sys.exit(screen_trouble())
