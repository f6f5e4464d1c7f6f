"""How keepers of six languages write, from a table that was made apart from the vocabulary."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

DECIMAL_COMMA = {"de", "fr", "it", "nl", "es"}


@dataclass(frozen=True)
class Words:
    """The words of one language."""

    heads: Mapping[str, list[str]]
    functions: Mapping[str, list[str]]
    left: str
    right: str
    digital: str
    analog: str
    dittos: list[str]
    months: list[str]
    title: str
    unit_title: str
    total: str
    channel: str
    cells: str


def _read() -> dict[str, Words]:
    data: dict[str, Any] = tomllib.loads(Path(__file__).with_suffix(".toml").read_text(encoding="utf-8"))
    return {language: Words(**entries) for language, entries in data.items()}


WORDS: Mapping[str, Words] = _read()
