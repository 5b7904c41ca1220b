"""Optimise: several wishes over chosen inputs inside bounds, and the set of worthwhile compromises between them.

The search is evolutionary (differential evolution with constrained domination and crowding, after Storn and Price 1997, Deb 2000
and Kukkonen and Lampinen 2005, from memory). It is a search, not a proof: it may miss a better corner, and says how much it tried.
It goes one generation at a time and hands its state back, so that a caller can show progress, stop, or go on; the same seed walks
the same way. The evaluations of a generation are independent: ``Pool`` may be any map, such as that of an executor.
"""

import random
from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import Any, Literal, NamedTuple

from calc.ask.front import Scored, best, dominates
from calc.ask.subject import Subject, attempt, read_for, read_value, span_of, subject_of, value_of
from calc.display import Shown
from calc.refusal import Refused

MOST_INPUTS, MOST_POINTS, MOST_GENERATIONS = 12, 120, 500
_SWAP = 0.9  # chance that a coordinate comes from the mutant

Pool = Callable[
    [Callable[[Sequence[float]], list[float | None]], Iterable[Sequence[float]]], Iterable[list[float | None]]
]


class Wish(NamedTuple):
    """What is wanted of one result: least, most, near a target, or a limit it must keep."""

    output: str
    aim: Literal["least", "most", "near", "at_least", "at_most"]
    value: float = 0.0

    def cost(self, found: float) -> float:
        """Return what is to be made small."""
        return {"least": found, "most": -found, "near": abs(found - self.value)}.get(self.aim, 0.0)

    def breach(self, found: float) -> float:
        """Return by how much a limit is broken, relative to its size."""
        size = abs(self.value) or 1.0
        if self.aim == "at_least":
            return max(0.0, self.value - found) / size
        return max(0.0, found - self.value) / size if self.aim == "at_most" else 0.0


class Study(NamedTuple):
    """A question of optimisation: the fixed inputs, the bounds of the free ones, and the wishes."""

    subject: Subject
    inputs: Mapping[str, Any]
    bounds: Mapping[str, tuple[float, float]]
    wishes: tuple[Wish, ...]

    def found(self, point: Sequence[float]) -> list[float | None]:
        """Return the results the wishes speak of, none where the calculator refuses."""
        tried = attempt(self.subject, self.inputs, **dict(zip(self.bounds, point, strict=True)))
        return [tried.number(wish.output) for wish in self.wishes]

    def scored(self, point: Sequence[float], found: Sequence[float | None]) -> Scored:
        """Return a point with its costs and its breach of limits; a refused point breaks everything."""
        if any(each is None for each in found):
            return Scored(tuple(point), tuple(found), tuple(0.0 for _ in self.aims()), float("inf"))
        pairs = [(wish, each) for wish, each in zip(self.wishes, found, strict=True) if each is not None]
        costs = tuple(wish.cost(each) for wish, each in pairs if wish.aim in {"least", "most", "near"})
        return Scored(tuple(point), tuple(found), costs, sum(wish.breach(each) for wish, each in pairs))

    def aims(self) -> list[Wish]:
        """Return the wishes that are not limits."""
        return [wish for wish in self.wishes if wish.aim in {"least", "most", "near"}]


def study_of(name: str, given: Mapping[str, Any], vary: Mapping[str, Any], goals: Sequence[Any]) -> Study:
    """Return the study a reader describes. ``vary`` is ``{input: [low, high]}``, ``goals`` a list of ``{output, aim, value}``."""
    subject = subject_of(name)
    if not 1 <= len(vary) <= MOST_INPUTS:
        raise Refused("vary", f"must name 1 to {MOST_INPUTS} inputs", str(len(vary)))
    inputs = read_for(subject, given)
    bounds = {each: _bounds(subject, each, inputs.get(each), span) for each, span in vary.items()}
    wishes = tuple(_wish(subject, goal) for goal in goals)
    study = Study(subject, inputs, bounds, wishes)
    if not study.aims():
        raise Refused("goals", "must hold at least one aim: least, most or near")
    return study


def _bounds(subject: Subject, name: str, baseline: Any, span: Any) -> tuple[float, float]:
    low, high = span if isinstance(span, list | tuple) and len(span) == 2 else (None, None)
    return span_of(subject.parameter(name), baseline, low, high)


def _wish(subject: Subject, goal: Any) -> Wish:
    if not isinstance(goal, Mapping) or goal.get("aim") not in {"least", "most", "near", "at_least", "at_most"}:
        raise Refused(
            "goals", "must each have an output and an aim: least, most, near, at_least or at_most", repr(goal)[:80]
        )
    result = subject.result(str(goal.get("output")))
    needs = goal["aim"] in {"near", "at_least", "at_most"}
    value = read_value(goal.get("value"), result, f"value for {result.name}") if needs else 0.0
    return Wish(result.name, goal["aim"], value)


def begin(study: Study, seed: int, pool: Pool = map) -> list[Scored]:
    """Return the first generation: points spread evenly over the box, one in each slice of each input."""
    chance = random.Random(f"{seed}:0")
    count = min(MOST_POINTS, max(24, 10 * len(study.bounds)))
    columns = []
    for low, high in study.bounds.values():
        slices = [low + (high - low) * (i + chance.random()) / count for i in range(count)]
        chance.shuffle(slices)
        columns.append(slices)
    return _score_all(study, list(zip(*columns, strict=True)), pool)


def advance(study: Study, generation: Sequence[Scored], number: int, seed: int, pool: Pool = map) -> list[Scored]:
    """Return the next generation: each point meets a trial made from three others; compromises of both kinds stay."""
    chance = random.Random(f"{seed}:{number}")
    trials = [_trial(study, generation, i, chance) for i in range(len(generation))]
    kept: list[Scored] = []
    for old, new in zip(generation, _score_all(study, trials, pool), strict=True):
        kept += [new] if dominates(new, old) else [old] if dominates(old, new) else [old, new]
    return best(kept, len(generation))


def _score_all(study: Study, points: Sequence[Sequence[float]], pool: Pool) -> list[Scored]:
    return [study.scored(point, found) for point, found in zip(points, pool(study.found, points), strict=True)]


def _trial(study: Study, generation: Sequence[Scored], i: int, chance: random.Random) -> tuple[float, ...]:
    one, two, three = (generation[k].point for k in chance.sample([k for k in range(len(generation)) if k != i], 3))
    step, surely = 0.4 + 0.5 * chance.random(), chance.randrange(len(one))
    trial = []
    for d, (low, high) in enumerate(study.bounds.values()):
        swap = chance.random() < _SWAP or d == surely
        value = one[d] + step * (two[d] - three[d]) if swap else generation[i].point[d]
        back = generation[i].point[d]  # outside the box: halfway from the old point to the wall
        trial.append((low + back) / 2 if value < low else (high + back) / 2 if value > high else value)
    return tuple(trial)


def optimise(
    name: str,
    given: Mapping[str, Any],
    *,
    vary: Mapping[str, Any],
    goals: Sequence[Any],
    generations: int = 60,
    seed: int = 1,
    state: Mapping[str, Any] | None = None,
    at_once: int | None = None,
    units: Mapping[str, str] | None = None,
    pool: Pool = map,
) -> dict[str, Any]:
    """Return the compromises found so far; ``state`` continues an earlier call, ``at_once`` limits this call's generations.

    >>> said = optimise("ride_frequency", {"sprung_mass": 250, "wheel_rate": 2e4, "tyre_rate": 2e5}, vary={"wheel_rate": [1e4, 9e4]},
    ...     goals=[{"output": "body_frequency", "aim": "near", "value": "2 Hz"}])
    >>> round(said["compromises"][0]["inputs"][0]["value"], -1)
    39480.0
    """
    study, shown = study_of(name, given, vary, goals), Shown(units)
    seed = _whole("seed", seed, 0, 2**31)
    last = _whole("generations", generations, 1, MOST_GENERATIONS)
    number, generation = _resumed(study, state) if state else (0, begin(study, seed, pool))
    until = min(last, number + (last if at_once is None else _whole("at_once", at_once, 1, MOST_GENERATIONS)))
    while number < until:
        number += 1
        generation = advance(study, generation, number, seed, pool)
    front = [each for each in best(generation, len(generation)) if each.breach == 0]
    worthwhile = [each for each in front if not any(dominates(other, each) for other in front)]
    return {
        "name": name,
        "done": number >= last,
        "generation": number,
        "of": last,
        "tried": (number + 1) * len(generation),
        "compromises": [_said(study, each, shown) for each in sorted(worthwhile, key=lambda each: each.costs)],
        "nearest": None if worthwhile else _said(study, min(generation, key=lambda each: each.breach), shown),
        "state": {"generation": number, "points": [list(each.point) for each in generation]},
    }


def _resumed(study: Study, state: Mapping[str, Any]) -> tuple[int, list[Scored]]:
    points = state.get("points")
    size = len(study.bounds)
    sound = isinstance(points, list) and 4 <= len(points) <= MOST_POINTS
    if not sound or not all(
        isinstance(p, list) and len(p) == size and all(isinstance(x, float | int) for x in p) for p in points or ()
    ):
        raise Refused("state", "must be the state an earlier answer gave")
    number = _whole("state.generation", state.get("generation"), 0, MOST_GENERATIONS)
    return number, [study.scored(point, study.found(point)) for point in points or ()]


def _whole(name: str, value: Any, low: int, high: int) -> int:
    if isinstance(value, bool) or not isinstance(value, int) or not low <= value <= high:
        raise Refused(name, f"must be a whole number from {low} to {high}", repr(value)[:40])
    return value


def _said(study: Study, each: Scored, shown: Shown) -> dict[str, Any]:
    outputs = zip(study.wishes, each.found, strict=True)
    return {
        "inputs": [value_of(study.subject, name, x, shown) for name, x in zip(study.bounds, each.point, strict=True)],
        "outputs": [value_of(study.subject, wish.output, found, shown) for wish, found in outputs if found is not None],
        "breach": min(each.breach, 1e30),
    }
