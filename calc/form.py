"""The words a calculator describes itself with.

A calculator is a pure function with keyword arguments only. Each parameter's type carries its unit, symbol, label and limits;
its result is a named tuple whose fields carry theirs. The form, the reference table, the command line and the refusals are all
read from here. ``@calculator`` adds title, question, working, remarks, figure and an example, and checks every call.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from functools import cache, wraps
from typing import Annotated, Any, Literal, NamedTuple, ParamSpec, TypeVar, get_args, get_origin, get_type_hints

from calc.display import quantity as show
from calc.figures.spec import Figure
from calc.refusal import Refused, RefusedTogether
from calc.units import Quantity


class Input(NamedTuple):
    """How an input is named, written, limited, and what is typical. Limits and range are in SI."""

    label: str
    symbol: str = ""
    unit: str = ""
    above: float | None = None
    at_least: float | None = None
    below: float | None = None
    at_most: float | None = None
    typical: tuple[float, float] | None = None
    help: str = ""


class Output(NamedTuple):
    """How a result is named and written. ``detail`` results stand in the working, not among the answers."""

    label: str
    symbol: str = ""
    unit: str = ""
    figures: int = 4
    detail: bool = False


class Choice(NamedTuple):
    """How an input that is one of a few words is named; ``words`` says each value in plain words."""

    label: str
    words: Mapping[str, str]
    help: str = ""


class Step(NamedTuple):
    """One line of the working: an equation in LaTeX, and the name of the result it gives."""

    latex: str
    gives: str


class Remark(NamedTuple):
    """A sentence of judgement beside an answer. ``level`` is ``note`` or ``caution``; ``about`` names an input or a result."""

    text: str
    level: Literal["note", "caution"] = "note"
    about: str = ""


class Parameter(NamedTuple):
    """One input of a calculator, or one column of a table, as read from its type."""

    name: str
    kind: Literal["number", "integer", "choice", "switch", "text", "table"]
    input: Input
    quantity: Quantity | None
    required: bool
    default: Any
    optional: bool
    options: tuple[str, ...] = ()
    words: tuple[str, ...] = ()
    row: Any = None
    columns: tuple["Parameter", ...] = ()


class Result(NamedTuple):
    """One field of a result, as read from its type."""

    name: str
    kind: Literal["number", "word", "words", "numbers"]
    output: Output
    quantity: Quantity | None


LARGEST = 1e30  # no quantity of a car is larger in SI units; beyond it products leave the range of a float

Remarks = Callable[[Any, Mapping[str, Any]], tuple[Remark, ...]]
Figures = Callable[
    [Any, Mapping[str, Any]], Iterable[Figure]
]  # drawings first; an iterator makes a chart only where it is wanted


class About(NamedTuple):
    """What ``@calculator`` knows of a function besides its signature."""

    title: str
    question: str
    example: Mapping[str, Any]
    working: tuple[Step, ...]
    remarks: Remarks
    figures: Figures


P = ParamSpec("P")
R = TypeVar("R")


def nothing(result: Any, inputs: Mapping[str, Any]) -> tuple[Any, ...]:
    """Return no remarks and no figures."""
    return ()


def calculator(
    *,
    title: str,
    question: str,
    example: Mapping[str, Any],
    working: tuple[Step, ...] = (),
    remarks: Remarks = nothing,
    figures: Figures = nothing,
) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Make a pure function a calculator: inputs are checked against their types, and the result holds no NaN or infinity."""

    def decorate(function: Callable[P, R]) -> Callable[P, R]:
        @wraps(function)
        def checked(*args: P.args, **kwargs: P.kwargs) -> R:
            if args:
                raise TypeError(f"{function.__name__} takes keyword arguments only")
            check(function, kwargs)
            try:
                result = function(*args, **kwargs)
            except (Refused, RefusedTogether):
                raise
            except (ArithmeticError, ValueError) as problem:  # out of the range of floats, or of a function's domain
                raise beyond(function.__name__) from problem
            _require_finite(function.__name__, result)
            return result

        checked.about = About(title, question, example, working, remarks, figures)  # type: ignore[attr-defined]  # read by about()
        return checked

    return decorate


def about(function: Callable[..., Any]) -> About:
    """Return what ``@calculator`` was told about a function."""
    found: About = function.about  # type: ignore[attr-defined]  # set by @calculator
    return found


@cache
def parameters(function: Callable[..., Any]) -> tuple[Parameter, ...]:
    """Return the inputs of a calculator in the order of its signature."""
    function = getattr(function, "__wrapped__", function)
    hints = get_type_hints(function, include_extras=True)
    defaults = function.__kwdefaults__ or {}
    names = function.__code__.co_varnames[: function.__code__.co_kwonlyargcount]
    return tuple(_parameter(name, hints[name], defaults) for name in names)


@cache
def results(function: Callable[..., Any]) -> tuple[Result, ...]:
    """Return the fields of a calculator's result, the main answer first."""
    function = getattr(function, "__wrapped__", function)
    kind = get_type_hints(function, include_extras=True)["return"]
    return tuple(
        _result(name, hint) for name, hint in get_type_hints(kind, include_extras=True).items() if name != "flags"
    )


def fields(row: Any, section: str = "") -> dict[str, Parameter]:
    """Return {path: field} of a named tuple whose fields are annotated like inputs."""
    hints = get_type_hints(row, include_extras=True)
    prefix = f"{section}." if section else ""
    return {f"{prefix}{name}": _parameter(name, hints[name], row._field_defaults) for name in row._fields}


def check(function: Callable[..., Any], given: Mapping[str, Any]) -> None:
    """Refuse a call whose arguments break the limits in the signature; all problems at once."""
    problems: list[Refused] = []
    known = {parameter.name: parameter for parameter in parameters(function)}
    for parameter in known.values():
        if parameter.name in given:
            check_value(parameter, given[parameter.name], parameter.name, problems)
        elif parameter.required:
            problems.append(Refused(parameter.name, "is needed", label=parameter.input.label))
    problems += [Refused(name, "is not an input of this calculator") for name in given if name not in known]
    if problems:
        raise problems[0] if len(problems) == 1 else RefusedTogether(problems)


def check_value(parameter: Parameter, value: Any, where: str, problems: list[Refused]) -> None:
    """Append a refusal to ``problems`` for each way ``value`` breaks the limits of ``parameter``."""
    label = parameter.input.label
    if value is None and parameter.optional:
        return
    if parameter.kind == "table":
        _check_table(parameter, value, where, problems)
    elif parameter.kind == "choice":
        if value not in parameter.options:
            problems.append(Refused(where, f"must be one of {', '.join(parameter.options)}", repr(value), label=label))
    elif parameter.kind == "switch":
        if not isinstance(value, bool):
            problems.append(Refused(where, "must be true or false", repr(value), label=label))
    elif parameter.kind == "text":
        if not isinstance(value, str):
            problems.append(Refused(where, "must be text", repr(value), label=label))
    elif isinstance(value, bool) or not isinstance(value, int | float):
        problems.append(Refused(where, "must be a number", repr(value), label=label))
    elif not math.isfinite(value):
        problems.append(Refused(where, "must be a finite number", repr(value), label=label))
    elif abs(value) > LARGEST:
        problems.append(Refused(where, f"must be at most {LARGEST:g} in size", repr(value), label=label))
    elif parameter.kind == "integer" and value != int(value):
        problems.append(Refused(where, "must be a whole number", repr(value), label=label))
    elif rule := broken_limit(parameter.input, value):
        problems.append(
            Refused(where, rule, show(value, parameter.input.unit), hint=_percent_slip(parameter, value), label=label)
        )


def broken_limit(limits: Input, value: float) -> str:
    """Return the rule that ``value`` breaks, in words, or nothing."""
    bounds = (
        (limits.above, value > (limits.above or 0), "greater than"),
        (limits.at_least, value >= (limits.at_least or 0), "at least"),
        (limits.below, value < (limits.below or 0), "less than"),
        (limits.at_most, value <= (limits.at_most or 0), "at most"),
    )
    for limit, kept, words in bounds:
        if limit is not None and not kept:
            return f"must be {words} {show(limit, limits.unit)}"
    return ""


def _percent_slip(parameter: Parameter, value: float) -> str:
    """Return a hint where a share looks like percent typed without its sign: 62 for 62 %."""
    share = parameter.quantity is not None and parameter.quantity.dimension == "ratio" and parameter.input.unit == "%"
    if share and 1 < value <= 100 and not broken_limit(parameter.input, value / 100):
        return f"Did you mean {show(value / 100, '%')}?"
    return ""


def limits_in_words(limits: Input, shown: str = "") -> str:
    """Return the limits of an input as the form prints them, such as ``> 0 mm, ≤ 500 mm``."""
    unit = shown or limits.unit
    signs = ((limits.above, ">"), (limits.at_least, "≥"), (limits.below, "<"), (limits.at_most, "≤"))
    return ", ".join(f"{sign} {show(limit, unit)}" for limit, sign in signs if limit is not None)


def _parameter(name: str, hint: Any, defaults: Mapping[str, Any]) -> Parameter:
    base, notes = _unfold(hint)
    optional = _allows_none(base) or any(_allows_none(part) for part in get_args(hint))
    base, inner = _unfold(_without_none(base))
    notes = (*inner, *notes)
    quantity = next((note for note in notes if isinstance(note, Quantity)), None)
    choice = next((note for note in notes if isinstance(note, Choice)), None)
    input = next((note for note in notes if isinstance(note, Input)), None)
    if input is None:
        input = Input(choice.label, help=choice.help) if choice else Input(name.replace("_", " ").capitalize())
    plain = Parameter(name, "number", input, quantity, name not in defaults, defaults.get(name), optional)
    if get_origin(base) is Literal:
        options = tuple(str(option) for option in get_args(base))
        words = tuple(choice.words.get(option, option) if choice else option for option in options)
        return plain._replace(kind="choice", options=options, words=words)
    if get_origin(base) is tuple:
        row = get_args(base)[0]
        return plain._replace(kind="table", row=row, columns=tuple(fields(row).values()))
    return plain._replace(kind=_KINDS[base])


_KINDS: dict[Any, Literal["number", "integer", "switch", "text"]] = {
    float: "number",
    int: "integer",
    bool: "switch",
    str: "text",
}


def _result(name: str, hint: Any) -> Result:
    base, notes = _unfold(hint)
    base, inner = _unfold(_without_none(base))
    notes = (*inner, *notes)
    quantity = next((note for note in notes if isinstance(note, Quantity)), None)
    output = next((note for note in notes if isinstance(note, Output)), Output(name.replace("_", " ").capitalize()))
    if get_origin(base) is tuple:
        inside, more = _unfold(get_args(base)[0])
        quantity = quantity or next((note for note in more if isinstance(note, Quantity)), None)
        return Result(name, "words" if inside is str else "numbers", output, quantity)
    return Result(name, "number" if base in (float, int) else "word", output, quantity)


def _unfold(hint: Any) -> tuple[Any, tuple[Any, ...]]:
    if get_origin(hint) is Annotated:
        base, *notes = get_args(hint)
        return base, tuple(notes)
    return hint, ()


def _allows_none(hint: Any) -> bool:
    return type(None) in get_args(hint)


def _without_none(hint: Any) -> Any:
    if _allows_none(hint):
        (kept,) = (part for part in get_args(hint) if part is not type(None))
        return kept
    return hint


def _check_table(parameter: Parameter, rows: Any, where: str, problems: list[Refused]) -> None:
    if not isinstance(rows, tuple) or not rows:
        problems.append(Refused(where, "must have at least one row", label=parameter.input.label))
        return
    for number, row in enumerate(rows, start=1):
        for column, value in zip(parameter.columns, row, strict=True):
            check_value(column, value, f"{where}[{number}].{column.name}", problems)


def beyond(name: str) -> Refused:
    """Return the refusal of inputs that lead out of the range of numbers."""
    return Refused(
        name, "cannot be computed from these inputs together", hint="One of them is far too large or too small."
    )


def _require_finite(name: str, result: Any) -> None:
    for value in result if isinstance(result, tuple) else (result,):
        if isinstance(value, tuple):
            _require_finite(name, value)
        elif isinstance(value, float) and not math.isfinite(value):
            raise beyond(name)
