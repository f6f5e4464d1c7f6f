"""What is counted in the window reads right for none, one and two."""

from __future__ import annotations

import re

import pytest

from hangar.parts import Plan, PlanLine
from hangar.parts.choices import PlanAction
from hangar.window.kit.words import counted, say
from hangar.window.refit.plan_cards import cost_words
from tests.catalogue import wanted_words


@pytest.mark.parametrize(("count", "told"), [(0, "0 plans"), (1, "1 plan"), (2, "2 plans")])
def test_one_has_words_of_its_own(count: int, told: str) -> None:
    assert counted(count, say("{count} plan"), say("{count} plans")) == told


@pytest.mark.parametrize(("lines", "told"), [(1, "1 line without a price"), (2, "2 lines without a price")])
def test_lines_without_a_price_are_counted_in_words_that_fit(lines: int, told: str) -> None:
    each = [
        PlanLine(plan="P", number=number, action=PlanAction.FIT_SERVO, quantity=1)
        for number in range(1, lines + 1)
    ]
    assert cost_words(Plan(code="P", aircraft="LARK", title="Winter", lines=tuple(each)), "€").endswith(told)


def test_every_plural_counted_in_the_window_has_its_singular() -> None:
    words = {word.key for word in wanted_words() if word.place.startswith("window/") and not word.many}
    counts = {
        text
        for text in words
        if re.match(r"(?:Keep |Paste )?\{(?:count|n)\} (?:aircraft go|\w+s) ", text + " ")
    }
    lacking = {text for text in counts if not _singulars(text) & words}
    assert lacking == {
        "{count} tables were written to {folder}.",  # one for each kind of record
        "{n} times slower",
        "{count} days overdue",  # one is said as yesterday
        "{count} things overdue, first {what} {about}",  # one is named
        "{n} plans",
    }


def _singulars(text: str) -> set[str]:
    found = re.match(r"((?:Keep |Paste )?\{(?:count|n)\} )(\w+)(.*)", text)
    assert found is not None
    start, word, rest = found.groups()
    if word == "aircraft":
        return {text.replace("aircraft go ", "aircraft goes ")}
    return {start + word.removesuffix("s") + end for end in (rest, rest.replace(" none beat", " none beats"))}
