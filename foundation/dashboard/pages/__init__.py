"""The pages, in the order of the work; each answers one question."""
