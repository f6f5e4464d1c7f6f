"""What to measure next: the unknown inputs of one aircraft by how much the findings hang on them.

Each field that nobody has filled is tried at both ends of the range in which it plausibly lies: survey
and rules are run on the changed tree, and the findings compared with those of today. A finding that
comes, goes or changes its level counts with the weights of both levels apart; a check that no longer
waits counts with the weight of can't-tell. Fields that an aircraft cannot be judged without get the
weight of the vital on top. What is missing as a whole (a servo, a lead, a pack) cannot be tried; it
counts with the checks that wait for it. A pack that was read is read again where one load test more is
likely to turn the verdict on it (value of information). The weights are limits named ``measure-weight-...``.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from hangar.base.text import Text, fixed, series, text
from hangar.parts import Aircraft, Library
from hangar.parts.fields import key_of
from hangar.parts.thresholds import Thresholds
from hangar.physics.estimating import Z90, value_of_reading
from hangar.physics.tracking import State
from hangar.rules.finding import Finding, Level
from hangar.rules.folding import MISSING
from hangar.rules.inspecting import inspect
from hangar.rules.measuring import Blank, HowTo, blanks, how_to_enter
from hangar.rules.reading_worth import STEPS, Candidate, candidates
from hangar.rules.registry import all_rules
from hangar.survey import Conditions, Survey, survey
from hangar.survey.defaults import defaults_with
from hangar.survey.learned import pack_learned

MOST_TRIALS = 400
_MOST_TOLD = 3
_RISEN = "dcir-risen"
_OF_READINGS = frozenset({"does-not-fit", "part-changed"})
_LEAST_CHANCE = 0.02
_TWO_LOADS_LN_SD = 0.06
_TWO_LOADS_MIN = 10.0
_SURE_Z = 0.674
"""Three quarters sure, in standard deviations: where the pack is to be retired."""
_TWO_LOADS = text(
    "Charge the pack and let it rest an hour; read the volts under about 1 A, then at once under about 3 A, "
    "and note the temperature and the time since the charge."
)
_Place = tuple[str, str | Text]
_Levels = Mapping[_Place, Level]


@dataclass(frozen=True, slots=True)
class Change:
    """One finding that knowing a field could change; None where there is none.

    From can't-tell to None a check stops waiting; what it says then is a change of its own.
    """

    rule: str
    title: Text
    about: str | Text
    before: Level | None
    after: Level | None

    @property
    def words(self) -> Text:
        """``Torque short, AIL-L: caution -> warning``."""
        what = text("{title}, {about}", title=self.title, about=self.about) if self.about else self.title
        if self.before is Level.CANT_TELL and self.after is None:
            return text("{finding}: cannot tell -> can be told", finding=what)
        return text(
            "{finding}: {before} -> {after}", finding=what, before=_word(self.before), after=_word(self.after)
        )


@dataclass(frozen=True, slots=True)
class Measurement:
    """One thing worth finding out.

    Attributes:
        words: record and field, as the rules name what they wait for.
        kind: kind of the record; empty where a whole record is missing.
        key: its key.
        field: its field.
        value: how much the findings could change; see the weights.
        why: which findings, from what to what.
        changes: the same, one by one, the heaviest first.
        how: how to find it out.
        minutes: time that takes.
        cost: what must be at hand.
        tried: the values it was tried at, in the field's unit.
        vital: whether the aircraft cannot be judged without it.
    """

    words: Text
    kind: str
    key: tuple[Any, ...]
    field: str
    value: float
    why: Text
    changes: tuple[Change, ...]
    how: Text
    minutes: float
    cost: Text
    tried: tuple[Any, ...] = ()
    vital: bool = False


@dataclass(frozen=True, slots=True)
class Ranking:
    """The whole list with the trials it took and the fields that were left untried for their number."""

    measurements: tuple[Measurement, ...]
    trials: int
    untried: int


@dataclass(frozen=True, slots=True)
class _Weights:
    by_level: Mapping[Level | None, float]
    vital: float

    @classmethod
    def of(cls, thresholds: Thresholds, aircraft: Aircraft) -> _Weights:
        kind = aircraft.airframe.aircraft_class
        by_level: dict[Level | None, float] = {
            None: 0.0,
            Level.WARNING: thresholds.value("measure-weight-warning", kind),
            Level.CAUTION: thresholds.value("measure-weight-caution", kind),
            Level.ADVISORY: thresholds.value("measure-weight-advisory", kind),
            Level.CANT_TELL: thresholds.value("measure-weight-cant-tell", kind),
        }
        return cls(by_level, thresholds.value("measure-weight-vital", kind))

    def apart(self, change: Change) -> float:
        """What a change counts; a check that could not tell counts as well as what it says then."""
        before, after = self.by_level[change.before], self.by_level[change.after]
        if Level.CANT_TELL in (change.before, change.after):
            return before + after
        return abs(after - before)

    def total(self, changes: Iterable[Change]) -> float:
        return sum(self.apart(change) for change in changes)


def measure_next(
    aircraft: Aircraft,
    conditions: Conditions | None = None,
    thresholds: Thresholds | None = None,
    library: Library | None = None,
    most: int = 10,
    heed: Callable[[], None] = lambda: None,
) -> tuple[Measurement, ...]:
    """What is worth measuring on an aircraft, the most telling first.

    Args:
        aircraft: the aircraft as a tree of parts.
        conditions: the day it is judged for.
        thresholds: limits in force; None takes the shipped ones.
        library: types and parts bay, when their checks are to count; plans are left out.
        most: how many to return, 0 or more.
        heed: called before each trial; what it raises ends the work.

    Returns: measurements by falling value. Nothing where no unknown field could change a finding, which
        says nothing about the findings there are.
    """
    return rank_unknowns(aircraft, conditions, thresholds, library, heed=heed).measurements[:most]


def rank_unknowns(
    aircraft: Aircraft,
    conditions: Conditions | None = None,
    thresholds: Thresholds | None = None,
    library: Library | None = None,
    most_trials: int = MOST_TRIALS,
    heed: Callable[[], None] = lambda: None,
) -> Ranking:
    """The whole ranking; fields that checks wait for are tried first when the trials are limited."""
    # What a plan would bring is judged anew with each trial, at half its cost; no reading is taken for it.
    today = replace(aircraft, plans=())
    trying = _Trials.of(today, conditions or Conditions(), thresholds or Thresholds(), library)
    trying.heed = heed
    measurements: list[Measurement] = []
    untried = 0
    fields = blanks(aircraft)
    for blank in sorted(fields, key=lambda blank: blank.words not in trying.waiting):
        values = blank.plausible(trying.base)
        if trying.trials + len(values) > most_trials:
            untried += 1
            values = ()
        measurements += trying.measured(blank, values)
    known = {blank.words for blank in fields}
    measurements += [trying.entered(words) for words in trying.waiting if words not in known]
    measurements += trying.read_again()
    measurements += trying.read_next(most_trials)
    measurements.sort(
        key=lambda measurement: (
            -measurement.value,
            not measurement.vital,
            measurement.minutes,
            str(measurement.words),
        )
    )
    return Ranking(
        tuple(measurement for measurement in measurements if measurement.value > 0.0), trying.trials, untried
    )


@dataclass(slots=True)
class _Trials:
    """One aircraft as it is, and what its findings become when something were known."""

    aircraft: Aircraft
    conditions: Conditions
    thresholds: Thresholds
    library: Library | None
    weights: _Weights
    base: Survey
    levels: _Levels
    waiting: Mapping[Text, tuple[Change, ...]]
    vital: frozenset[Text]
    trials: int = 0
    heed: Callable[[], None] = lambda: None

    @classmethod
    def of(
        cls, aircraft: Aircraft, conditions: Conditions, thresholds: Thresholds, library: Library | None
    ) -> _Trials:
        base = survey(aircraft, conditions)
        findings = inspect(aircraft, base, thresholds, library=library)
        levels = _levels(findings, _positions(aircraft))
        vital = frozenset(
            field
            for finding in _every(findings)
            if finding.rule == MISSING and finding.level is not Level.CANT_TELL
            for field in finding.missing
        )
        waiting: dict[Text, list[Change]] = {field: [] for field in vital}
        for (rule, field), level in levels.items():
            if level is Level.CANT_TELL and isinstance(field, Text):
                waiting.setdefault(field, []).append(_change(rule, "", level, None))
        return cls(
            aircraft, conditions, thresholds, library, _Weights.of(thresholds, aircraft), base, levels,
            {field: tuple(changes) for field, changes in waiting.items()}, vital,
        )  # fmt: skip

    def measured(self, blank: Blank, values: tuple[Any, ...]) -> list[Measurement]:
        """The field tried at its plausible values; nothing when no finding hangs on it."""
        trials = [self.changes(blank.filled(self.aircraft, value)) for value in values]
        trials.append(self.waiting.get(blank.words, ()))
        changes = max(trials, key=self.weights.total)
        record = blank.record
        made = self._made(blank.words, changes, blank.howto, values)
        if made.value <= 0.0:
            return []
        named = (record.KIND, key_of(record), blank.spec.name)
        return [_named(made, named)]

    def entered(self, words: Text) -> Measurement:
        """A whole record that is missing: what waits for it."""
        return self._made(words, self.waiting[words], how_to_enter(words), ())

    def read_again(self) -> list[Measurement]:
        """Packs of which one load test more, with two loads, may turn the verdict on their resistance."""
        defaults = defaults_with(self.conditions.defaults)
        limits = self.thresholds.of_class(self.aircraft.airframe.aircraft_class)
        candidates = []
        for fed in (fed for path in self.aircraft.paths for fed in path.packs):
            state = pack_learned(fed, self.conditions.today, defaults).worse
            if state is None:
                continue
            before = self.levels.get((_RISEN, fed.pack.tag))
            chance, after = max(
                (_chance(state, limits["resistance-look"], 0.0), None if before else Level.CAUTION),
                (_chance(state, limits["resistance-warn"], _SURE_Z),
                 Level.CAUTION if before is Level.WARNING else Level.WARNING),
                key=lambda candidate: candidate[0],
            )  # fmt: skip
            if chance < _LEAST_CHANCE or before is after:
                continue
            change = _change(_RISEN, fed.pack.tag, before, after)
            why = text(
                "changes the verdict with {share} in 100: {finding}",
                share=f"{100.0 * chance:.0f}",
                finding=change.words,
            )
            candidates.append(
                Measurement(
                    text("pack {tag}: load test with two loads", tag=fed.pack.tag), "", (), "",
                    chance * self.weights.apart(change), why, (change,), _TWO_LOADS, _TWO_LOADS_MIN,
                    fixed("load tester"),
                )
            )  # fmt: skip
        return candidates

    def read_next(self, most_trials: int) -> list[Measurement]:
        """Readings of servos, flights and leads by how likely each is to turn a verdict."""
        measurements = []
        for candidate in candidates(self.base):
            if self.trials + len(STEPS) > most_trials:
                break
            tried = [self._outcome(candidate, way) for way in candidate.ways]
            chance = sum(share for share, _ in tried)
            changes = max((changes for _, changes in tried), key=self.weights.total)
            if chance < _LEAST_CHANCE or not changes:
                continue
            ordered = tuple(sorted(changes, key=lambda change: -self.weights.apart(change)))
            why = text(
                "changes the verdict with {share} in 100: {finding}",
                share=f"{100.0 * chance:.0f}",
                finding=_why(ordered, vital=False),
            )
            value = chance * self.weights.total(ordered)
            measurements.append(
                Measurement(
                    candidate.words, "", (), "", value, why, ordered, candidate.how, candidate.minutes,
                    candidate.tool,
                )
            )  # fmt: skip
        return measurements

    def _outcome(self, candidate: Candidate, way: float) -> tuple[float, tuple[Change, ...]]:
        """How likely one reading is to change findings one way, and which: out as far as they still do."""
        outcome: tuple[float, tuple[Change, ...]] = (0.0, ())
        for step in STEPS:
            changes = tuple(
                change
                for change in self.changes(candidate.read(way * step))
                if change.rule not in _OF_READINGS
            )
            if not changes:
                break
            outcome = candidate.chance(step), changes
        return outcome

    def changes(self, aircraft: Aircraft) -> tuple[Change, ...]:
        """How the findings of a changed aircraft differ from today's."""
        self.heed()
        self.trials += 1
        findings = inspect(aircraft, survey(aircraft, self.conditions), self.thresholds, library=self.library)
        levels = _levels(findings, _positions(aircraft))
        places = dict.fromkeys((*self.levels, *levels))
        return tuple(
            _change(rule, "" if Level.CANT_TELL in (before, after) else about, before, after)
            for rule, about in places
            if (before := self.levels.get((rule, about))) is not (after := levels.get((rule, about)))
        )

    def _made(
        self, words: Text, changes: tuple[Change, ...], howto: HowTo, tried: tuple[Any, ...]
    ) -> Measurement:
        vital = words in self.vital
        ordered = tuple(sorted(changes, key=lambda change: -self.weights.apart(change)))
        value = self.weights.total(changes) + (self.weights.vital if vital else 0.0)
        return Measurement(
            words, "", (), "", value, _why(ordered, vital), ordered, howto.how, howto.minutes, howto.cost,
            tried, vital,
        )  # fmt: skip


def _named(made: Measurement, named: tuple[str, tuple[Any, ...], str]) -> Measurement:
    kind, key, field = named
    return Measurement(
        made.words, kind, key, field, made.value, made.why, made.changes, made.how, made.minutes, made.cost,
        made.tried, made.vital,
    )  # fmt: skip


def _chance(state: State, times_new: float, sure_z: float) -> float:
    """How likely one load test with two loads is to turn a verdict at so many times the new resistance."""
    low, expected, _ = state.times_new
    sd = math.log(expected / low) / Z90
    over = math.log(expected / times_new) - sure_z * sd
    return value_of_reading(over, state.ln_sd**2, 0.0, _TWO_LOADS_LN_SD)[0]


def _every(findings: Iterable[Finding]) -> Iterable[Finding]:
    for finding in findings:
        yield from finding.with_folded()


def _positions(aircraft: Aircraft) -> dict[str, str]:
    """Position by the tag of the servo in it."""
    return {fit.tag: fit.code for fit in aircraft.fits if fit.tag is not None}


def _levels(findings: Iterable[Finding], positions: Mapping[str, str]) -> _Levels:
    """Gravest level by rule and part, a servo being its position; and every wait by rule and field."""
    levels: dict[_Place, Level] = {}
    for finding in _every(findings):
        cant_tell = finding.level is Level.CANT_TELL
        if cant_tell and finding.folded:
            continue
        for about in (finding.missing if cant_tell else finding.about) or ("",):
            place = (finding.rule, about if cant_tell else _position_of(about, positions))
            if place not in levels or finding.level.rank < levels[place].rank:
                levels[place] = finding.level
    return levels


def _change(rule: str, about: str | Text, before: Level | None, after: Level | None) -> Change:
    entered = all_rules().get(rule)
    return Change(rule, entered.title if entered else text("{rule}", rule=rule), about, before, after)


def _position_of(about: str | Text, positions: Mapping[str, str]) -> str | Text:
    return positions.get(about, about) if isinstance(about, str) else about


def _word(level: Level | None) -> Text:
    if level is None:
        return text("nothing")
    return text("cannot tell") if level is Level.CANT_TELL else fixed(level.value)


def _why(changes: tuple[Change, ...], vital: bool) -> Text:
    """The heaviest changes in words."""
    sentences = list(dict.fromkeys(change.words for change in changes))
    rest = len(sentences) - _MOST_TOLD
    rows = [text("cannot be judged without it")] if vital else []
    rows += sentences[:_MOST_TOLD]
    if rest > 0:
        rows.append(text("and {count} more", count=rest))
    return series(rows)
