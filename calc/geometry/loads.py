"""Forces in the members of one wheel for a force at the tyre: six equations of equilibrium, and one more for each arm that carries a spring.

Two-joint link: tension T, n from carrier to chassis. Sum T n + F = 0, sum T (p x n) + M = 0. An arm that carries spring or pushrod is
not a pair of two-force legs: its outer joint passes three components, and the moments about its hinge give the spring.
No friction, no bush stiffness, no inertia of the unsprung mass. Source: statics; checked by virtual work.
"""

from collections.abc import Mapping
from typing import NamedTuple

from calc.geometry.linear import condition_number, solve
from calc.geometry.motion import Corner, State
from calc.geometry.vectors import Vector, add, apply, cross, dot, norm, sub, two_across, unit
from calc.numeric.linear import Singular
from calc.refusal import Refused

ILL_CONDITIONED = 1e3
_STILL: Vector = (0.0, 0.0, 0.0)


class Unknown(NamedTuple):
    """One unknown force: its name, direction and point on the carrier, and its moment about the hinge of the loaded arm."""

    name: str
    direction: Vector
    at: Vector
    about_hinge: float = 0.0


class Loads(NamedTuple):
    """Forces by name (N): links by their chassis point, tension positive; components are forces on the carrier; ``spring`` is compression."""

    links: Mapping[str, float]
    joints: Mapping[str, Vector]
    spring: float | None
    condition: float

    def reach(self) -> float:
        """Return the largest force of all (N)."""
        sizes = [abs(value) for value in self.links.values()] + [norm(value) for value in self.joints.values()]
        return max([*sizes, abs(self.spring or 0.0)])


def contact_wrench(state: State, force: Vector, *, torque_on_body: bool) -> tuple[Vector, Vector]:
    """Return the force on the carrier and its moment about the origin, for a force at the contact point.

    Brakes on the carrier: the whole force acts at C. Torque taken by a shaft (inboard brake or drive): F at the wheel centre plus the
    couple (C - W) x (0, F_y, F_z): the longitudinal force then brings no couple about the spin axis.
    """
    if not torque_on_body:
        return force, cross(state.contact, force)
    arm = sub(state.contact, state.pose.centre)
    return force, add(cross(state.pose.centre, force), cross(arm, (0.0, force[1], force[2])))


def member_loads(corner: Corner, state: State, force: Vector, *, torque_on_body: bool = False) -> Loads:
    """Return the force in every member for a force (N) on the tyre at the contact point."""
    if "spring" not in corner.linkage.springs:
        raise Refused(
            "points", "must have a spring to carry the wheel", hint="Add spring_lower and spring_upper.", label="Points"
        )
    unknowns, hinge_moment = _unknowns(corner, state)
    total, moment = contact_wrench(state, force, torque_on_body=torque_on_body)
    rows = [[u.direction[i] for u in unknowns] for i in range(3)]
    moments = [cross(u.at, u.direction) for u in unknowns]
    rows += [[m[i] for m in moments] for i in range(3)]
    if hinge_moment:
        rows.append([u.about_hinge for u in unknowns])
    size = len(unknowns)
    if size != len(rows):
        raise Refused(
            "points",
            "must leave the forces determined: this linkage has more members than equations",
            f"{size} unknown forces, {len(rows)} equations",
            label="Points",
        )
    right = [-v for v in (*total, *moment)] + [0.0] * (size - 6)
    try:
        (found,) = solve([[*row, value] for row, value in zip(rows, right, strict=True)], size)
    except Singular:
        raise Refused(
            "points", "must not be in a locked position: the forces there have no limit", label="Points"
        ) from None
    loads = _sorted(unknowns, found, condition_number(_on_carrier(unknowns, rows)))
    if _spring_on_strut(corner) and corner.linkage.slider:
        axis = top_mount_axes(corner, state)[0]
        return loads._replace(spring=-dot(loads.joints[corner.linkage.slider[0]], axis))
    return loads


def _on_carrier(unknowns: list[Unknown], rows: list[list[float]]) -> list[list[float]]:
    """Return the six equations of the carrier alone where six forces act on it, else all equations."""
    kept = [i for i, u in enumerate(unknowns) if u.direction != _STILL]
    return [[row[i] for i in kept] for row in rows[:6]] if len(kept) == 6 else rows


def _sorted(unknowns: list[Unknown], found: list[float], condition: float) -> Loads:
    links: dict[str, float] = {}
    joints: dict[str, Vector] = {}
    spring: float | None = None
    for unknown, value in zip(unknowns, found, strict=True):
        name, _, part = unknown.name.partition(":")
        if part:
            known = joints.get(name, _STILL)
            d = unknown.direction
            joints[name] = (known[0] + value * d[0], known[1] + value * d[1], known[2] + value * d[2])
        elif name == "spring":
            spring = value
        else:
            links[name] = value
    return Loads(links, joints, spring, condition)


def _unknowns(corner: Corner, state: State) -> tuple[list[Unknown], bool]:
    linkage, pose = corner.linkage, state.pose

    def carrier(name: str) -> Vector:
        return add(pose.centre, apply(pose.turn, sub(linkage.points[name], corner.mechanism.origin)))

    loaded = _loaded_arm(corner)
    found: list[Unknown] = []
    for inner, outer in linkage.links:
        if loaded and outer == loaded[2] and inner in loaded[:2]:
            continue
        chassis = corner.chassis_end((inner, outer), state.rack)
        found.append(Unknown(inner, unit(sub(chassis, carrier(outer))), carrier(outer)))
    if corner.mechanism.slider:
        found += _strut(corner, state)
    if linkage.hinge:
        first, second = (linkage.points[name] for name in linkage.hinge)
        found += _components(linkage.hinge[0], first) + _components(
            linkage.hinge[1], second, two_across(unit(sub(second, first)))
        )
    if loaded:
        found += _arm_joints(corner, loaded, carrier(loaded[2]))
    if linkage.swinging:
        found += _swinging_joints(corner, state)
    return found + _spring(corner, state, loaded), bool(loaded or linkage.swinging)


def _strut(corner: Corner, state: State) -> list[Unknown]:
    """Return the forces between strut and top mount: across it always, along it where the spring stands on the strut."""
    axis, *ways = top_mount_axes(corner, state)
    name = corner.linkage.slider[0] if corner.linkage.slider else ""
    return _components(name, corner.linkage.points[name], (*ways, axis) if _spring_on_strut(corner) else tuple(ways))


def _spring_on_strut(corner: Corner) -> bool:
    spring, slider = corner.linkage.springs.get("spring"), corner.linkage.slider
    return bool(spring and slider and (spring.chassis, spring.moving) == slider)


def _components(
    name: str, at: Vector, ways: tuple[Vector, ...] = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
) -> list[Unknown]:
    return [Unknown(f"{name}:{i}", way, at) for i, way in enumerate(ways)]


def _loaded_arm(corner: Corner) -> tuple[str, str, str] | None:
    """Return the wishbone that carries spring or pushrod and so cannot be taken as two legs; none if there is none."""
    on = _carrier_of_spring(corner)
    linkage = corner.linkage
    return linkage.arms[on] if on in linkage.arms and not linkage.swinging else None


def _carrier_of_spring(corner: Corner) -> str:
    linkage = corner.linkage
    spring = linkage.springs.get("spring")
    if spring is None:
        return ""
    return linkage.cranks["rocker"].on if spring.on == "rocker" else spring.on


def _arm_joints(corner: Corner, arm: tuple[str, str, str], outer: Vector) -> list[Unknown]:
    """Return the three components at a loaded arm's joint, each with the moment its reaction has about the arm's hinge."""
    first, second = corner.linkage.points[arm[0]], corner.linkage.points[arm[1]]
    axis = unit(sub(second, first))
    reach = sub(outer, first)
    return [u._replace(about_hinge=-dot(axis, cross(reach, u.direction))) for u in _components(arm[2], outer)]


def _swinging_joints(corner: Corner, state: State) -> list[Unknown]:
    swing, arm = corner.mechanism.swing, corner.linkage.swinging
    if swing is None or arm is None:
        return []
    found: list[Unknown] = []
    pose = state.pose
    for name, (_, offset, ways) in zip(arm.balls, swing.balls, strict=True):
        at = add(pose.centre, apply(pose.turn, offset))
        found += _components(name, at, tuple(apply(pose.turn, way) for way in ways))
    for (on_arm, _), (_, offset, _) in zip(arm.rods, swing.rods, strict=True):
        at = add(pose.centre, apply(pose.turn, offset))
        tip = corner.parts.carried(on_arm, "lower_arm", pose, state.per_travel).at
        found.append(Unknown(on_arm, unit(sub(tip, at)), at))
    return [u._replace(about_hinge=-dot(swing.axis, cross(sub(u.at, swing.foot), u.direction))) for u in found]


def _spring(corner: Corner, state: State, loaded: tuple[str, str, str] | None) -> list[Unknown]:
    """Return the spring, or the force it brings through rocker and pushrod, on the member it acts on; compression is positive."""
    linkage = corner.linkage
    if "spring" not in linkage.springs or _spring_on_strut(corner):
        return []
    end, push = _push(corner, state)
    on = _carrier_of_spring(corner)
    if on == "carrier":
        return [Unknown("spring", push, end)]
    if on not in linkage.arms:
        raise Refused(
            "spring_on",
            "must be the carrier or an arm: a two-joint link with a spring on it bends",
            repr(on),
            label="The spring stands on",
        )
    hinge = linkage.arms[on] if loaded is None else loaded
    first, second = linkage.points[hinge[0]], linkage.points[hinge[1]]
    return [Unknown("spring", _STILL, end, dot(unit(sub(second, first)), cross(sub(end, first), push)))]


def _push(corner: Corner, state: State) -> tuple[Vector, Vector]:
    """Return where the spring (or its pushrod) acts, and the force it brings there for one newton of spring compression."""
    linkage, pose, twist = corner.linkage, state.pose, state.per_travel
    spring = linkage.springs["spring"]
    if spring.on != "rocker":
        end = corner.parts.carried(spring.moving, spring.on, pose, twist).at
        return end, unit(sub(end, linkage.points[spring.chassis]))
    crank = linkage.cranks["rocker"]
    tip = corner.parts.carried(crank.link_end, crank.on, pose, twist).at
    first = linkage.points[crank.axis[0]]
    axis = unit(sub(linkage.points[crank.axis[1]], first))
    rod_end = corner.parts.carried(crank.crank_end, "rocker", pose, twist).at
    spring_end = corner.parts.carried(spring.moving, "rocker", pose, twist).at
    away, along_rod = unit(sub(spring_end, linkage.points[spring.chassis])), unit(sub(tip, rod_end))
    lever = dot(axis, cross(sub(rod_end, first), along_rod))
    if abs(lever) < 1e-9:
        raise Refused(
            "rocker_rod_end",
            "must not lie in line with the rod and the rocker's axis: the rod has no lever there",
            label="Rocker rod end",
        )
    force = dot(axis, cross(sub(spring_end, first), away)) / lever
    return tip, (force * along_rod[0], force * along_rod[1], force * along_rod[2])


def top_mount_axes(corner: Corner, state: State) -> tuple[Vector, Vector, Vector]:
    """Return the axis of a strut as it stands and the two directions across it."""
    slider = corner.mechanism.slider
    if slider is None:
        raise Refused("linkage", "must be a strut", label="Linkage")
    first, second = (apply(state.pose.turn, way) for way in slider.across)
    return cross(first, second), first, second
