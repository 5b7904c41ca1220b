"""Every reference case for brakes at its stated tolerance, every case of bad input, and every printed answer known to be wrong.

The cases, their sources and tolerances are data: ``brakes_cases.json``. How a case is put to ``calc`` is in the adapters.
"""

import json
from pathlib import Path

import pytest

from calc.ask.evaluate import evaluate
from calc.brakes.cylinders import line_pressure
from calc.brakes.distribution import axle_stop, brake_distribution
from calc.brakes.fluid import GRADES
from calc.brakes.grade import grade_stop
from calc.brakes.heat.stops import temperature_rise
from calc.refusal import Refused, RefusedTogether, refusals_of
from tests.reference import brakes_adapters_balance, brakes_adapters_heat, brakes_adapters_hydraulics
from tests.reference.brakes_case import INCH, POUND_FORCE, PSI, Given, wrong

DATA = json.loads((Path(__file__).parent / "brakes_cases.json").read_text("utf-8"))
MODULES = (brakes_adapters_hydraulics, brakes_adapters_balance, brakes_adapters_heat)
ADAPTERS = {topic: adapter for module in MODULES for topic, adapter in module.ADAPTERS.items()}
BAD = {key: bad for module in MODULES for key, bad in module.BAD.items()}
FLAGGED = brakes_adapters_hydraulics.FLAGGED
ANSWERED = {**brakes_adapters_hydraulics.ANSWERED, **brakes_adapters_heat.ANSWERED}
BAD_CASES = DATA["bad_input_cases"]


def _key(bad):
    return bad["topic"], next(iter(bad["input"]))


@pytest.mark.parametrize("case", DATA["cases"], ids=lambda case: case["id"])
def test_case(case):
    found = ADAPTERS[case["topic"]](Given(case["inputs"]))

    off = {
        name: (found[name], wanted["value"], wanted["unit"])
        for name, wanted in case["expected"].items()
        if wrong(found[name], wanted)
    }
    assert not off, f"{case['id']} (found in SI, wanted): {off}"


def test_every_case_of_bad_input_has_an_adapter():
    assert {_key(bad) for bad in BAD_CASES} == set(BAD) | set(FLAGGED) | set(ANSWERED)


@pytest.mark.parametrize("bad", [b for b in BAD_CASES if _key(b) in BAD], ids=lambda b: ":".join(_key(b)))
def test_bad_input_is_refused_by_name(bad):
    named, calls = BAD[_key(bad)]
    assert "error" in bad["expected_behaviour"] or "refuse" in bad["expected_behaviour"]
    for call in calls:
        with pytest.raises((Refused, RefusedTogether)) as caught:
            call()
        first = refusals_of(caught.value)[0]
        assert first.input.startswith(named)
        assert first.rule
        assert first.value or first.input == "zones"


def test_a_pedal_that_bottoms_is_flagged():
    ask, word = FLAGGED["fluid_displacement", "stroke"]

    assert any(word in flag for flag in ask())


def test_no_feasible_pair_is_an_empty_answer_with_the_limit_that_failed():
    found = ANSWERED["master_cylinder_selection", "result"]()

    assert found.choices == 0
    assert found.front_bores == ()
    assert found.limit_that_failed == "pedal force"
    assert found.failing


def test_a_standing_disc_still_cools():
    found = ANSWERED["convection", "speed"]()

    assert 3 <= found.face <= 10
    assert found.face_regime == "still air"


def test_ambient_in_kelvin_given_as_celsius_is_warned_about():
    given = {
        "disc_mass": 8.0,
        "specific_heat": 500.0,
        "heat_transfer": 60.0,
        "area": 0.16,
        "ambient": "293 °C",
        "start_temperature": "620 °C",
        "times": [["10 s"]],
    }

    assert any(r["about"] == "ambient" and "kelvin" in r["text"] for r in evaluate("disc_cooling", given)["remarks"])


# Printed answers found wrong: what they print must not come out, what they were recomputed to must (each named in the data).


def test_rejected_front_braking_with_static_load():
    found = axle_stop(
        braked="front", wheelbase=4.0, front_share=1.2 / 4.0, cg_height=0.8, adhesion=0.8, speed=10.0, gravity=10.0
    )
    assert found.deceleration == pytest.approx(2.857, abs=0.005)
    assert found.deceleration != pytest.approx(2.4, abs=0.1)


def test_rejected_level_distance():
    found = grade_stop(
        angle=0.0, speed=20.0, adhesion=0.35, wheelbase=2.5, front_share=0.5, cg_height=0.5, gravity=9.81
    )
    assert found.distance == pytest.approx(58.2, abs=0.1)


def test_rejected_axle_loads():
    found = brake_distribution(
        mass=1800.0,
        wheelbase=3.0,
        front_share=1.3 / 3.0,
        cg_height=0.9,
        front_brake_share=0.6,
        deceleration=25.0**2 / (2 * 50.0),
    )
    assert (found.front_load, found.rear_load) == (pytest.approx(11027, rel=1e-3), pytest.approx(6631, rel=1e-3))


def test_rejected_magazine_pressure():
    assert line_pressure(360 * POUND_FORCE, 0.90 * INCH) / PSI == pytest.approx(566, abs=0.5)


def test_rejected_disc_rise():
    assert temperature_rise(192_000, 3.5, 448) == pytest.approx(122.45, abs=0.01)


def test_rejected_fluid_figure():
    assert GRADES["DOT 4"].dry - 273.15 == pytest.approx(230)
