"""What the calculators over points share: the table of hard points, the wheel, and how they become a corner that can be moved.

Axes (ISO 8855): x forward, y left, z up; the left wheel. Typical ranges are common practice, no source.
"""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from difflib import get_close_matches
from math import radians
from typing import Annotated, Any, Literal, NamedTuple

from calc.form import Choice, Input
from calc.geometry.checks import plain
from calc.geometry.linkage import Crank, Linkage, Telescope
from calc.geometry.linkages import KINDS
from calc.geometry.linkages.kind import Wheel
from calc.geometry.motion import Corner
from calc.geometry.vectors import Vector, cross, dot, norm, sub
from calc.refusal import Refused, RefusedTogether
from calc.units import Metres, Radians

PARTS: Mapping[str, str] = {
    "spring_lower": "moving end of the spring",
    "spring_upper": "chassis end of the spring",
    "damper_lower": "moving end of the damper",
    "damper_upper": "chassis end of the damper",
    "box_pivot": "a point on the axis of the steering box's drop arm, where there is a box and no rack",
    "box_pivot_above": "another point on that axis, above the first",
    "box_arm_end": "end of the drop arm, on the centre link",
    "bar_axis_inner": "a point on the axis of the anti-roll bar",
    "bar_axis_outer": "another point on that axis",
    "bar_arm_end": "end of the bar's arm, where its drop link is",
    "bar_link_end": "other end of the drop link",
    "rocker_axis_front": "a point on the axis of the rocker",
    "rocker_axis_rear": "another point on that axis",
    "rocker_rod_end": "end of the pushrod or pullrod on the rocker",
    "rod_outer": "other end of the pushrod or pullrod",
    "rocker_spring_end": "spring's end on the rocker",
    "rocker_spring_chassis": "spring's chassis end, where a rocker drives it",
    "rocker_damper_end": "damper's end on the rocker, if it has one of its own",
    "rocker_damper_chassis": "damper's chassis end, where a rocker drives it",
}


class Hardpoint(NamedTuple):
    """One hard point: its name and where it is."""

    name: Annotated[str, Input("Point", help="A plain name of the list, such as lower_ball_joint.")]
    x: Annotated[Metres, Input("Forward", "x", "mm", at_least=-20, at_most=20)]
    y: Annotated[Metres, Input("Outboard from the centre-line", "y", "mm", at_least=-20, at_most=20)]
    z: Annotated[Metres, Input("Up", "z", "mm", at_least=-20, at_most=20)]


LinkageKind = Annotated[
    Literal[
        "double_wishbone",
        "strut",
        "strut_with_rod",
        "five_link",
        "multi_link",
        "h_arm",
        "integral_link",
        "trailing_arm",
    ],
    Choice("Linkage", {name: kind.words for name, kind in KINDS.items()}),
]
Points = Annotated[
    tuple[Hardpoint, ...],
    Input(
        "Hard points of the left wheel",
        help="x forward, y left from the centre-line, z up from any level. Every point of the linkage, and those of spring, damper, bar and rocker if they are to be read.",
    ),
]
LoadedRadius = Annotated[
    Metres, Input("Loaded radius of the wheel", "R", "mm", above=0, at_most=2, typical=(0.24, 0.37))
]
StaticCamber = Annotated[
    Radians,
    Input(
        "Static camber, top outboard is positive",
        r"\gamma_0",
        "°",
        above=-0.5,
        below=0.5,
        typical=(radians(-4.5), radians(1)),
    ),
]
StaticToe = Annotated[
    Radians,
    Input("Static toe-in of this wheel", r"\tau_0", "°", above=-0.5, below=0.5, typical=(radians(-0.4), radians(0.4))),
]
Travel = Annotated[
    Metres,
    Input(
        "Wheel travel, bump positive",
        "z",
        "mm",
        at_least=-1,
        at_most=1,
        typical=(-0.12, 0.12),
        help="Rise of the wheel centre from where the points were measured.",
    ),
]
Rack = Annotated[
    Metres, Input("Rack travel, to the left positive", "u", "mm", at_least=-1, at_most=1, typical=(-0.09, 0.09))
]
Bump = Annotated[Metres, Input("Travel up to", r"z_{max}", "mm", above=0, at_most=1, typical=(0.03, 0.12))]
Droop = Annotated[
    Metres,
    Input("Travel down to", r"z_{min}", "mm", above=0, at_most=1, typical=(0.03, 0.12), help="As a positive length."),
]
Member = Annotated[
    Literal["carrier", "lower_arm", "upper_arm", "link"],
    Choice(
        "Spring, damper and pushrod stand on",
        {
            "carrier": "the wheel carrier (or trailing arm, or strut)",
            "lower_arm": "the lower arm",
            "upper_arm": "the upper arm",
            "link": "the two-joint link they are drawn next to",
        },
    ),
]
BarMember = Annotated[
    Literal["carrier", "lower_arm", "upper_arm", "link", "rocker"],
    Choice(
        "The anti-roll bar's drop link stands on",
        {
            "carrier": "the wheel carrier, strut or trailing arm",
            "lower_arm": "the lower arm",
            "upper_arm": "the upper arm",
            "link": "the two-joint link it is drawn next to",
            "rocker": "the rocker",
        },
    ),
]


def corner_of(
    linkage: str,
    points: Sequence[Hardpoint],
    loaded_radius: float,
    static_camber: float,
    static_toe_in: float,
    spring_on: str = "carrier",
    bar_on: str = "lower_arm",
) -> Corner:
    """Return the corner a reader's table describes; every problem names its row."""
    with rows_named(points):
        return Corner(
            linkage_of(linkage, points, Wheel(loaded_radius, static_camber, static_toe_in), spring_on, bar_on)
        )


def linkage_of(kind: str, points: Sequence[Hardpoint], wheel: Wheel, spring_on: str, bar_on: str) -> Linkage:
    """Return the linkage of a table, with its springs, dampers, bar and rocker."""
    placed = placed_points(points, KINDS[kind].points, PARTS)
    return with_parts(KINDS[kind].build(placed, wheel), spring_on, bar_on)


def placed_points(points: Sequence[Hardpoint], needed: Mapping[str, str], also: Mapping[str, str]) -> dict[str, Vector]:
    """Return the points by name. A name unknown, twice or missing is refused, all of them together."""
    problems: list[Refused] = []
    placed: dict[str, Vector] = {}
    for row, point in enumerate(points, start=1):
        name = point.name.strip().lower().replace(" ", "_")
        where = f"points[{row}].name"
        if name not in needed and name not in also:
            close = get_close_matches(name, [*needed, *also], n=1)
            problems.append(
                Refused(
                    where,
                    "must be a point of this linkage",
                    repr(point.name[:40]),
                    hint=f"Did you mean {close[0]}?" if close else "",
                    label="Point",
                )
            )
        elif name in placed:
            problems.append(Refused(where, "must stand in the table once", name, label="Point"))
        else:
            placed[name] = (point.x, point.y, point.z)
    missing = [name for name in needed if name not in placed]
    if missing:
        hint = "; ".join(f"{name}: {needed[name]}" for name in missing)
        problems.append(
            Refused("points", f"must have the points {', '.join(missing)}", hint=f"{hint}.", label="Points")
        )
    if problems:
        raise problems[0] if len(problems) == 1 else RefusedTogether(problems)
    return placed


def with_parts(linkage: Linkage, spring_on: str, bar_on: str) -> Linkage:
    """Return the linkage with the parts whose points are in the table."""
    springs, cranks = dict(linkage.springs), dict(linkage.cranks)
    for name in ("spring", "damper"):
        if ends := _given(linkage, (f"{name}_lower", f"{name}_upper")):
            springs[name] = Telescope(ends[0], ends[1], _member(linkage, spring_on, ends[0]))
    if ends := _given(linkage, ("rocker_axis_front", "rocker_axis_rear", "rocker_rod_end", "rod_outer")):
        cranks["rocker"] = Crank((ends[0], ends[1]), ends[2], ends[3], _member(linkage, spring_on, ends[3]))
        for name in ("spring", "damper"):
            if inner := _given(linkage, (f"rocker_{name}_end", f"rocker_{name}_chassis")):
                springs[name] = Telescope(inner[0], inner[1], "rocker")
    if ends := _given(linkage, ("bar_axis_inner", "bar_axis_outer", "bar_arm_end", "bar_link_end")):
        if bar_on == "rocker" and "rocker" not in cranks:
            raise Refused(
                "bar_on", "must be a member that exists: the table has no rocker", "rocker", label="Drop link"
            )
        cranks["bar"] = Crank((ends[0], ends[1]), ends[2], ends[3], _member(linkage, bar_on, ends[3]))
    box = _given(linkage, ("box_pivot", "box_pivot_above", "box_arm_end"))
    return linkage._replace(springs=springs, cranks=cranks, box=(box[0], box[1], box[2]) if box else None)


def _given(linkage: Linkage, names: tuple[str, ...]) -> tuple[str, ...]:
    """Return the names if all of them are in the table, nothing if none is; some alone are refused."""
    there = [name for name in names if name in linkage.points]
    if there and len(there) < len(names):
        missing = ", ".join(name for name in names if name not in there)
        raise Refused("points", f"must have {missing} as well, or leave out {', '.join(there)}", label="Points")
    return names if there else ()


def _member(linkage: Linkage, wanted: str, point: str) -> str:
    """Return the member a part stands on; a linkage without that arm is refused."""
    if wanted == "link":
        return (
            min(linkage.links, key=lambda ends: _off_line(linkage, ends, linkage.points[point]))[0]
            if linkage.links
            else "carrier"
        )
    if wanted in ("carrier", "rocker") or wanted in linkage.arms:
        return wanted
    return "carrier" if linkage.hinge else _no_arm(linkage, wanted)


def _no_arm(linkage: Linkage, wanted: str) -> str:
    known = ", ".join(("carrier", *linkage.arms, "link"))
    raise Refused(
        "spring_on", f"must be a member of this linkage ({known})", wanted, label="Spring, damper, bar stand on"
    )


def _off_line(linkage: Linkage, ends: tuple[str, str], point: Vector) -> float:
    inner, outer = (linkage.points[name] for name in ends)
    line, reach = sub(outer, inner), sub(point, inner)
    share = dot(reach, line) / dot(line, line)
    return norm(cross(reach, line)) / norm(line) + max(0.0, -share, share - 1.0) * norm(line)


@contextmanager
def rows_named(points: Sequence[Hardpoint], table: str = "points", **others: str) -> Iterator[None]:
    """Say a refusal of a point by its row of the table, and one of ``travel`` or ``rack`` by the input it came from."""
    try:
        yield
    except Refused as problem:
        rows = {point.name.strip().lower().replace(" ", "_"): row for row, point in enumerate(points, start=1)}
        if problem.input in rows:
            raise Refused(
                f"{table}[{rows[problem.input]}].name",
                problem.rule,
                problem.value,
                hint=problem.hint,
                label=plain(problem.input).capitalize(),
            ) from None
        if problem.input in others:
            raise Refused(
                others[problem.input], problem.rule, problem.value, hint=problem.hint, label=problem.label
            ) from None
        raise


def rows_of(said: str) -> list[list[Any]]:
    """Return the rows of a table written as text: a name and three millimetres a line. For examples.

    >>> rows_of("wheel_centre 0 750 310")
    [['wheel_centre', '0 mm', '750 mm', '310 mm']]
    """
    return [
        [name, *(f"{value} mm" for value in values)]
        for name, *values in (line.split() for line in said.splitlines() if line.strip())
    ]


def spaced(low: float, high: float, count: int) -> list[float]:
    """Return ``count`` values from low to high, the middle one exactly zero where low is minus high.

    >>> spaced(-0.1, 0.1, 5)
    [-0.1, -0.05, 0.0, 0.05, 0.1]
    """
    return [low + (high - low) * i / (count - 1) if 2 * i != count - 1 else 0.5 * (low + high) for i in range(count)]
