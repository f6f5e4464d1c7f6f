"""Everything the core says of the invented fleet and of every rule's examples, as the window shows it."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator
from enum import StrEnum
from functools import cache

from hangar.base.figure import Figure
from hangar.base.sentences import Sentences
from hangar.parts import Aircraft, Record
from hangar.parts.fields import specs
from hangar.rules import Finding, all_rules, inspect, reminders, summary
from hangar.rules import examples as ex
from hangar.rules.registry import Scene
from hangar.survey import Conditions, Survey, survey
from hangar.survey.due import due_items
from tests.rules.clean.fleet import CLEAN
from tests.rules.demo_trees import TODAY, demo, records
from tests.sentences import CATALOGUE
from tests.translating import read_catalogue as window_words


@cache
def german() -> Sentences:
    """The catalogue as the German window uses it."""
    plain = window_words()

    def word(text: str) -> str | None:
        return plain.get(text) or plain.get(text[:1].upper() + text[1:])

    return Sentences.read(CATALOGUE, word)


def of_figure(figure: Figure) -> Iterator[str]:
    """Name and working of a number."""
    yield from (figure.name, figure.working.formula, figure.working.source)
    for one in figure.working.inputs:
        yield one.name
        if isinstance(one.value, str):
            yield one.value


def of_finding(finding: Finding) -> Iterator[str]:
    """Every text of a finding and of what is folded under it."""
    for each in finding.with_folded():
        yield from (each.message, each.detail, each.remedy, each.source, *each.missing)
        for figure in each.figures:
            yield from of_figure(figure)


def of_survey(surveyed: object) -> Iterator[str]:
    """Every number of a survey with its working, and what it lacks."""
    if isinstance(surveyed, Figure):
        yield from of_figure(surveyed)
    elif isinstance(surveyed, Aircraft | Record | Conditions | StrEnum):
        return
    elif dataclasses.is_dataclass(surveyed):
        for spec in dataclasses.fields(surveyed):
            value = getattr(surveyed, spec.name)
            if spec.name == "missing":
                yield from value
            elif spec.name == "missing_for":
                yield from (words for lacks in value.values() for words in lacks)
            else:
                yield from of_survey(value)
    elif isinstance(surveyed, dict):
        for value in surveyed.values():
            yield from of_survey(value)
    elif isinstance(surveyed, tuple | list):
        for value in surveyed:
            yield from of_survey(value)


def of_aircraft(surveyed: Survey, findings: Iterable[Finding]) -> Iterator[str]:
    """Everything that is shown of one aircraft."""
    held = tuple(findings)
    for finding in held:
        yield from of_finding(finding)
    yield summary(held)
    yield from of_survey(surveyed)
    for item in due_items(surveyed.aircraft, surveyed.conditions):
        yield from (item.about, item.why)


def names_in(aircraft: Aircraft) -> set[str]:
    """What the keeper wrote himself."""
    return {
        value
        for record in records(aircraft)
        for spec in specs(type(record))
        if isinstance(value := getattr(record, spec.name), str) and not isinstance(value, StrEnum)
    }


@cache
def demo_texts() -> tuple[frozenset[str], frozenset[str]]:
    """Texts and names of the invented fleet."""
    aircraft, library = demo()
    texts: set[str] = set()
    names: set[str] = set()
    for each in aircraft.values():
        for field_day in (False, True):
            looked = survey(each, Conditions(today=TODAY, field_day=field_day))
            texts |= set(of_aircraft(looked, inspect(each, looked, library=library)))
        names |= names_in(each)
    return frozenset(texts - {""}), frozenset(names)


@cache
def example_texts() -> tuple[frozenset[str], frozenset[str]]:
    """Texts and names of the examples that rules give and of the clean aircraft."""
    texts: set[str] = set()
    names: set[str] = set()
    scenes = [(rule, make()) for rule in all_rules().values() for make in (rule.flags, rule.passes)]
    for rule, made in scenes:
        scene = made if isinstance(made, Scene) else Scene(made)
        looked = survey(scene.aircraft, scene.conditions or ex.home_day())
        found = inspect(scene.aircraft, looked, library=scene.library)
        texts |= set(of_aircraft(looked, [*found, *reminders(scene.aircraft, looked)]))
        names |= names_in(scene.aircraft)
        texts.add(rule.title)
    for make in CLEAN.values():
        looked = survey(make(), ex.home_day())
        texts |= set(of_survey(looked))
        names |= names_in(make())
    return frozenset(texts - {""}), frozenset(names)
