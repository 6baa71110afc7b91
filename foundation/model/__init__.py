"""The shared nouns: frozen dataclasses in SI units, no logic. Topics hand results to each other as these."""
