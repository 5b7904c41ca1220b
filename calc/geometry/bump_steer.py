"""Bump steer: the toe curve over travel, its coefficients and linearity, and the shim at either tie-rod end that makes it least.

Equation: toe(z) = a0 + a1 z + a2 z^2 + a3 z^3 by least squares. a1 comes from a wrong height of one tie-rod end, a2 from a wrong
length, the S-shape is third order. Source: derived; the planar rule (the tie rod points at the instant centre) is a1 = 0.
"""

from collections.abc import Sequence
from math import fsum, sqrt
from typing import NamedTuple

from calc.geometry.linear import solve
from calc.geometry.linkage import Linkage
from calc.geometry.motion import Corner
from calc.geometry.moves import moved
from calc.geometry.vectors import apply
from calc.geometry.wheel import toe_in, toe_in_rate
from calc.refusal import Refused

_LARGEST_SHIM = 0.15  # m
_FIRST_TRY = 0.002  # m


class ToeCurve(NamedTuple):
    """Toe-in over travel, the cubic through it, its exact slope as drawn, and how far it is from a straight line and from no change."""

    travels: tuple[float, ...]
    toe: tuple[float, ...]
    coefficients: tuple[float, float, float, float]
    slope: float
    off_line: float
    change: float


class Shim(NamedTuple):
    """A shim (m, up positive) and the curve with it."""

    height: float
    curve: ToeCurve


def toe_curve(corner: Corner, travels: Sequence[float]) -> ToeCurve:
    """Return the toe curve of a corner over ``travels`` (at least four)."""
    toe = [toe_in(apply(pose.turn, corner.spin)) for pose in corner.poses(travels)]
    start = corner.state()
    rest = toe_in(start.spin)
    a = polynomial(travels, toe, 3)
    line = polynomial(travels, toe, 1)
    off = sqrt(fsum((t - line[0] - line[1] * z) ** 2 for z, t in zip(travels, toe, strict=True)) / len(toe))
    change = sqrt(fsum((t - rest) ** 2 for t in toe) / len(toe))
    slope = toe_in_rate(start.spin, start.per_travel.turning)
    return ToeCurve(tuple(travels), tuple(toe), (a[0], a[1], a[2], a[3]), slope, off, change)


def polynomial(x: Sequence[float], y: Sequence[float], degree: int) -> list[float]:
    """Return the coefficients of the least-squares polynomial, lowest power first; x is scaled so that no digits are lost.

    >>> [round(c, 9) for c in polynomial([-1.0, 0.0, 1.0, 2.0], [2.0, 1.0, 2.0, 5.0], 2)]
    [1.0, 0.0, 1.0]
    """
    size = max(abs(value) for value in x) or 1.0
    t = [value / size for value in x]
    rows = [
        [*(fsum(v ** (i + j) for v in t) for j in range(degree + 1)), fsum(w * v**i for v, w in zip(t, y, strict=True))]
        for i in range(degree + 1)
    ]
    (found,) = solve(rows, degree + 1)
    return [c / size**i for i, c in enumerate(found)]


def best_shim(linkage: Linkage, end: str, travels: Sequence[float]) -> Shim:
    """Return the shim under the point ``end`` of the tie rod for which the toe change over ``travels`` is least (rms).

    The rod is cut to keep static toe. Gauss-Newton on one unknown; the curve is nearly straight in the shim, so few steps do.
    """
    height, last = 0.0, _FIRST_TRY
    here, there = (_changes(linkage, end, at, travels) for at in (height, last))
    for _ in range(12):
        gains = [(b - a) / (last - height) for a, b in zip(here, there, strict=True)]
        size = fsum(g * g for g in gains)
        if size <= 0:
            break
        move = -fsum(a * g for a, g in zip(here, gains, strict=True)) / size
        if abs(height + move) > _LARGEST_SHIM:
            raise Refused(
                end,
                f"would need a shim of more than {1000 * _LARGEST_SHIM:g} mm to make bump steer least",
                label="Tie rod end",
            )
        last, there = height, here
        height += move
        here = _changes(linkage, end, height, travels)
        if abs(move) < 1e-6:
            break
    return Shim(height, toe_curve(Corner(moved(linkage, {end: (0.0, 0.0, height)})), travels))


def _changes(linkage: Linkage, end: str, height: float, travels: Sequence[float]) -> list[float]:
    corner = Corner(moved(linkage, {end: (0.0, 0.0, height)}))
    rest = toe_in(corner.spin)
    return [toe_in(apply(pose.turn, corner.spin)) - rest for pose in corner.poses(travels)]
