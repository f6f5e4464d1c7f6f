"""The supply as a picture and the bus through a flight."""
