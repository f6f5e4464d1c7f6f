"""Choosing what to change on an aircraft."""
