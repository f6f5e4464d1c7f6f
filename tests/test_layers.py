"""Imports between the folders point one way."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parent.parent
PACKAGE = ROOT / "hangar"

CORE = {"base", "parts", "physics", "survey", "rules", "refit"}
MAY_IMPORT: dict[str, set[str]] = {
    "base": set(),
    "parts": {"base"},
    "physics": {"base"},
    "store": {"base", "parts"},
    "survey": {"base", "parts", "physics"},
    "rules": {"base", "parts", "physics", "survey"},
    "refit": {"base", "parts", "physics", "survey", "rules"},
    "answers": CORE,
    "acts": CORE | {"answers", "store"},
    "sheets": CORE | {"answers"},
    "window": CORE | {"answers", "acts", "store", "sheets"},
    "commands": CORE | {"answers", "acts", "store", "sheets", "window"},
    "__main__": {"commands"},
    "__init__": set(),
}
HOME_OF = {
    "PySide6": {"window"},
    "sqlmodel": {"store"},
    "sqlalchemy": {"store"},
    "reportlab": {"sheets"},
    "PIL": {"base", "sheets"},
    "openpyxl": {"store"},
    "numpy": {"physics", "refit"},
    "scipy": set(),
    "highspy": {"refit"},
    "pypdf": {"store"},
    "pypdfium2": {"window"},
}
IN_THE_WINDOW: dict[str, set[str]] = {
    "kit": set(),
    "bring_in": {"kit"},
    "tables": {"kit"},
    "records": {"kit", "tables", "bring_in"},
    "flight_line": {"kit"},
    "findings": {"kit", "tables", "records"},
    "packs": {"kit", "tables", "records"},
    "paper": {"kit", "packs"},
    "positions": {"kit", "tables", "records", "findings"},
    "new_aircraft": {"kit", "tables", "records", "packs", "positions"},
    "power": {"kit", "tables", "records", "packs"},
    "linkages": {"kit", "tables", "records"},
    "log": {"kit", "tables", "records", "packs", "paper"},
    "refit": {"kit", "tables", "findings", "paper"},
    "comparing": {"kit", "tables", "refit"},
    "workshop": {"kit", "tables", "refit"},
    "airframe": {
        *("kit", "tables", "records", "findings", "paper", "positions", "power", "linkages", "log", "refit")
    },
}
"""What each folder of the window may import of the others; the files beside them put all together."""
TESTS = Path(__file__).resolve().parent
LONGEST_FILE = 500


def sources() -> list[Path]:
    return sorted(PACKAGE.rglob("*.py"))


def folder_of(file: Path) -> str:
    return file.relative_to(PACKAGE).parts[0].removesuffix(".py")


@cache
def imported_names(file: Path) -> tuple[str, ...]:
    """What a file imports, wherever in it: at its top, in functions, for the types only."""
    return tuple(_imported_names(file))


def _imported_names(file: Path) -> Iterator[str]:
    for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            yield from (alias.name for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{file}: relative import"
            yield from (f"{node.module}.{alias.name}" for alias in node.names)


def test_folders_import_only_downwards() -> None:
    wrong = []
    for file in sources():
        folder = folder_of(file)
        for name in imported_names(file):
            head, *rest = name.split(".")
            if head != "hangar" or not rest or rest[0] == "__version__":
                continue
            if rest[0] not in MAY_IMPORT[folder] | {folder}:
                wrong.append(f"{file.relative_to(ROOT)} imports {name}")
    assert not wrong, wrong


def test_the_folders_of_the_window_import_only_downwards() -> None:
    wrong = []
    for folder, allowed in IN_THE_WINDOW.items():
        for file in (PACKAGE / "window" / folder).glob("*.py"):
            for name in imported_names(file):
                place = name.split(".")
                if place[:2] == ["hangar", "window"] and place[2] not in allowed | {folder}:
                    wrong.append(f"{file.relative_to(ROOT)} imports {name}")
    assert not wrong, wrong
    assert {path.name for path in (PACKAGE / "window").iterdir() if (path / "__init__.py").exists()} == set(
        IN_THE_WINDOW
    )


def test_what_needs_no_window_lives_below_the_window() -> None:
    without = [
        str(file.relative_to(ROOT))
        for file in (PACKAGE / "window").rglob("*.py")
        if file.name != "__init__.py" and not any(name.startswith("PySide6") for name in imported_names(file))
    ]
    assert not without, without


def modules() -> dict[str, Path]:
    """Every module of the package by its dotted name."""
    return {
        ".".join(file.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__"): file
        for file in sources()
    }


def arrows(files: dict[str, Path]) -> dict[str, set[str]]:
    """Which modules each imports, wherever in the file; what a package hands on counts as nothing."""
    pointing: dict[str, set[str]] = {}
    for module, file in files.items():
        named = {name if name in files else name.rpartition(".")[0] for name in imported_names(file)}
        pointing[module] = {
            name for name in named if name in files and name != module and files[name].name != "__init__.py"
        }
    return pointing


def circles(pointing: dict[str, set[str]]) -> set[frozenset[str]]:
    """The sets of modules that lead to each other."""

    def reached_from(start: str) -> set[str]:
        seen: set[str] = set()
        waiting = [start]
        while waiting:
            fresh = pointing[waiting.pop()] - seen
            seen |= fresh
            waiting += fresh
        return seen

    reach = {module: reached_from(module) for module in pointing}
    return {
        frozenset(other for other in reach[module] if module in reach[other])
        for module in pointing
        if module in reach[module]
    }


def test_no_modules_import_each_other_in_a_circle() -> None:
    assert circles(arrows(modules())) == set()


def test_a_circle_through_three_modules_would_be_seen(tmp_path: Path) -> None:
    texts = {
        "a": "from b import one",
        "b": "def load():\n    import c",
        "c": "if CHECKING:\n    from a import two",
        "d": "import a",
    }
    files = {name: tmp_path / f"{name}.py" for name in texts}
    for name, lines in texts.items():
        files[name].write_text(lines, encoding="utf-8")
    assert circles(arrows(files)) == {frozenset("abc")}


ONE_DOOR = {
    # Opens a keeper's picture; nobody else may.
    r"\bImage\.open\(": {"base/pictures.py"},
    r"\bQImageReader\b|fromData\(|loadFromData\(|\bQSvg|\bQMovie\b": set(),
}


@pytest.mark.parametrize("call", ONE_DOOR)
def test_pictures_are_opened_through_one_door(call: str) -> None:
    lines = {
        str(file.relative_to(PACKAGE).as_posix())
        for file in sources()
        if re.search(call, file.read_text(encoding="utf-8"))
    }
    assert lines == ONE_DOOR[call]


def test_each_library_has_its_only_home() -> None:
    wrong = [
        f"{file.relative_to(ROOT)} imports {name}"
        for file in sources()
        for name in imported_names(file)
        if folder_of(file) not in HOME_OF.get(name.split(".")[0], {folder_of(file)})
    ]
    assert not wrong, wrong


def test_files_stay_short_enough_to_read() -> None:
    lines = {file: len(file.read_text("utf-8").splitlines()) for file in (*sources(), *TESTS.rglob("*.py"))}
    assert {str(file.relative_to(ROOT)) for file, count in lines.items() if count > LONGEST_FILE} == set()


def test_an_upward_arrow_would_be_seen(tmp_path: Path) -> None:
    file = tmp_path / "wrong.py"
    file.write_text(
        "def load():\n    from hangar.window import start\n    import reportlab.lib\n", encoding="utf-8"
    )
    assert set(imported_names(file)) == {"hangar.window.start", "reportlab.lib"}
    assert "window" not in MAY_IMPORT["physics"]


def test_no_machine_path_or_registry_host_is_written_down() -> None:
    forbidden = re.compile(r"/root/|/work/|pypi\.org|registry\.npmjs|deb\.debian")
    kinds = {".py", ".toml", ".md", ".sh", ".csv", ".txt"}
    bad = [
        str(file.relative_to(ROOT))
        for place in ("hangar", "tests", "resources", "demo_fleet", "README.md", "DEVELOPERS.md")
        for file in ([ROOT / place] if (ROOT / place).is_file() else (ROOT / place).rglob("*"))
        if file.suffix in kinds
        and file != Path(__file__).resolve()
        and forbidden.search(file.read_text(encoding="utf-8"))
    ]
    assert not bad, bad
