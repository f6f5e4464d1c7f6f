"""Linkages as a table and as a moving drawing."""
