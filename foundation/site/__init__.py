"""From survey shots to the ground, and from the ground to the grade along a wall line; levels."""
