"""From a wheel in one state to the scene that is drawn: where every member is, the axis, the instant centres, the roll centre."""

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
    return Scene(
        tuple(_members(corner, state)),
        tuple(_parts(corner, state)),
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
    )


def drawings(corner: Corner, state: State, before: tuple[Corner, State] | None = None) -> tuple[Drawing, ...]:
    """Return front, side and plan view of a wheel, with another state under it in broken lines."""
    now, was = scene(corner, state), scene(*before) if before else None
    more = " The state before the change is drawn in broken lines." if before else ""
    return tuple(linkage_drawing(view, now, title, _TEXTS[view] + more, was) for view, title in _VIEWS)


def _members(corner: Corner, state: State) -> list[tuple[Vector, Vector]]:
    linkage = corner.linkage

    def carried(name: str, member: str = "carrier") -> Vector:
        return corner.parts.carried(name, member, state.pose, state.per_travel).at

    lines = []
    for inner, outer in linkage.links:
        lines.append((corner.chassis_end((inner, outer), state.rack), carried(outer)))
    if linkage.slider:
        lines.append((linkage.points[linkage.slider[0]], carried(linkage.slider[1])))
    if linkage.hinge:
        lines += [(linkage.points[name], state.pose.centre) for name in linkage.hinge]
    if arm := linkage.swinging:
        lines += [
            (linkage.points[inner], carried(ball)) for inner, ball in zip(arm.hinge, (arm.balls * 2)[:2], strict=False)
        ]
        lines += [(carried(on_arm, "lower_arm"), carried(on_carrier)) for on_arm, on_carrier in arm.rods]
    return lines


def _parts(corner: Corner, state: State) -> list[tuple[Vector, Vector]]:
    linkage = corner.linkage
    lines = []
    for part in linkage.springs.values():
        lines.append(
            (linkage.points[part.chassis], corner.parts.carried(part.moving, part.on, state.pose, state.per_travel).at)
        )
    for name, crank in linkage.cranks.items():
        end = corner.parts.carried(crank.crank_end, name, state.pose, state.per_travel).at
        lines.append((end, corner.parts.carried(crank.link_end, crank.on, state.pose, state.per_travel).at))
        lines.append((linkage.points[crank.axis[1]], end))
    return lines


def axle_drawings(axle: Axle, state: AxleState) -> tuple[Drawing, ...]:
    """Return front, side and plan view of a rigid axle, its left wheel drawn."""
    pose, points, origin = state.pose, axle.linkage.points, axle.mechanism.origin

    def carried(name: str) -> Vector:
        return add(pose.centre, apply(pose.turn, sub(points[name], origin)))

    members = [(points[inner], carried(outer)) for inner, outer in axle.linkage.links]
    wheels = (carried("wheel_centre_left"), carried("wheel_centre_right"))
    members += [(points[name], pose.centre) for name in axle.linkage.pins]
    if axle.linkage.axle_crank:
        _, first, second, *ends = axle.linkage.axle_crank
        members += [(points[chassis], carried(end)) for chassis, end in zip(ends, (first, second), strict=True)]
    if axle.linkage.swinging:
        members += [(points[on_arm], carried(on_axle)) for on_arm, on_axle in axle.linkage.swinging.rods]
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
        tuple(members),
        ((wheels[0], wheels[1]),),
        wheels[0],
        spin,
        axle.radius,
        ground,
        side_line=side,
        roll_centre=(pose.centre[0], 0.0, middle_ground + row.roll_centre_height),
    )
    return tuple(linkage_drawing(view, seen, f"{title} of the axle", _AXLE_TEXTS[view]) for view, title in _VIEWS)
