"""How risk is counted, in one plain sentence that stands beside every number of risk."""

from __future__ import annotations

from typing import TYPE_CHECKING

from hangar.window.kit.words import level_word, say

if TYPE_CHECKING:
    from hangar.refit.risk import RiskMeasure


def risk_words(measure: RiskMeasure) -> str:
    """The measure in one sentence."""
    points = ", ".join(f"{level_word(level)} {value:g}" for level, value in measure.by_level.items())
    factors = ", ".join(f"{thing_word(kind)} × {value:g}" for kind, value in measure.by_criticality.items())
    source = say("common practice, no source") if measure.is_shipped else say("set in Workshop Rules")
    words = say(
        "Risk is the sum over open findings of points ({points}) times a factor ({factors}); {source}."
    )
    return words.format(points=points, factors=factors, source=source)


def thing_word(name: str) -> str:
    """What hangs on a finding: flight, safety, comfort."""
    return {"flight": say("flight"), "safety": say("safety"), "comfort": say("comfort")}[name]
