"""The logbook, what is due, and the next field day."""
