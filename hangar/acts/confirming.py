"""What a keeper's sheet said with a doubt, confirmed: it stands as if he had written it himself."""

from __future__ import annotations

from collections.abc import Sequence

from hangar.base.text import Text, plural, text
from hangar.parts import FieldOrigin
from hangar.rules.origins import origin_field
from hangar.store import Edit


def confirm(edit: Edit, origins: Sequence[FieldOrigin]) -> Text:
    """Let these fields stand as they are.

    Raises: BadInput when one is confirmed already.
    """
    for origin in origins:
        edit.remove(FieldOrigin, (origin.kind, origin.record, origin.field))
    if len(origins) == 1:
        return text("Confirm {field}", field=origin_field(origins[0]))
    return plural("Confirm {count} field", "Confirm {count} fields", count=len(origins))
