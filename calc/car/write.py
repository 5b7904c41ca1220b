"""From values back to the text of a car file: the same values as they were written, sections in the order of the schema."""

import json
from collections.abc import Iterator
from itertools import groupby
from typing import Any

from calc.car.read import Leaf, Schema, Values
from calc.car.values import Measured
from calc.display import plain
from calc.form import Parameter
from calc.units import unit


def write_values(values: Values, schema: Schema, version: int) -> str:
    """Return the text of a car file. Reading it gives the same values; comments are not kept.

    A value that came from a file is written as it was; a table is written in the usual units of its columns.
    """
    blocks = [f"format = {version}\n"]
    for section, paths in groupby(values.leaves, key=lambda path: path.rpartition(".")[0]):
        lines = [f"{path.rpartition('.')[2]} = {_leaf(values.leaves[path], schema[path])}\n" for path in paths]
        blocks.append("".join((f"\n[{section}]\n" if section else "", *lines)))
    return "".join(blocks)


def _leaf(leaf: Leaf, parameter: Parameter) -> str:
    if isinstance(leaf, Measured):
        return f"{{ value = {_text(leaf.text)}, note = {_text(leaf.note)} }}" if leaf.note else _text(leaf.text)
    if isinstance(leaf, tuple):
        return "[\n" + "".join(f"    [{', '.join(_cells(row, parameter))}],\n" for row in leaf) + "]"
    if isinstance(leaf, bool):
        return "true" if leaf else "false"
    return str(leaf) if isinstance(leaf, int) else _text(leaf)


def _cells(row: Any, parameter: Parameter) -> Iterator[str]:
    for cell, column in zip(row, parameter.columns, strict=True):
        if column.quantity is None or not isinstance(cell, float):
            yield _text(cell) if isinstance(cell, str) else str(cell).lower()
        else:
            yield _text(written(cell, column.input.unit))


def written(value: float, usual: str) -> str:
    """Return an SI value as a person would write it in a file, with every digit that matters.

    >>> written(0.0015, "mm")
    '1.5 mm'
    """
    return f"{plain(unit(usual).from_si(value))} {usual}".strip()


def _text(text: str) -> str:
    return json.dumps(text, ensure_ascii=False)
