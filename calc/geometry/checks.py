"""Refusals of drawn points: each way in which points cannot be a suspension has a sentence of its own."""

from collections.abc import Iterator
from itertools import pairwise
from math import isfinite

from calc.geometry.constraints import Mechanism, Pose
from calc.geometry.linear import smallest_stretch
from calc.geometry.linkage import Linkage
from calc.geometry.vectors import Vector, cross, norm, sub
from calc.refusal import Refused

NEAREST = 1e-3  # m, points closer than this are one point
NEAR_LOCK = 1e-4  # smallest stretch of the equations, rotations taken at 1 m
_MOST = 20.0  # m, no point of a car is farther from the origin


def check_linkage(linkage: Linkage) -> None:
    """Refuse points that cannot be: not a number, coincident, an arm without an axis, a wheel held too much or too little."""
    for name, point in linkage.points.items():
        if not all(isinstance(value, float | int) and isfinite(value) for value in point):
            raise refused(name, "must have three finite numbers", str(point))
        if max(abs(value) for value in point) > _MOST:
            raise refused(name, f"must lie within {_MOST:g} m of the origin", written(point))
    if not linkage.loaded_radius > 0:
        raise Refused(
            "loaded_radius", "must be greater than 0 mm", f"{1000 * linkage.loaded_radius:g} mm", label="Loaded radius"
        )
    for one, other, what in _pairs(linkage):
        if norm(sub(linkage.points[one], linkage.points[other])) < NEAREST:
            raise refused(one, f"must not coincide with {plain(other)}: {what}", written(linkage.points[one]))
    for first, second, outer, what in _hinges(linkage):
        a, b, c = (linkage.points[name] for name in (first, second, outer))
        if norm(cross(sub(c, a), sub(b, a))) < NEAREST * norm(sub(b, a)):
            raise refused(
                outer, f"must lie off the line through {plain(first)} and {plain(second)}: {what}", written(c)
            )


def check_drawn(linkage: Linkage, mechanism: Mechanism) -> None:
    """Refuse a wheel that is over-held or free, and one that is locked as drawn."""
    held = mechanism.count - (mechanism.size - 6)
    wanted = 6 - len(mechanism.heights)
    if held != wanted:
        what = "axle" if len(mechanism.heights) == 2 else "wheel"
        state = "over-held" if held > wanted else "free"
        raise Refused(
            "points",
            f"must hold the {what} in {wanted} ways, its travel left free: this one is {state}",
            f"{held} ways",
            label="Points",
        )
    if linkage.kingpin and linkage.tie_rod:
        low, high = (linkage.points[name] for name in linkage.kingpin)
        outer = linkage.points[linkage.tie_rod[1]]
        if norm(cross(sub(outer, low), sub(high, low))) / norm(sub(high, low)) < NEAREST:
            raise refused(
                linkage.tie_rod[1],
                "must lie off the steering axis: the steering arm has no length there",
                written(outer),
            )
    if nearness(mechanism, Pose(mechanism.origin), 0.0) < 1e-9:
        raise Refused(
            "points",
            "must not be drawn in a locked position: the members leave one motion free and stop another",
            label="Points",
        )


def nearness(mechanism: Mechanism, pose: Pose, rack: float) -> float:
    """Return how far a pose is from a lock: a lower bound of the smallest singular value of the equations."""
    rows = mechanism.equations(pose, rack).rows + mechanism.height_rows(pose)[0]
    return smallest_stretch(rows)


def refused(name: str, rule: str, value: str = "") -> Refused:
    """Return a refusal about one point."""
    return Refused(name, rule, value, label=plain(name).capitalize())


def plain(name: str) -> str:
    """Return the name of a point in words."""
    return name.replace("_", " ")


def written(point: Vector) -> str:
    """Return a point as a reader writes it, in millimetres."""
    return (
        "("
        + ", ".join(f"{1000 * value:g}" if isinstance(value, float | int) else str(value) for value in point)
        + ") mm"
    )


def _hinges(linkage: Linkage) -> Iterator[tuple[str, str, str, str]]:
    """Yield the axes with a point that must lie off each, and what is lost when it does not."""
    short = "the arm has no length"
    joints: dict[str, list[str]] = {}
    for chassis, outer in linkage.links:
        joints.setdefault(outer, []).append(chassis)
    for outer, inner in joints.items():
        for one, other in pairwise(inner):
            yield one, other, outer, short
    for front, rear, outer in linkage.arms.values():
        yield front, rear, outer, short
    if linkage.hinge:
        yield *linkage.hinge, "wheel_centre", short
    if linkage.swinging:
        for ball in linkage.swinging.balls:
            yield *linkage.swinging.hinge, ball, short
        if len(linkage.swinging.balls) == 2 and linkage.links:
            yield *linkage.swinging.balls, linkage.links[0][1], "the camber link has no lever"
    for name, crank in linkage.cranks.items():
        yield *crank.axis, crank.crank_end, f"the {name} has no lever"
    if linkage.box:
        yield *linkage.box, "the drop arm has no length"


def _pairs(linkage: Linkage) -> Iterator[tuple[str, str, str]]:
    """Yield the pairs of points that must be apart, with what is lost when they are not."""
    hinge = "the arm has no hinge axis"
    inner: dict[str, list[str]] = {}
    for chassis, outer in linkage.links:
        yield chassis, outer, "the link has no length"
        inner.setdefault(outer, []).append(chassis)
    for legs in inner.values():
        for one, other in pairwise(legs):
            yield one, other, hinge
    for front, rear, outer in linkage.arms.values():
        yield front, rear, hinge
        yield outer, front, "the arm has no length"
    if linkage.hinge:
        yield *linkage.hinge, hinge
        yield "wheel_centre", linkage.hinge[0], "the arm has no length"
    if linkage.slider:
        yield linkage.slider[1], linkage.slider[0], "the strut has no axis"
    if linkage.kingpin:
        yield *linkage.kingpin, "the steering axis has no direction"
    if linkage.swinging:
        yield *linkage.swinging.hinge, hinge
        if len(linkage.swinging.balls) == 2:
            yield linkage.swinging.balls[1], linkage.swinging.balls[0], "the carrier has no axis on the arm"
        for one, other in linkage.swinging.rods:
            yield one, other, "the link has no length"
    for spring in linkage.springs.values():
        yield spring.moving, spring.chassis, "the spring has no length"
    if linkage.box:
        yield linkage.box[1], linkage.box[0], "the drop arm has no axis"
        yield linkage.box[2], linkage.box[0], "the drop arm has no length"
    for crank in linkage.cranks.values():
        yield *crank.axis, "the crank has no axis"
        yield crank.link_end, crank.crank_end, "the link has no length"
    if linkage.axle_crank:
        pivot, first, second, third, fourth = linkage.axle_crank
        yield first, second, "the crank has no length"
        yield pivot, first, "the crank has no length"
        yield third, first, "the rod has no length"
        yield fourth, second, "the rod has no length"
