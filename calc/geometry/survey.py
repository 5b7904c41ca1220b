"""A point in space from tape distances to known points, by least squares, with what is left over and how sure it is.

Equation: least sum of (|p - q_i| - d_i)^2 (Gauss-Newton); rms = sqrt(sum r^2 / n); standard error of each coordinate = root of the
diagonal of s^2 (J^T J)^-1 with s^2 = sum r^2 / (n - 3), the rows of J being unit vectors from the reference points to the point.
"""

from collections.abc import Sequence
from math import fsum, sqrt
from typing import NamedTuple

from calc.geometry.linear import inverse, solve
from calc.geometry.vectors import Vector, add, cross, dot, norm, scale, sub, unit
from calc.numeric.linear import Singular
from calc.refusal import Refused

_CLOSE = 1e-12


class Located(NamedTuple):
    """A point (m), the residuals (measured distance too long is positive), their rms, and standard errors, none from three distances."""

    point: Vector
    residuals: tuple[float, ...]
    rms: float
    errors: tuple[float, float, float] | None


def locate(references: Sequence[Vector], distances: Sequence[float], near: Vector | None = None) -> Located:
    """Return the point at given distances (m) from known points; ``near`` picks a side where the known points lie in one plane.

    >>> near = locate([(0, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, 1)], [0.75**0.5] * 4).point
    >>> [round(v, 9) for v in near]
    [0.5, 0.5, 0.5]
    """
    if len(references) < 3:
        raise Refused("distances", "must be at least three", str(len(references)), label="Distances")
    best = min((_improve(start, references, distances) for start in _starts(references, distances, near)), key=_misfit)
    point, residuals, rows = best
    n = len(references)
    rms = sqrt(fsum(r * r for r in residuals) / n)
    if n == 3:
        return Located(point, tuple(residuals), rms, None)
    spread = fsum(r * r for r in residuals) / (n - 3)
    try:
        columns = inverse(_normal(rows))
    except Singular:
        raise _flat() from None
    return Located(
        point,
        tuple(residuals),
        rms,
        (sqrt(spread * columns[0][0]), sqrt(spread * columns[1][1]), sqrt(spread * columns[2][2])),
    )


_Fit = tuple[Vector, list[float], list[Vector]]


def _misfit(fit: _Fit) -> float:
    return fsum(r * r for r in fit[1])


def _normal(rows: Sequence[Vector]) -> list[list[float]]:
    return [[fsum(row[i] * row[j] for row in rows) for j in range(3)] for i in range(3)]


def _flat() -> Refused:
    return Refused(
        "distances",
        "must come from reference points that see the point from different sides",
        hint="A tape across its plane helps.",
        label="Distances",
    )


def _starts(references: Sequence[Vector], distances: Sequence[float], near: Vector | None) -> list[Vector]:
    """Return where to start: the given side, or both crossings of three spheres about three references that are not in a line."""
    if near is not None:
        return [near]
    a = references[0]
    b = max(references, key=lambda p: norm(sub(p, a)))
    if norm(sub(b, a)) < 1e-9:
        raise _flat()
    line = unit(sub(b, a))
    c = max(references, key=lambda p: norm(cross(sub(p, a), line)))
    normal = cross(line, sub(c, a))
    if norm(normal) < 1e-6:
        raise Refused(
            "references", "must not lie on one line: the point could be anywhere round it", label="Reference points"
        )
    middle = scale(
        1.0 / len(references),
        (fsum(p[0] for p in references), fsum(p[1] for p in references), fsum(p[2] for p in references)),
    )
    reach = max(distances)
    up = unit(normal) if dot(normal, (0.0, 0.0, 1.0)) >= 0 else scale(-1.0, unit(normal))
    return [add(middle, scale(side * reach, up)) for side in (0.6, -0.6)]


def _improve(start: Vector, references: Sequence[Vector], distances: Sequence[float]) -> _Fit:
    """Return the nearest least-squares point, the step halved while the misfit does not fall."""
    point, (residuals, rows) = start, _residuals(start, references, distances)
    for _ in range(100):
        size = fsum(r * r for r in residuals)
        right = [fsum(row[i] * r for row, r in zip(rows, residuals, strict=True)) for i in range(3)]
        try:
            (step,) = solve([[*row, value] for row, value in zip(_normal(rows), right, strict=True)], 3)
        except Singular:
            raise _flat() from None
        share = 1.0
        trial = point
        while share > 1e-6:
            trial = (point[0] + share * step[0], point[1] + share * step[1], point[2] + share * step[2])
            new = _residuals(trial, references, distances)
            if fsum(r * r for r in new[0]) <= size:
                break
            share *= 0.5
        else:
            break
        moved = norm(sub(trial, point))
        point, (residuals, rows) = trial, new
        if moved < _CLOSE * (1 + norm(point)):
            break
    return point, residuals, rows


def _residuals(
    point: Vector, references: Sequence[Vector], distances: Sequence[float]
) -> tuple[list[float], list[Vector]]:
    rows, residuals = [], []
    for reference, distance in zip(references, distances, strict=True):
        reach = sub(point, reference)
        long = norm(reach) or 1e-12
        rows.append((reach[0] / long, reach[1] / long, reach[2] / long))
        residuals.append(distance - long)
    return residuals, rows
