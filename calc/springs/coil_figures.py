"""Figures of a helical spring: its force, and the spring cut lengthwise."""

from collections.abc import Mapping
from typing import Any

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Drawing, Figure, Series, Shape

_MOST_DRAWN = 30  # coils


def figures(result: Any, inputs: Mapping[str, Any]) -> tuple[Figure, ...]:
    """Return the figures of a spring."""
    travel = [result.travel_to_solid * i / 20 for i in range(21)]
    series = [
        Series("Force", travel, [result.rate * s for s in travel]),
        Series("At the load", [result.deflection], [result.rate * result.deflection], points=True),
    ]
    if result.buckling_travel is not None and result.buckling_travel < result.travel_to_solid:
        series.append(Series("Bows out", [result.buckling_travel], [result.rate * result.buckling_travel], points=True))
    text = f"The force rises in a straight line to {quantity(result.force_solid, 'N')} at solid, {quantity(result.travel_to_solid, 'mm')} below free."
    chart = Chart("Force against compression", text, Axis("Compression", "mm"), Axis("Force", "N"), tuple(series))
    return (chart, *_section(result, inputs))


def _section(result: Any, inputs: Mapping[str, Any]) -> tuple[Drawing, ...]:
    """Return the spring cut lengthwise: the wire of the left and the right side, half a coil apart."""
    if result.total_coils > _MOST_DRAWN:
        return ()
    d, radius, length = inputs["wire_diameter"], result.mean_diameter / 2, inputs["free_length"]
    halves = round(2 * result.total_coils)
    heights = (_height(i / halves, d, length, result.total_coils, inputs) for i in range(halves + 1))
    wires = [
        Shape("circle", ((radius if i % 2 else -radius, d / 2 + z),), "link", radius=d / 2)
        for i, z in enumerate(heights)
    ]
    ends = [
        Shape("line", ((-1.4 * radius, z), (1.4 * radius, z)), "construction", label)
        for z, label in ((0.0, ""), (length, "free"), (result.solid_length, "solid"))
    ]
    text = f"The free spring cut lengthwise, {quantity(length, 'mm')} long, with the height at which it is solid."
    return (Drawing("The spring, cut lengthwise", text, ("across", "along"), (*wires, *ends)),)


def _height(share: float, d: float, length: float, total: float, inputs: Mapping[str, Any]) -> float:
    """Return how high the wire has climbed after a share of all its turns: closed ends climb by the wire alone."""
    climb = length - d
    if inputs["ends"] not in {"closed", "closed_ground"}:
        return share * climb
    active: float = inputs["active_coils"]
    dead, turn = (total - active) / 2, share * total
    pitch = (climb - 2 * dead * d) / active
    middle = min(max(turn - dead, 0.0), active)
    return (turn - middle) * d + middle * pitch
