"""What leaves the program: the plan as data and as text."""
