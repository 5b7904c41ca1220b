"""Figures of the travel budget: the axis with all that happens on it, the force curve and the rate curve."""

import math

from calc.display import quantity
from calc.figures.spec import Axis, Chart, Drawing, Figure, Series, Shape
from calc.springs.travel import Corner, Event

_STEPS = 60


def figures(corner: Corner) -> tuple[Figure, ...]:
    """Return the figures of a corner."""
    stop = corner.bump_stop()
    places = _places(corner, stop.at)
    inside = [event for event in corner.events() if -corner.droop <= event.at <= stop.at]
    events = [event.at for event in inside]
    travel = Axis("Wheel travel from ride height, bump positive", "mm")
    names = ", ".join(f"{event.name} at {quantity(event.at, 'mm', 3)}" for event in inside)
    force = Chart(
        "Wheel force along the travel",
        f"Force of spring and rubber at the wheel; marked: {names}.",
        travel,
        Axis("Force at the wheel", "N"),
        (
            Series("Force", places, [corner.force(z) for z in places]),
            Series("Events", events, [corner.force(z) for z in events], points=True),
        ),
    )
    rates = [corner.rate(z) for z in places[:-1]]
    rate = Chart(
        "Wheel rate along the travel",
        "The rate steps where a spring blocks or goes loose, and climbs where the rubber is pressed.",
        travel,
        Axis("Wheel rate", "N/mm"),
        (Series("Wheel rate", places[:-1], rates),),
    )
    return _ruler(corner.events()), force, rate


def _places(corner: Corner, bump: float) -> list[float]:
    """Return the places of the curves: evenly spread, and close on both sides of each event."""
    low = -corner.droop
    even = [low + (bump - low) * i / _STEPS for i in range(_STEPS + 1)]
    close = [event.at + side * 1e-6 for event in corner.events() for side in (-1, 1)]
    return sorted({low, bump, *even, *(z for z in close if low < z < bump)})


def _ruler(events: tuple[Event, ...]) -> Drawing:
    """Return the axis upright, with each event at its height and its name beside it."""
    low, high = events[0].at, events[-1].at
    span = max(high - low, 1e-3)
    shapes = [Shape("line", ((0.0, low), (0.0, high)), "body")]
    written = -math.inf
    for event in events:
        written = max(event.at, written + 0.055 * span)  # names must not stand on each other
        role = "force" if event.stops else "result"
        shapes.append(Shape("line", ((-0.05 * span, event.at), (0.05 * span, event.at)), role))
        shapes.append(Shape("line", ((0.05 * span, event.at), (0.12 * span, written)), "construction"))
        shapes.append(Shape("label", ((0.12 * span, written),), "note", f"{quantity(event.at, 'mm', 3)}  {event.name}"))
    shapes.append(Shape("label", ((0.9 * span, low),), "note", " "))
    text = (
        "Wheel travel upright, from full droop to the last stop: "
        + ", ".join(f"{event.name} {quantity(event.at, 'mm', 3)}" for event in events)
        + "."
    )
    return Drawing("Travel of the wheel on one axis", text, ("", "bump up"), tuple(shapes))
