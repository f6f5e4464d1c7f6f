"""The load and capacity tests of packs as records; what contradicts itself is asked about."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hangar.base.text import Text, text
from hangar.store.intake.account import About, Account
from hangar.store.intake.facts import Facts, SheetTest
from hangar.store.intake.grid import Cell
from hangar.store.intake.present import Present
from hangar.store.intake.proposal import NewRow


class PackTests:
    """Makes the records of what was measured on packs."""

    def __init__(
        self, facts: Facts, account: Account, present: Present, pack_tags: Mapping[int, str]
    ) -> None:
        self.facts = facts
        self.account = account
        self.present = present
        self.pack_tags = pack_tags
        self.out: list[NewRow] = []

    def put(self, kind: str, cells: dict[str, Cell], /, **values: Any) -> None:
        """Propose a record."""
        self.out.append(NewRow(kind, values, cells))

    def made(self) -> list[NewRow]:
        """The records of all tests."""
        tags = {
            pack.tag: tag
            for pack in self.facts.log_packs.values()
            if pack.tag
            for tag in [self.pack_tags.get(id(pack), pack.tag)]
        }
        taken: set[tuple[str, str, str]] = set(self.present.tests)
        for test in self.facts.tests:
            tag = tags.get(test.pack)
            if tag is None:
                self._doubt(test, text("belongs to no pack"))
            elif len(test.on) < 10:
                self._doubt(test, text("has no whole day"))
            else:
                self._load_test(tag, test, taken)
                self._capacity_test(tag, test, taken)
        return self.out

    def _doubt(self, test: SheetTest, reason: Text) -> None:
        for cell in test.cells.values():
            self.account.doubt(cell, About.TEST, reason)

    def _load_test(self, tag: str, test: SheetTest, taken: set[tuple[str, str, str]]) -> None:
        if test.rest_v is None and test.loaded_v is None:
            return
        cell = test.cells.get("loaded") or test.cells.get("rest")
        if test.rest_v is None or test.loaded_v is None or test.load_a is None:
            lacking = (
                text("has no volts at rest beside it")
                if test.rest_v is None
                else text("has no volts under load beside it")
                if test.loaded_v is None
                else text("has no load beside it")
            )
            self.account.doubt(cell, About.TEST, lacking)
            return
        if test.loaded_v > test.rest_v:
            self.account.doubt(cell, About.TEST, text("is more than the volts at rest"))
            return
        if ("load", tag, test.on) in self.present.tests:
            return
        if ("load", tag, test.on) in taken:
            self.account.doubt(
                test.cells.get("tested"), About.TEST, text("the pack has another test of that day")
            )
            return
        taken.add(("load", tag, test.on))
        more = {"load_s": test.load_s} if test.load_s is not None else {}
        self.put(
            "load-test",
            test.cells,
            pack=tag,
            tested_at=test.on,
            load_a=test.load_a,
            rest_v=test.rest_v,
            loaded_v=test.loaded_v,
            **more,
        )

    def _capacity_test(self, tag: str, test: SheetTest, taken: set[tuple[str, str, str]]) -> None:
        if (test.capacity_mah is None and test.cell_mohm is None) or ("capacity", tag, test.on) in taken:
            return
        taken.add(("capacity", tag, test.on))
        self.put(
            "capacity-test",
            test.cells,
            pack=tag,
            tested_on=test.on,
            capacity_mah=test.capacity_mah,
            cell_mohm=test.cell_mohm,
        )
