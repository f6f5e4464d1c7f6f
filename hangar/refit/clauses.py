"""What one judged plan teaches of others: where the same is sure to be found again."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from hangar.parts.choices import PlanAction
from hangar.refit.currents import BRISK, MEAN, PEAK, STALL, Currents, Row, joined_at
from hangar.refit.judge import Judge, Key, OpenFlag, Picks, PlanVerdict
from hangar.rules.cures import Cure, Worse, worse_at
from hangar.rules.finding import Level

_NEARLY_V = 1e-6
CURE_OF: Mapping[PlanAction, Cure] = {
    PlanAction.FIT_SERVO: Cure.SERVO,
    PlanAction.CHANGE_ARM: Cure.ARM,
    PlanAction.CHANGE_LEAD: Cure.LEAD,
}
"""The cure that a plan action is, where it is always the same one."""
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
        supply: the supply; None for any.
        bounds: on its summed currents.
        at_most_v: bus volts in each peak that the plan does not exceed; none where they do not matter.
        open_v: kind of supply and its least unloaded volts.
        is_wide: whether it names all that the bus volts hang on: the search parts its nodes by it.
    """

    unit: Key
    level: Level
    columns: Columns = ()
    supply: int | None = None
    bounds: tuple[Bound, ...] = ()
    at_most_v: tuple[float, ...] = ()
    open_v: tuple[object, tuple[float, ...]] | None = None
    is_wide: bool = False

    @property
    def place(self) -> tuple[object, ...]:
        """What must be equal for one clause to say more than another."""
        return (
            self.unit, self.columns, self.supply, bool(self.at_most_v),
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

    def holds(self, picks: Picks, peak_v: tuple[float, ...] | None, amps: Mapping[Row, int],
              open_v: tuple[object, tuple[float, ...]]) -> bool:  # fmt: skip
        """Whether a plan of which all is known meets it; for tests."""
        if any(not taken >> picks[at] & 1 for at, taken in self.columns):
            return False
        if self.supply is not None and picks[-1] != self.supply:
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
        self._signatures: dict[tuple[int, frozenset[Cure]], list[int]] = {}
        self._open: dict[int, tuple[object, tuple[float, ...]]] = {}
        self._stalls: dict[int, float] = {}

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
        nominal = self.currents.nominal_mv(picks[-1])
        if nominal not in self._stalls:
            self._stalls[nominal] = self.currents.stalls_at_v(nominal)
        return bus_v >= self._stalls[nominal]

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
        rule, supply = raised.rule, judged.picks[-1]
        worse = worse_at(rule.worse, level)
        if self.judge.stays(rule, key, level):
            return Clause(key, level)
        if rule.cures is None or worse is None:
            return None
        if worse is Worse.FIXED:
            return Clause(key, level)
        columns = self._columns(judged.picks, key, raised, worse)
        if worse in _QUANTITIES:
            bounds = self._bounds(judged, worse, peaks)
            return Clause(key, level, columns, supply, bounds) if bounds else None
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
                columns.append((at, self.alike(at, judged.picks[at], frozenset(Cure))))
            elif choice_list.kinds & drawing:
                columns.append((at, self.alike(at, judged.picks[at], drawing)))
        return Clause(key, level, tuple(columns), judged.picks[-1], is_wide=True)

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

    def _columns(self, picks: Picks, key: Key, raised: OpenFlag, worse: Worse) -> Columns:
        """The lists that a verdict can hang on, each with the choices that are alike for the rule."""
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
        if raised.rule.eased:
            return tuple((at, self.no_easier(at, picks[at], cures)) for at in sorted(lists))
        return tuple((at, self.alike(at, picks[at], cures)) for at in sorted(lists))

    def no_easier(self, at: int, choice: int, cures: frozenset[Cure]) -> int:
        """The choices like one, or with no shorter arm and no longer horn, a bit for each."""
        choice_list = self.judge.lists[at]
        if not choice_list.kinds <= {Cure.ARM, Cure.HORN}:
            return self.alike(at, choice, cures)
        own = self._levers(at, choice)
        taken = 0
        for number in range(len(choice_list.choices)):
            pairs = zip(own, self._levers(at, number), strict=True)
            if all(arm <= its_arm and horn >= its_horn for (arm, horn), (its_arm, its_horn) in pairs):
                taken |= 1 << number
        return taken | self.alike(at, choice, cures)

    def _levers(self, at: int, choice: int) -> list[tuple[float, float]]:
        """Radius of arm and horn at each position of a list with one of its choices; 0 where not known."""
        levers = {}
        for place in self.judge.lists[at].places:
            fit = self.judge.aircraft.fit(place)
            linkage = None if fit is None else fit.linkage
            levers[place] = (linkage.arm_mm or 0.0, linkage.horn_mm or 0.0) if linkage else (0.0, 0.0)
        for line in self.judge.lists[at].choices[choice].lines:
            arm_mm, horn_mm = levers[line.place or ""]
            levers[line.place or ""] = (line.arm_mm or arm_mm, line.horn_mm or horn_mm)
        return list(levers.values())

    def weakest(self, judged: PlanVerdict) -> Columns:
        known = [
            (fit.servo_type.supply_max_v, self.judge.group_of[fit.code])
            for fit in judged.aircraft.fits
            if fit.servo_type is not None and fit.servo_type.supply_max_v and fit.code in self.judge.group_of
        ]
        if not known:
            return ()
        at = min(known)[1]
        return ((at, self.alike(at, judged.picks[at], frozenset({Cure.SERVO}))),)

    def alike(self, at: int, choice: int, cures: frozenset[Cure]) -> int:
        """The choices of a list that are the same as one for a rule with these cures, a bit for each."""
        choice_list = self.judge.lists[at]
        key = (at, cures & choice_list.kinds)
        if key not in self._signatures:
            groups: dict[object, int] = {}
            marks = []
            for number, option in enumerate(choice_list.choices):
                same = tuple(
                    replace(line, number=1, price=None, hours_h=None)
                    for line in option.lines
                    if CURE_OF.get(line.action, line.action) in cures | _HANDWORK
                )
                groups[same] = groups.get(same, 0) | 1 << number
                marks.append(same)
            self._signatures[key] = [groups[same] for same in marks]
        return self._signatures[key][choice]


_HANDWORK = frozenset(PlanAction) - frozenset(CURE_OF)
"""Actions of which each list holds one kind only: they count for every rule that its list counts for."""
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
    Worse.SUPPLY: lambda _all, judged, clause: replace(clause, supply=judged.picks[-1]),
    Worse.MORE_OPEN_VOLTS: lambda all_, judged, clause: replace(
        clause, open_v=all_.open_volts(judged.picks[-1])
    ),
    Worse.WEAKEST: lambda all_, judged, clause: replace(
        clause, columns=(*clause.columns, *all_.weakest(judged)), supply=judged.picks[-1]
    ),
}
