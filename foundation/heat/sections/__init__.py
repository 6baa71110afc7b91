"""Sections through wall, footing and floor: their grid, their answer to the air outside, their line of insulation."""
