"""A measured table: points with growing x, read between them and never beyond them.

The slopes are local (a point and its two neighbours), so that one odd point of a friction table bends its neighbourhood only.
"""

import math
from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from typing import Literal

from calc.refusal import Refused

Way = Literal["linear", "monotone cubic"]


def require_growing(xs: Sequence[float], where: str, unit: str = "") -> None:
    """Refuse a table of fewer than two points, or one whose x does not grow from row to row."""
    if len(xs) < 2:
        raise Refused(where.partition("[")[0].partition(".")[0], "must have at least two rows", f"{len(xs)}")
    table, _, column = where.partition(".")
    for row, (before, here) in enumerate(pairwise(xs), start=2):
        if here <= before:
            raise Refused(f"{table}[{row}].{column}", "must grow from row to row", f"{here:g}{unit}")


def read_between(xs: Sequence[float], ys: Sequence[float], at: float, way: Way = "linear") -> float:
    """Return the value at ``at``; the table must grow in x, and ``at`` must lie on it.

    >>> read_between((50, 150, 300), (0.34, 0.42, 0.47), 100), round(read_between((50, 150, 300), (0.34, 0.42, 0.47), 100, "monotone cubic"), 4)
    (0.38, 0.3863)
    """
    i = min(bisect_right(xs, at), len(xs) - 1) - 1
    width = xs[i + 1] - xs[i]
    part = (at - xs[i]) / width
    if way == "linear":
        return ys[i] + (ys[i + 1] - ys[i]) * part
    slopes = (_slope(xs, ys, i), _slope(xs, ys, i + 1))
    return (
        (1 + 2 * part) * (1 - part) ** 2 * ys[i]
        + part * (1 - part) ** 2 * width * slopes[0]
        + part**2 * (3 - 2 * part) * ys[i + 1]
        + part**2 * (part - 1) * width * slopes[1]
    )


def _slope(xs: Sequence[float], ys: Sequence[float], i: int) -> float:
    """Return the slope at a point, by Fritsch and Butland's weighted harmonic mean, which never overshoots."""
    widths = [b - a for a, b in pairwise(xs)]
    rises = [(b - a) / w for a, b, w in zip(ys, ys[1:], widths, strict=False)]
    if len(rises) == 1:
        return rises[0]
    if i == 0:
        return _end_slope(widths[0], widths[1], rises[0], rises[1])
    if i == len(rises):
        return _end_slope(widths[-1], widths[-2], rises[-1], rises[-2])
    left, right = rises[i - 1], rises[i]
    if left * right <= 0:
        return 0.0
    one, other = 2 * widths[i] + widths[i - 1], widths[i] + 2 * widths[i - 1]
    return (one + other) / (one / left + other / right)


def _end_slope(near: float, far: float, rise: float, next_rise: float) -> float:
    """Return the one-sided slope at an end, held so that the curve keeps the shape of the points."""
    slope = ((2 * near + far) * rise - near * next_rise) / (near + far)
    if slope * rise <= 0:
        return 0.0
    if rise * next_rise <= 0 and abs(slope) > 3 * abs(rise):
        return math.copysign(3 * abs(rise), rise)
    return slope
