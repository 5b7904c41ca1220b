"""Every calculator and every verb: the verbs know no calculator, so all must work on each."""

import json
import math

import pytest

from calc import catalogue, form
from calc.answer import answer, answer_object
from calc.ask.inputs import read_inputs
from calc.ask.subject import attempt, subject_of

NAMES = catalogue.names()


def numeric_inputs(name):
    """Inputs of the example that are plain numbers."""
    given = example(name)
    read = read_inputs(form.parameters(catalogue.load(name)), given)
    return [p for p in form.parameters(catalogue.load(name)) if p.kind == "number" and isinstance(read[p.name], float)]


def example(name):
    return dict(form.about(catalogue.load(name)).example)


def first_number(name):
    """The first result that is a number in the example; none where a calculator gives only words or tables."""
    said = answer_object({"name": name, "inputs": example(name), "figures": False})
    return next((each for each in said["outputs"] if isinstance(each["value"], float)), None)


def moving(name):
    """An input that moves the first number, and the number; none where nothing moves it smoothly."""
    subject, output = subject_of(name), first_number(name)
    if output is None:
        return None
    inputs = read_inputs(subject.parameters, example(name))
    for parameter in numeric_inputs(name):
        value = inputs[parameter.name]
        near = [attempt(subject, inputs, **{parameter.name: value * by}).number(output["name"]) for by in (0.97, 1.03)]
        if value and None not in near and abs(near[1] - near[0]) > 1e-6 * abs(output["value"]):
            return parameter.name, value, output
    return None


@pytest.mark.parametrize("name", NAMES)
def test_solve_then_evaluate_gives_the_target(name):
    found = moving(name)
    if found is None:
        return
    vary, value, output = found
    subject = subject_of(name)
    inputs = read_inputs(subject.parameters, example(name))
    target = attempt(subject, inputs, **{vary: value * 1.02}).number(output["name"])
    said = answer_object(
        {
            "verb": "solve",
            "name": name,
            "inputs": example(name),
            "output": output["name"],
            "target": target,
            "vary": vary,
            "low": min(value * 0.9, value * 1.1),
            "high": max(value * 0.9, value * 1.1),
        }
    )

    assert said["roots"], said
    for root in said["roots"]:
        reached = attempt(subject, inputs, **{vary: root["value"]}).number(output["name"])
        assert reached == pytest.approx(target, rel=1e-5, abs=1e-9)


@pytest.mark.parametrize("name", NAMES)
def test_a_sweep_at_the_present_value_equals_evaluate(name):
    output = first_number(name)
    inputs = numeric_inputs(name)
    if output is None or not inputs:
        return
    vary = inputs[0].name
    value = read_inputs(form.parameters(catalogue.load(name)), example(name))[vary]
    width = abs(value) * 0.1 or 0.1
    question = {
        "verb": "sweep",
        "name": name,
        "inputs": example(name),
        "vary": vary,
        "outputs": [output["name"]],
        "count": 3,
    }
    said = json.loads(answer(json.dumps({**question, "low": value - width, "high": value + width})))["answer"]

    middle = said["curves"][0]["outputs"][output["name"]][1]
    assert middle == pytest.approx(output["value"], rel=1e-6, abs=1e-12)
    assert said["figures"][0]["svg"].startswith("<svg")


@pytest.mark.parametrize("name", NAMES)
def test_a_small_tolerance_is_linear_and_its_shares_add_up(name):
    found = moving(name)
    if found is None:
        return
    vary, _, output = found
    said = answer_object(
        {
            "verb": "tolerance",
            "name": name,
            "inputs": example(name),
            "tolerances": {vary: "0.2 %"} if _dimension(name, vary) != "ratio" else {vary: 1e-4},
            "samples": 300,
        }
    )

    for result in said["results"]:
        shares = [each["share"] for each in result["shares"]]
        assert math.fsum(shares) == pytest.approx(1) or not any(shares)
    first = next(each for each in said["results"] if each["name"] == output["name"])
    assert first["plus_minus"]["value"] > 0


def _dimension(name, vary):
    return subject_of(name).parameter(vary).quantity.dimension


@pytest.mark.parametrize("name", NAMES)
def test_compare_with_itself_moves_nothing(name):
    said = answer_object({"verb": "compare", "name": name, "inputs": example(name), "changed": {}})

    assert all(each["by"]["value"] == 0 for each in said["differences"])
