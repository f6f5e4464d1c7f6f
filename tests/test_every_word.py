"""Every word that is said is in the catalogue, or is the keeper's own."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from enum import Enum

import pytest

from hangar.base.figure import Figure
from hangar.base.text import Arg
from hangar.parts import Aircraft, Library
from hangar.rules import Finding, all_rules, inspect, reminders
from hangar.rules.examples import home_day
from hangar.rules.registry import Example, Scene
from hangar.survey import Conditions, survey
from tests.pseudo import bare_words, pseudo_reader
from tests.rules.demo_trees import TODAY, demo, records

RULES = sorted(all_rules())


def keepers_words(*trees: object) -> set[str]:
    """Every text that stands in the records: tags, codes, names, makers, remarks."""
    found: set[str] = set()
    for tree in trees:
        for record in records(tree):
            for value in vars(record).values():
                if isinstance(value, str) and not isinstance(value, Enum) and value:
                    found.add(value)
    return found


def library_words(library: Library | None) -> set[str]:
    if library is None:
        return set()
    kept: list[object] = []
    for held in vars(library).values():
        kept += held.values() if isinstance(held, dict) else held if isinstance(held, tuple) else ()
    return keepers_words(*kept)


def texts_of(finding: Finding) -> Iterator[Arg]:
    for each in finding.with_folded():
        yield from (
            each.message,
            each.detail,
            each.remedy,
            each.title,
            each.source,
            *each.missing,
            each.level,
        )
        for figure in each.figures:
            yield from texts_of_figure(figure)


def texts_of_figure(figure: Figure) -> Iterator[Arg]:
    yield from (figure.name, figure.basis, figure.working.formula, figure.working.source)
    for given in figure.working.inputs:
        yield from (given.name, given.basis)
        if not isinstance(given.value, float | int):
            yield given.value


def unsaid(texts: Iterable[Arg], keepers: set[str]) -> list[str]:
    reader = pseudo_reader()
    found = {}
    for said in texts:
        words = reader.put(said)
        if bare_words(words, keepers):
            found[words] = bare_words(words, keepers)
    return [f"{words!r} has {bare!r} bare" for words, bare in found.items()]


def _scene(example: Example) -> Scene:
    made = example()
    return made if isinstance(made, Scene) else Scene(made)


@pytest.mark.parametrize("slug", RULES)
def test_a_finding_says_nothing_but_words_of_the_catalogue_and_of_the_keeper(slug: str) -> None:
    rule = all_rules()[slug]
    scene = _scene(rule.flags)
    looked = survey(scene.aircraft, scene.conditions or home_day())
    found = (
        reminders(scene.aircraft, looked)
        if rule.reminder
        else inspect(scene.aircraft, looked, library=scene.library)
    )
    keepers = keepers_words(scene.aircraft) | library_words(scene.library)
    assert unsaid((said for each in found for said in texts_of(each)), keepers) == []


def _demo_aircraft() -> list[Aircraft]:
    return list(demo()[0].values())


@pytest.mark.parametrize("aircraft", _demo_aircraft(), ids=lambda aircraft: aircraft.code)
def test_a_survey_says_nothing_but_words_of_the_catalogue_and_of_the_keeper(aircraft: Aircraft) -> None:
    library = demo()[1]
    looked = survey(aircraft, Conditions(today=TODAY))
    keepers = keepers_words(aircraft) | library_words(library)
    findings = [said for each in inspect(aircraft, looked, library=library) for said in texts_of(each)]
    figures = [said for _, figure in looked.figures() for said in texts_of_figure(figure)]
    assert unsaid((*findings, *figures), keepers) == []
