"""Linear equations by elimination with partial pivoting. Small systems only: a car has eight unknowns, not eight thousand."""

import math
from collections.abc import Sequence

Matrix = Sequence[Sequence[float]]

# A pivot this much smaller than the largest entry of its (scaled) matrix holds no digits that can be believed.
_SMALLEST_PIVOT = 1e-13


class Singular(ArithmeticError):
    """The equations have no single solution: one of them says nothing that the others do not say."""


class Factors:
    """A square matrix split once into lower and upper triangle, ready to solve for many right-hand sides.

    Rows and columns are scaled first by powers of two, which loses no digit, so that newtons per metre and newton metres
    per radian can stand in one matrix.
    """

    def __init__(self, matrix: Matrix) -> None:
        size = len(matrix)
        if any(len(row) != size for row in matrix):
            raise ValueError(f"a square matrix is needed, got {size} rows of {[len(row) for row in matrix]}")
        rows = _scales(matrix)
        columns = _scales([[matrix[i][j] * rows[i] for i in range(size)] for j in range(size)])
        self._rows, self._columns = rows, columns
        self._lu = [[matrix[i][j] * rows[i] * columns[j] for j in range(size)] for i in range(size)]
        self._order = list(range(size))
        self._eliminate()

    def _eliminate(self) -> None:
        lu, size = self._lu, len(self._lu)
        for k in range(size):
            best = max(range(k, size), key=lambda i: abs(lu[i][k]))
            if not abs(lu[best][k]) > _SMALLEST_PIVOT:
                raise Singular("the equations have no single solution")
            lu[k], lu[best] = lu[best], lu[k]
            self._order[k], self._order[best] = self._order[best], self._order[k]
            for i in range(k + 1, size):
                lu[i][k] /= lu[k][k]
                for j in range(k + 1, size):
                    lu[i][j] -= lu[i][k] * lu[k][j]

    def solve(self, right: Sequence[float]) -> list[float]:
        """Return x of A x = right."""
        lu, size = self._lu, len(self._lu)
        x = [right[i] * self._rows[i] for i in self._order]
        for i in range(size):
            x[i] -= math.fsum(lu[i][j] * x[j] for j in range(i))
        for i in reversed(range(size)):
            x[i] = (x[i] - math.fsum(lu[i][j] * x[j] for j in range(i + 1, size))) / lu[i][i]
        return [value * scale for value, scale in zip(x, self._columns, strict=True)]


def solve(matrix: Matrix, right: Sequence[float]) -> list[float]:
    """Return x of ``matrix`` x = ``right``. Raises ``Singular`` where there is no single solution.

    >>> solve([[2.0, 1.0], [1.0, 3.0]], [3.0, 5.0])
    [0.8, 1.4]
    """
    return Factors(matrix).solve(right)


def _scales(matrix: Matrix) -> list[float]:
    """Return a power of two for each row that brings its largest entry near 1."""
    largest = [max((abs(value) for value in row), default=0.0) for row in matrix]
    if not all(0 < value < math.inf for value in largest):
        raise Singular("one of the equations is empty or not finite")
    return [2.0 ** -math.frexp(value)[1] for value in largest]
