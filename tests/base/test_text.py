"""A text that is kept and read again says the same in every language and in every choice of units."""

from __future__ import annotations

import json
from datetime import date

from hypothesis import given, settings
from hypothesis import strategies as st

from hangar.base.late_text import LateText
from hangar.base.reader import Reader
from hangar.base.text import (
    Amount,
    Arg,
    ItemList,
    Span,
    Text,
    plural,
    text,
    text_as_json,
    text_from_json,
)
from hangar.base.units import IMPERIAL, SI_TRADE
from hangar.parts.choices import Chemistry, Function

WORDS = st.text(alphabet="abcXYZ 0123456789-{}äß\"'", max_size=8)
NUMBERS = st.floats(-1e4, 1e4, allow_nan=False).map(lambda value: round(value, 3))
DIGITS = st.sampled_from([None, 2, 3])
AMOUNTS = st.builds(Amount, NUMBERS, st.sampled_from(["V", "mm", "N m", "kg"]), DIGITS)
SPANS = st.builds(Span, NUMBERS, NUMBERS, st.just("A"), DIGITS)
CHOICES = st.sampled_from([Function.RUDDER, Chemistry.LIPO])
DAYS = st.dates(date(1990, 1, 1), date(2040, 1, 1))
PLAIN = st.one_of(WORDS, st.integers(0, 12), AMOUNTS, SPANS, CHOICES, DAYS, st.none())


def texts(arg: st.SearchStrategy[Arg]) -> st.SearchStrategy[Arg]:
    lists = st.builds(
        ItemList,
        st.lists(arg, max_size=4).map(tuple),
        st.sampled_from(["and", "or", ",", ";"]),
        st.sampled_from([0, 2]),
    )
    keys = st.sampled_from(["{who:^} has {what}", "Pack {who} gives {what}.", "{who}; {what:small}"])
    sentences = st.builds(
        lambda key, who, what, whole: Text(key, {"who": who, "what": what}, whole=whole),
        keys, arg, arg, st.booleans(),
    )  # fmt: skip
    counts = st.builds(
        lambda count: plural("{count:word} servo", "{count:word} servos", count=count), st.integers(0, 12)
    )
    return st.one_of(lists, sentences, counts)


READERS = (Reader("en"), Reader("en", IMPERIAL), Reader("de"), Reader("de", SI_TRADE))


@settings(max_examples=150)
@given(st.recursive(PLAIN, texts, max_leaves=6))
def test_what_is_kept_is_read_as_it_was_said(said: Arg) -> None:
    kept = text_from_json(json.loads(json.dumps(text_as_json(said))))
    for reader in READERS:
        assert reader.put(kept) == reader.put(said)


def test_a_late_text_is_made_once_and_is_like_any_other() -> None:
    made: list[int] = []

    def make() -> Text:
        made.append(1)
        return text("Fit {part}.", part="a")

    late = LateText(make)
    assert bool(late)
    assert not made
    assert (str(late), late, hash(late)) == (
        "Fit a.",
        text("Fit {part}.", part="a"),
        hash(text("Fit {part}.", part="a")),
    )
    assert text_from_json(text_as_json(late)) == late
    assert late.as_sentence().whole
    assert made == [1]
