"""The one table model and its views."""
