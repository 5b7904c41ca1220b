"""Anything the limits allow: a value, a flag, or a refusal that names an input, its rule and the value. Never NaN or infinity."""

import json
import math
import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import catalogue, form
from calc.answer import answer
from calc.ask.inputs import read_inputs
from calc.refusal import Refused, RefusedTogether, refusals_of

CHAPTERS = ("springs", "bars", "ride", "dampers")
NAMES = [name for name in catalogue.names() if catalogue.entry(name).chapter in CHAPTERS]
TINY, HUGE = 1e-9, 1e9
RISING = {"readings", "rubber", "dyno_table", "peaks"}


def number(parameter):
    """Values the limits allow: typical ones, and sizes from tiny to huge."""
    limits = parameter.input
    low = limits.above if limits.above is not None else limits.at_least
    high = limits.below if limits.below is not None else limits.at_most
    sized = st.floats(math.log(TINY), math.log(HUGE)).map(math.exp)
    if low is None:
        sized = sized | sized.map(lambda value: -value)
    within = sized.filter(lambda value: not form.broken_limit(limits, value))
    if limits.typical:
        usual = st.floats(*limits.typical).filter(lambda value: not form.broken_limit(limits, value))
        return st.one_of(usual, usual, usual, within)
    if high is not None and low is not None:
        return st.floats(low, high).filter(lambda value: not form.broken_limit(limits, value))
    return within


def rows(parameter):
    """Rows of a table; measured tables mostly rise, as they must to be read."""
    row = st.tuples(*(value(column) for column in parameter.columns))
    some = st.lists(row, min_size=1, max_size=7)
    if parameter.name in RISING:
        rising = some.map(
            lambda cells: list(zip(*(_sorted(column) for column in zip(*cells, strict=True)), strict=True))
        )
        some = st.one_of(rising, rising, some)
    return some.map(lambda cells: tuple(parameter.row(*each) for each in cells))


def _sorted(column):
    return sorted(column) if all(isinstance(each, int | float) for each in column) else column


def value(parameter):
    if parameter.kind == "table":
        found = rows(parameter)
    elif parameter.kind == "choice":
        found = st.sampled_from(parameter.options)
    elif parameter.kind == "integer":
        found = st.integers(0, 8)
    else:
        found = number(parameter)
    return st.none() | found if parameter.optional else found


def inputs(name):
    return st.fixed_dictionaries({p.name: value(p) for p in form.parameters(catalogue.load(name))})


def finite(found):
    if isinstance(found, tuple):
        return all(finite(each) for each in found)
    return not isinstance(found, float) or math.isfinite(found)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=80, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(data=st.data())
def test_a_value_a_flag_or_a_refusal_with_its_figures(name, data):
    function = catalogue.load(name)
    asked = data.draw(inputs(name))

    try:
        result = function(**asked)
        figures = form.about(function).figures(result, asked)
    except (Refused, RefusedTogether) as problem:
        for each in refusals_of(problem):
            assert re.split(r"[\[.]", each.input)[0] in {*asked, name}
            assert each.rule
            assert each.value or each.input == name or "needed" in each.rule
    else:
        assert finite(result)
        assert all(flag.endswith((".", "?")) for flag in getattr(result, "flags", ()))
        assert all(figure.title and figure.description for figure in figures)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(data=st.data())
def test_the_border_answers_with_figures(name, data):
    said = json.loads(answer(json.dumps({"name": name, "inputs": data.draw(inputs(name))})))

    assert set(said) in ({"answer"}, {"refused"})


@pytest.mark.parametrize("name", NAMES)
def test_most_examples_near_the_usual_are_answered(name):
    """The fuzz would prove nothing if everything were refused: the example, five per cent up and down, is answered."""
    function = catalogue.load(name)
    example = read_inputs(form.parameters(function), form.about(function).example)
    for parameter in form.parameters(function):
        if isinstance(example[parameter.name], float):
            for by in (0.95, 1.05):
                near = example[parameter.name] * by
                if not form.broken_limit(parameter.input, near):
                    assert finite(function(**{**example, parameter.name: near}))


@pytest.mark.parametrize("name", NAMES)
def test_the_example_is_typical(name):
    said = json.loads(answer(json.dumps({"name": name, "inputs": form.about(catalogue.load(name)).example})))["answer"]

    assert not [each for each in said["remarks"] if "unusual" in each["text"]]
    assert not [each["title"] for each in said["figures"] if "nan" in each["svg"].lower()]
