"""From what a reader wrote to the arguments of a calculator; every problem is found, not only the first."""

from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from typing import Any

from calc.form import Parameter, check_value
from calc.refusal import Refused, RefusedTogether
from calc.units import read

LONGEST_TABLE = 2000


def read_inputs(parameters: Sequence[Parameter], given: Mapping[str, Any]) -> dict[str, Any]:
    """Return keyword arguments in SI. Raises one refusal, or all of them together."""
    problems: list[Refused] = []
    names = [parameter.name for parameter in parameters]
    for name in given:
        if name not in names:
            close = get_close_matches(str(name), names, n=1)
            hint = f"Did you mean {close[0]}?" if close else f"It takes {', '.join(names)}."
            problems.append(Refused(str(name)[:80], "is not an input of this calculator", hint=hint))
    inputs = {}
    for parameter in parameters:
        if parameter.name in given:
            inputs[parameter.name] = _read_checked(parameter, given[parameter.name], parameter.name, problems)
        elif parameter.required:
            problems.append(Refused(parameter.name, "is needed", label=parameter.input.label))
        else:
            inputs[parameter.name] = parameter.default
    if problems:
        raise problems[0] if len(problems) == 1 else RefusedTogether(problems)
    return inputs


def _read_checked(parameter: Parameter, value: Any, where: str, problems: list[Refused]) -> Any:
    found = len(problems)
    known = _read(parameter, value, where, problems)
    if len(problems) == found:
        check_value(parameter, known, where, problems)
    if isinstance(value, str):  # say it as the reader wrote it
        for problem in problems[found:]:
            problem.value = problem.value and value.strip()
    return known


def _read(parameter: Parameter, value: Any, where: str, problems: list[Refused]) -> Any:
    if parameter.optional and value in (None, ""):
        return None
    if parameter.kind == "table":
        return _read_table(parameter, value, where, problems)
    if parameter.kind in {"choice", "text", "switch"}:
        return (
            {"true": True, "false": False}.get(value, value)
            if parameter.kind == "switch" and isinstance(value, str)
            else value
        )
    if isinstance(value, str):
        value = _read_number(parameter, value, where, problems)
    if parameter.kind == "integer" and isinstance(value, float) and value == int(value):
        return int(value)
    return (
        value if isinstance(value, bool) or not isinstance(value, int) or parameter.kind == "integer" else float(value)
    )


def _read_number(parameter: Parameter, text: str, where: str, problems: list[Refused]) -> Any:
    if not text.strip():
        problems.append(Refused(where, "is needed", label=parameter.input.label))
        return None
    try:
        if parameter.quantity is None:
            return float(text)
        return read(text, parameter.quantity)
    except Refused as problem:
        problems.append(Refused(where, problem.rule, problem.value, hint=problem.hint, label=parameter.input.label))
    except ValueError:
        problems.append(Refused(where, "must be a number", repr(text), label=parameter.input.label))
    return None


def _read_table(parameter: Parameter, rows: Any, where: str, problems: list[Refused]) -> Any:
    if not isinstance(rows, list | tuple) or not rows:
        problems.append(Refused(where, "must have at least one row", label=parameter.input.label))
        return None
    if len(rows) > LONGEST_TABLE:
        problems.append(
            Refused(where, f"must have at most {LONGEST_TABLE} rows", str(len(rows)), label=parameter.input.label)
        )
        return None
    return tuple(_read_row(parameter, row, f"{where}[{n}]", problems) for n, row in enumerate(rows, start=1))


def _read_row(parameter: Parameter, row: Any, where: str, problems: list[Refused]) -> Any:
    columns = parameter.columns
    cells = [row.get(c.name, c.default) for c in columns] if isinstance(row, Mapping) else row
    if isinstance(cells, list | tuple) and not any(c.required for c in columns[len(cells) :]):
        cells = [*cells, *(c.default for c in columns[len(cells) :])]
    if not isinstance(cells, list | tuple) or len(cells) != len(columns):
        problems.append(
            Refused(where, f"must have {len(columns)} cells: {', '.join(c.name for c in columns)}", repr(row)[:60])
        )
        return None
    return parameter.row(
        *(_read_checked(c, cell, f"{where}.{c.name}", problems) for c, cell in zip(columns, cells, strict=True))
    )
