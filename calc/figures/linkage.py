"""A linkage drawn to scale from the front, from the side and from above, with before and after over each other.

The scene is plain data in metres (ISO 8855 axes); the drawing knows nothing of how it was found.
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from math import cos, pi, sin
from typing import Literal, NamedTuple

from calc.figures.spec import Drawing, Shape

Spot = tuple[float, float, float]
Flat = tuple[float, float]
View = Literal["front", "side", "plan"]

FARTHEST = 1.7  # m: what lies farther is not drawn, only the line towards it
_RIM = 28  # corners of the wheel's outline

_AXES: dict[View, tuple[str, str]] = {
    "front": ("y left", "z up"),
    "side": ("x forward", "z up"),
    "plan": ("y left", "x forward"),
}
_FLATTEN: dict[View, Callable[[Spot], Flat]] = {
    "front": lambda p: (p[1], p[2]),
    "side": lambda p: (p[0], p[2]),
    "plan": lambda p: (p[1], p[0]),
}


class Line(NamedTuple):
    """A line of a view: from a spot in a direction of the drawing (across, up), to a centre if it is near enough."""

    start: Spot
    direction: Flat
    centre: Flat | None = None
    label: str = ""
    far_label: str = ""


class Scene(NamedTuple):
    """One wheel with what holds it. ``members`` are links as point pairs, ``parts`` springs, dampers and cranks.

    ``given`` are the drawn points that stand in the reader's table, by their names there.
    """

    members: tuple[tuple[Spot, Spot], ...]
    parts: tuple[tuple[Spot, Spot], ...]
    centre: Spot
    spin: Spot
    radius: float
    contact: Spot
    axis: tuple[Spot, Spot] | None = None
    front_line: Line | None = None
    side_line: Line | None = None
    roll_centre: Spot | None = None
    given: Mapping[str, Spot] = {}


def linkage_drawing(view: View, scene: Scene, title: str, description: str, before: Scene | None = None) -> Drawing:
    """Return one view of a scene; ``before`` is drawn under it with thin broken lines, and then its points are the given ones."""
    flat = _FLATTEN[view]
    shapes = [
        *(_before(before, flat) if before else ()),
        *_ground(view, scene),
        *_wheel(scene, flat),
        *_members(scene, flat, () if before else scene.given.values()),
    ]
    shapes += _axis(scene, flat, view)
    line = {"front": scene.front_line, "side": scene.side_line, "plan": None}[view]
    if line:
        shapes += _line(line, flat)
    if view == "front" and scene.roll_centre and abs(scene.roll_centre[2] - scene.contact[2]) < FARTHEST:
        shapes.append(Shape("point", (flat(scene.roll_centre),), "result", "roll centre"))
    shapes += _handles(before or scene, flat)
    # the car comes towards the reader in the front view, its left wheel on the right; the side view looks at the left side
    return Drawing(title, description, _AXES[view], tuple(shapes), x_to_left=view == "side")


def _ground(view: View, scene: Scene) -> Iterator[Shape]:
    x, y, z = scene.contact
    if view == "front":
        yield Shape("line", ((min(0.0, y - 0.3), z), (y + 0.2, z)), "ground")
        yield Shape("line", ((0.0, z), (0.0, z + 2.2 * scene.radius)), "construction", "centre-line")
    elif view == "side":
        yield Shape("line", ((x - 1.6 * scene.radius, z), (x + 1.6 * scene.radius, z)), "ground")


def _wheel(scene: Scene, flat: Callable[[Spot], Flat]) -> Iterator[Shape]:
    sx, sy, sz = scene.spin
    long = (sx * sx + sy * sy) ** 0.5
    ahead: Spot = (sy / long, -sx / long, 0.0)
    up: Spot = (sy * ahead[2] - sz * ahead[1], sz * ahead[0] - sx * ahead[2], sx * ahead[1] - sy * ahead[0])
    rim = []
    for i in range(_RIM):
        c, s = scene.radius * cos(2 * pi * i / _RIM), scene.radius * sin(2 * pi * i / _RIM)
        x, y, z = (w + c * a + s * u for w, a, u in zip(scene.centre, ahead, up, strict=True))
        rim.append(flat((x, y, z)))
    yield Shape("polygon", tuple(rim), "wheel")
    yield Shape("point", (flat(scene.contact),), "body")


def _members(scene: Scene, flat: Callable[[Spot], Flat], marked: Collection[Spot]) -> Iterator[Shape]:
    """Yield parts, links and the links' ends; those that are ``marked`` as handles need no point of their own."""
    for one, other in scene.parts:
        yield Shape("line", (flat(one), flat(other)), "body")
    for one, other in scene.members:
        yield Shape("line", (flat(one), flat(other)), "link")
    # a set would have another order in the browser
    for spot in dict.fromkeys(spot for pair in scene.members for spot in pair):
        if spot not in marked:
            yield Shape("point", (flat(spot),), "body")


def _handles(scene: Scene, flat: Callable[[Spot], Flat]) -> Iterator[Shape]:
    for name, spot in scene.given.items():
        yield Shape("point", (flat(spot),), "body", handle=name)


def _axis(scene: Scene, flat: Callable[[Spot], Flat], view: View) -> list[Shape]:
    if scene.axis is None or view == "plan":
        return []
    low, high = scene.axis
    share = (scene.contact[2] - low[2]) / (high[2] - low[2]) if high[2] != low[2] else 0.0
    ground: Spot = (low[0] + share * (high[0] - low[0]), low[1] + share * (high[1] - low[1]), scene.contact[2])
    return [Shape("line", (flat(ground), flat(high)), "construction", "steering axis")]


def _line(line: Line, flat: Callable[[Spot], Flat]) -> Iterator[Shape]:
    start = flat(line.start)
    if line.centre and abs(line.centre[0] - start[0]) <= FARTHEST and abs(line.centre[1] - start[1]) <= FARTHEST:
        yield Shape("line", (start, line.centre), "result")
        yield Shape("point", (line.centre,), "result", line.label)
        return
    reach = 0.9
    size = (line.direction[0] ** 2 + line.direction[1] ** 2) ** 0.5 or 1.0
    end = (start[0] + reach * line.direction[0] / size, start[1] + reach * line.direction[1] / size)
    yield Shape("line", (start, end), "result", line.far_label)


def _before(scene: Scene, flat: Callable[[Spot], Flat]) -> Iterator[Shape]:
    for one, other in scene.members:
        yield Shape("line", (flat(one), flat(other)), "construction")
    for shape in _wheel(scene, flat):
        yield shape._replace(role="construction") if shape.kind == "polygon" else shape._replace(kind="label")
