"""Solve for: which input brings a result to its target? All answers in the range, or how near one can come."""

from collections.abc import Iterable, Mapping, Sequence
from itertools import pairwise
from typing import Any, NamedTuple

from calc.ask.subject import (
    Subject,
    attempt,
    read_for,
    read_value,
    span_of,
    steps,
    subject_of,
    value_of,
)
from calc.display import Shown
from calc.numeric.roots import crossing
from calc.refusal import Refused

_PROBES = 81
_TOUCH = 1e-9  # relative miss that counts as met


class Probe(NamedTuple):
    """One tried value of the input and the result there; none where it was refused."""

    at: float
    value: float | None


def solve(
    name: str,
    given: Mapping[str, Any],
    *,
    output: str,
    target: Any,
    vary: str,
    low: Any = None,
    high: Any = None,
    among: Sequence[Any] | None = None,
    units: Mapping[str, str] | None = None,
) -> dict[str, Any]:
    """Return every value of the input ``vary`` that brings ``output`` to ``target``, inside its range or ``among`` a list of sizes.

    Where there is none, ``reach`` says what can be had and ``nearest`` where the miss is smallest.

    >>> said = solve("ride_frequency", {"sprung_mass": 250, "wheel_rate": 1e4, "tyre_rate": 2e5},
    ...     output="body_frequency", target="2 Hz", vary="wheel_rate")
    >>> round(said["roots"][0]["value"])
    39478
    """
    subject, shown = subject_of(name), Shown(units)
    parameter, wanted = subject.parameter(vary), subject.result(output)
    inputs = read_for(subject, {**{vary: _anywhere(subject, vary)}, **given})
    goal = read_value(target, wanted, "target")
    if among is not None:
        sizes = [read_value(each, parameter, "among") for each in among]
        probes = _probe(subject, inputs, vary, output, sizes)
        roots = [p.at for p in probes if p.value is not None and _met(p.value, goal, probes)]
    else:
        first, last = span_of(parameter, inputs[vary], low, high)
        probes = _probe(subject, inputs, vary, output, steps(first, last, _PROBES, whole=parameter.kind == "integer"))
        roots = _roots(subject, inputs, vary, output, goal, probes, parameter.kind == "integer")
    known = [p for p in probes if p.value is not None]
    if not known:
        raise Refused(vary, "gives no answer anywhere in its range", hint=_first_reason(subject, inputs, vary, probes))
    return _said(subject, vary, output, goal, roots, known, shown)


def _anywhere(subject: Subject, vary: str) -> float:
    """Return a value to start from for an input the reader left empty."""
    limits = subject.parameter(vary).input
    low, high = limits.typical or (limits.at_least or limits.above or 0.0, limits.at_most or limits.below or 1.0)
    return (low + high) / 2


def _probe(subject: Subject, inputs: Mapping[str, Any], vary: str, output: str, values: Iterable[float]) -> list[Probe]:
    whole = subject.parameter(vary).kind == "integer"
    return [Probe(v, attempt(subject, inputs, **{vary: int(v) if whole else v}).number(output)) for v in values]


def _met(value: float, goal: float, probes: Sequence[Probe]) -> bool:
    size = max(abs(goal), *(abs(p.value) for p in probes if p.value is not None))
    return abs(value - goal) <= _TOUCH * (size or 1.0)


def _roots(
    subject: Subject,
    inputs: Mapping[str, Any],
    vary: str,
    output: str,
    goal: float,
    probes: Sequence[Probe],
    whole: bool,
) -> list[float]:
    """Return where the result crosses or touches the goal. A jump across it is not a root."""
    hits = [p.at for p in probes if p.value is not None and _met(p.value, goal, probes)]
    if whole:
        return hits

    def miss(at: float) -> float:
        value = attempt(subject, inputs, **{vary: at}).number(output)
        return float("nan") if value is None else value - goal

    for one, other in pairwise(probes):
        if one.value is None or other.value is None or (one.value > goal) == (other.value > goal):
            continue
        found = crossing(miss, one.at, other.at)
        if found is not None and abs(miss(found)) <= 1e-6 * max(abs(goal), abs(one.value - other.value)):
            hits.append(found)
    return _distinct(sorted(hits), probes[-1].at - probes[0].at)


def _distinct(roots: Sequence[float], width: float) -> list[float]:
    kept: list[float] = []
    for root in roots:
        if not kept or root - kept[-1] > 1e-9 * width:
            kept.append(root)
    return kept


def _first_reason(subject: Subject, inputs: Mapping[str, Any], vary: str, probes: Sequence[Probe]) -> str:
    return attempt(subject, inputs, **{vary: probes[len(probes) // 2].at}).reason


def _said(
    subject: Subject,
    vary: str,
    output: str,
    goal: float,
    roots: Sequence[float],
    known: Sequence[Probe],
    shown: Shown,
) -> dict[str, Any]:
    nearest = min(known, key=lambda p: abs((p.value or 0.0) - goal))
    lowest, highest = (extreme(p.value for p in known if p.value is not None) for extreme in (min, max))
    return {
        "name": subject.name,
        "vary": vary,
        "output": output,
        "target": value_of(subject, output, goal, shown),
        "roots": [value_of(subject, vary, root, shown) for root in roots],
        "tried": [value_of(subject, vary, known[end].at, shown) for end in (0, -1)],
        "reach": [value_of(subject, output, value, shown) for value in (lowest, highest)],
        "nearest": [
            value_of(subject, vary, nearest.at, shown),
            value_of(subject, output, nearest.value or 0.0, shown),
        ],
    }
