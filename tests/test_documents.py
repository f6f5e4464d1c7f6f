"""README and DEVELOPERS name only commands, files and folders that exist."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from hangar.commands import COMMANDS
from tests.test_layers import MAY_IMPORT

ROOT = Path(__file__).resolve().parent.parent
DOCUMENTS = [ROOT / "README.md", ROOT / "DEVELOPERS.md"]
PATH_WORDS = re.compile(r"(?:hangar|tests|resources|demo_fleet|\.ci)(?:/[\w.-]+)+")


@pytest.mark.parametrize("document", DOCUMENTS, ids=lambda path: path.name)
def test_every_path_named_exists(document: Path) -> None:
    named = set(PATH_WORDS.findall(document.read_text(encoding="utf-8")))
    assert named
    missing = [name for name in named if not (ROOT / name.rstrip(".")).exists()]
    assert not missing, missing


def test_the_readme_names_every_command_and_no_other() -> None:
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    named = set(re.findall(r"`hangar ([a-z-]+)", text))
    assert named == set(COMMANDS)


def test_the_root_holds_nothing_else() -> None:
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "hangar", "resources", "tests", "demo_fleet"}
    import subprocess

    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    names = {line.split("/")[0] for line in listed.splitlines()}
    assert {name for name in names if not name.startswith(".")} <= allowed


def test_the_map_of_folders_is_the_one_that_the_layer_test_checks() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    for folder in set(MAY_IMPORT) - {"__main__", "__init__", "commands"}:
        assert f"`hangar/{folder}`" in text
