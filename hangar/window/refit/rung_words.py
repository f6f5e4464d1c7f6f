"""What the ladder says: the sentence at its head and its label, what each rung clears, leaves and brings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QWidget

from hangar.rules.finding import Level
from hangar.rules.registry import all_rules
from hangar.window.kit.plain_words import PlainLabel
from hangar.window.kit.view_settings import ViewSettings
from hangar.window.kit.words import decimal, level_count, put, say, say_plural

if TYPE_CHECKING:
    from hangar.refit.answer import Answer, Ladder, Rung, Stay, Unit


LARGER = 1.3


class VerdictLabel(PlainLabel):
    """The sentence at the head of a page, in larger print that follows the size of the print."""

    def __init__(self, view: ViewSettings, parent: QWidget | None = None) -> None:
        super().__init__(parent=parent, wordWrap=True)
        self._view = view
        view.changed.connect(self._fit)
        self._fit()

    def _fit(self) -> None:
        font = QFont(self.font())
        font.setBold(True)
        font.setPointSizeF(self._view.points * LARGER)
        if font != self.font():
            self.setFont(font)

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange and hasattr(self, "_view"):
            self._fit()


@dataclass(frozen=True)
class RungRow:
    """One rung as it is shown: its name in the search, its money, what is left and the answer behind it."""

    rung: Rung
    answer: Answer

    @property
    def price(self) -> float:
        """What it costs."""
        return self.answer.left.money

    @property
    def is_today(self) -> bool:
        """Whether nothing is changed."""
        return not self.answer.changes

    def reaches(self, other: RungRow) -> bool:
        """Whether it leaves no more than another one for no more money; of two that change something."""
        if self.is_today or other.is_today:
            return self.is_today and other.is_today
        standing = (self.price, self.warnings, self.cautions)
        its = (other.price, other.warnings, other.cautions)
        return all(mine <= theirs for mine, theirs in zip(standing, its, strict=True))

    @property
    def warnings(self) -> int:
        """Warnings that stay."""
        return self.answer.left.warnings

    @property
    def cautions(self) -> int:
        """Cautions that stay."""
        return self.answer.left.cautions


def money(value: float, sign: str) -> str:
    """A price with the keeper's money sign, without hundredths where there are none.

    >>> money(134.0, "EUR"), money(12.5, "")
    ('134 EUR', '12.50')
    """
    whole = f"{value:.0f}" if abs(value - round(value)) < 0.005 else f"{value:.2f}"
    return decimal(f"{whole} {sign}".rstrip())


def rows_of(ladder: Ladder) -> tuple[RungRow, ...]:
    """The rungs from the cheapest up; of equal ones the one that says most."""
    from hangar.refit.answer import Rung

    named = (Rung.TODAY, Rung.CLEAR, Rung.WITHOUT_NEW, Rung.NEXT, Rung.BUDGET, Rung.FREE)
    rows: list[RungRow] = []
    for row in (RungRow(rung, ladder.rungs[rung]) for rung in named if rung in ladder.rungs):
        if not any(other.reaches(row) for other in rows):
            rows.append(row)
    return tuple(sorted(rows, key=lambda row: (not row.is_today, row.price, -row.warnings, -row.cautions)))


def verdict(rows: Sequence[RungRow], sign: str) -> str:
    """The ladder in one sentence, made of the two rungs that matter."""
    from hangar.refit.answer import Rung

    if not rows:
        return say("Nothing was found.")
    today = rows[0].answer.today
    by_rung = {row.rung: row for row in rows}
    clear = by_rung.get(Rung.CLEAR) or rows[-1]
    best = by_rung.get(Rung.WITHOUT_NEW) or rows[-1]
    if not today.warnings and not today.cautions:
        return say("Nothing is needed.")
    if all(row.is_today for row in rows):
        if today.warnings:
            return say("No part, setting or handwork cures what is open: {left}.", left=_left_words(rows[0]))
        return say("No warning is open. {left} stay whatever is bought.", left=_left_words(rows[0]))
    if not today.warnings:
        return _best_words(best, sign)
    if clear.is_today:
        first = say("What could be bought clears no warning.")
    elif clear.warnings:
        first = say(
            "{price} clears {cleared}; {left} no part cures: {names}.",
            price=money(clear.price, sign),
            cleared=level_count(Level.WARNING, today.warnings - clear.warnings),
            left=level_count(Level.WARNING, clear.warnings),
            names=_names(clear, Level.WARNING),
        )
    elif clear is best or clear.cautions == best.cautions:
        return say(
            "{price} clears every warning and leaves {left}.",
            price=money(clear.price, sign),
            left=_cautions(clear.cautions),
        )
    else:
        first = say("{price} clears every warning.", price=money(clear.price, sign))
    if best is clear or best.is_today:
        return first
    return f"{first} {_best_words(best, sign)}"


def _best_words(row: RungRow, sign: str) -> str:
    return say("{price} leaves {left}.", price=money(row.price, sign), left=_left_words(row))


def _left_words(row: RungRow) -> str:
    parts = []
    if row.warnings:
        parts.append(level_count(Level.WARNING, row.warnings))
    if row.cautions or not parts:
        parts.append(_cautions(row.cautions))
    return say("{one} and {other}", one=parts[0], other=parts[1]) if len(parts) > 1 else parts[0]


def _names(row: RungRow, level: Level, most: int = 2) -> str:
    names = list(dict.fromkeys(_title(unit.rule) for unit in left_units(row) if unit.level is level))
    return ", ".join(names[:most]) + (" …" if len(names) > most else "")


def _cautions(count: int) -> str:
    return level_count(Level.CAUTION, count) if count else say("no caution")


def title_of(row: RungRow) -> str:
    """The name of a rung."""
    from hangar.refit.answer import Rung

    if row.is_today:
        return say("Today")
    names = {
        Rung.FREE: say("Costs nothing"),
        Rung.NEXT: say("The next worthwhile step"),
        Rung.BUDGET: say("Best for this money"),
        Rung.CLEAR: say("Clears every warning") if not row.warnings else say("Clears what can be cleared"),
        Rung.WITHOUT_NEW: say("Fewest cautions, nothing made worse"),
    }
    return names.get(row.rung, say("Refit"))


def badge_of(row: RungRow) -> str:
    """What sets a rung off: the least that does it, or that it is not proved."""
    from hangar.refit.answer import Rung

    if row.is_today:
        return ""
    if not row.answer.proved:
        return say("not proved best")
    return say("the least that does") if row.rung is Rung.CLEAR else ""


def stays_words(row: RungRow, most: int = 3) -> str:
    """What stays, by the titles of the checks."""
    counted = Counter(unit.rule for unit in left_units(row))
    if not counted:
        return say("nothing that a check warns or cautions of")
    names = [
        f"{_title(slug)} × {count}" if count > 1 else _title(slug)
        for slug, count in list(counted.items())[:most]
    ]
    more = len(counted) - most
    listed = "; ".join(names)
    return say("stays: {list}; and {count} more", list=listed, count=more) if more > 0 else say(
        "stays: {list}", list=listed
    )  # fmt: skip


def left_units(row: RungRow) -> tuple[Unit, ...]:
    """What is open on a rung, gravest first."""
    return tuple(stay.unit for stay in row.answer.stays)


def closing_words(row: RungRow) -> str:
    """What may be said of a rung without a warning; never that it is safe."""
    if row.warnings:
        return ""
    return say("no warning open, if fitted as entered")


def cleared_words(row: RungRow) -> str:
    """What a rung clears, and its work and mass."""
    today, remaining = row.answer.today, row.answer.left
    parts = []
    gone = today.warnings - remaining.warnings
    if gone:
        parts.append(say("clears {count}", count=level_count(Level.WARNING, gone)))
    fewer = today.cautions - remaining.cautions
    if fewer > 0:
        parts.append(say("{count} fewer", count=level_count(Level.CAUTION, fewer)))
    elif fewer < 0:
        parts.append(say("{count} more", count=level_count(Level.CAUTION, -fewer)))
    parts.append(say("{hours:.1f} h of work", hours=remaining.hours))
    if abs(remaining.mass_g) >= 1.0:
        heavier = say("{grams:.0f} g heavier", grams=remaining.mass_g)
        parts.append(
            heavier if remaining.mass_g > 0 else say("{grams:.0f} g lighter", grams=-remaining.mass_g)
        )
    return "; ".join(parts)


def drawback_words(row: RungRow) -> str:
    """The one drawback of a rung: what it brings that is not there today, else what it cannot cure."""
    if row.answer.brings:
        return say("It brings: {list}.", list="; ".join(map(unit_words, row.answer.brings[:3])))
    stay = next((stay for stay in row.answer.stays if put(stay.words)), None)
    return stay_words(stay) if stay is not None else ""


def unit_words(unit: Unit) -> str:
    """A verdict of a check at its places."""
    return put(unit.words)


def stay_words(stay: Stay) -> str:
    """What stays, and why."""
    why = put(stay.words).rstrip(".")
    return say("{what}: {why}", what=unit_words(stay.unit), why=why) if why else unit_words(stay.unit)


def why_not_less(row: RungRow, below: RungRow | None) -> str:
    """What the rung below leaves that this one clears."""
    if below is None:
        return say("There is nothing below this rung.")
    remaining = Counter(left_units(below))
    remaining.subtract(Counter(left_units(row)))
    more = [unit for unit, count in remaining.items() if count > 0]
    if not more:
        return say("The rung below leaves no more than this one.")
    return say(
        "For {saved} less the rung below leaves: {list}.",
        saved=money(row.price - below.price, ""),
        list="; ".join(map(unit_words, more[:6])),
    )


def looks_words(rows: Iterable[RungRow]) -> str:
    """How much was judged in full."""
    looks = max((row.answer.looks for row in rows), default=0)
    return say_plural(
        "{count} refit was judged in full; these are the steps where something changes.",
        "{count} refits were judged in full; these are the steps where something changes.",
        count=looks,
    )


def _title(slug: str) -> str:
    rule = all_rules().get(slug)
    return slug if rule is None else put(rule.title)
