"""A supply that holds its volts whatever is drawn: what columns lack at bus volts, all groups at once."""

from __future__ import annotations

from dataclasses import replace

from hangar.base.errors import BadInput
from hangar.parts import Aircraft, FedPack, Feed, Pack, PackType, PowerPath, Regulator, RegulatorType
from hangar.parts.choices import Chemistry, FeedRole, RegulatorKind
from hangar.refit.currents import PEAK, Currents
from hangar.refit.judge import Judge, Picks, PlanVerdict

_CODE = "IDEAL"
_PACK = PackType(code=_CODE, chemistry=Chemistry.LIPO, series=6, capacity_mah=30_000.0, cell_mohm=0.001)
_REGULATOR = RegulatorType(
    code=_CODE, regulator=RegulatorKind.LINEAR, drop_out_v=0.0, output_min_v=2.5, output_max_v=15.0,
    inputs=1, isolated=False,
)  # fmt: skip


class IdealSupply:
    """Looks at plans of one aircraft with an ideal supply in the place of theirs."""

    def __init__(self, judge: Judge, currents: Currents) -> None:
        self.judge, self.currents = judge, currents
        paths = judge.aircraft.radio_paths
        self.is_possible = bool(paths) and all(path.feed.role is FeedRole.RECEIVER for path in paths)

    def look(self, picks: Picks, volts: float) -> PlanVerdict | None:
        """What is said of a plan whose bus never has less than these volts; None where it cannot be made."""
        lines = [
            line
            for choice_list, at in zip(self.judge.lists, picks, strict=False)
            for line in choice_list.choices[at].lines
        ]
        try:
            changed = self.judge.changed(lines)
        except BadInput:
            return None
        drawn_a = 1e-6 * self.currents.of_plan(picks, (PEAK, round(1000.0 * volts), 0.0))
        set_v = volts + (drawn_a + self.currents.model.standing_a) * self.currents.regulation_ohm
        return self.judge.look(self._fed(changed, set_v), picks)

    def _fed(self, aircraft: Aircraft, set_v: float) -> Aircraft:
        feed = Feed(
            aircraft=aircraft.code, code=_CODE, regulator=_CODE, lead_length_mm=1.0, lead_awg=8, joints=0
        )
        pack = Pack(tag=_CODE, pack_type=_CODE, bought_on=aircraft.read_on, cycles=0)
        path = PowerPath(
            feed=feed, packs=(FedPack(pack=pack, pack_type=_PACK),), regulator_type=_REGULATOR,
            regulator=Regulator(aircraft=aircraft.code, code=_CODE, regulator_type=_CODE, set_v=set_v),
        )  # fmt: skip
        others = tuple(path for path in aircraft.paths if path not in aircraft.radio_paths)
        return replace(aircraft, paths=(*others, path))
