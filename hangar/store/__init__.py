"""The fleet file: records in, records out, every edit undoable."""

from hangar.store.edit import Edit
from hangar.store.fleet import Fleet
from hangar.store.touched import Touched

__all__ = ["Edit", "Fleet", "Touched"]
