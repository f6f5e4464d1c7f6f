"""One type behind many spellings: "Tessivar TS-31", "tessivar ts31", "TS-31 (Tessivar)"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from difflib import SequenceMatcher

from hangar.base.text import Text, text
from hangar.parts import ServoType

_LIKE_ENOUGH = 0.8


@dataclass(frozen=True, slots=True)
class Spelling:
    """A type's name taken apart: the maker's word and the model code, as written and squeezed."""

    text: str
    maker: str | None
    model: str

    @property
    def squeezed_model(self) -> str:
        """The model code without blanks and signs, in small letters."""
        return _squeezed(self.model)

    @property
    def squeezed(self) -> str:
        """Maker and model code without blanks and signs, in small letters."""
        return _squeezed((self.maker or "") + self.model)


def _squeezed(text: str) -> str:
    return re.sub(r"[^a-z0-9]", "", text.lower())


def take_apart(text: str) -> Spelling:
    """A type's name as maker and model code: a long word without figures is the maker's."""
    words = re.sub(r"[()\[\],;]", " ", text).split()
    makers = [word for word in words if len(word) >= 4 and word.isalpha()]
    rest = [word for word in words if word not in makers]
    if not rest:
        return Spelling(text, None, " ".join(words))
    return Spelling(text, " ".join(makers) or None, " ".join(rest))


@dataclass(slots=True)
class TypeGroup:
    """One servo type of a sheet with all its spellings; ``known`` when the fleet has it."""

    spellings: list[Spelling] = field(default_factory=list)
    known: ServoType | None = None

    @property
    def best(self) -> Spelling:
        """The spelling to name the type by: with its maker, the most frequent, the first of those."""
        full = [spelling for spelling in self.spellings if spelling.maker] or self.spellings
        texts = [spelling.text for spelling in full]
        return max(full, key=lambda spelling: texts.count(spelling.text))

    @property
    def code(self) -> str:
        """The type's code."""
        return self.known.code if self.known else self.best.model


class TypeMatcher:
    """Sorts names of servo types into groups that mean one type each."""

    def __init__(self, known: Iterable[ServoType]) -> None:
        self.groups: list[TypeGroup] = []
        self._known: list[tuple[Spelling, ServoType]] = [
            (
                Spelling(each.code, each.maker or take_apart(each.code).maker, take_apart(each.code).model),
                each,
            )
            for each in known
        ]
        self._by_text: dict[str, TypeGroup] = {}

    def group(self, text: str) -> tuple[TypeGroup, Text | None]:
        """The group of a name, and a sentence when it only resembles the other names in it."""
        spelling = take_apart(text)
        same = self._by_text.get(text)
        if same is not None:
            same.spellings.append(spelling)
            return same, None
        group, doubt = self._find(spelling)
        group.spellings.append(spelling)
        self._by_text[text] = group
        return group, doubt

    def _find(self, spelling: Spelling) -> tuple[TypeGroup, Text | None]:
        for like in (False, True):
            for group in self.groups:
                if any(_same(spelling, other, like) for other in group.spellings):
                    return group, _doubt(spelling, group.best.text) if like else None
            for other, known in self._known:
                if _same(spelling, other, like):
                    group = next((each for each in self.groups if each.known is known), None) or self._new(
                        known
                    )
                    return group, _doubt(spelling, known.code) if like else None
        return self._new(None), None

    def _new(self, known: ServoType | None) -> TypeGroup:
        group = TypeGroup(known=known)
        self.groups.append(group)
        return group


def _doubt(spelling: Spelling, name: str) -> Text:
    return text('"{found}" was taken for {name}, which it resembles.', found=spelling.text, name=name)


def _same(one: Spelling, other: Spelling, like: bool) -> bool:
    """Whether two spellings mean one type; ``like`` lets letters differ, but never figures."""
    if not like:
        makers = {_squeezed(spelling.maker) for spelling in (one, other) if spelling.maker}
        return one.squeezed_model == other.squeezed_model and len(makers) < 2
    if _figures(one.model) != _figures(other.model) or not _figures(one.model):
        return False
    pairs: Sequence[tuple[str, str]] = [(one.squeezed, other.squeezed)]
    if not (one.maker and other.maker):
        pairs = [(one.squeezed_model, other.squeezed_model)]
    return all(SequenceMatcher(None, first, second).ratio() >= _LIKE_ENOUGH for first, second in pairs)


def _figures(text: str) -> list[str]:
    return re.findall(r"\d+", text)
