"""Measured tables as curves: rows that cannot be a curve are refused by their cell, and nothing is read outside them."""

from collections.abc import Sequence
from itertools import pairwise

from calc.display import quantity
from calc.numeric.monotone import Curve
from calc.refusal import Refused


def require_rising(values: Sequence[float], name: str, column: str, unit: str, *, strictly: bool = True) -> None:
    """Refuse the first value of a column that does not rise above the one before."""
    for number, (before, here) in enumerate(pairwise(values), start=2):
        if here < before or (strictly and here == before):
            rule = "must be greater than in the row before" if strictly else "must not be less than in the row before"
            raise Refused(f"{name}[{number}].{column}", f"{rule}, {quantity(before, unit)}", quantity(here, unit))


def curve(x: Sequence[float], y: Sequence[float], name: str, columns: tuple[str, str], units: tuple[str, str]) -> Curve:
    """Return the curve through a table whose two columns both rise, starting from nothing at nothing."""
    require_rising(x, name, columns[0], units[0])
    require_rising(y, name, columns[1], units[1], strictly=False)
    if x[0] > 0:
        x, y = (0.0, *x), (0.0, *y)
    elif y[0] != 0:
        raise Refused(f"{name}[1].{columns[1]}", f"must be 0 where {columns[0]} is 0", quantity(y[0], units[1]))
    if len(x) < 2:
        raise Refused(name, f"must have a row with {columns[0]} above 0", quantity(x[0], units[0]))
    return Curve(x, y)


def require_within(curve: Curve, value: float, name: str, unit: str, table: str) -> None:
    """Refuse a value outside the measured range."""
    if not curve.x[0] <= value <= curve.x[-1]:
        raise Refused(
            name,
            f"must be within the measured range of {table}, {quantity(curve.x[0], unit)} to {quantity(curve.x[-1], unit)}",
            quantity(value, unit),
            hint="Nothing is read beyond a measurement.",
        )
