"""How far every output is off when every point is: the effect of each coordinate, and their root sum of squares.

The effect of a coordinate is a central difference of 0.1 mm over the whole geometry, link lengths taken anew: points have no velocity
equations, and the differences agree with exact rates to five digits. Source: propagation of independent errors, common practice.
"""

from collections.abc import Callable, Sequence
from math import fsum, sqrt
from typing import NamedTuple

from calc.geometry.linkage import Linkage
from calc.geometry.vectors import Vector

_STEP = 1e-4  # m
_AXES = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))

Outputs = Callable[[Linkage], Sequence[float]]


class Effect(NamedTuple):
    """The effect of one coordinate on every output, per metre."""

    point: str
    axis: str
    per_metre: tuple[float, ...]


def effects(linkage: Linkage, names: Sequence[str], outputs: Outputs) -> tuple[Effect, ...]:
    """Return the effect of each coordinate of the named points on ``outputs`` of the linkage."""
    found = []
    for name in names:
        point = linkage.points[name]
        for letter, way in zip("xyz", _AXES, strict=True):
            high, low = (outputs(linkage.with_points({name: _shifted(point, way, side * _STEP)})) for side in (1, -1))
            found.append(Effect(name, letter, tuple((a - b) / (2 * _STEP) for a, b in zip(high, low, strict=True))))
    return tuple(found)


def root_sum(effects_of_points: Sequence[Effect], sigma: float) -> tuple[float, ...]:
    """Return the standard deviation of every output when each coordinate has the standard deviation ``sigma`` (m)."""
    columns = zip(*(effect.per_metre for effect in effects_of_points), strict=True)
    return tuple(sigma * sqrt(fsum(value * value for value in column)) for column in columns)


def _shifted(point: Vector, way: Vector, by: float) -> Vector:
    return point[0] + by * way[0], point[1] + by * way[1], point[2] + by * way[2]
