"""A new aircraft from its layout or from one there is, and its fitting out: no dialog for any of it."""
