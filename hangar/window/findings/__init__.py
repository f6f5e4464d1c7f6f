"""Findings as lists, their words, and what is worth measuring next."""
