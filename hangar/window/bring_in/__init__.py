"""A keeper's own sheet looked through before it comes in."""
