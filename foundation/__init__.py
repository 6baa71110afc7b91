"""Planner for frost-depth foundations: from survey shots to a stepped-footing schedule."""

__version__ = "0.1.0"
