"""The words of the keepers: every language has every meaning, every entry is found again."""

from __future__ import annotations

import tomllib

import pytest

from hangar.base.places import resources_dir
from hangar.store.intake.vocabulary import LANGUAGES, lexicon, month_of, tokens, units_of

NAMES = ("roles", "functions", "sides", "words")


def _table(name: str) -> dict[str, dict[str, list[str]]]:
    return tomllib.loads((resources_dir() / "intake" / f"{name}.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("name", NAMES)
def test_every_language_has_every_meaning(name: str) -> None:
    lacking = [
        f"{meaning}.{language}"
        for meaning, words in _table(name).items()
        for language in LANGUAGES
        if not words.get(language)
    ]
    assert not lacking


@pytest.mark.parametrize("name", NAMES)
def test_every_entry_is_found_again(name: str) -> None:
    lost = [
        f"{meaning}.{language}: {word}"
        for meaning, words in _table(name).items()
        for language, some in words.items()
        for word in some
        if tokens(word) and not lexicon(name).is_wholly(word.replace("*", ""), meaning, language)
    ]
    assert not lost


def test_a_short_word_means_something_in_its_own_language_only() -> None:
    assert lexicon("sides").meanings("Aileron D", "fr") == {"right": 1}
    assert lexicon("sides").meanings("servo D", "de") == {}


def test_a_month_has_one_number_in_all_languages() -> None:
    assert {month_of()[word] for word in ("mai", "maggio", "mei", "may", "mayo", "mag")} == {5}


def test_a_kilogram_centimetre_is_kept_in_newton_metres() -> None:
    # 9.80665 m/s² is the standard acceleration of free fall (ISO 80000-3).
    assert units_of("torque")["kgcm"].factor == pytest.approx(9.80665 * 0.01)
    assert units_of("torque")["ozin"].factor == pytest.approx(0.028349523125 * 9.80665 * 0.0254)
