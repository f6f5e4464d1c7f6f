"""What protects each lead: lengths of lead, sleeve and shrink to cut, by the rules of the wiring table."""

from __future__ import annotations

import math
import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from hangar.base.errors import BadInput
from hangar.base.places import resources_dir
from hangar.parts.aircraft import Aircraft, ServoFit
from hangar.parts.choices import FormerEdge
from hangar.parts.controls import Lead
from hangar.parts.planned_places import NEW

_BARE = (FormerEdge.BARE_WOOD, FormerEdge.BARE_HARD)
_NEAR_MOVING_MM = 20.0


@cache
def wiring() -> dict[str, Any]:
    """The table of rules by which leads are cut, as it travels with the program."""
    return tomllib.loads((resources_dir() / "wiring.toml").read_text("utf-8"))


@dataclass(frozen=True, slots=True)
class LeadCut:
    """What one lead needs; None where a record does not say enough.

    ``own_mm`` is the servo's own lead; where it is known only what it lacks is bought, as an extension, and
    ``buy_mm`` is 0 where it reaches by itself. Where it is not known the whole run is bought.
    ``sleeve_mm`` is 0 where no sleeve is called for; ``shrink_pieces`` are lengths by bore before
    shrinking.
    """

    aircraft: str
    fit: ServoFit
    run_mm: float
    needed_mm: float
    own_mm: float | None
    buy_mm: float
    sleeve_mm: float | None
    sleeve_bore_mm: float | None
    end_shrinks: int
    end_bore_mm: float | None
    joint_shrinks: int | None
    joint_mm: float
    ties: int
    label: str

    @property
    def is_extension(self) -> bool:
        """Whether what is bought is plugged to the servo's own lead."""
        return self.own_mm is not None and self.buy_mm > 0


def next_size(wanted: float, sizes: Sequence[float]) -> float:
    """The smallest size that is enough.

    Raises: BadInput when none is.

    >>> next_size(1009, [900, 1000, 1100])
    1100
    """
    enough = [size for size in sizes if size >= wanted - 1e-9]
    if not enough:
        raise BadInput(
            "{wanted:g} mm is wanted; the longest size is {longest:g} mm.", wanted=wanted, longest=max(sizes)
        )
    return min(enough)


def lead_needed_mm(run_mm: float, hinges: int = 0) -> float:
    """Length of lead that a run asks for, slack included.

    Args:
        run_mm: measured along the path with a string, 0 or more.
        hinges: hinges that it crosses.

    Source: common practice, no source; the table of rules says how.

    >>> round(lead_needed_mm(940))
    1009
    """
    rule = wiring()["lead"]
    slack = rule["receiver_slack_mm"] + rule["servo_slack_mm"] + hinges * rule["hinge_slack_mm"]
    return float(run_mm + slack + run_mm * rule["slack_pct"] / 100)


def run_sleeve_mm(exposed_mm: float) -> float:
    """Braided sleeve over an exposed run, overlaps and shortening included.

    >>> round(run_sleeve_mm(640))
    759
    """
    rule = wiring()["sleeve"]
    return float((exposed_mm + 2 * rule["overlap_mm"]) * (1 + rule["braid_pct"] / 100))


def former_sleeve_mm(thickness_mm: float) -> float:
    """Sleeve through a hole in a former of that thickness.

    >>> former_sleeve_mm(3), former_sleeve_mm(12)
    (55.0, 62.0)
    """
    rule = wiring()["sleeve"]
    return float(max(thickness_mm + 2 * rule["overlap_mm"], rule["former_least_mm"]))


def heat_sleeve_mm(hot_mm: float) -> float:
    """Silicone-glass sleeve over a hot length.

    >>> heat_sleeve_mm(120)
    220.0
    """
    return float(hot_mm + 2 * wiring()["heat"]["over_mm"])


def joint_shrink_mm() -> float:
    """Clear shrink over a mated pair of plugs.

    >>> joint_shrink_mm()
    53.0
    """
    rule = wiring()["shrink"]
    return float(rule["plug_pair_mm"] + 2 * rule["joint_over_mm"])


def sleeve_bore_mm(bundle_mm: float) -> float | None:
    """The smallest bore sold between the least and the most that suit a bundle; None when none does.

    >>> sleeve_bore_mm(4.0)
    5
    """
    rule = wiring()["sleeve"]
    low, high = rule["bore_low"] * bundle_mm, rule["bore_high"] * bundle_mm
    return next((bore for bore in rule["bores_mm"] if low <= bore <= high), None)


def lead_cuts(aircraft: Aircraft) -> tuple[LeadCut, ...]:
    """What every recorded lead of an aircraft needs, in the order of its positions."""
    return tuple(_cut(aircraft.code, fit, fit.lead) for fit in aircraft.fits if fit.lead)


def _cut(aircraft: str, fit: ServoFit, lead: Lead) -> LeadCut:
    rule = wiring()
    needed = lead_needed_mm(lead.length_mm, hinges=int(bool(lead.crosses_hinge)))
    tail = fit.servo_type.lead_length_mm if fit.servo_type else None
    sleeve = _sleeve(lead)
    bore = sleeve_bore_mm(lead.bundle_mm) if sleeve and lead.bundle_mm else None
    return LeadCut(
        aircraft=aircraft,
        fit=fit,
        run_mm=lead.length_mm,
        needed_mm=needed,
        own_mm=tail,
        buy_mm=_to_buy_mm(needed, tail),
        sleeve_mm=sleeve,
        sleeve_bore_mm=bore,
        end_shrinks=rule["shrink"]["ends_per_sleeve"] if sleeve else 0,
        end_bore_mm=next_size(bore + 0.1, rule["shrink"]["bores_mm"]) if bore else None,
        joint_shrinks=None if lead.joints is None else max(0, lead.joints - 1),
        joint_mm=joint_shrink_mm(),
        ties=_ties(lead),
        label=label_words(fit),
    )


def _to_buy_mm(needed_mm: float, own_mm: float | None) -> float:
    """The next size of what the servo's own lead lacks; of the whole run where that lead is not known."""
    short = needed_mm - (own_mm or 0.0)
    return next_size(short, wiring()["lead"]["sizes_mm"]) if short > 0 else 0.0


def _sleeve(lead: Lead) -> float | None:
    if lead.exposed_mm:
        return run_sleeve_mm(lead.exposed_mm)
    if lead.former_edge in _BARE:
        return former_sleeve_mm(wiring()["sleeve"]["former_thickness_mm"])
    if lead.exposed_mm is None or lead.former_edge is None:
        return None
    return 0.0


def _ties(lead: Lead) -> int:
    rule = wiring()["tie"]
    near = lead.moving_mm is not None and lead.moving_mm < _NEAR_MOVING_MM
    along = math.floor(lead.length_mm / rule["spacing_mm"])
    return int(along + rule["plus_at_plugs"] + (rule["plus_near_moving"] if near else 0))


def label_words(fit: ServoFit) -> str:
    """What the label at each end of a lead says: ``4 ELE-R / 0204``.

    A channel that is not recorded, or a servo that has no tag yet, leaves its place open.
    """
    channel = "__" if fit.position.channel is None else str(fit.position.channel)
    tag = fit.tag if fit.tag and not fit.tag.startswith(f"{NEW} ") else "____"
    return f"{channel} {fit.code} / {tag}"
