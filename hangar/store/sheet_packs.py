"""What the boxes of a sheet say of packs: load tests and charges."""

from __future__ import annotations

from hangar.base.errors import BadInput, words_of
from hangar.base.text import text
from hangar.parts import Charge, LoadTest, Pack
from hangar.parts.choices import PackState
from hangar.store.filled_sheet import Answer, FilledSheet, moment_of, pack_with_type

PACK_FIELDS = {"At rest": "rest_v", "Load": "load_a", "Read": "loaded_v"}
_HIGHEST_CELL_V = 4.4
"""No cell that is kept here shows more at rest; lithium polymer for high voltage ends at 4.35 V."""

_NOT_USED = (PackState.QUARANTINE, PackState.RETIRED)


def take_pack(filled: FilledSheet, answer: Answer) -> None:
    """One of the three numbers of a load test."""
    name = PACK_FIELDS[answer.what]
    # The load is printed in its box; alone it says nothing.
    if name == "load_a" and filled.other(answer, "Read") is None:
        return
    value = filled.number(answer, LoadTest, name)
    if value is not None:
        filled.tests.setdefault(answer.about, {})[name] = (value, answer)


def take_tested(filled: FilledSheet, answer: Answer) -> None:
    """The tick of a test counts by its readings."""
    if filled.other(answer, "Read") is None:
        filled.refuse(answer, text("is ticked, but the volts under load are not given; no test was taken."))


def take_tests(filled: FilledSheet) -> None:
    """Write the load tests that the boxes make up."""
    for tag, read in filled.tests.items():
        _take_test(filled, tag, read)


def _take_test(filled: FilledSheet, tag: str, read: dict[str, tuple[float, Answer]]) -> None:
    pack, kind = pack_with_type(filled.edit, tag)
    rest_v = read["rest_v"][0] if "rest_v" in read else None
    if rest_v is not None:
        answer = read["rest_v"][1]
        if kind is not None and rest_v > kind.series * _HIGHEST_CELL_V:
            filled.doubt(
                answer, text("is much for {series} cells; was the point left out?", series=kind.series)
            )
        if pack is not None and filled.is_news(answer, pack.rest_on):
            filled.change(answer, Pack, (tag,), rest_v=rest_v, rest_on=filled.day)
    elif pack is not None and pack.rest_on == filled.day:
        rest_v = pack.rest_v
    if "loaded_v" not in read:
        return
    loaded_v, answer = read["loaded_v"]
    if rest_v is None:
        filled.refuse(answer, text("is given without the volts at rest; a load test needs both."))
    elif "load_a" not in read:
        filled.refuse(answer, text("is given without a load that can be read; a load test needs it."))
    elif loaded_v > rest_v:
        filled.refuse(
            answer, text("is above the volts at rest, {rest_v:g} V; allowed is that or less.", rest_v=rest_v)
        )
    else:
        test = LoadTest(
            pack=tag,
            tested_at=filled.moment,
            aircraft=filled.aircraft or None,
            load_a=read["load_a"][0],
            rest_v=rest_v,
            loaded_v=loaded_v,
            by=filled.by,
        )
        filled.put_over(test, answer, text("load test"))


def take_charged(filled: FilledSheet, answer: Answer) -> None:
    """The day a pack was charged last, where the records do not say so yet."""
    pack = filled.edit.record(Pack, answer.about)
    try:
        day = moment_of(answer.text, filled.today).date()
    except BadInput as fault:
        filled.refuse(answer, text("cannot be read: {fault}", fault=words_of(fault)))
        return
    if day > filled.today:
        filled.refuse(
            answer, text("lies after today, {today}; allowed is that day or one before.", today=filled.today)
        )
    elif pack is not None and (pack.charged_on is None or pack.charged_on <= day):
        filled.change(answer, Pack, (answer.about,), charged_on=day)


def take_charge(filled: FilledSheet, answer: Answer) -> None:
    """A charge that was given: its tick, or what was put back."""
    charge = filled.charges.setdefault(answer.about, {})
    if answer.what == "Put back":
        value = filled.number(answer, Charge, "put_back_mah")
        if value is None:
            return
        charge["put_back_mah"] = value
    charge["answer"] = answer


def take_charges(filled: FilledSheet) -> None:
    """Write the charges that the boxes make up."""
    for tag, read in filled.charges.items():
        answer = read.pop("answer", None)
        pack, _ = pack_with_type(filled.edit, tag)
        if answer is None or pack is None:
            continue
        if pack.state in _NOT_USED:
            filled.doubt(
                answer, text("is of a pack that is {state} and must not be charged.", state=pack.state)
            )
        filled.put_over(Charge(pack=tag, charged_at=filled.moment, **read), answer, text("charge"))
        if filled.is_news(answer, pack.charged_on):
            filled.change(answer, Pack, (tag,), charged_on=filled.day)
