"""Stands where a canvas would stand, for laying out without drawing."""

from __future__ import annotations

from typing import Any


class NoCanvas:
    """Takes every drawing call and draws nothing."""

    def __getattr__(self, _name: str) -> NoCanvas:
        return self

    def __call__(self, *_words: Any, **_more: Any) -> NoCanvas:
        return self
