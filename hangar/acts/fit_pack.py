"""A pack fitted with its switch, regulator, path and lead by one edit."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date

from hangar.acts.stock import take_from_stock
from hangar.answers.bay import counted_on
from hangar.answers.reading import Records
from hangar.base.errors import BadInput
from hangar.base.text import Text, text
from hangar.parts import (
    Aircraft,
    Feed,
    Pack,
    PackFit,
    PackType,
    Regulator,
    RegulatorType,
    Switch,
    SwitchType,
)
from hangar.parts.choices import Chemistry, PackJoin, PackState, SwitchKind
from hangar.parts.fields import key_of
from hangar.store import Edit

FIRST_PACK = "B001"


@dataclass(frozen=True, kw_only=True)
class PackWork:
    """A pack and what joins it to the bus; what is empty or None stays as it is recorded.

    Attributes:
        pack: the pack's tag. One that is not in the fleet is entered; empty takes the next free tag.
        pack_type: its type, or the words of one that tell chemistry, cells and capacity, such as
            ``NiMH 5 cells 1500 mAh``. Not needed of a pack in the fleet.
        path: the power path; empty takes the first that feeds the radio, or a new one.
        switch_type: the switch in the path, by type.
        switch_kind: what kind a switch type is that the library lacks.
        regulator_type: the regulator in the path, by type; one that the library lacks is entered by its name.
        set_v: what the regulator is set to.
        lead_mm: length of the lead from pack to bus.
        lead_awg: its gauge.
    """

    pack: str = ""
    pack_type: str = ""
    path: str = ""
    switch_type: str = ""
    switch_kind: SwitchKind | None = None
    regulator_type: str = ""
    set_v: float | None = None
    lead_mm: float | None = None
    lead_awg: int | None = None


def fit_pack(edit: Edit, aircraft: Aircraft, work: PackWork, today: date) -> Text:
    """Fit a pack with everything between it and the bus.

    The pack that is in the path goes out of it; one that is in another aircraft leaves that.

    Raises: BadInput for a pack of another type than said, one that is retired or in quarantine, a pack type
        that tells too little, or a switch type whose kind is not known.
    """
    feed = _path(edit, aircraft, work.path)
    tag = _pack(edit, work)
    feed = _switch(edit, feed, work, today)
    feed = _regulator(edit, feed, work)
    if work.lead_mm is not None:
        feed = replace(feed, lead_length_mm=work.lead_mm)
    if work.lead_awg is not None:
        feed = replace(feed, lead_awg=work.lead_awg)
    edit.put(feed)
    _change_packs(edit, feed, tag, today)
    return text("Fit pack {pack} in {path}", pack=tag, path=feed.code)


def next_pack_tag(edit: Records) -> str:
    """A pack tag that is free."""
    return counted_on([pack.tag for pack in edit.records(Pack)], FIRST_PACK)


def _path(edit: Edit, aircraft: Aircraft, code: str) -> Feed:
    if code:
        return edit.record(Feed, aircraft.code, code) or Feed(aircraft=aircraft.code, code=code)
    radio = [path.feed for path in aircraft.radio_paths] or [path.feed for path in aircraft.paths]
    return radio[0] if radio else Feed(aircraft=aircraft.code, code="RX-A")


def _pack(edit: Edit, work: PackWork) -> str:
    tag = work.pack.strip() or next_pack_tag(edit)
    pack = edit.record(Pack, tag)
    if pack is not None:
        if work.pack_type and pack.pack_type != work.pack_type:
            raise BadInput(
                "Pack {tag} is a {other}, not a {type}; choose another tag.",
                tag=tag,
                other=pack.pack_type,
                type=work.pack_type,
            )
        if pack.state in (PackState.QUARANTINE, PackState.RETIRED):
            raise BadInput("Pack {tag} is {state}; choose another one.", tag=tag, state=pack.state)
        if pack.state is PackState.STORAGE:
            edit.change(Pack, (tag,), state=PackState.IN_USE)
        return tag
    kind = _pack_type(edit, work.pack_type.strip(), tag)
    edit.put(Pack(tag=tag, pack_type=kind))
    take_from_stock(edit, kind)
    return tag


def _pack_type(edit: Edit, words: str, tag: str) -> str:
    if not words:
        raise BadInput("Pack {tag} is not in the fleet; say what type it is.", tag=tag)
    if edit.record(PackType, words) is None:
        edit.put(pack_type_of(words))
    return words


def pack_type_of(words: str) -> PackType:
    """The pack type that words tell of, such as ``NiMH 5 cells 1500 mAh``; the words are its name.

    Raises: BadInput where chemistry, cells or capacity are not in them.
    """
    from hangar.store.intake.packs import read_pack

    pack_read = read_pack(words)
    if pack_read is None or not (
        pack_read.is_whole and pack_read.chemistry and pack_read.series and pack_read.capacity_mah
    ):
        raise BadInput(
            '"{words}" does not tell what pack it is; chemistry, cells and capacity are wanted, '
            "such as NiMH 5 cells 1500 mAh.",
            words=words,
        )
    return PackType(
        code=words, chemistry=Chemistry(pack_read.chemistry), series=pack_read.series,
        parallel=pack_read.parallel, capacity_mah=pack_read.capacity_mah,
    )  # fmt: skip


def _switch(edit: Edit, feed: Feed, work: PackWork, today: date) -> Feed:
    kind = work.switch_type.strip()
    if not kind:
        return feed
    if edit.record(SwitchType, kind) is None:
        if work.switch_kind is None:
            raise BadInput(
                "{type} is no switch type in the library; say what kind of switch it is.", type=kind
            )
        edit.put(SwitchType(code=kind, switch=work.switch_kind))
    code = feed.switch or _free(edit, Switch, feed.aircraft, "SW")
    there = edit.record(Switch, feed.aircraft, code)
    if there is None or there.switch_type != kind:
        edit.put(Switch(aircraft=feed.aircraft, code=code, switch_type=kind, fitted_on=today))
        take_from_stock(edit, kind)
    return replace(feed, switch=code)


def _regulator(edit: Edit, feed: Feed, work: PackWork) -> Feed:
    kind = work.regulator_type.strip()
    there = edit.record(Regulator, feed.aircraft, feed.regulator) if feed.regulator else None
    if not kind:
        if work.set_v is not None:
            if there is None:
                raise BadInput("There is no regulator in {path} to set; say which one it is.", path=feed.code)
            edit.put(replace(there, set_v=work.set_v))
        return feed
    if edit.record(RegulatorType, kind) is None:
        edit.put(RegulatorType(code=kind))
    code = feed.regulator or _free(edit, Regulator, feed.aircraft, "REG")
    if there is None or there.regulator_type != kind:
        edit.put(Regulator(aircraft=feed.aircraft, code=code, regulator_type=kind, set_v=work.set_v))
        take_from_stock(edit, kind)
    elif work.set_v is not None:
        edit.put(replace(there, set_v=work.set_v))
    return replace(feed, regulator=code)


def _free(edit: Edit, kind: type[Switch] | type[Regulator], aircraft: str, stem: str) -> str:
    taken = {part.code for part in edit.records(kind, aircraft=aircraft)}
    return next(code for number in range(1, 99) if (code := f"{stem}-{number}") not in taken)


def _change_packs(edit: Edit, feed: Feed, tag: str, today: date) -> None:
    mine = edit.records(PackFit, pack=tag, until_on=None)
    if any((stay.aircraft, stay.feed) == (feed.aircraft, feed.code) for stay in mine):
        return
    here: tuple[PackFit, ...] = ()
    if feed.join is PackJoin.SINGLE:
        here = edit.records(PackFit, aircraft=feed.aircraft, feed=feed.code, until_on=None)
    for stay in (*mine, *here):
        edit.change(PackFit, key_of(stay), until_on=max(today, stay.since_on))
    edit.put(PackFit(pack=tag, aircraft=feed.aircraft, feed=feed.code, since_on=today))
