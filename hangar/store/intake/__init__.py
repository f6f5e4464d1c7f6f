"""Reading any keeper's own sheet: from its cells to proposed records, without a database or a window."""
