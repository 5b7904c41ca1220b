"""What every calculator of the catalogue promises: an example, a documented basis, sound dimensions, and never a NaN."""

import json
import math
from functools import cache
from typing import Any

import pint
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from calc import catalogue, form
from calc.answer import answer, answer_object
from calc.ask.describe import sections
from calc.ask.inputs import read_inputs
from calc.form import Parameter
from calc.units import UNITS
from tests.calc.test_units import as_pint

NAMES = catalogue.names()
REGISTRY = pint.UnitRegistry()

# Scale factors of length, mass and time that leave the constants of nature in the formulas as they are: standard gravity keeps
# its number when length = time^2, the radiation constant when mass = time^3.
TIME = 1.02
SCALES = {"[length]": TIME**2, "[mass]": TIME**3, "[time]": TIME}

# Calculators, or single results of them, with a dimensional constant of another kind: not homogeneous by nature, and why.
EMPIRICAL: dict[str, str] = {
    "stopping_limits": "the distances of the regulation are stated in km/h and metres",
    "brake_fluid.viscosity": "a limit of the standard",
    "road_roughness": "ISO 8608 states roughness at 0.1 cycles per metre",
    "road_response": "the same, and a band of frequencies in Hz with the weighting of ISO 2631-1",
    "damper_gas": "gauge pressure: the atmosphere is a constant",
    "air_density": "the gas constant of air is a number, and so are those of its vapour pressure",
    "cg_height_lift.per_kilogram": "what one kilogram on the scales would change",
}


def example(name: str) -> dict[str, Any]:
    return dict(form.about(catalogue.load(name)).example)


def read_example(name: str) -> dict[str, Any]:
    return read_inputs(form.parameters(catalogue.load(name)), example(name))


@pytest.mark.parametrize("name", NAMES)
def test_the_example_is_answered(name):
    said = json.loads(answer(json.dumps({"name": name, "inputs": example(name)})))

    assert "answer" in said, said
    assert said["answer"]["outputs"]


@pytest.mark.parametrize("name", NAMES)
def test_it_says_what_it_rests_on(name):
    function = catalogue.load(name)
    notes, about = sections(function), form.about(function)

    assert {"Equation", "Valid for", "Source"} <= set(notes), sorted(notes)
    assert ">>>" in (function.__doc__ or ""), "the docstring has no running example"
    assert about.title[0].isupper()
    assert about.question.endswith("?")


@pytest.mark.parametrize("name", NAMES)
def test_every_input_and_result_is_named_with_a_unit_of_its_kind(name):
    function = catalogue.load(name)
    for parameter in _with_columns(form.parameters(function)):
        assert parameter.input.label, parameter.name
        if parameter.quantity:
            assert UNITS[parameter.input.unit].dimension == parameter.quantity.dimension, parameter.name
    for result in form.results(function):
        if result.quantity:
            assert UNITS[result.output.unit].dimension == result.quantity.dimension, result.name


@pytest.mark.parametrize("name", NAMES)
def test_the_working_gives_results_that_exist(name):
    function = catalogue.load(name)
    names = {result.name for result in form.results(function)}

    assert {step.gives for step in form.about(function).working} <= names


def _with_columns(parameters: tuple[Parameter, ...]) -> list[Parameter]:
    return [each for parameter in parameters for each in (parameter, *parameter.columns)]


@cache
def factor(unit: str) -> float:
    """Return by what a value in this SI unit grows when lengths, masses and times do."""
    power = REGISTRY.Unit(as_pint(unit)).dimensionality
    return math.prod(SCALES.get(base, 1.0) ** exponent for base, exponent in power.items())


def _scaled(value: Any, parameter: Parameter) -> Any:
    if parameter.kind == "table" and value is not None:
        return tuple(type(row)(*(_scaled(v, c) for v, c in zip(row, parameter.columns, strict=True))) for row in value)
    if isinstance(value, float) and parameter.quantity:
        return value * factor(parameter.quantity.unit)
    return value


@pytest.mark.parametrize("name", [name for name in NAMES if name not in EMPIRICAL])
def test_it_is_dimensionally_homogeneous(name):
    """Independent reference: pint gives the dimension of each unit; the physics must not care how long a metre is."""
    function = catalogue.load(name)
    inputs = read_example(name)
    before = function(**inputs)
    after = function(**{p.name: _scaled(inputs[p.name], p) for p in form.parameters(function)})

    for result in form.results(function):
        if f"{name}.{result.name}" in EMPIRICAL:
            continue
        old, new = getattr(before, result.name), getattr(after, result.name)
        by = factor(result.quantity.unit) if result.quantity else 1.0
        for one, other in zip(_numbers(old), _numbers(new), strict=True):
            assert other == pytest.approx(one * by, rel=1e-6, abs=1e-9 * by), result.name


def _numbers(value: Any) -> tuple[float, ...]:
    if isinstance(value, tuple):
        return tuple(number for each in value for number in _numbers(each))
    return (float(value),) if isinstance(value, float | int) else ()


def numbers_for(parameter: Parameter, usual: Any) -> st.SearchStrategy[Any]:
    """Return values for an input: near the example, at the limits, and far outside."""
    wild = st.sampled_from([0.0, -1.0, 1e-12, 1e12, 1e300, -1e300, 5e-324, float("nan"), float("inf")])
    if parameter.kind == "choice":
        return st.sampled_from([*parameter.options, "nothing"])
    if parameter.kind == "switch":
        return st.booleans()
    if parameter.kind == "integer":
        return st.integers(-2, 40)
    if parameter.kind == "table":
        rows = st.tuples(*(numbers_for(c, None) for c in parameter.columns)).map(list)
        return st.one_of(st.just(usual), st.lists(rows, max_size=5))
    if parameter.kind == "text":
        return st.just(usual) | st.text(max_size=5)
    if isinstance(usual, float):
        return st.one_of(st.floats(0.2, 5).map(lambda by: by * usual), st.just(usual), wild)
    return st.one_of(st.floats(-10, 10), st.floats(0, 1e5), wild)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=60)
@given(data=st.data())
def test_whatever_comes_it_answers_or_refuses_and_never_says_nan(name, data):
    usual = read_example(name)
    parameters = form.parameters(catalogue.load(name))
    changed = data.draw(st.lists(st.sampled_from(parameters), min_size=1, max_size=4, unique_by=lambda p: p.name))
    inputs = {**usual, **{p.name: data.draw(numbers_for(p, usual[p.name]), label=p.name) for p in changed}}

    said = json.loads(answer(json.dumps({"name": name, "inputs": inputs})), parse_constant=_refuse_constant)

    if "refused" in said:
        for problem in said["refused"]:
            assert problem["input"]
            assert problem["sentence"].endswith((".", "?", "!"))
    else:
        for figure in said["answer"]["figures"]:
            assert "nan" not in figure["svg"].lower().replace("nance", "")


def _refuse_constant(word: str) -> float:
    raise AssertionError(f"{word} in an answer")


def test_names_are_listed_once_and_lead_to_calculators():
    listed = answer_object({"verb": "list"})

    assert [each["name"] for each in listed] == list(NAMES)
    assert len({each["title"] for each in listed}) == len(NAMES), "two calculators share a title"
