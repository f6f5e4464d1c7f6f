"""Enter a new aircraft by hand; its class proposes the power where it leaves no choice."""

from __future__ import annotations

from PySide6.QtWidgets import QWidget

from hangar.base.errors import BadInput
from hangar.parts import Airframe
from hangar.parts.choices import AircraftClass, PowerKind
from hangar.window.kit.desk import Desk
from hangar.window.records.record_dialog import RecordDialog

ONLY_POWER = {
    AircraftClass.HELI_EL: PowerKind.ELECTRIC,
    AircraftClass.HELI_TURBINE: PowerKind.TURBINE,
    AircraftClass.JET_TURBINE: PowerKind.TURBINE,
    AircraftClass.JET_EDF: PowerKind.ELECTRIC,
    AircraftClass.ELECTRIC_SMALL: PowerKind.ELECTRIC,
}
"""What drives the classes whose name says it; the power of any other must be chosen."""


class NewAircraftDialog(RecordDialog):
    """The form of an airframe with class and power left open; neither is made up where nobody chooses."""

    def __init__(self, desk: Desk, parent: QWidget | None = None) -> None:
        super().__init__(desk, Airframe, {}, parent)
        self._power = self.form.editor("power")
        self._power.show_value(None)
        self._proposed: PowerKind | None = None
        self.form.entered.connect(self._entered)

    def _entered(self, name: str, value: object) -> None:
        if name == "aircraft_class":
            self._propose(ONLY_POWER.get(AircraftClass(str(value))) if value else None)

    def _propose(self, power: PowerKind | None) -> None:
        """Propose a power, in place of none or of the one proposed before; what the keeper chose stays."""
        if self._chosen() == self._proposed:
            self._power.show_value(power)
            self._proposed = power

    def _chosen(self) -> object:
        try:
            return self._power.read()
        except BadInput:
            return None
