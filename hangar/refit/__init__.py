"""Which parts, settings and handwork clear what the rules find: for least money, for a budget, in stages."""
