"""Cutting stock: lengths of bar and tube, and rectangles of sheet."""

from foundation.packing.lengths import pack

__all__ = ["pack"]
