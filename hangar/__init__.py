"""Hangar: keep a fleet of radio-controlled model aircraft flying well by refitting them."""

__version__ = "0.1.0"
