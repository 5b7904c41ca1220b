"""From a wheel in one state to the scene that is drawn: where every member is, the axis, the instant centres, the roll centre."""

from collections.abc import Collection, Iterable

from calc.figures.linkage import Line, Scene, View, linkage_drawing
from calc.figures.spec import Drawing
from calc.geometry.axle import Axle, AxleState
from calc.geometry.centres import front_view, roll_centre_height, side_view, slopes
from calc.geometry.motion import Corner, State
from calc.geometry.steering import axis_points
from calc.geometry.vectors import Vector, add, apply, sub

_TEXTS = {
    "front": "Seen from the front: links, steering axis, and the line from the contact point to the instant centre, which passes the roll centre at the centre-line.",
    "side": "Seen from the left: links, steering axis, and the line from the contact point to the side-view instant centre, whose steepness is the anti effect.",
    "plan": "Seen from above: links and wheel.",
}
_VIEWS: tuple[tuple[View, str], ...] = (("front", "Front view"), ("side", "Side view"), ("plan", "Plan view"))

End = tuple[str, Vector]  # a point of the linkage by its name, and where it is now

_AXLE_TEXTS = {
    "front": "Seen from the front: links, the left wheel, and the roll centre.",
    "side": "Seen from the left: links, and the line from the ground to the side-view instant centre, whose steepness is the anti effect.",
    "plan": "Seen from above: links and the left wheel.",
}


def scene(corner: Corner, state: State) -> Scene:
    """Return the scene of a wheel in one state."""
    height = roll_centre_height(state)
    front, side, slope = front_view(state), side_view(state), slopes(state)
    inboard = -1.0
    toward = 1.0 if side.across is None or side.across > state.contact[0] else -1.0
    z = state.contact[2]
    members, parts = _members(corner, state), _parts(corner, state)
    return Scene(
        _lines(members),
        _lines(parts),
        state.pose.centre,
        state.spin,
        corner.radius,
        state.contact,
        axis_points(corner, state),
        Line(
            state.contact,
            (inboard, slope.lateral),
            None if front.across is None or front.above is None else (front.across, z + front.above),
            "instant centre",
        ),
        Line(
            state.contact,
            (toward, -toward * slope.contact),
            None if side.across is None or side.above is None else (side.across, z + side.above),
            "side-view instant centre",
            "towards the side-view instant centre",
        ),
        (state.contact[0], 0.0, z + height),
        {"wheel_centre": state.pose.centre, **_given((*parts, *members), corner.linkage.points)},
    )


def _lines(pairs: Iterable[tuple[End, End]]) -> tuple[tuple[Vector, Vector], ...]:
    return tuple((one[1], other[1]) for one, other in pairs)


def _given(pairs: Iterable[tuple[End, End]], names: Collection[str]) -> dict[str, Vector]:
    """Return where the ends with one of these names are."""
    return {name: spot for pair in pairs for name, spot in pair if name in names}


def drawings(corner: Corner, state: State, before: tuple[Corner, State] | None = None) -> tuple[Drawing, ...]:
    """Return front, side and plan view of a wheel, with another state under it in broken lines."""
    now, was = scene(corner, state), scene(*before) if before else None
    more = " The state before the change is drawn in broken lines." if before else ""
    return tuple(linkage_drawing(view, now, title, _TEXTS[view] + more, was) for view, title in _VIEWS)


def _members(corner: Corner, state: State) -> list[tuple[End, End]]:
    linkage = corner.linkage

    def held(name: str) -> End:
        return name, linkage.points[name]

    def carried(name: str, member: str = "carrier") -> End:
        return name, corner.parts.carried(name, member, state.pose, state.per_travel).at

    lines = [
        ((inner, corner.chassis_end((inner, outer), state.rack)), carried(outer)) for inner, outer in linkage.links
    ]
    if linkage.slider:
        lines.append((held(linkage.slider[0]), carried(linkage.slider[1])))
    if linkage.hinge:
        lines += [(held(name), ("wheel_centre", state.pose.centre)) for name in linkage.hinge]
    if arm := linkage.swinging:
        lines += [(held(inner), carried(ball)) for inner, ball in zip(arm.hinge, (arm.balls * 2)[:2], strict=False)]
        lines += [(carried(on_arm, "lower_arm"), carried(on_carrier)) for on_arm, on_carrier in arm.rods]
    return lines


def _parts(corner: Corner, state: State) -> list[tuple[End, End]]:
    points = corner.linkage.points

    def carried(name: str, member: str) -> End:
        return name, corner.parts.carried(name, member, state.pose, state.per_travel).at

    lines = []
    for part in corner.linkage.springs.values():
        lines.append(((part.chassis, points[part.chassis]), carried(part.moving, part.on)))
    for name, crank in corner.linkage.cranks.items():
        end = carried(crank.crank_end, name)
        lines.append((end, carried(crank.link_end, crank.on)))
        lines.append(((crank.axis[1], points[crank.axis[1]]), end))
    return lines


def axle_drawings(axle: Axle, state: AxleState, table: Collection[str] = ()) -> tuple[Drawing, ...]:
    """Return front, side and plan view of a rigid axle, its left wheel drawn; ``table`` names the points a reader may move."""
    pose, points, origin = state.pose, axle.linkage.points, axle.mechanism.origin

    def held(name: str) -> End:
        return name, points[name]

    def carried(name: str) -> End:
        return name, add(pose.centre, apply(pose.turn, sub(points[name], origin)))

    members = [(held(inner), carried(outer)) for inner, outer in axle.linkage.links]
    ends = carried("wheel_centre_left"), carried("wheel_centre_right")
    wheels = ends[0][1], ends[1][1]
    members += [(held(name), ("", pose.centre)) for name in axle.linkage.pins]
    if axle.linkage.axle_crank:
        _, first, second, *chassis = axle.linkage.axle_crank
        members += [(held(one), carried(other)) for one, other in zip(chassis, (first, second), strict=True)]
    if axle.linkage.swinging:
        members += [(held(on_arm), carried(on_axle)) for on_arm, on_axle in axle.linkage.swinging.rods]
    spin = apply(pose.turn, (0.0, 1.0, 0.0))
    row = axle.reading(state.left, state.right)
    ground = (wheels[0][0], wheels[0][1], wheels[0][2] - axle.radius)
    centre = (
        None
        if row.side_centre_x is None or row.side_centre_height is None
        else (row.side_centre_x, ground[2] + row.side_centre_height)
    )
    side = Line(
        ground, (1.0, -row.contact_slope), centre, "side-view instant centre", "towards the side-view instant centre"
    )
    middle_ground = pose.centre[2] - axle.radius
    seen = Scene(
        _lines(members),
        (wheels,),
        wheels[0],
        spin,
        axle.radius,
        ground,
        side_line=side,
        roll_centre=(pose.centre[0], 0.0, middle_ground + row.roll_centre_height),
        given=_given((ends, *members), table),
    )
    return tuple(linkage_drawing(view, seen, f"{title} of the axle", _AXLE_TEXTS[view]) for view, title in _VIEWS)
