"""Studies: what runs the planner many times."""
