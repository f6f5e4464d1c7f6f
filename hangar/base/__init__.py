"""Errors, units and figures: what every other folder may use."""
