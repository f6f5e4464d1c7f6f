"""Asking for a file or folder: begins in the folder used last, or among the keeper's documents."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtWidgets import QFileDialog, QWidget

from hangar.window.kit.view_settings import ViewSettings


def ask_save(parent: QWidget, view: ViewSettings, title: str, name: str, kinds: str = "") -> Path | None:
    """Where a file of that name shall go; None when the keeper thinks better of it."""
    path, _ = QFileDialog.getSaveFileName(parent, title, str(view.folder / name), kinds)
    return _remembered(view, path)


def ask_open(parent: QWidget, view: ViewSettings, title: str, kinds: str = "") -> Path | None:
    """Which file to read; None for none."""
    path, _ = QFileDialog.getOpenFileName(parent, title, str(view.folder), kinds)
    return _remembered(view, path)


def ask_open_many(parent: QWidget, view: ViewSettings, title: str, kinds: str = "") -> list[Path]:
    """Which files to read."""
    paths, _ = QFileDialog.getOpenFileNames(parent, title, str(view.folder), kinds)
    return [path for path in (_remembered(view, path) for path in paths) if path is not None]


def ask_folder(parent: QWidget, view: ViewSettings, title: str) -> Path | None:
    """Which folder to write to; None for none."""
    folder = QFileDialog.getExistingDirectory(parent, title, str(view.folder))
    if not folder:
        return None
    view.remember_folder(Path(folder))
    return Path(folder)


def _remembered(view: ViewSettings, path: str) -> Path | None:
    if not path:
        return None
    view.remember_folder(Path(path).parent)
    return Path(path)
