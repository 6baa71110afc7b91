"""Warm floors: what a heated slab gives, what its tubes and manifold need, and what the standards say beside it."""
