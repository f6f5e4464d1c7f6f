"""The changes that can be made to a fleet within one edit; each is noted for the journal."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path
from typing import Any, TypeVar

from sqlalchemy.exc import DataError, IntegrityError

from hangar.base.errors import BadInput, StoreFault
from hangar.base.text import NOTHING, fixed, listed
from hangar.parts import (
    KIND_BY_NAME,
    Attachment,
    Channel,
    FieldOrigin,
    Installation,
    Pack,
    PackFit,
    PaperPlace,
    Position,
    Record,
    Servo,
)
from hangar.parts.choices import PackState, ServoState
from hangar.parts.fields import columns, key_of
from hangar.store.codec import Key, checked_values, name_of, reader_of, shape_of
from hangar.store.faults import links_to
from hangar.store.journal import Step, apply, follow_rename
from hangar.store.origins import rename_origins, settle_origins
from hangar.store.papers import (
    Owner,
    chosen_place,
    content_of,
    forget_unnamed,
    keep_beside,
    keep_inside,
    new_attachment,
    place_beside,
    taken_paper,
)
from hangar.store.record_rows import Rows, checked_key, key_of_values, missing

R = TypeVar("R", bound=Record)
Row = dict[str, Any]


class Edit:
    """Handed to the work of :meth:`Fleet.edit`; what it does stands or falls as a whole."""

    def __init__(self, stored: Rows, path: Path | None = None) -> None:
        self._stored = stored
        self._path = path
        self.steps: list[Step] = []
        self.about = NOTHING
        """The record in hand, for a fault that only the database notices."""
        self._doubted: bool | None = None

    def record(self, kind: type[R], *key: Any) -> R | None:
        """The record with this key as it stands within the edit."""
        return self._stored.record(kind, key)

    def records(self, kind: type[R], /, **equal: Any) -> tuple[R, ...]:
        """The records whose fields equal the given ones, as they stand within the edit."""
        return self._stored.records(kind, **equal)

    def keys(self, kind: type[Record]) -> set[Key]:
        """The keys of all records of a kind."""
        return self._stored.keys(kind)

    def rows_by_key(self, kind: type[Record]) -> dict[Key, Row]:
        """The field values of all records of a kind, found by their keys."""
        return {key_of_values(kind, row): row for row in self._stored.rows(kind)}

    def put(self, record: Record) -> None:
        """Write a record: a new one, or in place of the one with the same key.

        Child records it carries become the whole set of its children; when it carries none, the
        children in the file stay.

        Raises: BadInput naming the record, the field, what was found and what is allowed.
        """
        kind, values = type(record), checked_values(record)
        if kind is FieldOrigin:
            self._doubted = True
        key = key_of_values(kind, values)
        self.about = name_of(kind, key)
        before = self._stored.row(kind, key)
        if before is None:
            self._note(Step(kind, None, values))
            self._stored.insert(kind, [values])
        else:
            self._rewrite(kind, key, before, values)
        self._put_children(record, key)

    def put_all(self, records: Iterable[Record]) -> None:
        """Write many records at once, whole kinds together; same meaning as :meth:`put` for each."""
        by_kind: dict[type[Record], list[Record]] = {}
        for record in records:
            by_kind.setdefault(type(record), []).append(record)
        for kind, some in by_kind.items():
            self._put_kind(kind, some)

    def change(self, kind: type[Record], key: Sequence[Any], /, **values: Any) -> None:
        """Give some fields of a record other values.

        Raises: BadInput for a record or field that is not there, a key field, or an impossible value.
        """
        before = self._row(kind, key)
        record = reader_of(kind)(tuple(before.values()))
        names = {spec.name for spec in columns(kind)}
        for name in values:
            if name not in names:
                raise BadInput(
                    "{kind} has no field {name}; it has {names}.",
                    kind=fixed(kind.TITLE),
                    name=name,
                    names=listed(sorted(names), joint=",", most=0),
                )
            if name in kind.KEY and values[name] != before[name]:
                raise BadInput(
                    "{name} names the {kind}; rename it instead of changing the field.",
                    name=name,
                    kind=fixed(kind.TITLE),
                )
        changed = checked_values(dataclasses.replace(record, **values))  # type: ignore[type-var]
        self._rewrite(kind, key_of_values(kind, before), before, changed)

    def remove(self, kind: type[Record], key: Sequence[Any]) -> None:
        """Take a record away with everything that belongs to it.

        A servo that loses its place goes to the bay. What only names the record is not touched: as
        long as something does, the edit fails.
        """
        before = self._row(kind, key)
        plain = key_of_values(kind, before)
        for other, fields, owned in links_to(kind):
            if owned:
                for row in self._stored.rows(other, **dict(zip(fields, plain, strict=True))):
                    self.remove(other, key_of_values(other, row))
        self._note(Step(kind, before, None))
        self._stored.delete(kind, [plain])
        if self._has_origins():
            settle_origins(self, kind, plain)
        if kind is Installation and before["until_on"] is None:
            self._to_bay(before["servo"])

    def take(self, steps: Sequence[Step]) -> None:
        """Take steps that were worked out beside the edit, such as the way back to a copy of the fleet."""
        apply(self._stored, steps)
        self.steps += steps

    def rename(self, kind: type[Record], old_key: Sequence[Any], new_key: Sequence[Any]) -> None:
        """Give a record another key; everything that names it follows.

        Raises: BadInput when the new key is taken or impossible.
        """
        before = self._row(kind, old_key)
        old, new = key_of_values(kind, before), checked_key(kind, new_key)
        if old == new:
            return
        if self._stored.row(kind, new) is not None:
            raise BadInput("There is a {record} already; choose another name.", record=name_of(kind, new))
        record = reader_of(kind)(tuple(before.values()))
        renamed = dataclasses.replace(record, **dict(zip(kind.KEY, new, strict=True)))  # type: ignore[type-var]
        self._rewrite(kind, old, before, checked_values(renamed))
        follow_rename(self._stored, kind, old, new)
        if self._has_origins():
            rename_origins(self, kind, old, new)

    def fit_servo(
        self, tag: str, aircraft: str, position: str, on: date, why: str = "", **fields: Any
    ) -> None:
        """Fit a servo at a position, ending its other open stays and the position's present one.

        Args:
            tag: the servo's tag; a scrapped servo is refused.
            aircraft: code of the aircraft.
            position: code of the position.
            on: day of the change.
            why: reason, kept with the stay that begins, and with those that end and have none yet.
            fields: other fields of the installation (arm_teeth, screws_fitted ...).
        """
        servo = self._row(Servo, (tag,))
        self._row(Position, (aircraft, position))
        if servo["state"] == ServoState.SCRAPPED:
            raise BadInput("servo {tag} is scrapped; put it in Stores before fitting it.", tag=tag)
        here = [
            row for row in self._open(servo=tag) if (row["aircraft"], row["position"]) == (aircraft, position)
        ]
        stay = here[0] if here else {"since_on": on, "why": why or None}
        self._end_stays(self._open(servo=tag), on, why, but=stay)
        for row in self._open(aircraft=aircraft, position=position):
            if row["servo"] != tag:
                self._end_stays([row], on, why)
                self._to_bay(row["servo"])
        given = {
            **stay,
            **fields,
            "servo": tag,
            "aircraft": aircraft,
            "position": position,
            "disputed": False,
        }
        self.put(Installation(**given))
        self.change(Servo, (tag,), state=ServoState.FITTED, bin=None)

    def unfit_servo(self, tag: str, on: date, state: ServoState = ServoState.IN_BAY, why: str = "") -> None:
        """Take a servo out of wherever it is; ``state`` says what becomes of it."""
        self._row(Servo, (tag,))
        stays = self._open(servo=tag)
        if not stays:
            raise BadInput("servo {tag} is not fitted anywhere.", tag=tag)
        self._end_stays(stays, on, why)
        self.change(Servo, (tag,), state=state)

    def set_pack_state(self, tag: str, state: PackState, on: date) -> None:
        """Say what becomes of a pack; one that is quarantined or retired leaves its aircraft on that day."""
        self.change(Pack, (tag,), state=state)
        if state in (PackState.QUARANTINE, PackState.RETIRED):
            for row in self._stored.rows(PackFit, pack=tag, until_on=None):
                # A stay entered for a later day ends where it begins.
                self.change(PackFit, key_of_values(PackFit, row), until_on=max(on, row["since_on"]))

    def swap_channels(self, aircraft: str, port: str, first: int, second: int) -> None:
        """Exchange two outputs of a port: their settings and what is plugged into them."""
        channel, other = (
            self.record(Channel, aircraft, port, first),
            self.record(Channel, aircraft, port, second),
        )
        if channel is None and other is None:
            raise missing(Channel, (aircraft, port, first))
        if channel is None or other is None:
            old, new = (first, second) if channel else (second, first)
            self.rename(Channel, (aircraft, port, old), (aircraft, port, new))
            return
        if first == second:
            return
        plugged = {number: self._stored.rows(Position, aircraft=aircraft, port=port, channel=number)
                   for number in (first, second)}  # fmt: skip
        self.put(dataclasses.replace(channel, number=second))
        self.put(dataclasses.replace(other, number=first))
        for old, new in ((first, second), (second, first)):
            for row in plugged[old]:
                self.change(Position, key_of_values(Position, row), channel=new)

    def attach(
        self,
        source: Path,
        owner: Owner,
        on: date,
        place: PaperPlace | None = None,
        notes: str | None = None,
    ) -> Attachment:
        """Take a photo or paper in under a free name; it is copied, the source stays.

        Inside the fleet file a photo of many points is kept thinned.

        Args:
            source: the file to take.
            owner: the aircraft, servo or pack it belongs to, or none for the fleet.
            on: day it is taken in.
            place: inside the fleet file or in the folder beside it; the keeper's choice without it.
            notes: what it shows.

        Raises: BadInput when it cannot be read or is too large; StoreFault when it cannot be written.
        """
        settled = chosen_place(self._stored, place)
        paper = taken_paper(source, settled)
        made = dataclasses.replace(new_attachment(self._stored, paper, owner, settled, on), notes=notes)
        self.keep_paper(made, paper.content)
        self.put(made)
        return made

    def keep_paper(self, attachment: Attachment, content: bytes, dry_run: bool = False) -> None:
        """Put a paper's bytes where its record says they lie; a rehearsal writes no file."""
        if attachment.place is PaperPlace.INSIDE:
            keep_inside(self._stored, content, attachment.name)
        elif dry_run:
            place_beside(self._path, attachment)
        else:
            keep_beside(self._path, attachment, content)

    def has_paper(self, attachment: Attachment) -> bool:
        """Whether the bytes of a paper are there."""
        try:
            content_of(self._stored, self._path, attachment)
        except (BadInput, StoreFault):
            return False
        return True

    def forget_removed_papers(self) -> None:
        """Free the room of papers that were removed; undoing their removal then brings the entry only."""
        forget_unnamed(self._stored)

    def _row(self, kind: type[Record], key: Sequence[Any]) -> Row:
        plain = checked_key(kind, key)
        self.about = name_of(kind, plain)
        stored = self._stored.row(kind, plain)
        if stored is None:
            raise missing(kind, plain)
        return stored

    def _has_origins(self) -> bool:
        """Whether anything of the fleet is doubted: asked once, for most fleets have nothing of the kind."""
        if self._doubted is None:
            self._doubted = bool(self._stored.keys(FieldOrigin))
        return self._doubted

    def _note(self, step: Step) -> None:
        self.steps.append(step)

    def _rewrite(self, kind: type[Record], key: Key, before: Row, values: Row) -> None:
        if values != before:
            self._note(Step(kind, before, values))
            self._stored.update(kind, key, values)
            changed = {name for name in values if values[name] != before[name]} - set(kind.KEY)
            if self._has_origins():
                settle_origins(self, kind, key, changed)

    def _put_children(self, record: Record, key: Key) -> None:
        for name, child_name in shape_of(type(record)).children:
            wanted: tuple[Record, ...] = getattr(record, name)
            if not wanted:
                continue
            child = KIND_BY_NAME[child_name]
            link = next(link for link in child.LINKS if link.owned)
            kept = {key_of(record) for record in wanted}
            for row in self._stored.rows(child, **dict(zip(link.fields, key, strict=True))):
                if key_of_values(child, row) not in kept:
                    self.remove(child, key_of_values(child, row))
            for wanted_record in wanted:
                self.put(wanted_record)

    def _put_kind(self, kind: type[Record], records: list[Record]) -> None:
        if kind is FieldOrigin and records:
            self._doubted = True
        present = self._stored.keys(kind)
        new: dict[Key, Row] = {}
        changed: list[Record] = []
        again: list[Record] = []
        for record in records:
            values = checked_values(record)
            key = key_of_values(kind, values)
            if key in present:
                changed.append(record)
            elif key in new:
                again.append(record)
            else:
                new[key] = values
        # Stays that end come before those that begin: for a moment both would hold the same place.
        for record in sorted(
            changed, key=lambda changed_record: getattr(changed_record, "until_on", None) is None
        ):
            self.put(record)
        if new:
            self.steps += [Step(kind, None, values) for values in new.values()]
            self._insert_many(kind, list(new.values()))
        for record in again:
            self.put(record)
        for name, child_name in shape_of(kind).children:
            below = [child for record in records for child in getattr(record, name)]
            if below:
                self._put_kind(KIND_BY_NAME[child_name], below)

    def _insert_many(self, kind: type[Record], rows: list[Row]) -> None:
        self.about = NOTHING
        if len(rows) == 1:
            self._insert_singly(kind, rows)
            return
        # Not the session's own savepoint: a full disk ends the transaction with every savepoint in it, and
        # going back to one would then hide the cause.
        link = self._stored.session.connection()
        link.exec_driver_sql("SAVEPOINT many")
        try:
            self._stored.insert(kind, rows)
        except (IntegrityError, DataError):
            # The database does not say which row it refused: find it by going through them singly.
            link.exec_driver_sql("ROLLBACK TO SAVEPOINT many")
            self._insert_singly(kind, rows)
            raise
        link.exec_driver_sql("RELEASE SAVEPOINT many")

    def _insert_singly(self, kind: type[Record], rows: list[Row]) -> None:
        for row in rows:
            self.about = name_of(kind, key_of_values(kind, row))
            self._stored.insert(kind, [row])

    def _open(self, **equal: Any) -> list[Row]:
        return self._stored.rows(Installation, until_on=None, **equal)

    def _end_stays(self, stays: list[Row], on: date, why: str, but: Row | None = None) -> None:
        for row in stays:
            if row is not but and row != but:
                reason = {"why": why} if why and not row["why"] else {}
                self.change(Installation, key_of_values(Installation, row), until_on=on, **reason)

    def _to_bay(self, tag: str) -> None:
        servo = self._stored.row(Servo, (tag,))
        if servo and servo["state"] == ServoState.FITTED and not self._open(servo=tag):
            self.change(Servo, (tag,), state=ServoState.IN_BAY)
