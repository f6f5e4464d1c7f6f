"""Workshop Rules: limits, law, and how risk is counted."""
