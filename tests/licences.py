"""Write the list of other people's work that travels with Hangar: ``python -m tests.licences``."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from pathlib import Path

from packaging.requirements import Requirement

ROOT = Path(__file__).resolve().parent.parent
LIST = ROOT / "resources" / "licences.md"
EXTRAS = ("", "server")
HEAD = """# Work of others in Hangar

Written by `python -m tests.licences` from what the installed packages say of themselves; not edited by hand.
The full text of each licence lies beside the installed package.

| package | version | licence | for |
|---|---|---|---|
"""
FOOT = """
The fonts DejaVu Sans Condensed travel with Hangar; their licence is `resources/fonts/LICENCE.txt`.
The one-folder program also holds the Python interpreter (PSF-2.0) and PyInstaller's starter
(GPL-2.0-or-later with an exception that lets any program be bundled). Qt and PySide6 stay separate,
replaceable files in that folder. On Linux it carries the libraries of the system it was built on that
Python and Qt's plugins ask for (X11, Wayland, GLib, GTK, fontconfig, SQLite, OpenSSL and what these need),
as separate, replaceable files too, under their own licences (MIT, LGPL, Apache-2.0, public domain); on
Debian their texts lie in `/usr/share/doc`.
"""
LONGEST = 60


def plain(name: str) -> str:
    """A package's name as indexes compare it.

    >>> plain("PySide6_Essentials")
    'pyside6-essentials'
    """
    return re.sub(r"[-_.]+", "-", name).lower()


def asked(extra: str) -> list[str]:
    """What the project asks for by itself, with one of its extras."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    more = project["optional-dependencies"][extra] if extra else []
    return [*project["dependencies"], *more]


def needed(extra: str) -> dict[str, Distribution]:
    """Every installed package that Hangar needs, directly or not, with one of its extras."""
    distributions: dict[str, Distribution] = {}
    waiting = [(line, frozenset({""})) for line in asked(extra)]
    seen = set()
    while waiting:
        line, extras = waiting.pop()
        wanted = Requirement(line)
        if wanted.marker is not None and not any(
            wanted.marker.evaluate({"extra": extra}) for extra in extras
        ):
            continue
        key = (plain(wanted.name), frozenset({"", *wanted.extras}))
        if key in seen:
            continue
        seen.add(key)
        try:
            one = distribution(wanted.name)
        except PackageNotFoundError:
            continue
        distributions[key[0]] = one
        waiting += [(words, key[1]) for words in one.requires or ()]
    return distributions


def licence_of(one: Distribution) -> str:
    """What a package says its licence is, in a few words."""
    metadata = one.metadata.json
    if expression := metadata.get("license_expression"):
        return str(expression)
    words = str(metadata.get("license") or "").strip().splitlines()
    if words and len(words[0]) <= LONGEST and not words[0].startswith("Copyright"):
        return words[0]
    kinds = [line for line in metadata.get("classifier", ()) if str(line).startswith("License ::")]
    return ", ".join(str(line).split(" :: ")[-1] for line in kinds) or (words[0] if words else "")


def licence_list() -> str:
    """The whole list as Markdown."""
    purpose: dict[str, str] = {}
    packages: dict[str, Distribution] = {}
    for extra in EXTRAS:
        for name, one in needed(extra).items():
            packages.setdefault(name, one)
            purpose.setdefault(name, extra or "always")
    rows = [
        f"| {distribution.name} | {distribution.version} | {licence_of(distribution)} | {purpose[name]} |"
        for name, distribution in sorted(packages.items())
    ]
    return HEAD + "\n".join(rows) + "\n" + FOOT


if __name__ == "__main__":
    LIST.write_text(licence_list(), encoding="utf-8")
