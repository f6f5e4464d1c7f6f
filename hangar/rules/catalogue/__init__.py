"""Every rule, family by family; a module put here is found by itself."""
