"""What an act takes out of Stores where the part has no tag of its own there."""

from __future__ import annotations

from hangar.parts import StockItem
from hangar.store import Edit


def take_from_stock(edit: Edit, part_type: str) -> None:
    """One less of a type is in Stores, where one without a tag lies there."""
    for item in edit.records(StockItem, part_type=part_type):
        if item.on_hand >= 1:
            edit.change(StockItem, (item.code,), on_hand=item.on_hand - 1)
            return
