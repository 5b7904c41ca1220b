"""From the text of a car file to its values; every problem is found and named, and no key is dropped."""

from collections.abc import Callable, Iterator, Mapping
from difflib import get_close_matches
from typing import Any, NamedTuple

from calc.car.lines import FileProblems, Problem, lines_of, parse
from calc.car.values import Measured, measured
from calc.form import Parameter, check_value
from calc.refusal import Refused

Schema = Mapping[str, Parameter]  # dotted path -> what stands there
Leaf = Measured | str | bool | int | tuple[Any, ...]
Migration = Callable[[dict[str, Any]], dict[str, Any]]


class Values(NamedTuple):
    """What a file holds, by dotted path, in the order of the schema. Paths that are not in the file are not here."""

    leaves: Mapping[str, Leaf]

    def number(self, path: str) -> float | None:
        """Return a number in SI, or none where the file does not say."""
        leaf = self.leaves.get(path)
        if isinstance(leaf, Measured):
            return leaf.value
        return float(leaf) if isinstance(leaf, int) and not isinstance(leaf, bool) else None

    def value(self, path: str) -> Any:
        """Return whatever stands at a path in the form a calculator takes, or none."""
        leaf = self.leaves.get(path)
        return leaf.value if isinstance(leaf, Measured) else leaf

    def tolerance(self, path: str) -> float | None:
        """Return the half-width of a number, none where the file states none."""
        leaf = self.leaves.get(path)
        return leaf.tolerance if isinstance(leaf, Measured) else None


def read_values(text: str, schema: Schema, version: int, migrations: Mapping[int, Migration]) -> Values:
    """Return the values of a file. Raises ``FileProblems`` with everything that is wrong."""
    tables, where, problems = parse(text), lines_of(text), []
    tables = _migrated(tables, version, migrations, where)
    found: dict[str, Leaf] = {}
    for path, written in _leaves(tables, schema, ""):
        if path == "format":
            continue
        line = _line(path, where)
        if path not in schema:
            problems.append(_unknown(path, written, schema, line))
            continue
        try:
            found[path] = _leaf(schema[path], written, path)
        except Refused as problem:
            name = problem.input if problem.input.startswith(path) else path
            problems.append(Problem(line, name, problem.rule, problem.value, problem.hint))
    if problems:
        raise FileProblems(problems)
    return Values({path: found[path] for path in schema if path in found})


def _migrated(
    tables: dict[str, Any], version: int, migrations: Mapping[int, Migration], where: Mapping[str, int]
) -> dict[str, Any]:
    given = tables.get("format", version)
    if isinstance(given, bool) or not isinstance(given, int) or not 1 <= given <= version:
        rule = f"must be a whole number from 1 to {version}, the newest this book can read"
        raise FileProblems([Problem(where.get("format", 0), "format", rule, repr(given))])
    for step in range(given, version):
        tables = migrations[step](tables)
    return tables


def _leaves(tables: Mapping[str, Any], schema: Schema, above: str) -> Iterator[tuple[str, Any]]:
    for key, value in tables.items():
        path = f"{above}.{key}" if above else key
        if isinstance(value, dict) and path not in schema and set(value) - {"value", "note"}:
            yield from _leaves(value, schema, path)
        elif isinstance(value, dict) and not value:
            continue
        else:
            yield path, value


def _line(path: str, where: Mapping[str, int]) -> int:
    while path and path not in where:
        path = path.rpartition(".")[0]
    return where.get(path, 0)


def _unknown(path: str, written: Any, schema: Schema, line: int) -> Problem:
    section, _, key = path.rpartition(".")
    beside = {known.rpartition(".")[2]: known for known in schema if known.rpartition(".")[0] == section}
    near = get_close_matches(key, beside, n=1) or get_close_matches(path, schema, n=1)
    hint = f"Did you mean {near[0]}?" if near else f"[{section}] takes {', '.join(beside)}." if beside else ""
    return Problem(line, path, "is not a key of a car file", "", hint)


def _leaf(parameter: Parameter, written: Any, path: str) -> Leaf:
    note = ""
    if isinstance(written, dict):
        if not isinstance(written.get("value"), str) or not isinstance(written.get("note", ""), str):
            raise Refused(path, 'must be written as { value = "120 mm", note = "tape" }', repr(written)[:60])
        written, note = written["value"], written.get("note", "")
    leaf = _converted(parameter, written, path, note)
    problems: list[Refused] = []
    check_value(parameter, leaf.value if isinstance(leaf, Measured) else leaf, path, problems)
    if problems:
        raise Refused(
            problems[0].input, problems[0].rule, leaf.text if isinstance(leaf, Measured) else problems[0].value
        )
    return leaf


def _converted(parameter: Parameter, written: Any, path: str, note: str) -> Leaf:
    if parameter.kind == "table":
        return _table(parameter, written, path)
    if parameter.quantity is None or parameter.kind in {"integer", "choice", "switch", "text"}:
        if not isinstance(written, bool | int | str):
            raise Refused(path, "must be text, a whole number, true or false", repr(written)[:60])
        return written
    if isinstance(written, int | float) and not isinstance(written, bool) and parameter.quantity.dimension == "ratio":
        written = repr(written)
    if not isinstance(written, str):
        raise Refused(path, "needs a unit and quotes", repr(written)[:60], hint='Such as "60 N/mm".')
    return measured(written, parameter.quantity, note)


def _table(parameter: Parameter, written: Any, path: str) -> tuple[Any, ...]:
    if not isinstance(written, list) or not written:
        raise Refused(path, "must be a list of rows")
    rows = []
    for number, row in enumerate(written, start=1):
        cells = list(row.values()) if isinstance(row, dict) else row
        if not isinstance(cells, list) or len(cells) != len(parameter.columns):
            names = ", ".join(column.name for column in parameter.columns)
            raise Refused(f"{path}[{number}]", f"must have {len(parameter.columns)} cells: {names}", repr(row)[:60])
        pairs = zip(parameter.columns, cells, strict=True)
        leaves = [_converted(column, cell, f"{path}[{number}].{column.name}", "") for column, cell in pairs]
        rows.append(parameter.row(*(leaf.value if isinstance(leaf, Measured) else leaf for leaf in leaves)))
    return tuple(rows)
