"""Chassis engineering, computed: loads, springs, suspension geometry and brakes, with the standard library alone.

Every public calculator is a function with keyword arguments in SI units. ``calc.load("ride_frequency")`` gives one by its name.
"""

from calc.catalogue import load, names

__all__ = ["load", "names"]
__version__ = "0.1.0"
