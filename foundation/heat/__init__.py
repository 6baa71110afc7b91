"""Heat through the ground and what stands in it: grids, conduction, closed forms."""
