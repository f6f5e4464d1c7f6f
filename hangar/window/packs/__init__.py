"""Packs: tests, verdicts, trends, storing and charging."""
