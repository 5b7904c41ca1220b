"""What can be asked: anything with named inputs and named results, such as a calculator. Every verb works on this alone."""

from collections.abc import Callable, Mapping
from typing import Any, NamedTuple

from calc import catalogue, form
from calc.ask.inputs import read_inputs
from calc.display import Shown
from calc.form import Parameter, Result
from calc.refusal import Refused, RefusedTogether, refusals_of
from calc.units import read


class Subject(NamedTuple):
    """Something that turns inputs into results. ``call`` takes SI keyword arguments and may refuse."""

    name: str
    parameters: tuple[Parameter, ...]
    results: tuple[Result, ...]
    call: Callable[..., Any]

    def parameter(self, name: str) -> Parameter:
        """Return the numeric input called ``name``."""
        for parameter in self.parameters:
            if parameter.name == name and parameter.kind in {"number", "integer"}:
                return parameter
        known = ", ".join(p.name for p in self.parameters if p.kind in {"number", "integer"})
        raise Refused(name, "is not a number this calculator takes", hint=f"It takes {known}.")

    def result(self, name: str) -> Result:
        """Return the numeric result called ``name``."""
        for result in self.results:
            if result.name == name and result.kind == "number":
                return result
        known = ", ".join(r.name for r in self.numbers())
        raise Refused(name, "is not a number this calculator gives", hint=f"It gives {known}.")

    def numbers(self) -> tuple[Result, ...]:
        """Return the results that are single numbers."""
        return tuple(result for result in self.results if result.kind == "number")


class Tried(NamedTuple):
    """One attempt: its result, or why there is none."""

    result: Any
    reason: str = ""

    def number(self, name: str) -> float | None:
        """Return one result as a number, or none where it was refused or has no value."""
        value = getattr(self.result, name, None)
        return None if value is None else float(value)


def subject_of(name: str) -> Subject:
    """Return a calculator as something that can be asked."""
    function = catalogue.load(name)
    return Subject(name, form.parameters(function), form.results(function), function)


def read_for(subject: Subject, given: Mapping[str, Any]) -> dict[str, Any]:
    """Return the arguments for a subject from what a reader wrote."""
    return read_inputs(subject.parameters, given)


def attempt(subject: Subject, inputs: Mapping[str, Any], **changed: Any) -> Tried:
    """Return the result with some inputs changed; a refusal becomes a reason instead of an end."""
    try:
        return Tried(subject.call(**{**inputs, **changed}))
    except (Refused, RefusedTogether) as problem:
        return Tried(None, refusals_of(problem)[0].sentence)


def read_value(written: Any, of: Parameter | Result, where: str) -> float:
    """Return a number a reader wrote for an input or a result, in SI."""
    if isinstance(written, bool) or not isinstance(written, str | int | float):
        raise Refused(where, "must be a number with its unit", repr(written)[:60])
    if not isinstance(written, str):
        return float(written)
    try:
        return read(written, of.quantity) if of.quantity else float(written)
    except Refused as problem:
        raise Refused(where, problem.rule, problem.value, hint=problem.hint) from None
    except ValueError:
        raise Refused(where, "must be a number", repr(written)[:60]) from None


def value_of(subject: Subject, name: str, value: float, shown: Shown) -> dict[str, Any]:
    """Return an input's or a result's value as plain data with its text."""
    for parameter in subject.parameters:
        if parameter.name == name:
            text, unit = shown.value(value, parameter.input.unit)
            return {"name": name, "label": parameter.input.label, "value": value, "text": text, "unit": unit}
    result = subject.result(name)
    text, unit = shown.value(value, result.output.unit, result.output.figures, trim=False)
    return {"name": name, "label": result.output.label, "value": value, "text": text, "unit": unit}


def span_of(parameter: Parameter, baseline: float | None, low: Any = None, high: Any = None) -> tuple[float, float]:
    """Return the range an input is varied over: what the reader says, else typical and baseline, inside the limits."""
    limits = parameter.input
    typical = limits.typical or (baseline or 0.0, baseline or 0.0)
    around = (baseline / 4, baseline * 4) if baseline else typical
    first = min(typical[0], *around) if low is None else read_value(low, parameter, f"{parameter.name} from")
    last = max(typical[1], *around) if high is None else read_value(high, parameter, f"{parameter.name} to")
    width = abs(last - first) or 1.0
    for bound, open_end in ((limits.at_least, 0.0), (limits.above, 1e-6)):
        if bound is not None and low is None:
            first = max(first, bound + open_end * width)
    for bound, open_end in ((limits.at_most, 0.0), (limits.below, 1e-6)):
        if bound is not None and high is None:
            last = min(last, bound - open_end * width)
    if not first < last:
        raise Refused(parameter.name, "must be varied from a lower to a higher value", f"{first:g} to {last:g}")
    return first, last


def steps(low: float, high: float, count: int, *, whole: bool = False) -> list[float]:
    """Return ``count`` values from ``low`` to ``high``: even steps, or even ratios where the range spans more than a factor of 20."""
    if whole:
        return [float(n) for n in range(round(low), round(high) + 1)]
    if low > 0 and high / low > 20:
        ratio = (high / low) ** (1 / (count - 1))
        return [*(low * ratio**i for i in range(count - 1)), high]
    return [low + (high - low) * i / (count - 1) for i in range(count)]
