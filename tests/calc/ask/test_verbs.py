"""Solve, sweep, tolerance and compare against numpy and scipy, and in their refusals."""

import math

import numpy as np
import pytest
from scipy.optimize import brentq

from calc.answer import answer_object
from calc.ask.solve import solve
from calc.ask.sweep import sweep
from calc.ask.tolerance import tolerance
from calc.brakes.balance import brake_balance
from calc.refusal import Refused, RefusedTogether

RIDE = {"sprung_mass": 250.0, "wheel_rate": 25e3, "tyre_rate": 2e5}
CAR = {
    "mass": 1160.0,
    "wheelbase": 2.56,
    "front_share": 0.526,
    "cg_height": 0.48,
    "front_brake_share": 0.72,
    "adhesion": 1.1,
}


def test_a_root_agrees_with_scipy():
    """Independent numerical reference: scipy brentq."""
    said = solve("brake_balance", CAR, output="efficiency", target=0.9, vary="front_brake_share", low=0.75, high=0.98)
    theirs = brentq(lambda s: brake_balance(**{**CAR, "front_brake_share": s}).efficiency - 0.9, 0.75, 0.98)

    assert [root["value"] for root in said["roots"]] == pytest.approx([theirs], rel=1e-6)


def test_all_roots_are_found_when_there_are_several():
    """Too much and too little front brake waste the same grip."""
    said = solve("brake_balance", CAR, output="efficiency", target="95 %", vary="front_brake_share", low=0.5, high=0.99)

    assert len(said["roots"]) == 2
    for root in said["roots"]:
        assert brake_balance(**{**CAR, "front_brake_share": root["value"]}).efficiency == pytest.approx(0.95)


def test_without_a_root_the_reach_and_the_nearest_miss_are_said():
    said = solve("brake_balance", CAR, output="efficiency", target=1.2, vary="front_brake_share", low=0.5, high=0.9)

    assert said["roots"] == []
    assert said["reach"][1]["value"] <= 1
    assert said["nearest"][1]["value"] == said["reach"][1]["value"]


def test_sizes_of_a_list_are_searched():
    said = solve(
        "ride_frequency",
        RIDE,
        output="body_frequency",
        target="2 Hz",
        vary="wheel_rate",
        among=["20 N/mm", "30 N/mm", "40 N/mm"],
    )

    assert said["roots"] == []
    assert said["nearest"][0]["text"] == "40"


def test_an_input_left_empty_can_be_solved_for():
    given = {name: value for name, value in RIDE.items() if name != "wheel_rate"}
    said = solve("ride_frequency", given, output="body_frequency", target="2 Hz", vary="wheel_rate")

    assert said["roots"][0]["value"] == pytest.approx(250 * (4 * math.pi) ** 2)


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"output": "nothing", "target": 1, "vary": "wheel_rate"}, "is not a number this calculator gives"),
        ({"output": "body_frequency", "target": 1, "vary": "nothing"}, "is not a number this calculator takes"),
        ({"output": "body_frequency", "target": "2 kg", "vary": "wheel_rate"}, "must measure frequency"),
        ({"output": "body_frequency", "target": None, "vary": "wheel_rate"}, "must be a number"),
        ({"output": "body_frequency", "target": 1, "vary": "wheel_rate", "low": 5e4, "high": 1e4}, "lower to a higher"),
        ({"output": "body_frequency", "target": 1, "vary": "wheel_rate", "low": -5.0, "high": -1.0}, "gives no answer"),
    ],
)
def test_a_question_that_cannot_be_solved_is_refused(more, sentence):
    with pytest.raises(Refused, match=sentence):
        solve("ride_frequency", RIDE, **more)


def test_a_refusal_inside_a_sweep_is_a_gap_with_its_reason():
    given = {"sprung_mass": 250.0, "frequency": 2.0, "meaning": "with_tyre", "tyre_rate": 2e5, "motion_ratio": 1.0}
    said = sweep("spring_for_frequency", given, vary="frequency", outputs=["spring_rate"], low=2.0, high=6.0, count=21)

    values = said["curves"][0]["outputs"]["spring_rate"]
    assert values[0] is not None
    assert values[-1] is None
    (gap,) = said["gaps"]
    assert "must be below 4.5" in gap["reason"]
    assert gap["to"]["value"] == 6.0


def test_a_family_gives_one_curve_for_each_value():
    said = sweep(
        "ride_frequency",
        RIDE,
        vary="wheel_rate",
        family={"input": "sprung_mass", "values": ["200 kg", "300 kg"]},
        count=5,
    )

    assert [curve["member"]["text"] for curve in said["curves"]] == ["200", "300"]
    light, heavy = (curve["outputs"]["body_frequency"] for curve in said["curves"])
    assert np.divide(light, heavy) == pytest.approx(math.sqrt(1.5))
    assert "Now" in said["figures"][0]["svg"]


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"count": 1}, "from 2 to"),
        ({"count": True}, "from 2 to"),
        ({"outputs": ["x"]}, "is not a number this calculator gives"),
        ({"family": {"input": "sprung_mass", "values": []}}, "must name an input"),
    ],
)
def test_a_sweep_that_cannot_be_made_is_refused(more, sentence):
    with pytest.raises(Refused, match=sentence):
        sweep("ride_frequency", RIDE, vary="wheel_rate", **more)


def test_the_linear_tolerance_agrees_with_twenty_thousand_samples():
    """Independent numerical reference: numpy sampling of f = sqrt(k/m) / 2 pi."""
    chance = np.random.default_rng(3)
    rates, masses = chance.normal(25e3, 25e3 * 0.025, 20_000), chance.normal(250, 2.5, 20_000)
    theirs = 2 * np.std(np.sqrt(rates / masses) / (2 * np.pi))
    said = tolerance("ride_frequency", RIDE, tolerances={"wheel_rate": "5 %", "sprung_mass": "5 kg"})

    first = said["results"][0]
    assert first["plus_minus"]["value"] == pytest.approx(theirs, rel=0.02)
    assert not first["bent"]
    assert [each["input"] for each in first["shares"]] == ["wheel_rate", "sprung_mass"]


def test_where_the_answer_bends_the_linear_estimate_says_so():
    """At the best balance the efficiency can only fall: the linear estimate misses it, the sample does not."""
    best = {**CAR, "front_brake_share": brake_balance(**CAR).ideal_share}
    said = tolerance("brake_balance", best, tolerances={"adhesion": "30 %"})
    efficiency = next(each for each in said["results"] if each["name"] == "efficiency")

    assert efficiency["bent"]
    assert efficiency["low"]["value"] < efficiency["value"]


def test_the_same_question_draws_the_same_sample():
    once, again = (tolerance("ride_frequency", RIDE, tolerances={"wheel_rate": "5 %"}) for _ in range(2))

    assert once == again


def test_a_temperature_tolerance_is_a_difference():
    said = [tolerance("ride_frequency", RIDE, tolerances={"wheel_rate": w}) for w in ("2 N/mm", 2000.0)]

    assert said[0] == said[1]


@pytest.mark.parametrize("written", ["0 %", -1.0, "2 mm", "x"])
def test_a_tolerance_that_is_none_is_refused(written):
    with pytest.raises(Refused):
        tolerance("ride_frequency", RIDE, tolerances={"wheel_rate": written})


def test_compare_says_what_moved_and_overlays_the_curves():
    said = answer_object(
        {
            "verb": "compare",
            "name": "ride_frequency",
            "inputs": RIDE,
            "changed": {"wheel_rate": "100 N/mm"},
            "units": {},
        }
    )

    first = said["differences"][0]
    assert first["percent"] == pytest.approx(100)
    assert (first["before"], first["after"]) == ("1.59", "3.18")
    assert "before" in said["figures"][0]["svg"]
    assert "after" in said["figures"][0]["svg"]


def test_compare_refuses_a_broken_change_as_evaluate_does():
    with pytest.raises((Refused, RefusedTogether), match="greater than 0"):
        answer_object({"verb": "compare", "name": "ride_frequency", "inputs": RIDE, "changed": {"wheel_rate": -1}})
