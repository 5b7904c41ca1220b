"""A value as it is written in a car file: with its unit, and if known its tolerance and how it was measured."""

import re
from typing import NamedTuple

from calc.refusal import Refused
from calc.units import Quantity, read, split, unit

_PLUS_MINUS = re.compile(r"\s*(?:\+-|\+/-|±)\s*")


class Measured(NamedTuple):
    """A number in SI as it came from a file. ``tolerance`` is a half-width in SI, none where none is stated."""

    value: float
    text: str
    tolerance: float | None = None
    note: str = ""


def measured(text: str, quantity: Quantity, note: str = "") -> Measured:
    """Return a written value with its tolerance.

    A tolerance has its own unit, or that of the value, or percent of the value.

    >>> measured("120 mm +- 2 mm", Quantity("length", "m"))
    Measured(value=0.12, text='120 mm +- 2 mm', tolerance=0.002, note='')
    """
    written, *more = _PLUS_MINUS.split(text)
    if len(more) > 1:
        raise Refused("text", "must have one value and at most one tolerance", repr(text))
    if quantity.dimension != "ratio" and not split(written)[1]:
        raise Refused("text", "needs a unit", repr(text), hint=f"Such as {_example(quantity)}.")
    value = read(written, quantity)
    tolerance = _tolerance(more[0], written, value, quantity) if more else None
    return Measured(value, text.strip(), tolerance, note)


def _tolerance(text: str, written: str, value: float, quantity: Quantity) -> float:
    number, name = split(text)
    if name == "%" and (quantity.dimension != "ratio" or split(written)[1] != "%"):
        width = abs(value) * number / 100
    else:
        given = unit(name or split(written)[1])
        if given.dimension != quantity.dimension:
            raise Refused("tolerance", f"must measure {quantity.dimension}, as the value does", repr(text))
        width = number * given.factor  # a difference: an offset of the unit does not count
    if width < 0:
        raise Refused("tolerance", "must not be negative", repr(text))
    return width


def _example(quantity: Quantity) -> str:
    usual = {
        "length": "120 mm",
        "stiffness": "60 N/mm",
        "mass": "312 kg",
        "force": "400 N",
        "angle": "1.5 deg",
        "pressure": "2 bar",
    }
    return f'"{usual.get(quantity.dimension, f"1 {quantity.unit}")}"'
