"""The border: JSON text in, JSON text out, whatever comes."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from calc import catalogue, form
from calc.answer import LONGEST_QUESTION, answer

RIDE = {"sprung_mass": "250 kg", "wheel_rate": "25 N/mm", "tyre_rate": "200 N/mm"}


def ask(**question):
    return json.loads(answer(json.dumps(question)))


def refused(**question):
    return ask(**question)["refused"]


def test_a_question_is_answered_with_numbers_texts_working_and_figures():
    said = ask(name="ride_frequency", inputs=RIDE)["answer"]

    first = said["outputs"][0]
    assert (first["name"], first["text"], first["unit"]) == ("body_frequency", "1.59", "Hz")
    assert said["inputs"].items() >= {"sprung_mass": 250.0, "wheel_rate": 25000.0, "tyre_rate": 200000.0}.items()
    assert said["working"]["wheel_rate"] == "25\u202f000"
    assert said["figures"][0]["svg"].startswith("<svg")


def test_a_drag_is_answered_with_the_drawings_alone():
    example = dict(form.about(catalogue.load("moved_point")).example)
    whole = ask(name="moved_point", inputs=example, key="k")["answer"]
    quick = ask(name="moved_point", inputs=example, key="k", figures="drawings")["answer"]

    assert [each["title"] for each in quick["figures"]] == ["Front view", "Side view", "Plan view"]
    assert quick["figures"] == whole["figures"][:3]
    assert quick["outputs"] == whole["outputs"]
    assert ask(name="moved_point", inputs=example, figures=False)["answer"]["figures"] == []


def test_the_reader_sees_the_units_he_chose():
    said = ask(name="ride_frequency", inputs=RIDE, units={"mm": "in", "N/mm": "lbf/in"})["answer"]

    deflection = next(each for each in said["outputs"] if each["name"] == "static_deflection")
    assert (deflection["text"], deflection["unit"]) == ("3.86", "in")
    assert "lbf/in" in said["figures"][0]["svg"]


def test_every_problem_is_named_at_once():
    problems = refused(name="ride_frequency", inputs={"sprung_mass": "-3 lb", "wheel_rate": "2 mm", "tyre_rat": 1})

    assert {each["input"] for each in problems} == {"sprung_mass", "wheel_rate", "tyre_rate", "tyre_rat"}
    by_input = {each["input"]: each["sentence"] for each in problems}
    assert by_input["sprung_mass"].endswith("must be greater than 0 kg; got -3 lb.".replace(" kg", "\u00a0kg"))
    assert by_input["tyre_rat"].endswith("Did you mean tyre_rate?")


def test_an_unusual_input_is_computed_and_remarked_on():
    said = ask(name="ride_frequency", inputs={**RIDE, "sprung_mass": "1,265 kg"})["answer"]

    assert any("decimal comma" in each["text"] for each in said["remarks"])
    assert any("unusual" in each["text"] for each in said["remarks"])


@pytest.mark.parametrize(
    "text",
    [
        "",
        "[]",
        "3",
        "null",
        "{",
        '{"name": NaN}',
        '{"name": 5}',
        '{"verb": ["x"]}',
        '{"name": "nothing"}',
        '{"name": "ride_frequency", "inputs": []}',
        "[" * 50000,
        "1" * (LONGEST_QUESTION + 1),
    ],
)
def test_a_broken_question_is_refused_in_a_sentence(text):
    (problem,) = json.loads(answer(text))["refused"]

    assert problem["sentence"].endswith((".", "?"))


@given(st.text())
def test_no_text_breaks_the_border(text):
    assert json.loads(answer(text))


JSON = st.recursive(
    st.none() | st.booleans() | st.floats() | st.integers() | st.text(max_size=12),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=6), inner, max_size=3),
    max_leaves=6,
)


@given(inputs=st.dictionaries(st.sampled_from(["sprung_mass", "wheel_rate", "tyre_rate", "x"]), JSON), units=JSON)
def test_no_input_breaks_the_border(inputs, units):
    said = json.loads(answer(json.dumps({"name": "ride_frequency", "inputs": inputs, "units": units})))

    assert set(said) in ({"answer"}, {"refused"})


def test_markup_in_a_value_stays_text():
    (problem,) = refused(name="ride_frequency", inputs={**RIDE, "sprung_mass": "<img src=x onerror=alert(1)>"})

    assert problem["value"] == "<img src=x onerror=alert(1)>"


def test_a_live_cell_speaks_prints_and_names_its_line():
    said = ask(verb="run", source="x = 2\nprint(x)\nx * 3")["answer"]
    assert said == {"output": "2\n6\n", "error": ""}

    said = ask(verb="run", source="print(1)\n1 / 0")["answer"]
    assert said["output"] == "1\n"
    assert said["error"].startswith("Line 2: ZeroDivisionError")

    assert ask(verb="run", source="for")["answer"]["error"].startswith("Line 1: SyntaxError")
