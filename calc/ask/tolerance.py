"""Tolerance: how sure is the answer, and which measurement makes it unsure?

A tolerance is read as two standard deviations of a normal spread (95 % of readings inside), and results are given the same way.
The linear estimate is checked against a sample: where the two differ, the answer says so and shows the sampled range.
"""

import math
import random
from collections.abc import Mapping
from typing import Any, NamedTuple

from calc.ask.subject import Subject, Tried, attempt, read_for, read_value, subject_of, value_of
from calc.display import Shown, number
from calc.refusal import Refused
from calc.units import split

SAMPLES = 1000
_SEED = 7
_BENT = 0.15  # relative difference of linear and sampled spread above which the answer is called bent


class Slope(NamedTuple):
    """What an input's tolerance does to one result: the change over its upper and over its lower half."""

    up: float
    down: float

    @property
    def half(self) -> float:
        """Return the mean half-width, from a central difference."""
        return (self.up - self.down) / 2


def tolerance(
    name: str,
    given: Mapping[str, Any],
    *,
    tolerances: Mapping[str, Any],
    samples: int = SAMPLES,
    units: Mapping[str, str] | None = None,
) -> dict[str, Any]:
    """Return each result with its tolerance, and the share of each input in it, the largest first.

    ``tolerances`` holds a half-width for each uncertain input, with its unit or in percent: ``{"wheel_rate": "5 %"}``.

    >>> said = tolerance("ride_frequency", {"sprung_mass": 250, "wheel_rate": 25e3, "tyre_rate": 2e5},
    ...     tolerances={"wheel_rate": "10 %", "sprung_mass": "2 %"})
    >>> [round(100 * each["share"]) for each in said["results"][0]["shares"]]
    [96, 4]
    """
    if isinstance(samples, bool) or not isinstance(samples, int) or not 100 <= samples <= 100_000:
        raise Refused("samples", "must be a whole number from 100 to 100000", repr(samples))
    subject, shown = subject_of(name), Shown(units)
    inputs = read_for(subject, given)
    widths = {each: _width(subject, inputs, each, written) for each, written in tolerances.items()}
    if not widths:
        raise Refused("tolerances", "must name at least one input")
    middle = attempt(subject, inputs)
    if middle.reason:
        subject.call(**inputs)  # refuses in its own words
    shifted = {
        each: (_shift(subject, inputs, each, w), _shift(subject, inputs, each, -w)) for each, w in widths.items()
    }
    sampled = _sample(subject, inputs, widths, samples)
    results = [_said(subject, each.name, middle, shifted, sampled, shown) for each in subject.numbers()]
    return {"name": name, "results": [each for each in results if each], "refused": _share_refused(sampled)}


def _width(subject: Subject, inputs: Mapping[str, Any], name: str, written: Any) -> float:
    parameter = subject.parameter(name)
    ratio = parameter.quantity is not None and parameter.quantity.dimension == "ratio"
    if isinstance(written, str) and not ratio and split(written)[1] in {"%", "percent"}:
        width = split(written)[0] / 100 * abs(float(inputs[name]))
    elif isinstance(written, str) and parameter.quantity and parameter.quantity.dimension == "temperature":
        width = split(written)[0] * (5 / 9 if "F" in split(written)[1] else 1.0)
    else:
        width = read_value(written, parameter, f"tolerance of {name}")
    if not 0 < width < math.inf:
        raise Refused(f"tolerance of {name}", "must be greater than 0", repr(written))
    return width


def _shift(subject: Subject, inputs: Mapping[str, Any], name: str, by: float) -> Tried:
    return attempt(subject, inputs, **{name: inputs[name] + by})


def _sample(subject: Subject, inputs: Mapping[str, Any], widths: Mapping[str, float], samples: int) -> list[Tried]:
    chance = random.Random(_SEED)
    return [
        attempt(subject, inputs, **{name: inputs[name] + chance.gauss(0, width / 2) for name, width in widths.items()})
        for _ in range(samples)
    ]


def _share_refused(sampled: list[Tried]) -> float:
    return sum(1 for each in sampled if each.reason) / len(sampled)


def _said(
    subject: Subject,
    name: str,
    middle: Tried,
    shifted: Mapping[str, tuple[Tried, Tried]],
    sampled: list[Tried],
    shown: Shown,
) -> dict[str, Any] | None:
    value = middle.number(name)
    if value is None:
        return None
    slopes = {each: _slope(name, value, up, down) for each, (up, down) in shifted.items()}
    variance = math.fsum(slope.half**2 for slope in slopes.values())
    shares = [
        {"input": each, "share": slope.half**2 / variance if variance else 0.0, "up": slope.up, "down": slope.down}
        for each, slope in slopes.items()
    ]
    linear = math.sqrt(variance)
    drawn = sorted(found for each in sampled if (found := each.number(name)) is not None)
    low, high = (drawn[round(part * (len(drawn) - 1))] for part in (0.025, 0.975)) if drawn else (value, value)
    spread = (high - low) / 2
    return {
        **value_of(subject, name, value, shown),
        "plus_minus": _width_of(subject, name, linear, shown),
        "low": value_of(subject, name, low, shown),
        "high": value_of(subject, name, high, shown),
        "bent": abs(spread - linear) > _BENT * max(spread, linear) if max(spread, linear) > 0 else False,
        "shares": sorted(shares, key=lambda each: -each["share"]),
    }


def _slope(name: str, value: float, up: Tried, down: Tried) -> Slope:
    """Return what one tolerance does; where one side is refused the other stands for both."""
    above, below = up.number(name), down.number(name)
    if above is None and below is None:
        return Slope(0.0, 0.0)
    if above is None:
        return Slope(value - below, below - value)  # type: ignore[operator]  # one of the two is a number here
    return Slope(above - value, (below - value) if below is not None else value - above)


def _width_of(subject: Subject, name: str, width: float, shown: Shown) -> dict[str, Any]:
    """Return a half-width in the unit its result is shown in: a difference, so that an offset of the unit does not count."""
    result = subject.result(name)
    unit = result.output.unit
    difference = shown.number(width, unit) - shown.number(0.0, unit)
    return {"value": width, "text": number(difference, 2, trim=False), "unit": shown.unit(unit)}
