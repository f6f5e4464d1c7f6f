"""the limits: limits, law, and how risk is counted."""
