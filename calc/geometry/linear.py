"""Small dense linear systems by elimination with row exchange: the six equations of a wheel, and a few more."""

from collections.abc import Sequence
from math import sqrt


class Singular(ArithmeticError):
    """The equations do not have one answer."""


def solve(rows: list[list[float]], size: int) -> list[list[float]]:
    """Return one list of unknowns for each right-hand column.

    Each row holds ``size`` coefficients and then its right-hand sides; the rows are used up.

    >>> solve([[0.0, 2.0, 4.0], [1.0, 1.0, 3.0]], 2)
    [[1.0, 2.0]]
    """
    for k in range(size):
        best = k
        largest = abs(rows[k][k])
        for i in range(k + 1, size):
            if abs(rows[i][k]) > largest:
                best, largest = i, abs(rows[i][k])
        if largest < 1e-13:
            raise Singular
        top = rows[best]
        rows[best] = rows[k]
        rows[k] = top
        pivot = top[k]
        for i in range(k + 1, size):
            row = rows[i]
            if row[k] != 0.0:
                factor = row[k] / pivot
                rows[i] = [a - factor * b for a, b in zip(row, top, strict=True)]
    columns = len(rows[0]) - size
    answers = [[0.0] * size for _ in range(columns)]
    for k in range(size - 1, -1, -1):
        row = rows[k]
        pivot = row[k]
        for column, answer in enumerate(answers):
            total = row[size + column]
            for j in range(k + 1, size):
                total -= row[j] * answer[j]
            answer[k] = total / pivot
    return answers


def determinant_sign(rows: Sequence[Sequence[float]]) -> int:
    """Return the sign of the determinant of a square matrix, 0 when singular.

    >>> determinant_sign([[0.0, 1.0], [1.0, 0.0]]), determinant_sign([[2.0, 0.0], [0.0, 1.0]])
    (-1, 1)
    """
    left = [list(row) for row in rows]
    size, sign = len(left), 1
    for k in range(size):
        best = max(range(k, size), key=lambda i: abs(left[i][k]))
        pivot = left[best][k]
        if abs(pivot) < 1e-13:
            return 0
        if best != k:
            left[k], left[best] = left[best], left[k]
            sign = -sign
        sign = sign if pivot > 0 else -sign
        top = left[k]
        for i in range(k + 1, size):
            factor = left[i][k] / pivot
            if factor:
                left[i] = [a - factor * b for a, b in zip(left[i], top, strict=True)]
    return sign


def inverse(rows: Sequence[Sequence[float]]) -> list[list[float]]:
    """Return the columns of the inverse of a square matrix."""
    size = len(rows)
    return solve([[*row, *(float(i == j) for j in range(size))] for i, row in enumerate(rows)], size)


def smallest_stretch(rows: Sequence[Sequence[float]]) -> float:
    """Return a lower bound of the smallest singular value: 1 / Frobenius norm of the inverse; 0 when singular.

    The bound is at most a factor of the root of the size too low.

    >>> round(smallest_stretch([[2.0, 0.0], [0.0, 1e-6]]), 9)
    1e-06
    """
    try:
        return 1.0 / sqrt(sum(a * a for column in inverse(rows) for a in column))
    except Singular:
        return 0.0


def condition_number(rows: Sequence[Sequence[float]]) -> float:
    """Return the largest over the smallest singular value (2-norm), from the eigenvalues of A^T A by Jacobi rotations.

    >>> round(condition_number([[3.0, 0.0], [0.0, 0.5]]), 9)
    6.0
    """
    size = len(rows)
    columns = [[row[j] for row in rows] for j in range(size)]
    for _ in range(60):
        if not _orthogonalise(columns, size):
            break
    lengths = [sqrt(sum(a * a for a in column)) for column in columns]
    return max(lengths) / min(lengths) if min(lengths) > 0 else float("inf")


def _orthogonalise(columns: list[list[float]], size: int) -> bool:
    """Turn each pair of columns to a right angle (one-sided Jacobi); return whether anything moved."""
    moved = False
    for p in range(size - 1):
        for q in range(p + 1, size):
            u, v = columns[p], columns[q]
            a, b, c = sum(x * x for x in u), sum(y * y for y in v), sum(x * y for x, y in zip(u, v, strict=True))
            if abs(c) <= 1e-15 * sqrt(a * b):
                continue
            moved = True
            zeta = (b - a) / (2 * c)
            t = (1.0 if zeta >= 0 else -1.0) / (abs(zeta) + sqrt(1 + zeta * zeta))
            cosine = 1 / sqrt(1 + t * t)
            sine = cosine * t
            columns[p] = [cosine * x - sine * y for x, y in zip(u, v, strict=True)]
            columns[q] = [sine * x + cosine * y for x, y in zip(u, v, strict=True)]
    return moved
