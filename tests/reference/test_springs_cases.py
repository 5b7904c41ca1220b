"""Every reference case for loads, springs, ride, roll and dampers at its stated tolerance, and every case of bad input.

The cases, their sources and tolerances are data: ``springs_cases.json``. How a case is put to ``calc`` is in the adapters.
"""

import json
import math
from pathlib import Path

import pytest

from calc import catalogue, form
from calc.answer import answer
from calc.refusal import Refused, RefusedTogether, refusals_of
from tests.reference import springs_adapters_loads, springs_adapters_springs
from tests.reference.springs_case import Given

DATA = json.loads((Path(__file__).parent / "springs_cases.json").read_text("utf-8"))
ADAPTERS = {**springs_adapters_loads.ADAPTERS, **springs_adapters_springs.ADAPTERS}
BAD = {**springs_adapters_loads.BAD, **springs_adapters_springs.BAD}
CHAPTERS = ("loads", "aero", "tyres", "springs", "dampers", "ride", "bars")


def _name(bad):
    return f"{bad['topic']}:{next(iter(bad['input']))}"


def _near(found, wanted):
    """Return whether each number is within the stated tolerance of the printed value."""
    value, allowed = wanted["value"], wanted["tolerance"]
    if isinstance(value, str) or value is None or isinstance(value, bool):
        return found == value
    pairs = zip(found, value, strict=True) if isinstance(value, list) else [(found, value)]
    return all(abs(a - b) <= allowed.get("abs", 0.0) + allowed.get("rel", 0.0) * abs(b) for a, b in pairs)


@pytest.mark.parametrize("case", DATA["cases"], ids=lambda case: case["id"])
def test_case(case):
    found = ADAPTERS[case["topic"]](Given(case["inputs"]))

    wrong = {
        name: (found[name], wanted["value"])
        for name, wanted in case["expected"].items()
        if not _near(found[name], wanted)
    }
    assert not wrong, f"{case['id']} (found, wanted): {wrong}"


@pytest.mark.parametrize("bad", [bad for bad in DATA["bad_input_cases"] if bad["topic"] != "any"], ids=_name)
def test_bad_input(bad):
    named, ask = BAD[_name(bad)]
    promised = bad["expected_behaviour"]
    if not named:
        assert "flag" in promised
        assert all(flag.strip() for flag in ask().flags)
        assert ask().flags
        return

    with pytest.raises((Refused, RefusedTogether)) as caught:
        ask()

    first = refusals_of(caught.value)[0]
    assert "error" in promised
    assert named in first.input
    assert first.rule
    assert first.value


def _numbers():
    for name in catalogue.names():
        if catalogue.entry(name).chapter in CHAPTERS:
            for parameter in form.parameters(catalogue.load(name)):
                if parameter.kind == "number":
                    yield name, parameter.name


@pytest.mark.parametrize(("name", "input"), list(_numbers()))
@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, "text", True])
def test_any_bad_value_is_refused_by_name(name, input, value):
    """The case of bad input for any topic: NaN, infinity, text or a switch where a number belongs."""
    function = catalogue.load(name)
    example = json.loads(answer(json.dumps({"name": name, "inputs": form.about(function).example})))["answer"]["inputs"]
    rows = {
        p.name: tuple(p.row(*row) for row in example[p.name])
        for p in form.parameters(function)
        if p.kind == "table" and example[p.name]
    }

    with pytest.raises((Refused, RefusedTogether)) as caught:
        function(**{**example, **rows, input: value})

    assert [each.input for each in refusals_of(caught.value)] == [input]
