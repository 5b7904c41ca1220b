"""Evaluate: one calculator, one set of inputs, one answer, with remarks, working and figures."""

from collections.abc import Mapping
from itertools import takewhile
from typing import Any, Literal

from calc import catalogue, form
from calc.ask.inputs import read_inputs
from calc.display import Shown
from calc.figures import draw
from calc.figures.spec import Drawing
from calc.form import Figures, Parameter, Remark, Result
from calc.units import read_as_thousands


def evaluate(
    name: str,
    given: Mapping[str, Any],
    units: Mapping[str, str] | None = None,
    *,
    figures: bool | Literal["drawings"] = True,
    key: str = "figure",
) -> dict[str, Any]:
    """Return the answer of a calculator as plain data.

    ``given`` holds SI numbers or texts with a unit; ``units`` maps a usual unit to the one the reader has chosen for it; ``key``
    starts the identifiers inside the figures, of which ``"drawings"`` leaves out the first chart and what follows. Raises ``Refused`` or ``RefusedTogether``.

    >>> answer = evaluate("ride_frequency", {"sprung_mass": "250 kg", "wheel_rate": "25 N/mm", "tyre_rate": "200 N/mm"})
    >>> answer["outputs"][0]["name"], answer["outputs"][0]["text"], answer["outputs"][0]["unit"]
    ('body_frequency', '1.59', 'Hz')
    """
    function = catalogue.load(name)
    about = form.about(function)
    inputs = read_inputs(form.parameters(function), given)
    result = function(**inputs)
    shown = Shown(units)
    try:
        judged = about.remarks(result, inputs)
    except (ArithmeticError, ValueError) as problem:
        raise form.beyond(name) from problem
    remarks = (*_misread(given), *_untypical(form.parameters(function), inputs, shown), *_flags(result), *judged)
    return {
        "name": name,
        "inputs": inputs,
        "outputs": [_output(field, getattr(result, field.name), shown) for field in form.results(function)],
        "remarks": [remark._asdict() for remark in remarks],
        "working": _working(function, inputs, result),
        "figures": _drawn(_chosen(about.figures, figures), result, inputs, shown, key) if figures else [],
    }


def _output(field: Result, value: Any, shown: Shown) -> dict[str, Any]:
    text, unit = shown.value(value, field.output.unit, field.output.figures, trim=False)
    return {
        "name": field.name,
        "label": field.output.label,
        "value": list(value) if isinstance(value, tuple) else value,
        "text": text,
        "unit": unit,
        "detail": field.output.detail,
    }


def _working(function: Any, inputs: Mapping[str, Any], result: Any) -> dict[str, str]:
    """Return the numbers that are put into the equations, in SI, by the name of the input or result."""
    values = {**inputs, **{field.name: getattr(result, field.name) for field in form.results(function)}}
    si = Shown()
    quantities = {p.name: p.quantity for p in form.parameters(function)} | {
        f.name: f.quantity for f in form.results(function)
    }
    return {
        name: si.value(value, quantity.unit if (quantity := quantities[name]) else "", 5)[0]
        for name, value in values.items()
        if isinstance(value, float | int) and not isinstance(value, bool)
    }


def _chosen(make: Figures, figures: bool | Literal["drawings"]) -> Figures:
    """Return what makes the figures that are wanted. Where charts are made one by one, those left out cost nothing."""
    if figures != "drawings":
        return make
    return lambda result, inputs: takewhile(lambda figure: isinstance(figure, Drawing), make(result, inputs))


def _drawn(make: Figures, result: Any, inputs: Mapping[str, Any], shown: Shown, key: str) -> list[dict[str, Any]]:
    """Return the figures; numbers too far apart to be drawn leave the answer standing without them."""
    try:
        return [draw(figure, f"{key}-{n}", shown) for n, figure in enumerate(make(result, inputs))]
    except (ArithmeticError, ValueError):
        return []


def _misread(given: Mapping[str, Any]) -> tuple[Remark, ...]:
    return tuple(
        Remark(f"{text} was read with a decimal comma; write thousands without a separator.", "caution", name)
        for name, text in given.items()
        if isinstance(text, str) and read_as_thousands(text)
    )


def _untypical(parameters: tuple[Parameter, ...], inputs: Mapping[str, Any], shown: Shown) -> tuple[Remark, ...]:
    return tuple(
        Remark(
            f"{p.input.label}: {shown.text(inputs[p.name], p.input.unit)} is unusual; {shown.span(*p.input.typical, p.input.unit)} is typical.",
            "note",
            p.name,
        )
        for p in parameters
        if p.input.typical
        and isinstance(inputs.get(p.name), float | int)
        and not p.input.typical[0] <= inputs[p.name] <= p.input.typical[1]
    )


def _flags(result: Any) -> tuple[Remark, ...]:
    return tuple(Remark(flag, "caution") for flag in getattr(result, "flags", ()))
