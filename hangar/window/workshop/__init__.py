"""The limits: limits of the checks, units and money, law."""
