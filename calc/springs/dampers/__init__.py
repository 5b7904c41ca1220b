"""Dampers: damping ratios, dyno curves, energy, gas, and the curve to ask for."""
