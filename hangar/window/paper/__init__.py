"""Sheets: choosing, looking at, printing, and entering a filled one."""
