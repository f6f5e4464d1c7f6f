"""Every pair of colours that is used for words or edges, worked out anew from the colours themselves."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from hangar.base.places import resources_dir
from hangar.rules.finding import Level
from hangar.window.kit.looks import DARK, LIGHT, Look, contrast
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.start import application

WORDS, EDGES = 4.5, 3.0
"""W3C Web Content Accessibility Guidelines 2.1, success criteria 1.4.3 (AA) and 1.4.11."""
GROUNDS = ("window", "paper", "raised", "chosen")
BOTH = pytest.mark.parametrize("look", [LIGHT, DARK], ids=lambda look: look.name)


def pairs_of_words(look: Look) -> Iterator[tuple[str, str, str]]:
    for ground in GROUNDS:
        for ink in ("ink", "soft"):
            yield f"{ink} on {ground}", getattr(look, ink), getattr(look, ground)
    for ground in ("window", "paper", "raised", "chosen"):
        yield f"accent on {ground}", look.accent, getattr(look, ground)
    yield "on accent", look.on_accent, look.accent
    yield "rail", look.rail_ink, look.rail
    for ink in ("ink", "soft"):
        yield f"{ink} on sheet", getattr(look, ink), look.sheet
        yield f"{ink} on body", getattr(look, ink), look.outline
    for level in Level:
        colours = look.levels[level]
        yield f"{level} sign", colours.sign, colours.fill
        for ground, colour in (
            ("paper", look.paper),
            ("wash", colours.wash),
            ("selection", look.chosen),
            ("window", look.window),
            ("sheet", look.sheet),
        ):
            yield f"{level} words on {ground}", colours.words, colour
        yield f"ink on {level} wash", look.ink, colours.wash
        yield f"soft on {level} wash", look.soft, colours.wash


def pairs_of_edges(look: Look) -> Iterator[tuple[str, str, str]]:
    for ground in ("window", "paper"):
        yield f"edge of controls on {ground}", look.line, getattr(look, ground)
    for ground in GROUNDS:
        yield f"focus on {ground}", look.focus, getattr(look, ground)
    yield "lines of drawings on sheet", look.pen, look.sheet
    yield "lines of drawings on body", look.pen, look.outline
    for level in Level:
        for ground in ("window", "paper", "sheet"):
            yield f"{level} edge on {ground}", look.levels[level].edge, getattr(look, ground)


@BOTH
def test_every_pair_of_words_can_be_read(look: Look) -> None:
    low = {name: round(contrast(ink, ground), 2) for name, ink, ground in pairs_of_words(look)}
    assert {name: ratio for name, ratio in low.items() if ratio < WORDS} == {}


@BOTH
def test_every_edge_stands_out(look: Look) -> None:
    low = {name: round(contrast(edge, ground), 2) for name, edge, ground in pairs_of_edges(look)}
    assert {name: ratio for name, ratio in low.items() if ratio < EDGES} == {}


def test_links_follow_a_change_of_colours(view: ViewSettings) -> None:
    from hangar.window.kit.looks import palette_of, wear

    app = application()
    for look in (LIGHT, DARK, LIGHT):
        wear(app, look, 10.0)
        assert app.palette().link().color().name().upper() == look.accent
        assert palette_of(look).link().color().name().upper() == look.accent
    app.setStyleSheet("")


def test_the_face_writes_latin_greek_and_cyrillic(view: ViewSettings) -> None:
    from PySide6.QtGui import QRawFont

    for name in ("DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf"):
        face = QRawFont(str(resources_dir() / "fonts" / name), 12.0)
        assert face.isValid()
        wanted = "AZaz09ÄÖÜßéñøçłžő ΑΩαωµ БЯбяё °·×±≤≥≈→Ω−½²³„“”’…–—"
        assert [letter for letter in wanted if not face.supportsCharacter(ord(letter))] == []
