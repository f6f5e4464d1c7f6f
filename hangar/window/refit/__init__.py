"""Planning a refit, the board of plans, and what is to be bought."""
