"""Old against new, the race, and trying changes on a copy."""
