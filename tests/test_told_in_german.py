"""The core's sentences are told in German: none is left out, none is half English."""

from __future__ import annotations

import re

import pytest

from hangar.base.sentence_patterns import HOLE, whole_words
from tests.sentences import read_catalogue, wanted
from tests.told import demo_texts, example_texts, german
from tests.translating import read_catalogue as window_words

GERMAN = read_catalogue()
WANTED = [text for texts in wanted().values() for text in texts]
_WORD = re.compile(r"[^\W\d_]{2,}")


SIGNS = {"min"}
"""Words of the source that stand in German too: the sign of minutes."""


def _holes(text: str) -> list[str]:
    return sorted(found[1] + found[2] for found in HOLE.finditer(text))


def test_the_catalogue_holds_every_sentence_of_the_source_and_no_other() -> None:
    assert sorted(set(WANTED) - GERMAN.keys()) == []
    assert sorted(GERMAN.keys() - set(WANTED)) == []


def test_no_sentence_is_left_untranslated() -> None:
    assert sorted(text for text in WANTED if not GERMAN.get(text)) == []


def test_both_languages_have_the_same_holes() -> None:
    assert [text for text, told in GERMAN.items() if told and _holes(text) != _holes(told)] == []


def test_numbers_written_out_are_the_same_in_both_languages() -> None:
    number = re.compile(r"\d+(?:\.\d+)*")
    wrong = [
        text
        for text, told in GERMAN.items()
        if told and sorted(number.findall(HOLE.sub("", text))) != sorted(number.findall(HOLE.sub("", told)))
    ]
    assert wrong == []


@pytest.mark.parametrize("told_of", [demo_texts, example_texts])
def test_everything_said_of_the_fleet_and_of_the_examples_is_told_in_german(told_of: object) -> None:
    texts, _names = told_of()  # type: ignore[operator]
    assert sorted(text for text in texts if german().said(text).left >= 0.5) == []


@pytest.mark.parametrize("told_of", [demo_texts, example_texts])
def test_no_english_word_is_left_in_what_is_told(told_of: object) -> None:
    texts, names = told_of()  # type: ignore[operator]
    english = _words_of(HOLE.sub(" ", text) for text in GERMAN)
    own = _words_of(HOLE.sub(" ", told) for told in GERMAN.values())
    own |= _words_of(window_words().values()) | _words_of(names)
    left = {
        word: told
        for text in texts
        for told in (german().say(text),)
        for word in _WORD.findall(told)
        if word.lower() in english - own - SIGNS
    }
    assert left == {}


def _words_of(texts: object) -> set[str]:
    return {word.lower() for text in texts for word in _WORD.findall(text)}  # type: ignore[attr-defined]


def test_numbers_and_codes_come_through_as_they_are() -> None:
    number = re.compile(r"\d+(?:\.\d+)*")
    texts = demo_texts()[0] | example_texts()[0]
    wrong = {
        text: told
        for text in texts
        for told in (german().say(text),)
        if sorted(number.findall(text)) != sorted(number.findall(told))
    }
    assert wrong == {}


def test_a_sentence_nobody_translated_stays_whole() -> None:
    text = "The moon is made of green cheese, and nobody has weighed it."
    assert german().say(text) == text


@pytest.mark.parametrize(
    ("english", "told"),
    [
        (
            "On the left aileron servo an arm of 23 teeth sits on a spline of 21.",
            "Servo Querruder links: Arm mit 23 Zähnen auf einer Verzahnung mit 21 Zähnen.",
        ),
        (
            "Three of the four aileron servos have at worst 0.53 times the torque they need at 38 m/s.",
            "Querruder: drei der vier Servos haben schlimmstenfalls 0.53-mal das nötige Drehmoment "
            "bei 38 m/s.",
        ),
        (
            "surface AIL-L: whole chord; and 2 more",
            "Ruder AIL-L: ganze Tiefe; und 2 weitere",
        ),
        (
            'Plan "My winter plan" would bring: servo too weak for the surface; weak pack.',
            "Plan „My winter plan“ brächte: Servo zu schwach für das Ruder; schwacher Akku.",
        ),
        ("no open warnings on the data entered", "keine offenen Warnungen zu den eingetragenen Daten"),
    ],
)
def test_sentences_are_taken_apart_into_subject_numbers_and_names(english: str, told: str) -> None:
    assert german().say(english) == told


def test_a_text_of_many_sentences_is_told_to_its_end() -> None:
    one = "Receiver RX gets 2.3 V at peak current; it works down to 3.5 V."
    told = "Empfänger RX bekommt 2.3 V bei Spitzenstrom; arbeitet bis hinab zu 3.5 V."
    assert german().say(" ".join([one] * 20)) == " ".join([told] * 20)


def test_the_words_of_a_pattern_are_those_that_touch_no_hole() -> None:
    assert whole_words(" flights since the ") == ["flights", "since", "the"]


@pytest.mark.parametrize(
    ("sentence", "told"),
    [
        (
            'cannot be read: "12 parsecs" cannot be read as a current: "parsecs" is not understood.',
            "ist nicht zu lesen: „12 parsecs“ ist nicht als Strom zu lesen: „parsecs“ wird nicht verstanden.",
        ),
        (
            "is no throw at this chord; allowed is 0 to 156 mm, which is 90°.",
            "ist kein Ausschlag bei dieser Tiefe; erlaubt ist 0 bis 156 mm, das sind 90°.",
        ),
        (
            "the first free label is 22; the sheet has labels 1 to 21.",
            "das erste freie Etikett ist 22; der Bogen hat die Etiketten 1 bis 21.",
        ),
    ],
)
def test_why_a_box_or_a_label_is_refused_is_told_in_german(sentence: str, told: str) -> None:
    assert german().said(sentence).text == told
