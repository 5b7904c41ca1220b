"""The six or seven equations of a wheel, solved fast: a position is found some hundred times for one curve.

``calc.numeric.linear`` is the general solver, scaled and with exact sums; this one leaves both out because a wheel's rows are
unit vectors and metres, and takes a tenth of the time.
"""

from collections.abc import Sequence
from math import fsum, inf, sqrt

from calc.numeric.eigen import symmetric
from calc.numeric.linear import Singular


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


def determinant(rows: Sequence[Sequence[float]]) -> float:
    """Return the determinant of a square matrix.

    >>> determinant([[0.0, 1.0], [1.0, 0.0]]), determinant([[2.0, 0.0], [0.0, 3.0]])
    (-1.0, 6.0)
    """
    left = [list(row) for row in rows]
    size, product = len(left), 1.0
    for k in range(size):
        best = k
        for i in range(k + 1, size):
            if abs(left[i][k]) > abs(left[best][k]):
                best = i
        top = left[best]
        if best != k:
            left[best] = left[k]
            product = -product
        pivot = top[k]
        product *= pivot
        if pivot == 0.0:
            return 0.0
        for i in range(k + 1, size):
            row = left[i]
            if row[k] != 0.0:
                factor = row[k] / pivot
                left[i] = [a - factor * b for a, b in zip(row, top, strict=True)]
    return product


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
    """Return the largest over the smallest singular value (2-norm): the root of the ratio of the eigenvalues of A^T A.

    >>> round(condition_number([[3.0, 0.0], [0.0, 0.5]]), 9)
    6.0
    """
    columns = range(len(rows[0]))
    squares, _ = symmetric([[fsum(row[i] * row[j] for row in rows) for j in columns] for i in columns])
    return sqrt(max(squares) / min(squares)) if min(squares) > 0 else inf
