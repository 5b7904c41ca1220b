"""The exponential of a small matrix, and the exact step of a linear system under a constant input."""

import math
from collections.abc import Sequence
from operator import mul

Matrix = Sequence[Sequence[float]]

# Below this norm the series of 9 terms is exact to rounding: what is left out is (1/16)^10 / 10!.
_LARGEST_NORM = 1 / 16
_TERMS = 9


def exponential(matrix: Matrix) -> list[list[float]]:
    """Return exp(matrix) by Taylor's series of the halved matrix, squared back.

    >>> [[round(value, 6) for value in row] for row in exponential([[0.0, 1.0], [-1.0, 0.0]])]
    [[0.540302, 0.841471], [-0.841471, 0.540302]]
    """
    size = len(matrix)
    norm = max(math.fsum(abs(value) for value in row) for row in matrix)
    halvings = max(0, math.frexp(norm / _LARGEST_NORM)[1]) if norm > 0 else 0
    small = [[value / 2.0**halvings for value in row] for row in matrix]
    total = [[small[i][j] / _TERMS + (i == j) for j in range(size)] for i in range(size)]
    for n in range(_TERMS - 1, 0, -1):  # Horner: I + A/1 (I + A/2 (I + ...))
        total = product(small, total)
        total = [[total[i][j] / n + (i == j) for j in range(size)] for i in range(size)]
    for _ in range(halvings):
        total = product(total, total)
    return total


def step_matrices(state: Matrix, inputs: Matrix, step: float) -> tuple[list[list[float]], list[list[float]]]:
    """Return S and P of x(t + step) = S x(t) + P u, exact while u is constant, for x' = A x + B u.

    One exponential of the matrix [[A, B], [0, 0]] gives both, with no inverse of A.

    >>> step, push = step_matrices([[-1.0]], [[1.0]], 0.5)
    >>> round(step[0][0], 6), round(push[0][0], 6)
    (0.606531, 0.393469)
    """
    size, wide = len(state), len(state) + len(inputs[0])
    rows = [[value * step for value in (*a, *b)] for a, b in zip(state, inputs, strict=True)]
    whole = exponential([*rows, *([0.0] * wide for _ in range(wide - size))])
    return [row[:size] for row in whole[:size]], [row[size:] for row in whole[:size]]


def product(first: Matrix, second: Matrix) -> list[list[float]]:
    """Return the matrix product.

    >>> product([[1.0, 2.0]], [[3.0], [4.0]])
    [[11.0]]
    """
    columns = list(zip(*second, strict=True))
    return [[sum(map(mul, row, column)) for column in columns] for row in first]


def times(matrix: Matrix, vector: Sequence[float]) -> list[float]:
    """Return matrix times vector."""
    return [sum(map(mul, row, vector)) for row in matrix]
