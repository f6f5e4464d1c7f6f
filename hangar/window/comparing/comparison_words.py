"""Old against new in words: which figures are shown, and whether each change is for the better."""

from __future__ import annotations

from hangar.base.figure import Figure
from hangar.base.text import fixed
from hangar.base.units import ShowsNumbers
from hangar.survey.brown_out import BrownOut
from hangar.survey.old_and_new import (
    BUS_PEAK,
    MARGIN,
    STALLED,
    TORQUE,
    ComparedFigure,
    Comparison,
)
from hangar.survey.strength import TRANSIT
from hangar.window.kit.field_text import UNKNOWN
from hangar.window.kit.words import put, say, sentence_case

SAME_SHARE = 0.005
"""A change smaller than that share of the old figure counts as none."""
FEWER, MORE = "▼", "▲"
NO_BREAK = "\N{NO-BREAK SPACE}"
_HEADLINES = (BUS_PEAK, TORQUE, TRANSIT, MARGIN, STALLED, fixed("mass"), fixed("price"))
_ENOUGH = fixed("enough up to")


def compared_figures(comparison: Comparison) -> tuple[ComparedFigure, ...]:
    """Everything to show, the deflection that the surface keeps in the air among it."""
    held = [
        None if fails else one.positions[comparison.position].held_deg
        for one, fails in (
            (comparison.before, comparison.old_fails),
            (comparison.after, comparison.new_fails),
        )
    ]
    figures = list(comparison.figures)
    if any(one is not None for one in held):
        names = [one.name for one in figures]
        at = names.index(_ENOUGH) + 1 if _ENOUGH in names else len(figures)
        figures.insert(
            at, ComparedFigure(fixed("surface held in the air load"), "deg", held[0], held[1], True)
        )
    return tuple(figures)


def change_share(compared: ComparedFigure) -> float | None:
    """The change as a share of the old figure; None where there is none to speak of."""
    if compared.old is None or compared.change is None or compared.old.expected == 0.0:
        return None
    return compared.change / abs(compared.old.expected)


def is_same(compared: ComparedFigure) -> bool:
    """Whether old and new are the same as far as anybody could tell."""
    share = change_share(compared)
    return compared.change == 0.0 or (share is not None and abs(share) < SAME_SHARE)


def verdict(compared: ComparedFigure) -> str:
    """Better, worse, the same, other, or not known."""
    if compared.change is None:
        return say("not known")
    if is_same(compared):
        return say("the same")
    if compared.more_is_better is None:
        return say("other")
    return say("better") if (compared.change > 0.0) is compared.more_is_better else say("worse")


def change_words(compared: ComparedFigure, units: ShowsNumbers) -> str:
    """The change with its sign and share: ``▲ 0.12 N·m (+14 %)``."""
    if compared.change is None:
        return UNKNOWN
    if is_same(compared):
        return "="
    share = change_share(compared)
    sign = MORE if compared.change > 0.0 else FEWER
    shown = units.show(abs(compared.change), compared.unit)
    percent = "" if share is None or abs(share) > 9.99 else f" ({share:+.0%})"
    return f"{sign} {shown}{percent}"


def value_words(figure: Figure | None, unit: str, units: ShowsNumbers) -> str:
    """One figure of the comparison."""
    return UNKNOWN if figure is None else units.show(figure.expected, unit)


def line_words(compared: ComparedFigure, units: ShowsNumbers) -> str:
    """One figure of the comparison as a sentence for a screen reader."""
    return say(
        "{name}: old {old}, new {new}, {verdict}",
        name=sentence_case(put(compared.name)),
        old=value_words(compared.old, compared.unit, units),
        new=value_words(compared.new, compared.unit, units),
        verdict=verdict(compared),
    )


def failing_words(comparison: Comparison, units: ShowsNumbers) -> str:
    """That the new servo must not be fitted, and why; empty where the bus holds with it."""
    found = comparison.new_fails
    if found is None:
        return ""
    words = _why(found, units)
    if comparison.old_fails is not None:
        return say("The bus fails already as it is, and with this servo too: {why}", why=words)
    return say("Do not fit it: {why}", why=words)


def _why(found: BrownOut, units: ShowsNumbers) -> str:
    if found.bus_v is None or found.device is None or found.least_v is None:
        return say("the supply collapses at peak current: {why}.", why=put(found.why))
    words = say(
        "at peak current the bus falls to {volts}; {device} works down to {least}.",
        volts=units.show(found.bus_v.expected, "V"),
        device=f"{put(found.device.TITLE)} {found.device.code}",
        least=units.show(found.least_v, "V"),
    )
    return f"{words} {sentence_case(put(found.why))}." if found.why else words


def headline(comparison: Comparison, figures: tuple[ComparedFigure, ...], units: ShowsNumbers) -> str:
    """A bus that fails before all, then the figures that decide, on one line."""
    by_name = {one.name: one for one in figures if one.change is not None}
    chosen = [by_name[name] for name in _HEADLINES if name in by_name]
    # A bus that holds as before is no news; one that falls comes first.
    chosen = [one for one in chosen if one.name != BUS_PEAK or not is_same(one)]
    failing = failing_words(comparison, units)
    told = [
        f"{sentence_case(put(one.name))} {verdict(one)}"
        if is_same(one)
        else f"{sentence_case(put(one.name))} {change_words(one, units)} {verdict(one)}"
        for one in chosen
    ]
    return "  ·  ".join([*([failing] if failing else ()), *(each.replace(" ", NO_BREAK) for each in told)])
