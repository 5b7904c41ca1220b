"""A smooth curve through measured points that rises where the points rise, with its slope and its area."""

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import accumulate, pairwise

_WINDOW = 5  # points that a slope is read from
_ROUNDING = 1e-12  # of the range: a place this little outside is meant to be its end


class OutOfRange(ValueError):
    """The value asked for lies outside the measured points: nothing is extrapolated."""

    def __init__(self, value: float, low: float, high: float) -> None:
        self.value, self.low, self.high = value, low, high
        super().__init__(f"{value} lies outside {low} to {high}")


class Curve:
    """A cubic piece between each two points.

    Slopes come from a polynomial through the five nearest points, held between the secants beside them and to what keeps each
    piece monotone: points of a rising cubic that bends one way give that very cubic back, and a knee gives no overshoot.
    Source: monotonicity limits after Hyman, SIAM J. Sci. Stat. Comput. 4 (1983), and Fritsch and Carlson, SIAM J. Numer. Anal. 17
    (1980) (from memory); the laws are tested.
    """

    def __init__(self, x: Sequence[float], y: Sequence[float]) -> None:
        if len(x) != len(y) or len(x) < 2 or not all(a < b for a, b in pairwise(x)):
            raise ValueError("at least two points with rising x are needed")
        self.x, self.y = tuple(x), tuple(y)
        self.slopes = tuple(_slope(self.x, self.y, i) for i in range(len(x)))
        areas = (self._area(i, self.x[i + 1] - self.x[i]) for i in range(len(x) - 1))
        self._areas = tuple(accumulate(areas, initial=0.0))

    def value(self, at: float) -> float:
        """Return y at ``at``.

        >>> Curve((0.0, 1.0, 2.0, 3.0), (0.0, 1.0, 8.0, 27.0)).value(1.5)
        3.375
        """
        i, s = self._piece(at)
        m0, c, d = self._cubic(i)
        return self.y[i] + s * (m0 + s * (c + s * d))

    def slope(self, at: float) -> float:
        """Return dy/dx at ``at``."""
        i, s = self._piece(at)
        m0, c, d = self._cubic(i)
        return m0 + s * (2 * c + s * 3 * d)

    def area(self, at: float) -> float:
        """Return the integral of y from the first point to ``at``."""
        i, s = self._piece(at)
        return self._areas[i] + self._area(i, s)

    def _piece(self, at: float) -> tuple[int, float]:
        if not self.x[0] <= at <= self.x[-1]:
            at = self._at_end(at)
        i = min(bisect_right(self.x, at), len(self.x) - 1) - 1
        return i, at - self.x[i]

    def _at_end(self, at: float) -> float:
        """Return the end that a place lies beyond by no more than rounding."""
        end = self.x[0] if at < self.x[0] else self.x[-1]
        if not abs(at - end) <= _ROUNDING * (self.x[-1] - self.x[0]):
            raise OutOfRange(at, self.x[0], self.x[-1])
        return end

    def _cubic(self, i: int) -> tuple[float, float, float]:
        """Return the coefficients of s, s squared and s cubed on piece i."""
        h = self.x[i + 1] - self.x[i]
        m0, m1 = self.slopes[i], self.slopes[i + 1]
        secant = (self.y[i + 1] - self.y[i]) / h
        return m0, (3 * secant - 2 * m0 - m1) / h, (m0 + m1 - 2 * secant) / h / h

    def _area(self, i: int, s: float) -> float:
        m0, c, d = self._cubic(i)
        return s * (self.y[i] + s * (m0 / 2 + s * (c / 3 + s * d / 4)))


def _slope(x: Sequence[float], y: Sequence[float], i: int) -> float:
    """Return the slope at point i: of the polynomial through its neighbours, held to what the secants beside it allow."""
    wide = _WINDOW if 0 < i < len(x) - 1 else _WINDOW - 1  # one-sided polynomials of high degree swing
    start = max(0, min(i - wide // 2, len(x) - wide))
    near = range(start, min(len(x), start + wide))
    free = _polynomial_slope([x[j] for j in near], [y[j] for j in near], i - start)
    secants = [(y[j + 1] - y[j]) / (x[j + 1] - x[j]) for j in (i - 1, i) if 0 <= j < len(x) - 1]
    if min(secants) <= 0 <= max(secants):
        return 0.0
    low, high = (min(secants), max(secants)) if len(secants) == 2 else _end_range(x, y, i)
    sign, limit = math.copysign(1.0, secants[0]), 3 * min(abs(secant) for secant in secants)
    return sign * min(limit, max(0.0, sign * min(max(free, low), high)))


def _end_range(x: Sequence[float], y: Sequence[float], i: int) -> tuple[float, float]:
    """Return the range of a slope at either end: beyond its secant, on the side the curve bends to."""
    if len(x) < 3:
        return -math.inf, math.inf
    outer, inner = (0, 1) if i == 0 else (len(x) - 2, len(x) - 3)
    here, there = ((y[j + 1] - y[j]) / (x[j + 1] - x[j]) for j in (outer, inner))
    return (here, math.inf) if here >= there else (-math.inf, here)


def _polynomial_slope(x: Sequence[float], y: Sequence[float], at: int) -> float:
    """Return the derivative at point ``at`` of the polynomial through all the points (Lagrange's form)."""
    total = 0.0
    for j in range(len(x)):
        if j == at:
            continue
        weight = 1.0 / (x[j] - x[at])
        for k in range(len(x)):
            if k not in (j, at):
                weight *= (x[at] - x[k]) / (x[j] - x[k])
        total += weight * (y[j] - y[at])
    return total
