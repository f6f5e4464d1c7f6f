"""The fleet file: records in, records out, every edit undoable."""
