"""Whatever is put in: a value, a flag, or a refusal that names an input of that calculator, its rule and the value. Never NaN or infinity."""

import json
import math
import re

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from calc import catalogue, form
from calc.answer import answer
from calc.refusal import Refused, RefusedTogether, refusals_of

NAMES = [name for name in catalogue.names() if catalogue.entry(name).chapter in {"loads", "aero", "tyres"}]
TINY, HUGE = 1e-12, 1e12


def number(parameter):
    """Values inside the limits: typical ones, ordinary ones, and any the limits allow."""
    limits = parameter.input
    low = limits.above if limits.above is not None else limits.at_least
    high = limits.below if limits.below is not None else limits.at_most
    low, high = (-HUGE if low is None else low), (HUGE if high is None else high)
    strict = {"exclude_min": limits.above is not None, "exclude_max": limits.below is not None}
    anything = st.floats(low, high, allow_nan=False, **strict)
    if not limits.typical:
        return anything
    near = st.floats(max(low, limits.typical[0]), min(high, limits.typical[1]), allow_nan=False).filter(
        lambda value: value > low or limits.above is None
    )
    return st.one_of(near, near, near, near, anything)


def value(parameter):
    if parameter.kind == "table":
        row = st.tuples(*(value(column) for column in parameter.columns)).map(lambda cells: parameter.row(*cells))
        found = st.lists(row, min_size=1, max_size=5).map(tuple)
    elif parameter.kind == "choice":
        found = st.sampled_from(parameter.options)
    elif parameter.kind == "switch":
        found = st.booleans()
    elif parameter.kind == "text":
        found = st.text(max_size=8)
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
@settings(max_examples=120, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(data=st.data())
def test_a_value_a_flag_or_a_refusal(name, data):
    function = catalogue.load(name)
    asked = data.draw(inputs(name))

    try:
        result = function(**asked)
    except (Refused, RefusedTogether) as problem:
        for each in refusals_of(problem):
            assert re.split(r"[\[.]", each.input)[0] in {*asked, name}
            assert each.rule
            assert each.value or each.input == name or each.rule == "is needed" or "needed with" in each.rule
    else:
        assert finite(result)
        assert all(flag.endswith((".", "?")) for flag in getattr(result, "flags", ()))


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much])
@given(data=st.data())
def test_the_border_answers_with_figures(name, data):
    said = json.loads(answer(json.dumps({"name": name, "inputs": data.draw(inputs(name))})))

    assert set(said) in ({"answer"}, {"refused"})


@pytest.mark.parametrize("name", NAMES)
def test_the_example_is_answered_with_working_and_remarks(name):
    about = form.about(catalogue.load(name))

    said = json.loads(answer(json.dumps({"name": name, "inputs": about.example})))["answer"]

    outputs = {each["name"] for each in said["outputs"]}
    assert {step.gives for step in about.working} <= outputs
    assert about.working
    assert not [each for each in said["remarks"] if "unusual" in each["text"]], "an example should be typical"


@pytest.mark.parametrize("name", NAMES)
def test_the_docstring_says_equation_validity_and_source(name):
    notes = json.loads(answer(json.dumps({"verb": "describe", "name": name})))["answer"]["notes"]

    assert {"Equation", "Valid for", "Source"} <= set(notes)
    assert ">>>" in catalogue.load(name).__doc__
