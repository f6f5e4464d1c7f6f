"""What a keeper asks of a fleet, answered in values: no window, no file, no language."""
