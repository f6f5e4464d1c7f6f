"""The register of rules: a decorator enters a rule, its docstring documents it."""

from __future__ import annotations

import importlib
import inspect as introspection
import pkgutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

from hangar.base.text import Text, fixed
from hangar.parts import Aircraft, Library
from hangar.rules.cures import Cure, OfServo, SupplyPart, Wants, WorseAt, frozen
from hangar.rules.finding import Level
from hangar.rules.flag import Flag
from hangar.survey.model import Conditions

if TYPE_CHECKING:
    from hangar.rules.case import Case

Check = Callable[["Case"], Iterator[Flag]]


@dataclass(frozen=True)
class Scene:
    """An example aircraft with more than itself: the day, or what lies in the parts bay."""

    aircraft: Aircraft
    conditions: Conditions | None = None
    library: Library | None = None


Example = Callable[[], Aircraft | Scene]

SECTIONS = ("Checks", "Consequence", "Can't tell when", "Source", "Remedy")
"""The parts every rule's docstring has, in this order."""


@dataclass(frozen=True, kw_only=True)
class Rule:
    """One rule.

    Attributes:
        slug: its name, for ever: sheets and acceptances quote it.
        title: the fault in a few words.
        levels: the levels it can give besides can't-tell, gravest first.
        family: the module it stands in.
        doc: the sections of its docstring by name.
        check: yields flags for one case.
        flags: makes an aircraft that the rule flags.
        passes: makes an aircraft that it does not.
        laid_up: whether it is asked for aircraft that are laid up as well.
        passed_on: whether it is asked for aircraft that are passed on as well.
        field_only: whether it counts on a flying day only and is an advisory at most at home.
        reminder: whether it is printed on sheets and never counted as a finding.
        cures: the actions of a plan that can change its verdict; empty for what no plan cures (paper, a
            proof, a test); None while it is not declared: then any action may.
        worse: the quantity of the supply that can only make it worse, for all its levels or by level;
            None while it is not declared.
        eased: whether a shorter arm or a longer horn can only make its verdict better.
        wants: what a part would need to cure it, where its flags do not say so; of several the first whose
            figure a flag has.
        of_servo: the one property of a servo that its verdict hangs on; None where it may be any.
        of_supply: the parts of the supply that its verdict hangs on; None where it may be any.
    """

    slug: str
    title: Text
    levels: tuple[Level, ...]
    family: str
    doc: Mapping[str, str]
    check: Check
    flags: Example
    passes: Example
    laid_up: bool = False
    passed_on: bool = False
    field_only: bool = False
    reminder: bool = False
    cures: tuple[Cure, ...] | None = None
    worse: WorseAt | None = None
    eased: bool = False
    wants: tuple[Wants, ...] = ()
    of_servo: OfServo | None = None
    of_supply: frozenset[SupplyPart] | None = None

    @property
    def source(self) -> Text:
        """Where its limit and formula come from."""
        return fixed(self.doc.get("Source", ""))

    @property
    def consequence(self) -> Text:
        """What the aircraft, or the keeper, will see of it."""
        return fixed(self.doc.get("Consequence", ""))

    @property
    def remedy(self) -> Text:
        """What to do about it."""
        return fixed(self.doc.get("Remedy", ""))


_REGISTER: dict[str, Rule] = {}


def rule(
    slug: str,
    *,
    title: str,
    levels: tuple[Level, ...] | Level,
    flags: Example,
    passes: Example,
    laid_up: bool = False,
    passed_on: bool = False,
    field_only: bool = False,
    reminder: bool = False,
    cures: tuple[Cure, ...] | None = None,
    worse: WorseAt | None = None,
    eased: bool = False,
    wants: Wants | tuple[Wants, ...] = (),
    of_servo: OfServo | None = None,
    of_supply: frozenset[SupplyPart] | None = None,
) -> Callable[[Check], Check]:
    """Enter a function as a rule; nothing else has to be edited.

    Raises:
        ValueError: the slug is taken.
    """

    def enter(check: Check) -> Check:
        if slug in _REGISTER:
            raise ValueError(f"two rules are called {slug}")
        _REGISTER[slug] = Rule(
            slug=slug,
            title=fixed(title),
            levels=(levels,) if isinstance(levels, Level) else levels,
            family=check.__module__.rpartition(".")[2],
            doc=_sections(introspection.getdoc(check) or ""),
            check=check,
            flags=flags,
            passes=passes,
            laid_up=laid_up,
            passed_on=passed_on,
            field_only=field_only,
            reminder=reminder,
            cures=cures,
            worse=frozen(worse),
            eased=eased,
            wants=wants if isinstance(wants, tuple) else (wants,),
            of_servo=of_servo,
            of_supply=of_supply,
        )
        return check

    return enter


def _sections(doc: str) -> Mapping[str, str]:
    by_name: dict[str, list[str]] = {}
    lines: list[str] = []
    for line in doc.splitlines():
        head, colon, rest = line.partition(":")
        if colon and head in SECTIONS:
            lines = by_name.setdefault(head, [])
            line = rest
        lines.append(line.strip())
    return MappingProxyType({head: " ".join(filter(None, text)) for head, text in by_name.items()})


@cache
def all_rules() -> Mapping[str, Rule]:
    """Every rule by slug, family by family; the modules of the catalogue are found by themselves."""
    package = importlib.import_module("hangar.rules.catalogue")
    for module in sorted(info.name for info in pkgutil.iter_modules(package.__path__)):
        importlib.import_module(f"hangar.rules.catalogue.{module}")
    return MappingProxyType(dict(_REGISTER))
