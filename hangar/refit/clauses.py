"""What one judged plan teaches of others: where the same is sure to be found again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from hangar.refit.alike import Alike
from hangar.refit.currents import BRISK, MEAN, PEAK, STALL, Currents, Row, joined_at
from hangar.refit.judge import Judge, Key, OpenFlag, Picks, PlanVerdict
from hangar.rules.cures import Cure, Worse, worse_at
from hangar.rules.finding import Level

_NEARLY_V = 1e-6
Columns = tuple[tuple[int, int], ...]
"""List and set of its choices, a bit for each."""


@dataclass(frozen=True)
class Bound:
    """One condition on a summed current: at least ``micro_a``, or at most."""

    row: Row
    micro_a: int
    at_least: bool = True

    @property
    def split(self) -> int:
        """Where it parts plans: those from here on, and those below."""
        return self.micro_a if self.at_least else self.micro_a + 1


@dataclass(frozen=True)
class Clause:
    """A unit that is seen, at this level or a graver one, in every plan that meets all conditions.

    Attributes:
        unit: rule and matched group.
        level: warning or caution.
        columns: sets of choices, one of each must be taken.
        supplies: the supplies, a bit for each; None for any.
        bounds: on its summed currents.
        at_most_v: bus volts in each peak that the plan does not exceed; none where they do not matter.
        open_v: kind of supply and its least unloaded volts.
        is_wide: whether it names all that the bus volts hang on: the search parts its nodes by it.
    """

    unit: Key
    level: Level
    columns: Columns = ()
    supplies: int | None = None
    bounds: tuple[Bound, ...] = ()
    at_most_v: tuple[float, ...] = ()
    open_v: tuple[object, tuple[float, ...]] | None = None
    is_wide: bool = False

    @property
    def place(self) -> tuple[object, ...]:
        """What must be equal for one clause to say more than another."""
        return (
            self.unit, self.columns, self.supplies, bool(self.at_most_v),
            None if self.open_v is None else self.open_v[0], tuple(bound.row for bound in self.bounds),
        )  # fmt: skip

    def says_all_of(self, other: Clause) -> bool:
        """Whether it holds wherever the other does, at its level or a graver one; both of one place."""
        if self.level.rank > other.level.rank:
            return False
        for own, its in zip(self.bounds, other.bounds, strict=True):
            if own.at_least is not its.at_least:
                return False
            if own.micro_a > its.micro_a if own.at_least else own.micro_a < its.micro_a:
                return False
        if any(own < its for own, its in zip(self.at_most_v, other.at_most_v, strict=False)):
            return False
        if self.open_v is not None and other.open_v is not None:
            return all(own <= its for own, its in zip(self.open_v[1], other.open_v[1], strict=True))
        return True

    @property
    def is_plain(self) -> bool:
        """Whether it holds wherever its columns are taken, with any supply."""
        return self.supplies is None and not self.bounds and not self.at_most_v and self.open_v is None

    def may_be(self, supply: int) -> bool:
        """Whether it speaks of a supply."""
        return self.supplies is None or bool(self.supplies >> supply & 1)

    def holds(self, picks: Picks, peak_v: tuple[float, ...] | None, amps: Mapping[Row, int],
              open_v: tuple[object, tuple[float, ...]]) -> bool:  # fmt: skip
        """Whether a plan of which all is known meets it; for tests."""
        if any(not taken >> picks[at] & 1 for at, taken in self.columns):
            return False
        if not self.may_be(picks[-1]):
            return False
        if self.at_most_v and (
            peak_v is None or any(own > most for own, most in zip(peak_v, self.at_most_v, strict=True))
        ):
            return False
        if self.open_v is not None and (
            self.open_v[0] != open_v[0]
            or any(own < least for own, least in zip(open_v[1], self.open_v[1], strict=True))
        ):
            return False
        return all(
            amps[bound.row] >= bound.micro_a if bound.at_least else amps[bound.row] <= bound.micro_a
            for bound in self.bounds
        )


@dataclass
class Clauses:
    """Everything learned of one aircraft.

    Attributes:
        judge: what is learned from.
        currents: sums of its plans.
        by_place: clauses that no other one says all of.
        exact: plans of which something is known that no clause says.
        points: of each supply, peak current and bus volts of every judged plan, peak by peak.
    """

    judge: Judge
    currents: Currents
    by_place: dict[tuple[object, ...], list[Clause]] = field(default_factory=dict)
    points: dict[int, list[tuple[Bound, int, float]]] = field(default_factory=dict)
    learned: dict[Picks, list[Clause]] = field(default_factory=dict)
    exact: dict[Picks, PlanVerdict] = field(default_factory=dict)
    version: int = 0

    def __post_init__(self) -> None:
        self.joined = joined_at(self.judge.aircraft, self.judge)
        self.same = Alike(self.judge, self.currents)
        self._open: dict[int, tuple[object, tuple[float, ...]]] = {}

    def learn(self, judged: PlanVerdict) -> None:
        """Take in what a judged plan teaches."""
        if judged.picks in self.learned:
            return
        supply = judged.picks[-1]
        peaks = self.peaks(judged)
        if judged.bus_v is not None and peaks:
            each_peak = peaks if len(peaks) > 1 else peaks * len(judged.bus_v)
            for number, (bound, volts) in enumerate(zip(each_peak, judged.bus_v, strict=True)):
                self.points.setdefault(supply, []).append((bound, number, volts))
        clauses = []
        for key, level in judged.units.items():
            worst = next(raised for raised in judged.flags[key] if raised.flag.level is level)
            clause = self._clause(judged, key, level, worst, peaks) or self._wide(judged, key, level, worst)
            if clause is None:
                self.exactly(judged)
            else:
                clauses.append(clause)
                self.add(clause)
        self.learned[judged.picks] = clauses

    def add(self, clause: Clause) -> None:
        """Enter a clause; those that it says all of go."""
        kept = self.by_place.setdefault(clause.place, [])
        if any(other.says_all_of(clause) for other in kept):
            return
        kept[:] = [other for other in kept if not clause.says_all_of(other)]
        kept.append(clause)
        self.version += 1

    def all(self) -> Iterator[Clause]:
        """Every clause."""
        for kept in self.by_place.values():
            yield from kept

    def exactly(self, judged: PlanVerdict) -> None:
        """Note what was found for this very plan: nothing else is claimed."""
        if judged.picks not in self.exact:
            self.exact[judged.picks] = judged
            self.version += 1

    def learn_at_volts(self, judged: PlanVerdict) -> None:
        """Take in what an ideal supply teaches of columns at bus volts that it holds."""
        for key, level in judged.units.items():
            for raised in judged.flags[key]:
                if raised.flag.level is level and worse_at(raised.rule.worse, level) is Worse.LESS_BUS_VOLTS:
                    clause = self._clause(judged, key, level, raised, ())
                    if clause is not None:
                        self.add(clause)
                    break

    def turns(self, picks: Picks, bus_v: float) -> bool:
        """Whether no servo of any plan would be held fast at these bus volts of this one's supply."""
        return bus_v >= self.currents.stalls_at_v(self.currents.nominal_mv(picks[-1]))

    def peaks(self, judged: PlanVerdict) -> tuple[Bound, ...]:
        """Sums of current from which on a plan's bus is no higher than this one's, peak by peak.

        None where some peak has no answer, or a servo is held fast behind a lead that others share.
        """
        if judged.bus_v is None:
            return ()
        nominal, bounds = self.currents.nominal_mv(judged.picks[-1]), list[Bound]()
        for volts in judged.bus_v:
            row: Row = (PEAK, nominal, 0.0 if self.turns(judged.picks, volts) else volts)
            if not self.currents.is_known(judged.picks, row):
                return ()
            bounds.append(Bound(row, self.currents.of_plan(judged.picks, row)))
        return tuple(dict.fromkeys(bounds)) if len(set(bounds)) == 1 else tuple(bounds)

    def open_volts(self, supply: int) -> tuple[object, tuple[float, ...]]:
        """What kind of source a supply is, and its volts without load."""
        if supply not in self._open:
            volts = self.judge.supplies[supply].volts
            if volts is None:
                self._open[supply] = (("unknown", supply), ())
            else:
                packs = frozenset(fed.pack_type.chemistry for fed in volts.path.packs)
                kind = ("regulated",) if volts.regulated else ("packs", packs)
                given = [volts.bus_max_v]
                if not volts.regulated:
                    given += [volts.nominal_v or volts.bus_max_v, volts.rested_v or volts.bus_max_v]
                self._open[supply] = (kind, tuple(value or 0.0 for value in given))
        return self._open[supply]

    def _clause(
        self, judged: PlanVerdict, key: Key, level: Level, raised: OpenFlag, peaks: tuple[Bound, ...]
    ) -> Clause | None:
        rule = raised.rule
        worse = worse_at(rule.worse, level)
        if self.judge.stays(rule, key, level):
            return Clause(key, level)
        if rule.cures is None or worse is None:
            return None
        if worse is Worse.FIXED:
            return Clause(key, level)
        columns = self._columns(judged, key, raised, worse)
        if worse is Worse.SUPPLY:
            return Clause(key, level, columns, self.same.supplies(judged.picks[-1], rule.of_supply))
        if worse in _QUANTITIES:
            bounds = self._bounds(judged, worse, peaks)
            parts = rule.of_supply if worse is Worse.MORE_MEAN else None
            supplies = self.same.supplies(judged.picks[-1], parts)
            return Clause(key, level, columns, supplies, bounds) if bounds else None
        if worse is Worse.LESS_BUS_VOLTS:
            most = tuple(volts + _NEARLY_V for volts in judged.bus_v or ())
            return Clause(key, level, columns, at_most_v=most) if most else None
        return _PLAIN[worse](self, judged, Clause(key, level, columns))

    def _wide(self, judged: PlanVerdict, key: Key, level: Level, raised: OpenFlag) -> Clause | None:
        """The same choices at its own places and wherever current is drawn, on the same supply."""
        if raised.rule.cures is None:
            return None
        touched = set(self.judge.places(key)) | set(raised.flag.about)
        drawing = frozenset(raised.rule.cures) | _DRAWING
        columns = []
        for at, choice_list in enumerate(self.judge.lists):
            if touched & set(choice_list.places):
                columns.append((at, self.same.alike(at, judged.picks[at], frozenset(Cure))))
            elif choice_list.kinds & drawing:
                columns.append((at, self.same.alike(at, judged.picks[at], drawing)))
        return Clause(key, level, tuple(columns), 1 << judged.picks[-1], is_wide=True)

    def _bounds(self, judged: PlanVerdict, worse: Worse, peaks: tuple[Bound, ...]) -> tuple[Bound, ...]:
        """Sums from which on, or down to which, a verdict on the supply is no better."""
        if worse in _WITH_PEAKS and not peaks:
            return ()
        nominal = self.currents.nominal_mv(judged.picks[-1])
        rows: tuple[Row, ...] = tuple((quantity, nominal, 0.0) for quantity in _QUANTITIES[worse])
        if worse is Worse.LESS_PEAK and (len(peaks) != 1 or peaks[0].row != rows[0]):
            return ()
        at_least = worse is not Worse.LESS_PEAK
        own = tuple(Bound(row, self.currents.of_plan(judged.picks, row), at_least) for row in rows)
        if worse is Worse.MORE_PEAK_UNLIMITED:
            return self._below_the_limit(judged, peaks)
        return (*peaks, *own) if worse in _WITH_PEAKS else own

    def _below_the_limit(self, judged: PlanVerdict, peaks: tuple[Bound, ...]) -> tuple[Bound, ...]:
        """The peaks, and the most that servos may draw before some regulator limits the current."""
        supply = judged.picks[-1]
        limits = [
            kind.burst_a or kind.continuous_a
            for kind in (path.regulator_type for path in self.judge.supplies[supply].paths)
            if kind is not None
        ]
        least = min((limit for limit in limits if limit is not None), default=None)
        if least is None:
            return peaks
        row: Row = (PEAK, self.currents.nominal_mv(supply), 0.0)
        most = round(1e6 * (least - self.currents.model.standing_a)) - 1
        if self.currents.of_plan(judged.picks, row) > most:
            return ()
        return (*peaks, Bound(row, most, at_least=False))

    def _columns(self, judged: PlanVerdict, key: Key, raised: OpenFlag, worse: Worse) -> Columns:
        """The lists that a verdict can hang on, each with the choices that are no better for the rule."""
        picks = judged.picks
        cures = frozenset(raised.rule.cures or ())
        if worse is Worse.LESS_BUS_VOLTS:
            cures |= {Cure.LEAD}
        own, about = set(self.judge.places(key)), set(raised.flag.about)
        if worse is Worse.MORE_OPEN_VOLTS:
            about = {code for code in about if code not in self.judge.group_of}
        touched = own | about
        lists = {
            at
            for at, choice_list in enumerate(self.judge.lists)
            if choice_list.kinds & cures and touched & set(choice_list.places)
        }
        if worse is Worse.LESS_BUS_VOLTS:
            for at in list(lists):
                lists |= {other for other in self.joined[at] if Cure.SERVO in self.judge.lists[other].kinds}
        columns = []
        for at in sorted(lists):
            easier = self.same.no_easier if raised.rule.eased else self.same.alike
            columns.append((at, easier(at, picks[at], cures) | self.same.no_better(judged, at, key, raised)))
        return tuple(columns)

    def weakest(self, judged: PlanVerdict) -> Columns:
        known = [
            (fit.servo_type.supply_max_v, self.judge.group_of[fit.code])
            for fit in judged.aircraft.fits
            if fit.servo_type is not None and fit.servo_type.supply_max_v and fit.code in self.judge.group_of
        ]
        if not known:
            return ()
        at = min(known)[1]
        return ((at, self.same.alike(at, judged.picks[at], frozenset({Cure.SERVO}))),)


_DRAWING = frozenset({Cure.SERVO, Cure.LEAD, Cure.RECEIVER})
"""What changes the currents of a plan."""
_WITH_PEAKS = (Worse.MORE_PEAK, Worse.MORE_PEAK_UNLIMITED, Worse.MORE_CURRENT)
_QUANTITIES: Mapping[Worse, tuple[int, ...]] = {
    Worse.MORE_PEAK: (),
    Worse.MORE_PEAK_UNLIMITED: (),
    Worse.MORE_CURRENT: (STALL, MEAN, BRISK),
    Worse.MORE_STALL: (STALL,),
    Worse.MORE_MEAN: (MEAN, BRISK),
    Worse.LESS_PEAK: (PEAK,),
}
_PLAIN: Mapping[Worse, Callable[[Clauses, PlanVerdict, Clause], Clause]] = {
    Worse.NOTHING: lambda _all, _judged, clause: clause,
    Worse.MORE_OPEN_VOLTS: lambda all_, judged, clause: replace(
        clause, open_v=all_.open_volts(judged.picks[-1])
    ),
    Worse.WEAKEST: lambda all_, judged, clause: replace(
        clause, columns=(*clause.columns, *all_.weakest(judged)), supplies=1 << judged.picks[-1]
    ),
}
