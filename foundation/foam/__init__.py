"""Rigid foam: boards by type, what they bear under a slab, and which of their R-values is counted."""
