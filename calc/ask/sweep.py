"""Sweep: vary one input, or one for each of a few values of another, and see what the results do."""

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

from calc.ask.subject import Subject, Tried, attempt, read_for, read_value, span_of, steps, subject_of, value_of
from calc.display import Shown
from calc.figures import draw
from calc.figures.spec import Axis, Chart, Series
from calc.form import Result
from calc.refusal import Refused

MOST_POINTS, MOST_CURVES = 401, 8


class Curve(NamedTuple):
    """The attempts along one curve; ``member`` is the value of the second input, if there is one."""

    member: float | None
    tried: tuple[Tried, ...]


def sweep(
    name: str,
    given: Mapping[str, Any],
    *,
    vary: str,
    outputs: Sequence[str] = (),
    low: Any = None,
    high: Any = None,
    count: int = 41,
    family: Mapping[str, Any] | None = None,
    units: Mapping[str, str] | None = None,
    key: str = "sweep",
) -> dict[str, Any]:
    """Return the results over a range of one input; ``family`` is ``{"input": name, "values": [...]}`` for several curves.

    A refused point is a gap that keeps its reason. The first output is swept where none is named.

    >>> said = sweep("ride_frequency", {"sprung_mass": 250, "wheel_rate": 2e4, "tyre_rate": 2e5}, vary="wheel_rate", count=3,
    ...     low=1e4, high=3e4)
    >>> [round(value, 3) for value in said["curves"][0]["outputs"]["body_frequency"]]
    [1.007, 1.424, 1.743]
    """
    if isinstance(count, bool) or not isinstance(count, int) or not 2 <= count <= MOST_POINTS:
        raise Refused("count", f"must be a whole number from 2 to {MOST_POINTS}", repr(count))
    subject, shown = subject_of(name), Shown(units)
    parameter = subject.parameter(vary)
    wanted = [subject.result(each) for each in outputs] or [subject.numbers()[0]]
    inputs = read_for(subject, given)
    first, last = span_of(parameter, inputs[vary], low, high)
    values = steps(first, last, count, whole=parameter.kind == "integer")
    curves = [_curve(subject, inputs, vary, values, member) for member in _members(subject, family)]
    return {
        "name": name,
        "vary": vary,
        "values": values,
        "baseline": value_of(subject, vary, inputs[vary], shown),
        "curves": [_said(subject, curve, wanted, family, shown) for curve in curves],
        "gaps": _gaps(subject, vary, values, curves, shown),
        "figures": [
            draw(_chart(subject, inputs, vary, values, curves, each, family, shown), f"{key}-{n}", shown)
            for n, each in enumerate(wanted)
        ],
    }


def _members(subject: Subject, family: Mapping[str, Any] | None) -> list[dict[str, float]]:
    if not family:
        return [{}]
    name, values = family.get("input"), family.get("values")
    if not isinstance(name, str) or not isinstance(values, list | tuple) or not 1 <= len(values) <= MOST_CURVES:
        raise Refused("family", f"must name an input and 1 to {MOST_CURVES} values", repr(family)[:80])
    return [{name: read_value(value, subject.parameter(name), "family")} for value in values]


def _curve(
    subject: Subject, inputs: Mapping[str, Any], vary: str, values: Sequence[float], member: Mapping[str, float]
) -> Curve:
    whole = subject.parameter(vary).kind == "integer"
    tried = tuple(attempt(subject, inputs, **{**member, vary: int(v) if whole else v}) for v in values)
    return Curve(next(iter(member.values()), None), tried)


def _said(
    subject: Subject, curve: Curve, wanted: Sequence[Result], family: Mapping[str, Any] | None, shown: Shown
) -> dict[str, Any]:
    member = None if curve.member is None or not family else value_of(subject, family["input"], curve.member, shown)
    return {
        "member": member,
        "outputs": {each.name: [tried.number(each.name) for tried in curve.tried] for each in wanted},
    }


def _gaps(
    subject: Subject, vary: str, values: Sequence[float], curves: Sequence[Curve], shown: Shown
) -> list[dict[str, Any]]:
    """Return each stretch of refused points, with where it starts and ends and the reason given there."""
    gaps: list[dict[str, Any]] = []
    for curve in curves:
        open_gap: dict[str, Any] | None = None
        for value, tried in zip(values, curve.tried, strict=True):
            if not tried.reason:
                open_gap = None
            elif open_gap:
                open_gap["to"] = value_of(subject, vary, value, shown)
            else:
                at = value_of(subject, vary, value, shown)
                open_gap = {"from": at, "to": at, "reason": tried.reason}
                gaps.append(open_gap)
    return gaps


def _chart(
    subject: Subject,
    inputs: Mapping[str, Any],
    vary: str,
    values: Sequence[float],
    curves: Sequence[Curve],
    wanted: Result,
    family: Mapping[str, Any] | None,
    shown: Shown,
) -> Chart:
    parameter = subject.parameter(vary)
    series = [
        Series(
            _named(subject, curve, wanted, family, shown), values, [_or_gap(t.number(wanted.name)) for t in curve.tried]
        )
        for curve in curves
    ]
    here = attempt(subject, inputs).number(wanted.name)
    if here is not None and values[0] <= inputs[vary] <= values[-1]:
        series.append(Series("Now", [inputs[vary]], [here], points=True))
    return Chart(
        f"{wanted.output.label} against {parameter.input.label[:1].lower()}{parameter.input.label[1:]}",
        f"How {wanted.output.label} changes over the range of {parameter.input.label}; the mark shows the present value.",
        Axis(parameter.input.label, parameter.input.unit),
        Axis(wanted.output.label, wanted.output.unit),
        tuple(series),
    )


def _named(subject: Subject, curve: Curve, wanted: Result, family: Mapping[str, Any] | None, shown: Shown) -> str:
    if curve.member is None or not family:
        return wanted.output.label
    parameter = subject.parameter(family["input"])
    return shown.text(curve.member, parameter.input.unit)


def _or_gap(value: float | None) -> float:
    return float("nan") if value is None else value
