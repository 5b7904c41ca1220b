"""Least squares for tilt readings: reading = level value times p, plus height times q. Both unknowns come from all readings."""

import math
from collections.abc import Sequence
from typing import NamedTuple


class Fit(NamedTuple):
    """The fitted slope (the height), its error for a unit error of every reading, its scatter, and the worst residual."""

    level: float
    slope: float
    slope_per_error: float
    slope_scatter: float | None
    worst_residual: float
    freedom: int


def fit(p: Sequence[float], q: Sequence[float], readings: Sequence[float]) -> Fit:
    """Return the least-squares fit of ``readings`` = level p + slope q.

    The columns are made orthogonal first (modified Gram-Schmidt), so that no digits are lost in products of sums.

    >>> round(fit([1, 1, 1], [0, 1, 2], [5.0, 5.3, 5.6]).slope, 9)
    0.3
    """
    size = math.fsum(v * v for v in p)
    lean = math.fsum(a * b for a, b in zip(p, q, strict=True)) / size
    upright = [b - lean * a for a, b in zip(p, q, strict=True)]
    spread = math.fsum(v * v for v in upright)
    slope = math.fsum(u * r for u, r in zip(upright, readings, strict=True)) / spread
    level = math.fsum(a * (r - slope * b) for a, b, r in zip(p, q, readings, strict=True)) / size
    left = [r - level * a - slope * b for a, b, r in zip(p, q, readings, strict=True)]
    freedom = len(left) - 2
    error = math.sqrt(1.0 / spread)
    scatter = math.sqrt(math.fsum(v * v for v in left) / freedom) * error if freedom > 0 else None
    return Fit(level, slope, error, scatter, max(abs(v) for v in left), freedom)
