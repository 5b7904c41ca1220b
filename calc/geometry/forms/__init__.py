"""Calculators over points: each takes a table of hard points, builds the linkage, and asks the rooms of ``calc.geometry``."""
