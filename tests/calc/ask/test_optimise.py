"""Optimise: published test problems, scipy as reference, the same way for the same seed, and clean stops."""

import itertools
import math
from concurrent.futures import ProcessPoolExecutor
from typing import Annotated, NamedTuple

import pytest
from scipy.optimize import differential_evolution, rosen

from calc.answer import answer_object
from calc.ask.front import Scored, best, dominates
from calc.ask.optimise import Study, Wish, advance, begin, optimise
from calc.ask.subject import Subject
from calc.brakes.balance import brake_balance
from calc.form import Input, Output, calculator, parameters, results
from calc.refusal import Refused
from calc.units import Ratio


class Pair(NamedTuple):
    first: Annotated[Ratio, Output("First")]
    second: Annotated[Ratio, Output("Second")]


X = Annotated[Ratio, Input("x", "x")]


@calculator(title="Rosenbrock", question="Where is the valley's floor?", example={})
def rosenbrock(*, x: X, y: X) -> Pair:
    return Pair(float(rosen([x, y])), 0.0)


@calculator(title="Schaffer", question="Which compromise?", example={})
def schaffer(*, x: X) -> Pair:
    return Pair(x**2, (x - 2) ** 2)


@calculator(title="Refusing", question="Which half answers?", example={})
def refusing(*, x: X) -> Pair:
    if x < 0.5:
        raise Refused("x", "must be at least one half", repr(x))
    return Pair(x, 0.0)


def study(function, bounds, *wishes):
    return Study(Subject("test", parameters(function), results(function), function), {}, bounds, wishes)


def run(asked, generations, seed=1):
    points = begin(asked, seed)
    for number in range(1, generations + 1):
        points = advance(asked, points, number, seed)
    return points


def test_rosenbrock_is_solved_as_scipy_solves_it():
    """Published problem: Rosenbrock, 1960; independent reference: scipy differential_evolution."""
    theirs = differential_evolution(rosen, [(-2, 2), (-1, 3)], seed=1, tol=1e-8)
    ours = run(study(rosenbrock, {"x": (-2, 2), "y": (-1, 3)}, Wish("first", "least")), 150)

    assert min(ours, key=lambda each: each.costs).point == pytest.approx(theirs.x, abs=1e-3)


def test_the_schaffer_front_is_covered():
    """Published problem: Schaffer, 1984: the compromises are 0 <= x <= 2, with sqrt(f1) + sqrt(f2) = 2."""
    points = run(study(schaffer, {"x": (-10, 10)}, Wish("first", "least"), Wish("second", "least")), 60)

    assert all(math.sqrt(f1) + math.sqrt(f2) == pytest.approx(2, abs=0.02) for f1, f2 in (p.costs for p in points))
    spread = sorted(p.point[0] for p in points)
    assert spread[0] < 0.1
    assert spread[-1] > 1.9
    assert max(b - a for a, b in itertools.pairwise(spread)) < 0.35


def test_a_limit_is_kept_and_reached():
    points = run(study(schaffer, {"x": (-10, 10)}, Wish("first", "least"), Wish("second", "at_most", 1.0)), 80)
    found = min((p for p in points if not p.breach), key=lambda each: each.costs)

    assert found.point[0] == pytest.approx(1.0, abs=1e-3)


def test_refused_points_are_left_behind():
    points = run(study(refusing, {"x": (0.0, 1.0)}, Wish("first", "least")), 80)

    assert min(p.costs[0] for p in points if not p.breach) == pytest.approx(0.5, abs=1e-3)


QUESTION = {
    "name": "brake_balance",
    "given": {
        "mass": 1160,
        "wheelbase": 2.56,
        "front_share": 0.526,
        "cg_height": 0.48,
        "front_brake_share": 0.7,
        "adhesion": 1.1,
    },
    "vary": {"front_brake_share": ["50 %", "95 %"]},
    "goals": [{"output": "efficiency", "aim": "most"}],
}


def test_the_best_balance_is_the_ideal_one():
    said = optimise(**QUESTION)
    ideal = brake_balance(**QUESTION["given"]).ideal_share

    assert said["compromises"][0]["inputs"][0]["value"] == pytest.approx(ideal, abs=1e-4)
    assert said["done"]


def test_going_on_from_a_state_walks_the_same_way():
    whole = optimise(**QUESTION, generations=12)
    first = optimise(**QUESTION, generations=12, at_once=5)
    rest = optimise(**QUESTION, generations=12, state=first["state"])

    assert not first["done"]
    assert rest["compromises"] == whole["compromises"]


def test_another_seed_walks_another_way_to_the_same_place():
    one, other = (optimise(**QUESTION, seed=seed) for seed in (1, 2))

    assert one["state"] != other["state"]
    assert one["compromises"][0]["outputs"][0]["value"] == pytest.approx(
        other["compromises"][0]["outputs"][0]["value"], rel=1e-4
    )


def test_a_pool_of_processes_gives_the_same_answer():
    with ProcessPoolExecutor(2) as executor:
        pooled = optimise(**QUESTION, generations=5, pool=executor.map)

    assert pooled == optimise(**QUESTION, generations=5)


def test_limits_that_cannot_be_kept_give_the_nearest_miss():
    goals = [{"output": "efficiency", "aim": "most"}, {"output": "limit", "aim": "at_least", "value": "3 g"}]
    said = optimise(**{**QUESTION, "goals": goals}, generations=5)

    assert said["compromises"] == []
    assert said["nearest"]["breach"] > 0


@pytest.mark.parametrize(
    ("more", "sentence"),
    [
        ({"vary": {}}, "1 to 12 inputs"),
        ({"vary": {"x": [0, 1]}}, "is not a number this calculator takes"),
        ({"goals": []}, "at least one aim"),
        ({"goals": ["x"]}, "must each have an output"),
        ({"goals": [{"output": "efficiency", "aim": "near"}]}, "must be a number"),
        ({"generations": 0}, "from 1 to"),
        ({"at_once": -1}, "from 1 to"),
        ({"seed": "x"}, "whole number"),
        ({"state": {"points": [[1, 2]], "generation": 1}}, "the state an earlier answer gave"),
    ],
)
def test_a_broken_study_is_refused(more, sentence):
    with pytest.raises(Refused, match=sentence):
        optimise(**{**QUESTION, **more})


def test_it_is_asked_across_the_border_like_everything_else():
    question = {"verb": "optimise", **QUESTION, "inputs": QUESTION["given"], "generations": 3}
    del question["given"]

    assert answer_object(question)["of"] == 3


def scored(*costs, breach=0.0):
    return Scored((0.0,), (0.0,), costs, breach)


def test_domination_puts_limits_before_wishes():
    assert dominates(scored(9.0), scored(1.0, breach=0.1))
    assert dominates(scored(9.0, breach=0.1), scored(1.0, breach=0.2))
    assert not dominates(scored(1.0, 2.0), scored(2.0, 1.0))
    assert not dominates(scored(1.0, 2.0), scored(1.0, 2.0))


def test_the_crowded_middle_is_thinned_and_the_ends_stay():
    line = [scored(x, -x) for x in (0.0, 0.5, 0.51, 0.52, 1.0)]

    assert [each.costs[0] for each in best(line, 3)] == [0.0, 0.5, 1.0]  # 0.51 has least room, then 0.52
