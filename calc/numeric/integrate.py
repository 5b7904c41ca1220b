"""The area under a smooth function."""

import math
from collections.abc import Callable

# Gauss and Legendre's five points: exact for polynomials up to the ninth power.
_POINTS = (
    (0.0, 128 / 225),
    *((s * math.sqrt(5 - 2 * math.sqrt(10 / 7)) / 3, (322 + 13 * math.sqrt(70)) / 900) for s in (-1, 1)),
    *((s * math.sqrt(5 + 2 * math.sqrt(10 / 7)) / 3, (322 - 13 * math.sqrt(70)) / 900) for s in (-1, 1)),
)


def nodes(low: float, high: float, pieces: int = 1) -> tuple[tuple[float, float], ...]:
    """Return points and weights: the integral of f is the sum of weight times f(point).

    >>> round(math.fsum(weight * at**8 for at, weight in nodes(0.0, 1.0)), 12)
    0.111111111111
    """
    half = (high - low) / pieces / 2
    middles = [low + (2 * i + 1) * half for i in range(pieces)]
    return tuple((middle + half * at, half * weight) for middle in middles for at, weight in _POINTS)


def area(function: Callable[[float], float], low: float, high: float, pieces: int = 8) -> float:
    """Return the integral of ``function`` from ``low`` to ``high``.

    >>> round(area(math.sin, 0.0, math.pi), 12)
    2.0
    """
    return math.fsum(weight * function(at) for at, weight in nodes(low, high, pieces))
