"""Parts that one aircraft of a fleet gives up for another: as good as every mix, and never one part twice."""

from __future__ import annotations

import dataclasses
import itertools
import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass

from hangar.answers.purchases import purchases_of
from hangar.parts import (
    Aircraft,
    Library,
    Pack,
    Plan,
    Regulator,
    RegulatorType,
    Servo,
    ServoType,
    after_plan,
)
from hangar.parts.choices import PlanAction, RegulatorKind
from hangar.refit.fleet import FleetAnswer, fleet
from hangar.refit.request import RefitRequest
from hangar.rules import Level
from hangar.rules import example_parts as parts
from hangar.rules import examples as ex
from hangar.rules.case import Case
from hangar.rules.changing import with_airframe, with_fit, with_pack
from hangar.rules.cures import Cure
from hangar.rules.inspecting import open_flags
from hangar.survey import survey
from tests.all_cases import all_cases
from tests.refit.cases import seeds
from tests.refit.every_plan import (
    Part,
    Units,
    _goes_in,
    _line,
    group_parts,
    handwork_parts,
    supply_parts,
    units_of,
)
from tests.refit.generator import DAY, TRAINER_GROUPS, SmallCase

PLACE = "ELE"
LOCKED = frozenset(code for group in TRAINER_GROUPS for code in group) - {PLACE}

FLOWN = (
    (0.12, 12.0),
    (0.12, 30.0),
    (0.2, 37.0),
    (0.2, 60.0),
    (0.35, 45.0),
    (0.35, 52.0),
    (0.6, 12.0),
    (0.6, 60.0),
)
"""Strength of a servo beside the standard one and fastest dive in m/s: some hold, some do not."""
FED = ((700.0, 8.0), (700.0, 35.0), (1200.0, 8.0), (1200.0, 50.0), (1800.0, 70.0), (2500.0, 50.0))
"""Capacity of a pack in mAh and minutes of flight: some last, some do not."""


@dataclass(frozen=True)
class SmallFleet:
    """A few aircraft, what is fitted in them and sold, and what is asked."""

    aircraft: tuple[Aircraft, ...]
    library: Library
    asking: RefitRequest


def small_fleet(seed: int) -> SmallFleet:
    """Two or three trainers with a servo and a pack each that may do for another one, by chance."""
    rng = random.Random(f"given {seed}")
    packs = rng.random() < 0.6
    codes = ("ONE", "TWO", "SIX")[: 2 if packs else 3]
    aircraft = tuple(
        own_trainer(code, *rng.choice(FLOWN[1:6] if code == "ONE" else FLOWN), *rng.choice(FED))
        for code in codes
    )
    sold = rng.random() < 0.7
    new = dataclasses.replace(ex.STANDARD, code="new", price=20.0, ratings=ex.boasted(ex.STANDARD, 1.2))
    servos = {fit.servo_type.code: fit.servo_type for own in aircraft for fit in own.fits if fit.servo_type}
    types = {fed.pack_type.code: fed.pack_type for own in aircraft for fed in own.paths[0].packs}
    fed = next(iter(types.values()))
    big = dataclasses.replace(fed, code="big", capacity_mah=4000.0, mass_g=160.0, price=30.0)
    placed: dict[str, Servo] = {}
    held: dict[str, Pack] = {}
    for own in aircraft:
        placed |= {fit.servo.tag: fit.servo for fit in own.fits if fit.servo is not None}
        held |= {fed.pack.tag: fed.pack for fed in own.paths[0].packs}
    library = Library(
        servo_types={code: dataclasses.replace(kind, price=None) for code, kind in servos.items()}
        | ({"new": new} if sold else {}),
        pack_types={code: dataclasses.replace(kind, price=None) for code, kind in types.items()}
        | ({"big": big} if rng.random() < 0.7 else {}),
        servos_elsewhere=placed,
        packs_elsewhere=held,
    )
    budget = rng.choice((0.0, 20.0, 32.0, 50.0, 90.0))
    asking = RefitRequest(
        budget=budget, locked=LOCKED, gauges=(), change_supply=packs, second_pack=False, conditions=DAY
    )
    return SmallFleet(aircraft, library, asking)


def own_trainer(code: str, strength: float, dive_speed_m_s: float, mah: float, flight_min: float) -> Aircraft:
    """A trainer with servos and a pack of its own tags."""
    aircraft = with_airframe(ex.trainer(), code=code, dive_speed_m_s=dive_speed_m_s, flight_min=flight_min)
    kind = dataclasses.replace(
        ex.STANDARD, code=f"x{strength:g}", price=None, ratings=ex.weaker(ex.STANDARD, strength)
    )
    for fit in aircraft.fits:
        assert fit.servo is not None
        assert fit.installation is not None
        own: ServoType = kind if fit.code == PLACE else fit.servo_type or kind
        tag = f"{code}-{fit.code}"
        aircraft = with_fit(
            aircraft,
            fit.code,
            servo=dataclasses.replace(fit.servo, tag=tag, servo_type=own.code),
            servo_type=own,
            installation=dataclasses.replace(fit.installation, servo=tag, aircraft=code),
        )
    pack = {"tag": f"P-{code}", "pack_type": f"pack {mah:g}", "capacity_mah": 0.95 * mah}
    return with_pack(
        aircraft, pack=pack, pack_type={"code": f"pack {mah:g}", "capacity_mah": mah, "mass_g": 0.06 * mah}
    )


def lacks(aircraft: Aircraft, cure: Cure, place: str = "") -> bool:
    """Whether something is wrong that an action could cure, at a place or anywhere."""
    return any(
        cure in (rule.cures or ())
        and flag.level in (Level.WARNING, Level.CAUTION)
        and (not place or place in flag.about)
        for rule, flag in open_flags(Case(aircraft, survey(aircraft, DAY)))
    )


def given_servos(case: SmallCase, others: tuple[Aircraft, ...]) -> Iterator[Part]:
    """The servo of another aircraft at the same place, where one of the two lacks something there."""
    fit = case.aircraft.fit(PLACE)
    assert fit is not None
    assert fit.servo is not None
    for other in others if PLACE not in case.limits.locked else ():
        theirs = other.fit(PLACE)
        assert theirs is not None
        assert theirs.servo is not None
        assert theirs.servo_type is not None
        assert fit.servo_type is not None
        if theirs.servo_type.code == fit.servo_type.code or not _goes_in(fit, theirs.servo_type):
            continue
        if lacks(case.aircraft, Cure.SERVO, PLACE) or lacks(other, Cure.SERVO, PLACE):
            line = _line(PlanAction.FIT_SERVO, PLACE, part_type=theirs.servo_type.code,
                         from_stock=theirs.servo.tag, from_aircraft=other.code)  # fmt: skip
            yield Part((line,), tags=(theirs.servo.tag,))


def given_packs(case: SmallCase, others: tuple[Aircraft, ...]) -> Iterator[Part]:
    """The pack of another aircraft, where one of the two lacks something of its supply."""
    path = case.aircraft.paths[0]
    for other in others:
        fed = other.paths[0].packs[0]
        if fed.pack_type.code == path.packs[0].pack_type.code:
            continue
        if lacks(case.aircraft, Cure.SUPPLY) or lacks(other, Cure.SUPPLY):
            line = _line(PlanAction.FIT_PACK, path.feed.code, part_type=fed.pack_type.code,
                         from_stock=fed.pack.tag, from_aircraft=other.code)  # fmt: skip
            yield Part((line,), tags=(fed.pack.tag,))


def given_regulators(case: SmallCase, others: tuple[Aircraft, ...], bought: list[Part]) -> Iterator[Part]:
    """What a supply with a new regulator does, with one of that type that another aircraft has."""
    for part, other in itertools.product(bought, others):
        kinds = [line.part_type for line in part.lines if line.action is PlanAction.FIT_REGULATOR]
        theirs = other.paths[0].regulator_type
        if theirs is not None and kinds == [theirs.code]:
            price = part.price - (case.library.regulator_types[theirs.code].price or 0.0)
            yield Part(part.lines, price, tags=(f"{theirs.code} of {other.code}",))


def regulator_off(before: Aircraft, after: Aircraft) -> frozenset[str]:
    """The regulator that came off, where another one is there."""
    old, new = before.paths[0].regulator_type, after.paths[0].regulator_type
    return frozenset() if old is None or old is new else frozenset({f"{old.code} of {before.code}"})


Use = tuple[frozenset[str], frozenset[str]]
"""Tags that a plan takes off other aircraft, and those that it gives up."""


def menu_of(small: SmallFleet, aircraft: Aircraft) -> dict[tuple[Use, int], int]:
    """What is left at least of an aircraft for each use of parts and sum of money, every plan judged here."""
    case = SmallCase(aircraft, small.library, small.asking, TRAINER_GROUPS)
    others = tuple(other for other in small.aircraft if other is not aircraft)
    # Every other place stays as it is, so nothing within the aircraft is set free.
    servos = [part for part in group_parts(case, (PLACE,)) if not part.tags]
    servos += given_servos(case, others)
    sold = {code: kind for code, kind in small.library.pack_types.items() if kind.price is not None}
    shop = dataclasses.replace(case, library=dataclasses.replace(small.library, pack_types=sold))
    supplies = [Part()]
    if small.asking.change_supply:
        supplies = [*supply_parts(shop), *given_packs(case, others)]
        supplies += given_regulators(case, others, supplies)
    today, menu = units_of(aircraft, case), dict[tuple[Use, int], int]()
    for own_parts in itertools.product(servos, *handwork_parts(case), supplies):
        lines = [line for part in own_parts for line in part.lines]
        numbered = tuple(dataclasses.replace(line, number=at) for at, line in enumerate(lines, 1))
        plan = Plan(code="B", aircraft=aircraft.code, title="tried", lines=numbered)
        after = after_plan(aircraft, plan, small.library)
        left = units_of(after, case)
        if not no_worse(today, left):
            continue
        took = {tag for tag in tags_of(after) - tags_of(aircraft) if not tag.startswith("new ")}
        took |= {tag for part in own_parts for tag in part.tags if tag.startswith("R")}
        use = (frozenset(took), (tags_of(aircraft) - tags_of(after)) | regulator_off(aircraft, after))
        key = (use, round(100.0 * sum(part.price for part in own_parts)))
        menu[key] = min(worth_of(left), menu.get(key, 10**6))
    return menu


def tags_of(aircraft: Aircraft) -> frozenset[str]:
    """Tags of its servos and packs; new ones have none."""
    servos = (fit.servo for fit in aircraft.fits)
    packs = (fed.pack for path in aircraft.paths for fed in path.packs)
    own = frozenset(part.tag for part in (*servos, *packs) if part is not None)
    return frozenset(tag for tag in own if "-" in tag)


def no_worse(before: Units, after: Units) -> bool:
    return all(unit in before and before[unit].rank <= level.rank for unit, level in after.items())


def worth_of(units: Units) -> int:
    return sum(10 if level is Level.WARNING else 1 for level in units.values())


def best_of(small: SmallFleet, menus: list[dict[tuple[Use, int], int]]) -> int:
    """The least that any mix leaves in which every part that is taken is given up and taken once."""
    most, best = round(100.0 * (small.asking.budget or 0.0)), 10**6
    for mix in itertools.product(*(menu.items() for menu in menus)):
        if sum(money for (_, money), _ in mix) > most:
            continue
        taken = Counter(tag for ((took, _), _), _ in mix for tag in took)
        given = frozenset(tag for ((_, gave), _), _ in mix for tag in gave)
        if max(taken.values(), default=0) <= 1 and taken.keys() <= given:
            best = min(best, sum(worth for _, worth in mix))
    return best


def check_answer(small: SmallFleet, answer: FleetAnswer) -> None:
    """Every part is in one place, nothing is worse anywhere, and the money is kept to."""
    lines = [line for part in answer.parts for line in part.lines]
    taken = [line.from_stock for line in lines if line.from_stock]
    assert len(taken) == len(set(taken))
    assert answer.money <= (small.asking.budget or 0.0)
    after = [part.after for part in answer.parts]
    everywhere = Counter(tag for own in after for tag in tags_of(own))
    assert max(everywhere.values()) == 1
    worth = 0
    for part in answer.parts:
        case = SmallCase(part.aircraft, small.library, small.asking, TRAINER_GROUPS)
        left = units_of(part.after, case)
        assert no_worse(units_of(part.aircraft, case), left)
        worth += worth_of(left)
    assert worth == answer.worth


@all_cases("seed", seeds(2))
def test_a_fleet_is_as_good_as_every_mix_of_what_it_buys_and_gives(seed: int) -> None:
    small = small_fleet(seed)
    answer = fleet(small.aircraft, small.library, small.asking)
    check_answer(small, answer)
    best = best_of(small, [menu_of(small, own) for own in small.aircraft])
    assert answer.bound <= best + 1e-6
    assert answer.worth == best


AMPS = {"R5": (0.5, 15.0), "R10": (1.0, 25.0), "R15": (1.5, 35.0), "R20": (2.0, 45.0)}
"""Regulators by what they give for long, in A, and their price."""


def fed_fleet(seed: int) -> SmallFleet:
    """Three trainers that draw more or less, each behind a regulator, with all of these sold."""
    rng = random.Random(f"fed {seed}")
    types = {code: regulator(code, *values) for code, values in AMPS.items()}
    aircraft = tuple(
        fed_trainer(code, types[rng.choice(list(types))], rng.choice((1.0, 2.0, 3.0)))
        for code in ("ONE", "TWO", "SIX")
    )
    asking = RefitRequest(
        budget=float(rng.choice((0, 25, 35, 45, 60))), locked=LOCKED | {PLACE}, gauges=(),
        second_pack=False, set_points_v=(6.0,), conditions=DAY,
    )  # fmt: skip
    held = {own.paths[0].packs[0].pack.tag: own.paths[0].packs[0].pack for own in aircraft}
    return SmallFleet(aircraft, Library(regulator_types=types, packs_elsewhere=held), asking)


def regulator(code: str, continuous_a: float, price: float) -> RegulatorType:
    return RegulatorType(
        code=code, maker="Hollin", regulator=RegulatorKind.SWITCHING, input_max_v=13.0, output_min_v=5.0,
        output_max_v=8.0, continuous_a=continuous_a, burst_a=2.0 * continuous_a, burst_s=10.0,
        drop_out_v=0.2, efficiency_pct=92.0, shed_w=10.0, mass_g=20.0, price=price, fails_through=False,
        isolated=True,
    )  # fmt: skip


def fed_trainer(code: str, kind: RegulatorType, hunger: float) -> Aircraft:
    """A trainer with a lithium pack behind a regulator, whose servos stall at so many times the current."""
    aircraft = own_trainer(code, 0.6, 12.0, 2500.0, 8.0)
    path = parts.path(code, "A", parts.fed(f"B-{code}", ex.LITHIUM_2, rest_v=8.36, load_a=5.0, loaded_v=8.32))
    path = dataclasses.replace(
        path,
        feed=dataclasses.replace(path.feed, regulator="REG"),
        regulator=Regulator(aircraft=code, code="REG", regulator_type=kind.code, set_v=6.0),
        regulator_type=kind,
    )
    for fit in aircraft.fits:
        assert fit.servo_type is not None
        rows = tuple(
            dataclasses.replace(row, stall_a=hunger * (row.stall_a or 1.0)) for row in fit.servo_type.ratings
        )
        aircraft = with_fit(aircraft, fit.code, servo_type={"code": f"y{hunger:g}", "ratings": rows})
    return dataclasses.replace(aircraft, paths=(path,))


@all_cases("seed", seeds(2))
def test_a_regulator_that_comes_off_saves_another_aircraft_its_price(seed: int) -> None:
    small = fed_fleet(seed)
    answer = fleet(small.aircraft, small.library, small.asking)
    check_answer(small, answer)
    best = best_of(small, [menu_of(small, own) for own in small.aircraft])
    assert answer.bound <= best + 1e-6
    assert answer.worth == best
    for part in answer.parts:
        for line in part.lines:
            if line.from_aircraft:
                # Its owner gets another one by its own plan, and nobody else takes it.
                (other,) = (own for own in answer.parts if own.aircraft.code == line.from_aircraft)
                off = regulator_off(other.aircraft, other.after)
                assert off == {f"{line.part_type} of {line.from_aircraft}"}
                assert line.price == 0.0
    given = [
        (line.part_type, line.from_aircraft)
        for own in answer.parts
        for line in own.lines
        if line.from_aircraft
    ]
    assert len(given) == len(set(given))
    assert answer.money == sum(part.left.money for part in answer.parts)
    bought = purchases_of(answer, small.library)
    assert sum(row.cost or 0.0 for row in bought) == answer.money
