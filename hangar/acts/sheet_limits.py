"""Within which the readings of a filled sheet should lie: the limits that were printed beside its boxes."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from hangar.answers.judging import JudgingBasis, judge_aircraft
from hangar.base.units import SI_TRADE, UnitChoice
from hangar.parts import Setting

if TYPE_CHECKING:
    from hangar.answers.bench_bands import AllowedBands
    from hangar.answers.case import AircraftCase
    from hangar.store import Fleet
    from hangar.store.filled_sheet import LimitsOf


@dataclass
class SheetLimits:
    """Asks of each aircraft what its sheets print, once for each kind.

    Attributes:
        fleet: whose aircraft they are; it may be read in the middle of an edit.
        today: the day they are judged as.
    """

    fleet: Fleet
    today: date
    _cases: dict[tuple[str, str], AircraftCase | None] = field(default_factory=dict)

    def of(self, code: str, sheet: str) -> LimitsOf:
        """The limits of one sheet of an aircraft, by box; none where it could not be judged."""

        def limits(about: str, what: str) -> AllowedBands | None:
            from hangar.answers.bench_bands import AllowedBands, bands_of

            if (code, sheet) not in self._cases:
                self._cases[code, sheet] = self._case(code, sheet)
            case = self._cases[code, sheet]
            bands = bands_of(sheet, case, self._units(), about, what) if case is not None else ()
            return AllowedBands(bands) if bands else None

        return limits

    def _case(self, code: str, sheet: str) -> AircraftCase | None:
        from hangar.answers.bench_bands import expected_case
        from hangar.answers.case import AircraftCase

        if code not in self.fleet.aircraft_codes():
            return None
        basis = JudgingBasis.of(self.fleet, self.today)
        try:
            judged = judge_aircraft(self.fleet.aircraft(code, today=self.today), basis)
        except Exception:  # noqa: BLE001 a border: what cannot be judged has no limits to hold against
            return None
        return expected_case(sheet, AircraftCase.of(judged, basis))

    def _units(self) -> UnitChoice:
        settings = {setting.name: setting.value for setting in self.fleet.records(Setting)}
        return UnitChoice.from_settings(settings) if settings else SI_TRADE
