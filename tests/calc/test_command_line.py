"""The command line says what the page says."""

import json
import subprocess
import sys

import pytest

from calc.__main__ import main


def run(capsys, *words):
    status = main(words)
    said = capsys.readouterr()
    return status, said.out, said.err


def test_it_lists_every_calculator_with_its_question(capsys):
    status, out, _ = run(capsys, "list")

    assert status == 0
    assert "ride_frequency" in out
    assert "How fast does this corner bounce" in out


def test_it_answers_with_units(capsys):
    status, out, _ = run(
        capsys, "ride_frequency", "--sprung_mass", "250 kg", "--wheel-rate=25 N/mm", "--tyre_rate", "200000"
    )

    assert status == 0
    assert "1.59\u00a0Hz" in out


def test_it_answers_its_own_example_as_json(capsys):
    status, out, _ = run(capsys, "brake_balance", "--example", "--json")

    assert status == 0
    assert json.loads(out)["answer"]["name"] == "brake_balance"


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            ("ride_frequency", "--sprung_mass", "-1 kg", "--wheel_rate", "1 N/mm", "--tyre_rate", "1 N/mm"),
            "greater than 0",
        ),
        (("ride_frequncy",), "Did you mean ride_frequency?"),
        (("ride_frequency", "250"), "must start with --"),
        (("ride_frequency", "--sprung_mass"), "needs a value"),
        (("describe",), "takes the name"),
    ],
)
def test_it_refuses_in_a_sentence(capsys, words, sentence):
    status, out, err = run(capsys, *words)

    assert (status, out) == (2, "")
    assert sentence in err


def test_describe_names_units_limits_and_sources(capsys):
    _, out, _ = run(capsys, "describe", "wheel_rate")

    assert "--spring_rate" in out
    assert "typically 15 to 250" in out
    assert "Source:" in out


def test_questions_stream_as_json_lines():
    questions = '{"name": "ride_frequency", "inputs": {"sprung_mass": 250, "wheel_rate": 25e3, "tyre_rate": 2e5}}\n\n{"name": 1}\n'
    said = subprocess.run(
        [sys.executable, "-m", "calc", "answer"], input=questions, capture_output=True, text=True, check=True
    )

    first, second = map(json.loads, said.stdout.splitlines())
    assert first["answer"]["outputs"][0]["value"] == pytest.approx(1.5915, rel=1e-4)
    assert "refused" in second


def test_solve_sweep_and_tolerance_are_asked_as_words(capsys):
    ride = ("ride_frequency", "--sprung_mass", "250 kg", "--wheel_rate", "25 N/mm", "--tyre_rate", "200 N/mm")

    _, out, _ = run(capsys, *ride, "--solve", "body_frequency=2 Hz", "--vary", "wheel_rate")
    assert "39.48\u00a0N/mm" in out
    _, out, _ = run(capsys, *ride, "--solve", "body_frequency=20 Hz", "--vary", "wheel_rate", "--to", "50 N/mm")
    assert "No value in the range" in out
    _, out, _ = run(capsys, *ride, "--sweep", "wheel_rate=10 N/mm:30 N/mm:3", "--outputs", "body_frequency")
    assert next(line.split("\t")[1] for line in out.splitlines()[1:]) == "1.007"
    _, out, _ = run(capsys, *ride, "--tolerance", "wheel_rate=5 %,sprung_mass=2 %")
    assert "1.59\u00a0Hz ± 0.043\u00a0Hz" in out
    assert "86 % of it from wheel_rate" in out


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("--solve", "body_frequency"), "must be written as NAME=VALUE"),
        (("--sweep", "wheel_rate=1 N/mm"), "must be INPUT=LOW:HIGH"),
        (("--tolerance", "wheel_rate"), "must be written as NAME=VALUE"),
        (("--solve", "body_frequency=2 Hz"), "is not a number this calculator takes"),
    ],
)
def test_a_broken_question_is_refused(capsys, words, sentence):
    status, _, err = run(capsys, "ride_frequency", "--example", *words)

    assert status == 2
    assert sentence in err
