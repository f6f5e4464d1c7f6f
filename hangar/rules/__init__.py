"""The rules that judge an aircraft and its survey."""
