"""Printed sheets as PDF."""
