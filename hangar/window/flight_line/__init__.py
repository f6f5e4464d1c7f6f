"""The Flight Line: a card for each aircraft."""
