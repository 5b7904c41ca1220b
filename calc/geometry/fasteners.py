"""Bolts and brackets in shear, rod ends, links in compression: the sums a bracket is sized with, each with its limit of sense.

Source: elementary strength of materials; factors are common practice, no source.
"""

from math import pi
from typing import NamedTuple


class BoltStress(NamedTuple):
    """Stresses (Pa) of a bolt in a bracket: shear of the bolt, bearing in the plates, tear-out of the plate, bending of the bolt."""

    shear: float
    bearing: float
    tear_out: float
    bending: float


def bolt_stress(force: float, diameter: float, planes: int, plate: float, edge: float, gap: float) -> BoltStress:
    """Return the stresses of a bolt that holds ``force`` (N) over one or two shear planes.

    Equation: shear = F / (n A); bearing = F / (n d t); tear-out = F / (2 n t (e - d/2)); bending = 32 M / (pi d^3), M = F g for one plane
    (a rod end standing off by g), F g / 4 for two plates that far apart.
    """
    area = pi * diameter**2 / 4
    moment = force * gap if planes == 1 else force * gap / 4
    return BoltStress(
        force / (planes * area),
        force / (planes * diameter * plate),
        force / (2 * planes * plate * (edge - diameter / 2)),
        32 * moment / (pi * diameter**3),
    )


def equivalent_stress(shear: float, bending: float) -> float:
    """Return the stress that counts against yield when a bolt is sheared and bent: sqrt(bending^2 + 3 shear^2) (von Mises)."""
    return float((bending**2 + 3 * shear**2) ** 0.5)


def tube_inertia(outer: float, wall: float) -> float:
    """Return the second moment of area of a tube; a wall of half the diameter is a solid bar.

    >>> round(tube_inertia(0.02, 0.01) * 1e9, 6)
    7.853982
    """
    return float(pi / 64 * (outer**4 - (outer - 2 * wall) ** 4))


def tube_area(outer: float, wall: float) -> float:
    """Return the area of a tube's section."""
    return float(pi / 4 * (outer**2 - (outer - 2 * wall) ** 2))


def buckling_load(modulus: float, inertia: float, length: float) -> float:
    """Return Euler's load of a link with a joint at each end: pi^2 E I / L^2.

    >>> round(buckling_load(205e9, 7.853982e-9, 0.5))
    63563
    """
    return pi**2 * modulus * inertia / length**2
