"""Describe: what a calculator takes, gives, rests on and where it stops being true, as plain data."""

import inspect
import re
from collections.abc import Callable
from typing import Any

from calc import catalogue, form
from calc.display import Shown
from calc.form import Input, Parameter, Result
from calc.units import Unit, choices

_HEADS = ("Equation", "Valid for", "Caution", "Source", "Signs")


def list_all() -> list[dict[str, str]]:
    """Return name, chapter, title and question of every calculator."""
    return [_line(name) for name in catalogue.names()]


def _line(name: str) -> dict[str, str]:
    about = form.about(catalogue.load(name))
    return {"name": name, "chapter": catalogue.entry(name).chapter, "title": about.title, "question": about.question}


def describe(name: str) -> dict[str, Any]:
    """Return everything a form, a reference page or a command line needs to know about a calculator.

    >>> [each["unit"] for each in describe("ride_frequency")["inputs"]][:3]
    ['kg', 'N/mm', 'N/mm']
    """
    function = catalogue.load(name)
    about = form.about(function)
    return {
        **_line(name),
        "summary": inspect.getdoc(function).partition("\n")[0] if function.__doc__ else "",  # type: ignore[union-attr]  # has a doc here
        "inputs": [_input(parameter) for parameter in form.parameters(function)],
        "outputs": [_output(result) for result in form.results(function)],
        "working": [step._asdict() for step in about.working],
        "notes": sections(function),
        "example": dict(about.example),
    }


def sections(function: Callable[..., Any]) -> dict[str, str]:
    """Return the named paragraphs of a calculator's docstring: equation, validity, caution, signs, source."""
    text = inspect.getdoc(function) or ""
    pattern = rf"^({'|'.join(_HEADS)}):\s*(.*?)(?=^(?:{'|'.join(_HEADS)}):|^>>>|^\s*$|\Z)"
    return {head: " ".join(body.split()) for head, body in re.findall(pattern, text, re.DOTALL | re.MULTILINE)}


def _input(parameter: Parameter) -> dict[str, Any]:
    limits = parameter.input
    return {
        "name": parameter.name,
        "kind": parameter.kind,
        "label": limits.label,
        "symbol": limits.symbol,
        "help": limits.help,
        "unit": limits.unit,
        "units": [_input_unit(limits, each) for each in choices(limits.unit)] if parameter.quantity else [],
        "required": parameter.required,
        "optional": parameter.optional,
        "default": parameter.default,
        "options": [list(pair) for pair in zip(parameter.options, parameter.words, strict=True)],
        "columns": [_input(column) for column in parameter.columns],
    }


def _input_unit(limits: Input, unit: Unit) -> dict[str, Any]:
    shown = Shown({limits.unit: unit.symbol})
    return {
        "symbol": unit.symbol,
        "factor": unit.factor,
        "offset": unit.offset,
        "limits": form.limits_in_words(limits, unit.symbol),
        "typical": shown.span(*limits.typical, limits.unit) if limits.typical else "",
    }


def _output(result: Result) -> dict[str, Any]:
    output = result.output
    return {
        "name": result.name,
        "kind": result.kind,
        "label": output.label,
        "symbol": output.symbol,
        "unit": output.unit,
        "units": [each.symbol for each in choices(output.unit)] if result.quantity else [],
        "detail": output.detail,
    }
