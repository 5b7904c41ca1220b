"""Derivatives by eighth-order central differences, in plain Python: they run in the browser's Python as well.

Source of the weights: Fornberg, Mathematics of Computation 51, 1988 (from memory; checked on a sine in the tests).
"""

WEIGHTS = (
    (-4, 1 / 280),
    (-3, -4 / 105),
    (-2, 1 / 5),
    (-1, -4 / 5),
    (1, 4 / 5),
    (2, -1 / 5),
    (3, 4 / 105),
    (4, -1 / 280),
)


def derivative(function, at, step=2e-3):
    """Return the derivative of a function that returns a list of numbers."""
    columns = zip(*(function(at + node * step) for node, _ in WEIGHTS), strict=True)
    return [
        sum(weight * value for (_, weight), value in zip(WEIGHTS, column, strict=True)) / step for column in columns
    ]
