"""Compare: the same calculator before and after a change of inputs, in numbers and in overlaid figures."""

from collections.abc import Mapping
from typing import Any

from calc import catalogue, form
from calc.ask.evaluate import evaluate
from calc.ask.subject import read_for, subject_of
from calc.display import Shown, number
from calc.figures import draw
from calc.figures.spec import Chart, Figure


def compare(
    name: str,
    given: Mapping[str, Any],
    *,
    changed: Mapping[str, Any],
    units: Mapping[str, str] | None = None,
    key: str = "compare",
) -> dict[str, Any]:
    """Return the answers before and after ``changed`` inputs, what each result moved by, and the charts of both in one.

    >>> said = compare("ride_frequency", {"sprung_mass": 250, "wheel_rate": 25e3, "tyre_rate": 2e5}, changed={"wheel_rate": 1e5})
    >>> said["differences"][0]["by"]["text"], round(said["differences"][0]["percent"])
    ('1.59', 100)
    """
    subject, shown = subject_of(name), Shown(units)
    before = evaluate(name, given, units, figures=False)
    after = evaluate(name, {**given, **changed}, units, figures=False)
    return {
        "name": name,
        "before": before,
        "after": after,
        "differences": [
            _difference(old, new, subject.result(old["name"]).output, shown)
            for old, new in zip(before["outputs"], after["outputs"], strict=True)
            if isinstance(old["value"], float | int) and isinstance(new["value"], float | int)
        ],
        "figures": _overlaid(name, read_for(subject, given), read_for(subject, {**given, **changed}), shown, key),
    }


def _difference(old: Mapping[str, Any], new: Mapping[str, Any], output: form.Output, shown: Shown) -> dict[str, Any]:
    by = new["value"] - old["value"]
    in_unit = shown.number(new["value"], output.unit) - shown.number(old["value"], output.unit)
    return {
        "name": old["name"],
        "label": old["label"],
        "before": old["text"],
        "after": new["text"],
        "by": {"value": by, "text": number(in_unit, 3, trim=False), "unit": shown.unit(output.unit)},
        "percent": 100 * by / abs(old["value"]) if old["value"] else None,
    }


def _overlaid(
    name: str, before: Mapping[str, Any], after: Mapping[str, Any], shown: Shown, key: str
) -> list[dict[str, Any]]:
    function = catalogue.load(name)
    figures = form.about(function).figures
    try:
        pairs = zip(figures(function(**before), before), figures(function(**after), after), strict=False)
        return [draw(_together(one, other), f"{key}-{n}", shown) for n, (one, other) in enumerate(pairs)]
    except ArithmeticError:
        return []


def _together(one: Figure, other: Figure) -> Figure:
    """Return two charts in one; a drawing is shown as it is after the change."""
    if not isinstance(one, Chart) or not isinstance(other, Chart):
        return other
    before = tuple(series._replace(name=f"{series.name}, before") for series in one.series)
    after = tuple(series._replace(name=f"{series.name}, after") for series in other.series)
    return other._replace(series=(*before, *after), description=f"Before and after. {other.description}")
