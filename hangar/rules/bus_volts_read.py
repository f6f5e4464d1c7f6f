"""Bus volts that were read, in flight or on the bench, held against what the receiver needs."""

from __future__ import annotations

from hangar.base.text import Text
from hangar.parts.choices import Criticality
from hangar.rules.case import Case
from hangar.rules.finding import Level
from hangar.rules.flag import Flag, allowed, read


def near_the_least(
    case: Case, about: tuple[str, ...], seen_v: float, name: Text, message: Text
) -> Flag | None:
    """The flag of a reading that came near the receivers' least volts; None where it did not.

    Args:
        case: the aircraft, whose receivers' least volts are known.
        about: whose reading it is.
        seen_v: the bus volts that were read.
        name: what the reading is called among the numbers of the finding.
        message: the sentence of it.
    """
    least = case.aircraft.receivers_least_v
    if least is None:
        return None
    for level, threshold in ((Level.WARNING, "telemetry-warn"), (Level.CAUTION, "telemetry-look")):
        limit = least + case.limit(threshold)
        if seen_v < limit:
            return Flag(
                level=level,
                about=about,
                message=message,
                figures=(read(name, seen_v, "V"), allowed("limit", limit, "V")),
                criticality=Criticality.FLIGHT,
                margin=seen_v / limit,
            )
    return None
