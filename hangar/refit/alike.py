"""Which choices and supplies a verdict carries over to: the same for a rule, or no better."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace

from hangar.parts import PowerPath, ServoFit
from hangar.parts.choices import PlanAction
from hangar.refit.currents import Currents
from hangar.refit.judge import Judge, Key, OpenFlag, PlanVerdict
from hangar.rules.cures import Cure, OfServo, SupplyPart
from hangar.survey.paths import BUS
from hangar.survey.servos import half_torque_deg, rating_of_fit

CURE_OF: Mapping[PlanAction, Cure] = {
    PlanAction.FIT_SERVO: Cure.SERVO,
    PlanAction.CHANGE_ARM: Cure.ARM,
    PlanAction.CHANGE_LEAD: Cure.LEAD,
}
"""The cure that a plan action is, where it is always the same one."""
_HANDWORK = frozenset(PlanAction) - frozenset(CURE_OF)
"""Actions of which each list holds one kind only: they count for every rule that its list counts for."""
_STEPS_PER_V = 50.0
"""Bus volts are taken up to whole steps, so that the torque of a whole library is read but once for each."""


class Alike:
    """What is the same, or no better, among the choices and supplies of one aircraft."""

    def __init__(self, judge: Judge, currents: Currents) -> None:
        self.judge, self.currents = judge, currents
        self._signatures: dict[tuple[int, frozenset[Cure]], list[int]] = {}
        self._torques: dict[tuple[int, str, float], list[tuple[object, float] | None]] = {}
        self._highest: dict[int, list[object]] = {}
        self._supplies: dict[frozenset[SupplyPart], list[object]] = {}

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

    def no_better(self, judged: PlanVerdict, at: int, key: Key, raised: OpenFlag) -> int:
        """The choices whose servos are no better for a rule than those of a judged plan, a bit for each.

        Torque is that of a type at the bus volts, before its own lead: more never arrives.
        """
        rule = raised.rule
        if rule.of_servo is None or Cure.SERVO not in self.judge.lists[at].kinds:
            return 0
        level, taken = raised.flag.level, 0
        for other in judged.flags[key]:
            if other.flag.level is level:
                for place in set(other.flag.about) & set(self.judge.lists[at].places):
                    taken |= self._no_better(judged, at, place, rule.of_servo)
        return taken

    def _no_better(self, judged: PlanVerdict, at: int, place: str, of_servo: OfServo) -> int:
        if of_servo is OfServo.HIGHEST_VOLTS:
            return self._same_highest(at, judged.picks[at])
        position = judged.seen.positions[place]
        if judged.bus_v is None or position.torque_nm is None or self.currents.model.start.get(place) != BUS:
            return 0
        volts = math.ceil(_STEPS_PER_V * judged.bus_v[0]) / _STEPS_PER_V
        torques = self._torques_at(at, place, volts)
        own = torques[judged.picks[at]]
        if own is None:
            return 0
        most, taken = position.torque_nm.expected, 0
        for number, torque in enumerate(torques):
            if torque is None or torque[1] > most:
                continue
            if of_servo is OfServo.TORQUE or torque[0] == own[0]:
                taken |= 1 << number
        return taken

    def _torques_at(self, at: int, place: str, volts: float) -> list[tuple[object, float] | None]:
        """How the servo of each choice holds at a place, and its torque at bus volts."""
        key = (at, place, volts)
        if key not in self._torques:
            known: dict[int, tuple[object, float] | None] = {}
            torques = []
            for number in range(len(self.judge.lists[at].choices)):
                fit = self._fit(at, number, place)
                if id(fit) not in known:
                    known[id(fit)] = None if fit is None else _torque(fit, volts)
                torques.append(known[id(fit)])
            self._torques[key] = torques
        return self._torques[key]

    def _fit(self, at: int, choice: int, place: str) -> ServoFit | None:
        """A place with the servo of a choice; None where other than its own arm length comes with it."""
        lines = self.judge.lists[at].choices[choice].lines
        today = self.judge.aircraft.fit(place)
        own_mm = today.linkage.arm_mm if today is not None and today.linkage is not None else None
        if any(line.action in _LEVERS and line.arm_mm not in (None, own_mm) for line in lines):
            return None
        return next((fit for fit in self.currents.fits(at, choice) if fit.code == place), None)

    def _same_highest(self, at: int, choice: int) -> int:
        if at not in self._highest:
            marks: list[object] = []
            for number in range(len(self.judge.lists[at].choices)):
                fits = self.currents.fits(at, number)
                kinds = [fit.servo_type for fit in fits]
                marks.append(tuple(kind and (kind.supply_max_v, kind.max_means) for kind in kinds))
            self._highest[at] = marks
        marks = self._highest[at]
        return sum(1 << number for number, mark in enumerate(marks) if mark == marks[choice])

    def supplies(self, supply: int, parts: frozenset[SupplyPart] | None) -> int:
        """The supplies that have the same parts as one, and its nominal volts; a bit for each."""
        if parts is None:
            return 1 << supply
        if parts not in self._supplies:
            reads = [_PART_OF[part] for part in SupplyPart if part in parts]
            volts = [self.currents.nominal_mv(number) for number in range(len(self.judge.supplies))]
            self._supplies[parts] = [
                (
                    SupplyPart.REGULATOR in parts and nominal,
                    [[read(path) for read in reads] for path in own.paths],
                )
                for nominal, own in zip(volts, self.judge.supplies, strict=True)
            ]
        marks = self._supplies[parts]
        return sum(1 << number for number, mark in enumerate(marks) if mark == marks[supply])


def _torque(fit: ServoFit, volts: float) -> tuple[object, float] | None:
    rating, kind = rating_of_fit(fit), fit.servo_type
    if rating is None or kind is None:
        return None
    return (kind.drive, kind.dead_band_us, half_torque_deg(fit)), rating.at(volts).stall_torque_nm


_LEVERS = frozenset({PlanAction.CHANGE_ARM, PlanAction.SET_HORN})
_PART_OF: Mapping[SupplyPart, Callable[[PowerPath], object]] = {
    SupplyPart.PACK: lambda path: (tuple((fed.pack_type, fed.pack) for fed in path.packs), path.feed.join),
    SupplyPart.REGULATOR: lambda path: (
        path.regulator_type, None if path.regulator is None else path.regulator.set_v
    ),
    SupplyPart.SWITCH: lambda path: path.switch_type,
    SupplyPart.PATHS: lambda path: None if path.switch is None else path.switch.code,
}  # fmt: skip
