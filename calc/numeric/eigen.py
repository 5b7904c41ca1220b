"""Eigenvalues of small real matrices: modes of a car have at most eight.

Symmetric matrices by Jacobi's rotations, any other by shifted QR steps on its Hessenberg form in complex numbers.
Source: Golub and Van Loan, Matrix Computations, chapters 7 and 8 (from memory); checked against an independent library in the tests.
"""

import cmath
import math
from collections.abc import Sequence

Matrix = Sequence[Sequence[float]]

_MOST_SWEEPS = 60
_MOST_STEPS = 60  # for each eigenvalue
_ROUNDING = 2.0**-52


class NotFound(ArithmeticError):
    """The iteration did not settle: the matrix holds numbers too far apart."""


def symmetric(matrix: Matrix) -> tuple[list[float], list[list[float]]]:
    """Return the eigenvalues of a symmetric matrix in rising order and, for each, its unit eigenvector.

    >>> values, vectors = symmetric([[2.0, 1.0], [1.0, 2.0]])
    >>> [round(value, 9) for value in values]
    [1.0, 3.0]
    """
    size = len(matrix)
    a = [list(row) for row in matrix]
    v = [[float(i == j) for j in range(size)] for i in range(size)]
    for _ in range(_MOST_SWEEPS):
        if not any(abs(a[p][q]) > _negligible(a, p, q) for p in range(size) for q in range(p + 1, size)):
            break
        for p in range(size):
            for q in range(p + 1, size):
                _rotate(a, v, p, q)
    else:
        raise NotFound("Jacobi's rotations did not settle")
    order = sorted(range(size), key=lambda i: a[i][i])
    return [a[i][i] for i in order], [[v[k][i] for k in range(size)] for i in order]


def _negligible(a: list[list[float]], p: int, q: int) -> float:
    return 1e-2 * _ROUNDING * math.sqrt(abs(a[p][p]) * abs(a[q][q])) + 1e-290


def _rotate(a: list[list[float]], v: list[list[float]], p: int, q: int) -> None:
    """Turn axes p and q so that a[p][q] becomes zero."""
    if abs(a[p][q]) <= _negligible(a, p, q):
        a[p][q] = a[q][p] = 0.0
        return
    theta = (a[q][q] - a[p][p]) / (2 * a[p][q])
    t = math.copysign(1.0, theta) / (abs(theta) + math.hypot(theta, 1.0))
    c = 1 / math.hypot(t, 1.0)
    s = t * c
    for k in range(len(a)):
        a[k][p], a[k][q] = c * a[k][p] - s * a[k][q], s * a[k][p] + c * a[k][q]
    for k in range(len(a)):
        a[p][k], a[q][k] = c * a[p][k] - s * a[q][k], s * a[p][k] + c * a[q][k]
    a[p][q] = a[q][p] = 0.0
    for row in v:
        row[p], row[q] = c * row[p] - s * row[q], s * row[p] + c * row[q]


def eigenvalues(matrix: Matrix) -> list[complex]:
    """Return the eigenvalues of any small real matrix, by falling real part, then rising imaginary part.

    >>> [complex(round(z.real, 9), round(z.imag, 9)) for z in eigenvalues([[0.0, 1.0], [-4.0, 0.0]])]
    [-2j, 2j]
    """
    h = _hessenberg(_balanced(matrix))
    found: list[complex] = []
    top = len(h)
    while top > 0:
        top = _deflate(h, top, found)
    return sorted((_clean(z) for z in found), key=lambda z: (-round(z.real, 9), z.imag))


def _clean(z: complex) -> complex:
    """Return z without an imaginary part that is only rounding."""
    return complex(z.real, 0.0) if abs(z.imag) < 1e-9 * abs(z.real) else z


def _balanced(matrix: Matrix) -> list[list[complex]]:
    """Return a similar matrix whose rows and columns are of one size; powers of two lose no digit."""
    size = len(matrix)
    a = [list(row) for row in matrix]
    for _ in range(20):
        settled = True
        for i in range(size):
            row = math.fsum(abs(a[i][j]) for j in range(size) if j != i)
            column = math.fsum(abs(a[j][i]) for j in range(size) if j != i)
            if row <= 0 or column <= 0:
                continue
            scale = 2.0 ** round(math.log2(row / column) / 2)
            if scale != 1:
                settled = False
                a[i] = [value / scale for value in a[i]]
                for j in range(size):
                    a[j][i] *= scale
        if settled:
            break
    return [[complex(value) for value in row] for row in a]


def _hessenberg(a: list[list[complex]]) -> list[list[complex]]:
    """Return a similar matrix that is zero below the first subdiagonal, by elimination with pivots."""
    size = len(a)
    for k in range(1, size - 1):
        best = max(range(k, size), key=lambda i: abs(a[i][k - 1]))
        if not a[best][k - 1]:
            continue
        a[k], a[best] = a[best], a[k]
        for row in a:
            row[k], row[best] = row[best], row[k]
        for i in range(k + 1, size):
            factor = a[i][k - 1] / a[k][k - 1]
            a[i] = [below - factor * above for below, above in zip(a[i], a[k], strict=True)]
            for row in a:
                row[k] += factor * row[i]
    return a


def _deflate(h: list[list[complex]], top: int, found: list[complex]) -> int:
    """Step until the last subdiagonal entry of the leading ``top`` rows vanishes; record the eigenvalue that splits off."""
    for n in range(_MOST_STEPS):
        low = top - 1
        while low > 0 and abs(h[low][low - 1]) > _ROUNDING * (abs(h[low][low]) + abs(h[low - 1][low - 1])):
            low -= 1
        if low == top - 1:
            found.append(h[low][low])
            return low
        shift = abs(h[top - 1][top - 2]) + h[top - 1][top - 1] if n % 11 == 10 else _shift(h, top)
        _qr_step(h, low, top, shift)
    raise NotFound("the QR steps did not settle")


def _shift(h: list[list[complex]], top: int) -> complex:
    """Return the eigenvalue of the last two by two block that is nearer to its last entry."""
    a, b, c, d = h[top - 2][top - 2], h[top - 2][top - 1], h[top - 1][top - 2], h[top - 1][top - 1]
    middle, root = (a + d) / 2, cmath.sqrt(((a - d) / 2) ** 2 + b * c)
    return min(middle + root, middle - root, key=lambda z: abs(z - d))


def _qr_step(h: list[list[complex]], low: int, top: int, shift: complex) -> None:
    """Replace the block [low, top) by R Q + shift, where Q R is the block less the shift."""
    for i in range(low, top):
        h[i][i] -= shift
    turns = []
    for k in range(low, top - 1):
        a, b = h[k][k], h[k + 1][k]
        size = math.hypot(abs(a), abs(b))
        c, s = (a / size, b / size) if size else (1 + 0j, 0j)
        turns.append((c, s))
        for j in range(k, top):
            x, y = h[k][j], h[k + 1][j]
            h[k][j], h[k + 1][j] = c.conjugate() * x + s.conjugate() * y, c * y - s * x
    for k, (c, s) in zip(range(low, top - 1), turns, strict=True):
        for i in range(low, min(k + 2, top)):
            x, y = h[i][k], h[i][k + 1]
            h[i][k], h[i][k + 1] = x * c + y * s, y * c.conjugate() - x * s.conjugate()
    for i in range(low, top):
        h[i][i] += shift
