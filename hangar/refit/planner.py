"""One aircraft's search made from its records: what each place could be, the supplies, what the bay has."""

from __future__ import annotations

from dataclasses import replace

from hangar.parts import Aircraft, Library
from hangar.refit.bay import Offer, bay_of
from hangar.refit.choice import ChoiceList, swap_key
from hangar.refit.handwork import handwork_lists
from hangar.refit.request import RefitRequest
from hangar.refit.search import Search
from hangar.refit.servo_options import servo_lists
from hangar.refit.supplies import Supply, supplies_of
from hangar.refit.swaps import pack_swaps, with_swaps
from hangar.survey import survey


def search_of(
    aircraft: Aircraft, library: Library, asking: RefitRequest, offer: Offer | None = None
) -> Search:
    """A search that knows nothing yet but the aircraft as it is.

    Args:
        aircraft: as it is.
        library: types and spares.
        asking: what the keeper wishes.
        offer: what other aircraft of a fleet may give up for it.
    """
    bay = replace(bay_of(library, None, aircraft), offer=offer)
    seen = survey(aircraft, asking.conditions)
    servos = servo_lists(aircraft, seen, library, bay, asking)
    lists: tuple[ChoiceList, ...] = (
        *with_swaps(aircraft, servos, library, bay, asking),
        *handwork_lists(aircraft, seen, library, asking),
    )
    supplies, refused = supplies_of(aircraft, library, bay, asking)
    supplies += pack_swaps(aircraft, library, bay, asking)
    swaps = [choice.elsewhere for choice_list in lists for choice in choice_list.choices]
    swaps += [supply.elsewhere for supply in supplies]
    search = Search(aircraft, library, lists, supplies or (NO_SUPPLY,), asking, bay)
    search.spares |= {swap_key(code): 1 for elsewhere in swaps for code in elsewhere}
    search.refused = (*(refusal for choice_list in lists for refusal in choice_list.refused), *refused)
    return search


NO_SUPPLY = Supply(lines=(), price=0.0, mass_g=0.0, paths=(), models=())
"""What stands for a supply that nobody can work."""
