"""Servo positions: the plan view, what sits where, and moving it."""
