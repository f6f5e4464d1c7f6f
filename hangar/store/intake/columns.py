"""What each column of a table is about, and in which unit: by its heading and by what stands there."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from hangar.store.intake.assign import best_assignment
from hangar.store.intake.blocks import Block, RowClass, channel_of_heading, is_bare_unit
from hangar.store.intake.figures import heading_unit, heading_volts
from hangar.store.intake.profile import Profile, profile_of
from hangar.store.intake.vocabulary import lexicon, tokens, unit_squeezed, units_of

DIMENSION = {
    "torque": "torque", "speed": "speed", "volts": "volts", "rest": "volts", "loaded": "volts",
    "span": "length", "lead": "length", "mass": "mass", "load": "current", "capacity": "charge",
    "measured": "charge", "resistance": "resistance", "load_time": "duration",
}  # fmt: skip
"""The dimension of a role whose cells are quantities."""

_REPEATED = ("torque", "speed", "notes", "price", "group", "output", "work")
_LEAST = 3.5
_GIVEN = 99.0
_LEAST_WITHOUT_HEADING = 5.0
_WHOLE, _MOSTLY, _PARTLY, _LIKE = 12.0, 9.0, 6.0, 5.0


@dataclass(slots=True)
class Column:
    """One column: its role, "" for none, and what goes with it.

    ``unit`` is symbol and factor of a bare number, ``unit_from`` says what told it.
    """

    at: int
    heading: str
    group: str = ""
    role: str = ""
    score: float = 0.0
    unit: tuple[str, float] | None = None
    unit_from: str = ""
    volts: float | None = None
    channel: int | None = None
    function: str = ""
    profile: Profile = field(default_factory=Profile)
    is_twin: bool = False
    address: str = ""
    """By which answers name it: its heading, with its letter where that alone would not tell it."""
    likely: tuple[str, ...] = ()
    """The roles it may have, the likeliest first."""


def columns_of(block: Block, language: str, given: Mapping[str, str] | None = None) -> dict[int, Column]:
    """The columns of a block with their roles; ``given`` are roles that a mapping names by heading."""
    data = [
        row for row in block.rows if row.row_class is RowClass.DATA and row.section not in ("todo", "wish")
    ]
    places = sorted({at for row in data for at in row.cells} | set(block.headings))
    columns = []
    for at in places:
        cells = [row.cells[at] for row in data if at in row.cells]
        column = Column(at, block.heading(at), block.group(at), profile=profile_of(cells, language))
        columns.append(column)
    scores = [_scores(column, number, block) for number, column in enumerate(columns)]
    _address(columns, block.grid.is_transposed)
    for column, score in zip(columns, scores, strict=True):
        column.likely = tuple(
            sorted((role for role in score if score[role] > 0), key=lambda role: -score[role])
        )
    lines = [_said(column, given or {}) for column in columns]
    _settle(columns, _with_said(scores, lines))
    for column, words in zip(columns, lines, strict=True):
        if words:
            _as_given(column, words)
    return {column.at: column for column in columns}


def column_letter(at: int) -> str:
    """What a spreadsheet calls a column.

    >>> column_letter(1), column_letter(28)
    ('A', 'AB')
    """
    letters = ""
    while at > 0:
        at, rest = divmod(at - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def _address(columns: list[Column], is_transposed: bool) -> None:
    counts = Counter(column.heading for column in columns)
    for column in columns:
        column.address = column.heading
        if not column.heading or counts[column.heading] > 1:
            place = f"row {column.at}" if is_transposed else f"column {column_letter(column.at)}"
            column.address = f"{column.heading} ({place})" if column.heading else place


def _said(column: Column, given: Mapping[str, str]) -> str:
    return given.get(column.address, "") or given.get(column.heading, "")


def _with_said(scores: list[dict[str, float]], lines: list[str]) -> list[dict[str, float]]:
    """The scores where a role that was said of one column is no other's."""
    roles = [re.sub(r"\s*\[.*", "", words).strip() for words in lines]
    taken = {role for role in roles if role not in _REPEATED}
    return [
        ({} if role == "unused" else {role: _GIVEN})
        if role
        else {name: worth for name, worth in score.items() if name not in taken}
        for role, score in zip(roles, scores, strict=True)
    ]


def _as_given(column: Column, words: str) -> None:
    """Take a role as a mapping says it: "torque [N·cm]", "channel", "unused"."""
    match = re.fullmatch(r"\s*([a-z_ ]+?)\s*(?:\[(.+)\])?\s*", words)
    if match is None:
        return
    column.role = "" if match[1] == "unused" else match[1]
    column.score = _GIVEN
    dimension = DIMENSION.get(column.role)
    unit = units_of(dimension).get(unit_squeezed(match[2])) if dimension and match[2] else None
    if unit:
        column.unit, column.unit_from = (unit.symbol, unit.factor), "mapping"


def _settle(columns: list[Column], scores: list[dict[str, float]]) -> None:
    single = sorted({role for score in scores for role in score if role not in _REPEATED})
    repeated = [role for role in _REPEATED if any(role in score for score in scores)]
    # A role that may be repeated has a place for each column.
    places = single + [role for role in repeated for _ in columns]
    worth = [
        [score.get(role, 0.0) - _least(column) for role in places]
        for column, score in zip(columns, scores, strict=True)
    ]
    for column, score, place in zip(columns, scores, best_assignment(worth), strict=True):
        if place >= 0:
            column.role = places[place]
            column.score = score[column.role]
            _qualify(column)
    _mark_twins(columns)


def _least(column: Column) -> float:
    return _LEAST if column.heading else _LEAST_WITHOUT_HEADING


def _qualify(column: Column) -> None:
    if column.role == "output":
        column.channel = channel_of_heading(column.heading)
    if column.role == "work":
        column.function = column.heading
    if column.role in ("torque", "speed"):
        column.volts = heading_volts(column.heading) or heading_volts(column.group)
    dimension = DIMENSION.get(column.role)
    if dimension:
        column.unit = heading_unit(column.heading, dimension) or heading_unit(column.group, dimension)
        column.unit_from = "heading" if column.unit else ""
        if column.unit is None and dimension in ("volts", "current", "charge", "resistance"):
            column.unit, column.unit_from = (
                {
                    "volts": ("V", 1.0),
                    "current": ("A", 1.0),
                    "charge": ("mAh", 1.0),
                    "resistance": ("mΩ", 1.0),
                }[dimension],
                "only one",
            )
        if column.unit is None and dimension in ("speed", "duration"):
            column.unit, column.unit_from = ("s/60°" if dimension == "speed" else "s", 1.0), "only one"


def _mark_twins(columns: list[Column]) -> None:
    """Of two columns of one rating the later one, in another unit, says the same again."""
    for role in ("torque", "speed"):
        seen: list[Column] = []
        for column in (column for column in columns if column.role == role):
            rival = next((other_column for other_column in seen if other_column.volts == column.volts), None)
            if rival is not None:
                weaker = column if rival.profile.count >= column.profile.count else rival
                weaker.is_twin = True
            seen.append(column)


def _scores(column: Column, number: int, block: Block) -> dict[str, float]:
    heading = _of_heading(column)
    scores: dict[str, float] = {}
    for role in {*heading, *_BY_CONTENT_ALONE} if column.profile.count else set(heading):
        named = heading.get(role, 0.0)
        content = _content(role, column)
        if named <= 0 and (role not in _BY_CONTENT_ALONE or column.heading):
            # A heading that says something else outweighs what stands below it, unless that is plain.
            content -= 2.0 if role in _BY_CONTENT_ALONE and not heading else 6.0
        scores[role] = named + content
    if number == 0 and "aircraft" in scores:
        scores["aircraft"] += 2.0
    if number == 0 and not column.heading and column.profile.count and column.profile.share("number") < 0.5:
        scores["aircraft"] = max(scores.get("aircraft", 0.0), 6.0 if block.grid.is_transposed else 5.5)
    return scores


def _of_heading(column: Column) -> dict[str, float]:
    scores: dict[str, float] = {}
    text, group = column.heading, column.group
    if not text:
        return scores
    if channel_of_heading(text) is not None or (text.isdigit() and lexicon("roles").means(group, "channel")):
        return {"output": _WHOLE}
    if is_bare_unit(text):
        scores |= _of_unit(text)
    plain = _without_unit(text)
    words = tokens(plain)
    count = max(1, sum(not word.word.isdigit() for word in words))
    # A unit at the end belongs to a phrase ("load V"), or it is no word of its own ("Kracht (N cm)").
    phrases = [hit for hit in lexicon("roles").find(text) if hit.words > 1]
    for hit in (*phrases, *lexicon("roles").find(plain)):
        share = hit.words / count
        scores[hit.meaning] = max(
            scores.get(hit.meaning, 0.0),
            _WHOLE if share >= 1 else _MOSTLY if share >= 0.66 else _PARTLY if share >= 0.4 else 3.0,
        )
    if not scores and len(words) == 1:
        scores |= dict.fromkeys(lexicon("roles").like(words[0].word), _LIKE)
    _of_group(scores, group)
    works = lexicon("functions").find(text)
    if works and sum({hit.start: hit.words for hit in works}.values()) >= max(1, len(tokens(text)) - 1):
        scores["work"] = 8.0
    return scores


def _of_unit(text: str) -> dict[str, float]:
    plain = unit_squeezed(re.sub(r"@?\s*\d+[.,]?\d*\s*v?$", "", text.lower()))
    return {role: weight for role, weight in _UNIT_ONLY.items() if plain in units_of(DIMENSION[role])}


_UNIT_ONLY = {"torque": 10.0, "speed": 10.0, "volts": 10.0, "mass": 6.0, "load": 6.0, "span": 4.0}
"""What a heading that is nothing but a unit says."""


def _of_group(scores: dict[str, float], group: str) -> None:
    """A heading above the headings narrows what those below it mean."""
    if not group:
        return
    meanings = lexicon("roles").meanings(group)
    if "servo" in meanings:
        for role in ("maker", "model", "drive", "torque", "speed", "volts"):
            if role in scores:
                scores[role] += 4.0
        scores.pop("aircraft", None)
        scores.pop("class", None)
    if "pack" in meanings:
        for role in ("chemistry", "cells", "capacity", "pack", "bought"):
            if role in scores:
                scores[role] += 4.0
        for role in ("aircraft", "drive", "model"):
            scores.pop(role, None)


def _without_unit(text: str) -> str:
    plain = re.sub(r"[(\[].*?[)\]]", " ", text)
    for dimension in ("torque", "speed", "volts", "length", "mass", "charge", "current", "resistance"):
        parts = tokens(plain)
        for count in (3, 2, 1):
            if len(parts) > count and unit_squeezed(
                "".join(part.word for part in parts[-count:])
            ) in units_of(dimension):
                return plain[: parts[-count].start]
    return plain


def _lean(share: float, weight: float) -> float:
    """From -weight where nothing fits to +weight where all does."""
    return weight * (2 * share - 1)


def _content(role: str, column: Column) -> float:
    judge = _CONTENT.get(role)
    return judge(column.profile) if judge and column.profile.count else 0.0


def _aircraft(profile: Profile) -> float:
    against = max(
        profile.share("drive"), profile.share("pack"), profile.share("day"), profile.share("work only") * 0.8
    )
    bare = profile.share("bare")
    return 5.0 - 12.0 * against - 10.0 * bare - 4.0 * profile.share("long")


def _servo(profile: Profile) -> float:
    against = max(profile.share("pack"), profile.share("day"), profile.share("drive"), profile.share("bare"))
    return (
        _lean(max(profile.share("type"), 0.45), 5.0)
        - 9.0 * against
        - 5.0 * max(0.0, profile.share("work only") - profile.share("type"))
    )


def _model(profile: Profile) -> float:
    return _servo(profile) - 1.0


def _maker(profile: Profile) -> float:
    return (
        _lean(profile.share("alpha"), 4.0) - 6.0 * profile.share("work only") - 3.0 * profile.share("drive")
    )


def _torque(profile: Profile) -> float:
    return (
        _lean(profile.share("number"), 5.0)
        - 6.0 * profile.share("day")
        - 4.0 * (1 - profile.within(0.1, 900))
        if profile.numbers
        else -5.0
    )


def _days(profile: Profile) -> float:
    return _lean(profile.share("day"), 6.0)


def _numbers(low: float, high: float, weight: float = 4.0) -> Callable[[Profile], float]:
    return lambda profile: _lean(profile.within(low, high), weight)


def _like(what: str, weight: float) -> Callable[[Profile], float]:
    return lambda profile: _lean(profile.share(what), weight)


def _notes(profile: Profile) -> float:
    return 1.0 - 3.0 * profile.share("bare")


def _tag(profile: Profile) -> float:
    return (
        2.0
        - 5.0 * profile.share("pack")
        - 4.0 * profile.share("long")
        - 5.0 * (profile.share("distinct") < 0.34)
    )


def _description(profile: Profile) -> float:
    return 2.0 - 6.0 * profile.share("bare")


def _power(profile: Profile) -> float:
    return _lean(profile.share("power"), 3.0) - 8.0 * profile.share("pack") - 5.0 * profile.share("bare")


def _class(profile: Profile) -> float:
    return (
        _lean(profile.share("class"), 4.0)
        - 8.0 * profile.share("drive")
        - 8.0 * profile.share("pack")
        - 6.0 * profile.share("type")
        - 5.0 * profile.share("bare")
    )


def _channel(profile: Profile) -> float:
    outside = 1 - profile.within(0, 33) if profile.numbers else 0.5
    return _lean(profile.share("channel"), 6.0) - 8.0 * outside


def _function(profile: Profile) -> float:
    return _lean(profile.share("function"), 7.0) - 6.0 * max(0.0, profile.share("type") - 0.3)


def _speed(profile: Profile) -> float:
    in_range = max(profile.within(0.02, 1.6), profile.within(20, 900))
    return _lean(profile.share("number"), 3.0) + _lean(in_range, 3.0)


def _work(profile: Profile) -> float:
    return _lean(max(profile.share("type"), profile.share("function")), 6.0) - 10.0 * profile.share("bare")


def _any(_: Profile) -> float:
    return 1.0


_CONTENT: dict[str, Callable[[Profile], float]] = {
    "aircraft": _aircraft,
    "channel": _channel,
    "function": _function,
    "side": _like("side", 7.0),
    "servo": _servo,
    "model": _model,
    "maker": _maker,
    "drive": lambda profile: _lean(profile.share("drive"), 9.0),
    "torque": _torque,
    "speed": _speed,
    "volts": lambda profile: _lean(profile.within(2.4, 15.0), 5.0) - 4.0 * profile.share("pack"),
    "fitted": _days,
    "removed": _days,
    "bought": _days,
    "tested": _days,
    "pack": lambda profile: _lean(profile.share("pack"), 8.0),
    "chemistry": lambda profile: _lean(profile.share("chemistry"), 8.0),
    "cells": _numbers(1, 14),
    "capacity": lambda profile: _numbers(100, 30_000)(profile) - 8.0 * profile.share("pack"),
    "measured": _numbers(50, 30_000),
    "load": _numbers(0.05, 60),
    "rest": _numbers(1, 70),
    "loaded": _numbers(1, 70),
    "load_time": _numbers(1, 120),
    "resistance": _numbers(0.3, 1000),
    "cycles": _numbers(0, 5000),
    "lead": lambda profile: _numbers(0.1, 6000)(profile) - 4.0 * profile.share("day"),
    "span": _numbers(0.2, 12_000),
    "mass": _numbers(0.01, 150_000),
    "price": _numbers(0, 100_000),
    "count": _numbers(0, 10_000),
    "notes": _notes,
    "tag": _tag,
    "description": _description,
    "power": _power,
    "class": _class,
    "place": _like("place", 3.0),
    "owner": _any,
    "output": lambda profile: _lean(max(profile.share("function"), profile.share("type")), 4.0),
    "work": _work,
    "group": _any,
}  # fmt: skip
ROLES = tuple(_CONTENT)
"""Every role that a column may have."""

_BY_CONTENT_ALONE = ("channel", "function", "drive", "pack", "servo", "fitted", "notes")
"""Roles that what stands in a column can show without a heading."""


def unit_of_text(text: str, role: str) -> tuple[str, float] | None:
    """The unit that a title or a legend gives for a role, as in "Torque in N cm"."""
    dimension = DIMENSION[role]
    known = units_of(dimension)
    places = [hit.end for hit in lexicon("roles").find(text) if hit.meaning == role]
    # A unit of two parts such as N cm can only be that of a torque.
    start = min(places) if places else 0 if role == "torque" else len(text)
    words = re.findall(r"[A-Za-zµΩ]+|\d+|[\"']", text[start : start + 80])
    for count in (3, 2, 1):
        for at in range(len(words) - count + 1):
            squeezed = unit_squeezed("".join(words[at : at + count]))
            if squeezed in known and (
                len(squeezed) > 2 or (places and len(squeezed) == 2 and role != "torque")
            ):
                return known[squeezed].symbol, known[squeezed].factor
    return None
