"""The supply as one network: built once, then asked in every load case."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import replace
from typing import TYPE_CHECKING

from hangar.base.figure import Basis, Input
from hangar.base.text import Text, fixed, text
from hangar.base.values import value_class
from hangar.parts import Aircraft, ServoFit
from hangar.physics.network_elements import CurrentLoad, Element, MovingServo, Resistor
from hangar.survey.defaults import Defaults
from hangar.survey.draws import idle_a, mean_draw
from hangar.survey.figures import Facts, name_of
from hangar.survey.flown_readings import LearnedCurrents
from hangar.survey.leads import gyro_node, lead_ohm, servo_node, shared_outputs, start_node, y_node
from hangar.survey.model import Conditions
from hangar.survey.operating import Tree
from hangar.survey.paths import BUS, GROUND, PathModel, path_model
from hangar.survey.servo_learned import servo_measured
from hangar.survey.servos import NOT_A_SERVO, rating_of_fit

if TYPE_CHECKING:
    from hangar.base.figure import Figure
    from hangar.physics.network import Network

_LEAST_OHM = 1e-4
DRAW_OF = "draw of "
"""Begins the network name of everything that draws a steady current."""


@value_class
class ServoDraw:
    """What one servo draws at the bus's nominal volts; ``stall_a`` is None when it cannot be told.

    ``stall_basis`` is typical where the sheet is silent and a power balance stands in; ``least_stall_a`` is
    then its lowest estimate. ``work_times`` is what flights have told of the current of its work.
    """

    code: str
    idle_a: float
    average: Figure
    idle: Input
    stall_a: float | None
    stall_ohm: float | None
    stall_basis: Basis = Basis.RATED
    least_stall_a: float | None = None
    work_times: float = 1.0

    def at_least(self) -> ServoDraw:
        """The same servo with the lowest estimate of its stall current."""
        if self.stall_a is None or self.stall_ohm is None or self.least_stall_a is None:
            return self
        stall_ohm = self.stall_ohm * self.stall_a / self.least_stall_a
        return replace(self, stall_a=self.least_stall_a, stall_ohm=stall_ohm)

    @property
    def average_a(self) -> float:
        """Mean current over a flight."""
        return self.average.expected

    def moving(self, share: float) -> MovingServo | CurrentLoad:
        """The servo drawing a share of its stall current on top of its idle current."""
        name, node = servo_name(self.code), servo_node(self.code)
        if self.stall_a is None or self.stall_ohm is None:
            return CurrentLoad(name, node, GROUND, self.idle_a)
        return MovingServo(name, node, GROUND, self.stall_ohm, share * self.stall_a, self.idle_a)

    def brisk_share(self, share: float, peak_share: float) -> float:
        """The class's share, but no less than the average current and no more than the peak's."""
        average = 0.0 if not self.stall_a else max(0.0, self.average_a - self.idle_a) / self.stall_a
        return min(max(share * self.work_times, average), peak_share)

    def steady(self, current_a: float) -> CurrentLoad:
        """The servo drawing a fixed current."""
        return CurrentLoad(servo_name(self.code), servo_node(self.code), GROUND, current_a)


def servo_name(code: str) -> str:
    """Network name of the servo of a position, under which its current is found."""
    return f"servo {code}"


@value_class
class SupplyModel:
    """Everything the load cases are solved with.

    Attributes:
        paths: the power paths that can be worked.
        draws: what each fitted servo draws, by position.
        lead_ohm: resistance of each servo's lead, by position, where it is known.
        start: node at which each servo's lead begins.
        standing_a: what receivers, gyros and devices draw all the time.
        standing: those currents as inputs.
        tree: the leads behind the bus with what draws a steady current there.
        network: the network with every servo at rest; None without a way to feed the bus.
        nominal_v: bus volts that stall currents are taken at.
        missing: what was not known.
        learned: what flights have told of the current; None where nobody read it.
    """

    paths: tuple[PathModel, ...]
    draws: dict[str, ServoDraw]
    lead_ohm: dict[str, Figure]
    lead_missing: dict[str, list[Text]]
    start: dict[str, str]
    standing_a: float
    standing: tuple[Input, ...]
    tree: Tree
    network: Network | None
    nominal_v: Figure | None
    missing: tuple[Text, ...]
    learned: LearnedCurrents | None = None

    @property
    def unrated(self) -> bool:
        """Whether some servo's stall current cannot be told, so that no sum of currents can."""
        return any(draw.stall_a is None for draw in self.draws.values())

    @property
    def estimated(self) -> bool:
        """Whether some servo's stall current is estimated, as its sheet does not give it."""
        return any(draw.stall_basis is Basis.TYPICAL for draw in self.draws.values())

    @property
    def stall_sum_a(self) -> float:
        """All stall currents at the nominal bus volts, added."""
        return sum(draw.stall_a or 0.0 for draw in self.draws.values())

    @property
    def stall_sum(self) -> Input:
        """Sum of all stall currents at the nominal bus volts; typical when one of them is estimated."""
        basis = Basis.TYPICAL if self.estimated else Basis.COMPUTED
        return Input(
            fixed("sum of all stall currents at the nominal bus volts"), self.stall_sum_a, "A", basis
        )

    @property
    def inputs(self) -> tuple[Input, ...]:
        """What the paths were made of."""
        return tuple(item for path in self.paths for item in path.inputs)


def supply_model(aircraft: Aircraft, conditions: Conditions, defaults: Defaults) -> SupplyModel:
    """Work out the parts of an aircraft's supply and join them to a network."""
    missing: list[Text] = []
    paths = _paths(aircraft, conditions, defaults, missing)
    nominal = max(
        (path.set_v or path.nominal_v for path in paths), key=lambda figure: figure.expected, default=None
    )
    draws = {
        fit.code: servo_draw(aircraft, fit, nominal.expected if nominal else None, defaults, missing)
        for fit in aircraft.fits
        if fit.servo_type is not None and fit.function not in NOT_A_SERVO
    }
    leads: dict[str, Figure] = {}
    lead_missing: dict[str, list[Text]] = {}
    for fit in aircraft.fits:
        if fit.code in draws:
            lacks: list[Text] = []
            ohm = lead_ohm(fit, defaults, lacks)
            lead_missing[fit.code] = lacks
            if ohm is not None:
                leads[fit.code] = ohm
    shared = shared_outputs(aircraft)
    start = {fit.code: start_node(fit, shared) for fit in aircraft.fits}
    standing = _standing(aircraft, defaults)
    charge = charge_pct(conditions, defaults)
    sources: list[Element] = [
        element for path in paths for element in path.elements(charge, conditions.pack_c)
    ]
    branches = [*_branches(aircraft, shared, defaults), *_servo_leads(draws, leads, start, defaults)]
    steady = [CurrentLoad(name, node, GROUND, amps) for name, node, amps, _ in standing]
    resting = [draw.steady(draw.idle_a) for draw in draws.values()]
    return SupplyModel(
        paths, draws, leads, lead_missing, start,
        sum(amps for _, _, amps, _ in standing), tuple(item for *_, item in standing),
        Tree(tuple(branches), tuple(steady)),
        _network((*sources, *branches, *resting, *steady)) if nominal else None, nominal, tuple(missing),
    )  # fmt: skip


def charge_pct(conditions: Conditions, defaults: Defaults) -> float:
    """Charge left in the packs in the load cases."""
    return defaults.charge_left.value() if conditions.charge_pct is None else conditions.charge_pct


def _network(elements: Iterable[Element]) -> Network:
    from hangar.physics.network import Network

    return Network.of(elements)


def _paths(
    aircraft: Aircraft, conditions: Conditions, defaults: Defaults, missing: list[Text]
) -> tuple[PathModel, ...]:
    paths = aircraft.radio_paths
    if not paths:
        missing.append(text("{record}: power path", record=name_of(aircraft.airframe)))
    elements = []
    for path in paths:
        model, lacks = path_model(path, conditions.today, defaults, only=len(paths) == 1)
        missing.extend(lack for lack in lacks if lack not in missing)
        if model is not None:
            elements.append(model)
    return tuple(elements)


def servo_draw(
    aircraft: Aircraft, fit: ServoFit, nominal_v: float | None, defaults: Defaults, missing: list[Text]
) -> ServoDraw:
    """What the servo of a position draws at the nominal bus volts."""
    resting_a, resting = idle_a(fit, defaults)
    rating = rating_of_fit(fit)
    stall_a = stall_ohm = least_a = None
    basis = Basis.RATED
    if rating is None and fit.servo_type is not None:
        lack = text("servo type {servo}: ratings", servo=fit.servo_type.code)
        if lack not in missing:
            missing.append(lack)
    elif rating is not None and nominal_v:
        point = rating.at(nominal_v)
        stall_a, least_a = point.supply_current_a.expected, point.supply_current_a.low
        stall_ohm = nominal_v / stall_a
        basis = Basis.TYPICAL if point.is_current_estimated else Basis.RATED
        if servo_measured(fit).stall_per_v is not None:
            basis = Basis.MEASURED
    most_a = None
    if stall_a is not None:
        most_a = resting_a + defaults.peak_share.value(aircraft.airframe.aircraft_class) * stall_a
    average = mean_draw(aircraft, fit, defaults, most_a)
    return ServoDraw(fit.code, resting_a, average, resting, stall_a, stall_ohm, basis, least_a)


def _standing(aircraft: Aircraft, defaults: Defaults) -> list[tuple[str, str, float, Input]]:
    """Name, node, amps and input of everything that draws a steady current."""
    losses: list[tuple[str, str, float, Input]] = []
    for records, key, sentence in (
        (aircraft.receivers, "receiver", text("receiver {code} draws")),
        (aircraft.stabilisers, "gyro", text("gyro {code} draws")),
        (aircraft.accessories, "device", text("device {code} draws")),
    ):
        for record in records:
            draws = sentence.with_args(code=record.code)
            node = gyro_node(record.code) if key == "gyro" else BUS
            if record.idle_ma is None:
                amps = defaults.standing_current.value(key)
                item = Input(draws, amps, "A", Basis.TYPICAL)
            else:
                amps = record.idle_ma / 1000.0
                item = Input(draws, record.idle_ma, "mA", Basis.RATED)
            losses.append((f"{DRAW_OF}{key} {record.code}", node, amps, item))
    return losses


def _branches(aircraft: Aircraft, shared: frozenset[tuple[str, int]], defaults: Defaults) -> list[Resistor]:
    """Leads to gyros and the common joint of Y leads."""
    fed = Counter(fit.through.code for fit in aircraft.fits if fit.through is not None)
    resistors: list[Resistor] = [
        Resistor(f"lead to gyro {gyro.code}", BUS, gyro_node(gyro.code), _gyro_ohm(fed[gyro.code], defaults))
        for gyro in aircraft.stabilisers
    ]
    joint_ohm = 2.0 * defaults.contact.value() / 1000.0
    through = {
        (fit.channel.port, fit.channel.number): fit.through
        for fit in aircraft.fits
        if fit.channel is not None
    }
    for port, number in sorted(shared):
        gyro = through.get((port, number))
        above = BUS if gyro is None else gyro_node(gyro.code)
        resistors.append(
            Resistor(f"Y joint {port} {number}", above, y_node(port, number), max(joint_ohm, _LEAST_OHM))
        )
    return resistors


def _gyro_ohm(servos: int, defaults: Defaults) -> float:
    return defaults.gyro_lead.value("several servos" if servos > 1 else "one servo") / 1000.0


def _servo_leads(
    draws: dict[str, ServoDraw], leads: dict[str, Figure], start: dict[str, str], defaults: Defaults
) -> list[Resistor]:
    """The lead to each servo; one whose lead is not known hangs on its start."""
    joint_ohm = 2.0 * defaults.contact.value() / 1000.0
    resistors: list[Resistor] = []
    for code in draws:
        ohm = leads[code].expected if code in leads else _LEAST_OHM
        if start[code].startswith("Y "):
            ohm -= joint_ohm
        resistors.append(Resistor(f"lead to {code}", start[code], servo_node(code), max(ohm, _LEAST_OHM)))
    return resistors


def facts_of(model: SupplyModel) -> Facts:
    """The paths' inputs as facts for a figure of the whole supply."""
    facts = Facts()
    facts.inputs.extend(model.inputs)
    return facts
