"""Drawings: a scene is drawn once, in metres, and rendered to screen, paper and DXF alike."""
