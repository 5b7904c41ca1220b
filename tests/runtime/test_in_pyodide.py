"""The browser's Python says what this one says."""

import json
import math
import re

import pytest

from calc.answer import answer
from site_build.project import Project
from site_build.runtime import assets, node, suite

pytestmark = pytest.mark.runtime

# Both sides use the same formulas in double precision; their libm differ in the last digits. Chosen, not measured.
RELATIVE = 1e-9
NUMBER = re.compile(r"[-−]?\d+(?:\.\d+)?(?:e[-+]?\d+)?")


def test_own_suite_passes_inside():
    told = suite.run(Project().cache)

    assert told["code"] == 0, told["printed"]
    assert told["passed"] > 20


def test_answers_of_every_calculator_are_equal_inside():
    listed = json.loads(answer('{"verb": "list"}'))["answer"]
    names = [each["name"] for each in listed]
    questions = [json.dumps({"name": name, "inputs": example_of(name)}) for name in names]

    inside = ask_inside(questions)

    assert names
    for question, there in zip(questions, inside, strict=True):
        here = json.loads(answer(question))
        assert "answer" in here, f"{question}: {here}"
        assert list(differences(here, json.loads(there), question)) == []


def test_a_refusal_reads_the_same_inside():
    questions = ['{"name": "no_such_calculator", "inputs": {}}', "not JSON", '{"verb": "dance"}']

    assert ask_inside(questions) == [answer(question) for question in questions]


def example_of(name):
    return json.loads(answer(json.dumps({"verb": "describe", "name": name})))["answer"]["example"]


def ask_inside(questions):
    files = assets.assemble(Project().calc, Project().cache)
    library, calc = files[assets.LIBRARY], files[assets.CALC]
    return node.run_inside("answers", questions, library=library, archives=[calc])


def differences(here, there, place):
    """Yield where two answers differ by more than the last digits of a double."""
    if isinstance(here, dict) and isinstance(there, dict) and here.keys() == there.keys():
        for key in here:
            yield from differences(here[key], there[key], f"{place} / {key}")
    elif isinstance(here, list) and isinstance(there, list) and len(here) == len(there):
        for number, (one, other) in enumerate(zip(here, there, strict=True)):
            yield from differences(one, other, f"{place} / {number}")
    elif isinstance(here, str) and isinstance(there, str):
        if not same_text(here, there):
            yield f"{place}: {here!r} here, {there!r} inside"
    elif not same_number(here, there):
        yield f"{place}: {here!r} here, {there!r} inside"


def same_number(here, there):
    if here == there:
        return True
    numbers = all(isinstance(each, int | float) and not isinstance(each, bool) for each in (here, there))
    return numbers and math.isclose(here, there, rel_tol=RELATIVE, abs_tol=1e-12)


def same_text(here, there):
    """Equal, or equal but for one step in the last digit shown: a rounding that tipped over."""
    if here == there:
        return True
    if NUMBER.sub("#", here) != NUMBER.sub("#", there):
        return False
    pairs = zip(NUMBER.findall(here), NUMBER.findall(there), strict=True)
    return all(abs(value(one) - value(other)) <= 1.01 * step(one) for one, other in pairs if one != other)


def value(text):
    return float(text.replace("−", "-"))


def step(text):
    return 10.0 ** -len(text.partition(".")[2])


def test_the_comparison_notices_a_difference():
    assert list(differences({"a": [1.0, "x 2.0"]}, {"a": [1.0 + 1e-8, "x 2.0"]}, "q"))
    assert list(differences("force 2.0 N", "force 2.2 N", "q"))
    assert list(differences("force 2.0 N", "force 2.0 kN", "q"))
    assert not list(differences({"a": 1.0, "b": "2.04 N"}, {"a": 1.0 + 1e-12, "b": "2.05 N"}, "q"))
