"""Straight lines and parabolas through measured points, with how sure their coefficients are."""

import math
from collections.abc import Sequence
from typing import NamedTuple


class Line(NamedTuple):
    """y = intercept + slope x by least squares. The errors are standard errors, none where there are only two points."""

    slope: float
    intercept: float
    slope_error: float | None
    residuals: tuple[float, ...]
    r_squared: float


class Parabola(NamedTuple):
    """y = a x^2 + b x + c by least squares."""

    a: float
    b: float
    c: float
    residuals: tuple[float, ...]


def line(x: Sequence[float], y: Sequence[float]) -> Line:
    """Return the straight line of least squares; at least two of the x must differ.

    >>> round(line([1, 2, 3, 4], [2.1, 3.9, 6.1, 7.9]).slope, 9)
    1.96
    """
    middle_x, middle_y = math.fsum(x) / len(x), math.fsum(y) / len(y)
    spread = math.fsum((value - middle_x) ** 2 for value in x)
    if not spread > 0:
        raise ValueError("at least two different x are needed")
    slope = math.fsum((a - middle_x) * (b - middle_y) for a, b in zip(x, y, strict=True)) / spread
    residuals = tuple(b - middle_y - slope * (a - middle_x) for a, b in zip(x, y, strict=True))
    left = math.fsum(r * r for r in residuals)
    total = math.fsum((value - middle_y) ** 2 for value in y)
    error = math.sqrt(left / (len(x) - 2) / spread) if len(x) > 2 else None
    return Line(slope, middle_y - slope * middle_x, error, residuals, 1 - left / total if total > 0 else 1.0)


def parabola(x: Sequence[float], y: Sequence[float]) -> Parabola:
    """Return the parabola of least squares; at least three of the x must differ.

    >>> fit = parabola([0, 1, 2, 3], [1, 3, 7, 13])
    >>> round(fit.a, 9), round(fit.b, 9), round(fit.c, 9)
    (1.0, 1.0, 1.0)
    """
    if len(set(x)) < 3:
        raise ValueError("at least three different x are needed")
    middle, scale = math.fsum(x) / len(x), max(x) - min(x)
    u = [(value - middle) / scale for value in x]
    straight = line(u, y)
    # The part of u^2 that no straight line explains is fitted to the part of y that no straight line explains.
    bent = line(u, [value * value for value in u])
    size = math.fsum(r * r for r in bent.residuals)
    q = math.fsum(r * s for r, s in zip(bent.residuals, straight.residuals, strict=True)) / size
    p, r = straight.slope - q * bent.slope, straight.intercept - q * bent.intercept
    a, b = q / scale**2, p / scale
    residuals = tuple(s - q * t for s, t in zip(straight.residuals, bent.residuals, strict=True))
    return Parabola(a, b - 2 * a * middle, r - b * middle + a * middle**2, residuals)


def student_95(freedom: int) -> float:
    """Return t so that 95 % of Student's distribution lies within plus and minus t.

    Source: the finite sums of Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4 (from memory),
    checked against an independent library in the tests.

    >>> round(student_95(3), 4)
    3.1824
    """
    low, high = 0.0, 13.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if _within(middle, freedom) < 0.95 else (low, middle)
    return (low + high) / 2


def _within(t: float, freedom: int) -> float:
    """Return the probability that Student's t lies within plus and minus ``t``."""
    angle = math.atan(t / math.sqrt(freedom))
    cosine, sine = math.cos(angle), math.sin(angle)
    odd = freedom % 2
    term, total = (cosine, 0.0) if odd else (1.0, 0.0)
    for n in range(1 if odd else 0, freedom - 1, 2):
        total += term
        term *= cosine * cosine * (n + 1) / (n + 2)
    return 2 / math.pi * (angle + sine * total) if odd else sine * total
