"""Closed forms. Every steered wheel on two arms, strut or H-arm is one idea: an arm turns, which places a first point; a second point
on the same line of the carrier follows; one last link fixes the turn about that line. Only the arm angle for a wanted height is a root.

The branch (which of two crossings) is the drawn one and can only change through a lock, so a position never jumps.
Source: circle cut with sphere, and rigid-body velocities; checked against the general solver in the tests.
"""

from math import acos, atan2, copysign, cos, sin, sqrt
from typing import NamedTuple

from calc.geometry.constraints import Pose
from calc.geometry.linkage import Linkage, Pair
from calc.geometry.solve_errors import Unreachable
from calc.geometry.steer_path import SteerPath
from calc.geometry.vectors import Vector, across, add, along, apply, cross, dot, from_frames, norm, scale, sub, unit

_ROUND = 1e-12
_LARGEST_TURN = 0.3  # rad, largest step of the arm angle
_STRIDE = 0.04  # rad, step in which a lock is looked for


class Circle(NamedTuple):
    """The path of a point about an axis: centre + radius (cos b e1 + sin b e2)."""

    centre: Vector
    axis: Vector
    radius: float
    e1: Vector
    e2: Vector

    def at(self, angle: float) -> tuple[Vector, Vector]:
        """Return the point, and its velocity per radian."""
        c, s = self.radius * cos(angle), self.radius * sin(angle)
        return along(along(self.centre, c, self.e1), s, self.e2), along(scale(c, self.e2), -s, self.e1)


def circle(first: Vector, second: Vector, through: Vector, lengths: tuple[float, float] | None = None) -> Circle:
    """Return the circle of ``through`` about the axis first -> second, or of a joint at ``lengths`` from the two."""
    axis = unit(sub(second, first))
    offset = sub(through, first)
    place = dot(offset, axis)
    out = across(offset, axis)
    radius = norm(out)
    e1 = scale(1.0 / radius, out)
    if lengths:
        a, b = lengths
        d = norm(sub(second, first))
        place = (a * a - b * b + d * d) / (2 * d)
        if a * a <= place * place:
            raise Unreachable
        radius = sqrt(a * a - place * place)
    return Circle(along(first, place, axis), axis, radius, e1, cross(axis, e1))


def crossing(path: Circle, other: Vector, distance: float, branch: float) -> float:
    """Return the angle at which a circle is ``distance`` from ``other``; ``branch`` (+1 or -1) picks the crossing.

    Equation: A cos b + B sin b = C, b = atan2(B, A) +- acos(C / sqrt(A^2 + B^2)). Raises ``Unreachable``.
    """
    gap = sub(path.centre, other)
    a, b = 2 * path.radius * dot(path.e1, gap), 2 * path.radius * dot(path.e2, gap)
    c = distance * distance - path.radius * path.radius - dot(gap, gap)
    size = sqrt(a * a + b * b)
    if abs(c) > size * (1 + _ROUND):
        raise Unreachable
    return atan2(b, a) + branch * acos(max(-1.0, min(1.0, c / size)))


def branch_of(path: Circle, other: Vector, point: Vector) -> float:
    """Return which crossing ``point`` is: the sign of its angle past the line towards ``other``."""
    gap = sub(path.centre, other)
    here = sub(point, path.centre)
    side = dot(cross(sub(gap, scale(dot(gap, path.axis), path.axis)), here), path.axis)
    return 1.0 if side >= 0 else -1.0


def wishbone(linkage: Linkage, legs: tuple[Pair, Pair]) -> Circle:
    """Return the circle on which the outer joint of two legs runs, at the lengths they are kept at."""
    (first, outer), (second, _) = legs
    points = linkage.points
    kept = [linkage.lengths.get(leg) or norm(sub(points[leg[1]], points[leg[0]])) for leg in legs]
    lengths = (kept[0], kept[1]) if any(leg in linkage.lengths for leg in legs) else None
    return circle(points[first], points[second], points[outer], lengths)


class Body(NamedTuple):
    """The carrier seen from the line first -> second: its own frame, and what lies where in it."""

    frame: tuple[Vector, Vector, Vector]
    wheel: Vector  # coordinates of the wheel centre
    axial: float  # place of the closing joint along the line
    radius: float  # and its distance from the line


def body(first: Vector, second: Vector, closing: Vector, wheel: Vector) -> Body:
    """Return the carrier seen from the line first -> second; the second axis of the frame points to the closing joint."""
    f1 = unit(sub(second, first))
    reach = sub(closing, first)
    axial = dot(reach, f1)
    out = along(reach, -axial, f1)
    radius = norm(out)
    f2 = scale(1.0 / radius, out)
    f3 = cross(f1, f2)
    centre = sub(wheel, first)
    return Body((f1, f2, f3), (dot(centre, f1), dot(centre, f2), dot(centre, f3)), axial, radius)


class Follow(NamedTuple):
    """Where the second point is, how fast (per radian of arm), and the carrier seen from the line.

    ``slide`` is a velocity along a carrier direction, in drawn axes: a strut's rod running through its top mount.
    """

    second: Vector
    drift: Vector
    body: Body
    slide: Vector | None = None


class ClosedForm:
    """Positions of a wheel on an arm, a second point and a closing link. One subclass for each way to hold the second point."""

    def __init__(self, linkage: Linkage, arm: Circle, first: Vector, second: Vector, closing: Pair) -> None:
        points = linkage.points
        self.arm = arm
        self.inner, outer = points[closing[0]], points[closing[1]]
        self.length = linkage.lengths.get(closing) or norm(sub(outer, self.inner))
        self.steer = SteerPath(linkage) if closing == linkage.tie_rod else None
        self.body = body(first, second, outer, points["wheel_centre"])
        f1, f2, _ = self.body.frame
        self.side = 1.0 if dot(cross(across(sub(self.inner, first), f1), f2), f1) >= 0 else -1.0

    def follow(self, angle: float, first: Vector, swing: Vector) -> Follow:
        """Return the second point for a first point and its velocity."""
        raise NotImplementedError

    def place(self, angle: float, rack: float) -> tuple[Pose, float]:
        """Return the pose at an arm angle, and the rise of the wheel centre per radian. Raises ``Unreachable``."""
        first, swing = self.arm.at(angle)
        second, drift, seen, slide = self.follow(angle, first, swing)
        inner = add(self.inner, self.steer.at(rack)[0]) if self.steer else self.inner
        k = sub(second, first)
        f1 = unit(k)
        root = along(first, seen.axial, f1)
        f2 = self._towards_closing(sub(inner, root), f1, seen.radius)
        f3 = cross(f1, f2)
        w1, w2, w3 = seen.wheel
        arm = along(along(scale(w1, f1), w2, f2), w3, f3)
        turn = from_frames((f1, f2, f3), seen.frame)
        drift = drift if slide is None else apply(turn, slide)
        rise = _rise(k, swing, drift, along(scale(seen.axial, f1), seen.radius, f2), sub(inner, first), arm)
        return Pose(add(first, arm), turn, angle), rise

    def _towards_closing(self, towards: Vector, f1: Vector, radius: float) -> Vector:
        """Return the direction from the line to the closing joint, where its link has its length."""
        beta = dot(towards, f1)
        out = along(towards, -beta, f1)
        alpha = norm(out)
        if alpha < 1e-9:
            raise Unreachable
        cosine = (radius * radius + alpha * alpha + beta * beta - self.length * self.length) / (2 * radius * alpha)
        if abs(cosine) > 1 + _ROUND:
            raise Unreachable
        cosine = max(-1.0, min(1.0, cosine))
        e1 = scale(1.0 / alpha, out)
        return along(scale(cosine, e1), self.side * sqrt(1 - cosine * cosine), cross(f1, e1))

    def at_height(self, height: float, rack: float, start: float) -> Pose:
        """Return the pose with the wheel centre at ``height``: Newton on the arm angle with its exact rate.

        The rate must keep its sign on the way: a change means that the wheel has passed its highest or lowest point.
        """
        angle = start
        sign = 0.0
        for _ in range(40):
            pose, rise = self.place(angle, rack)
            if rise * sign < 0 or rise == 0:
                raise Unreachable
            sign = rise
            error = height - pose.centre[2]
            if abs(error) < 1e-13:
                return self._on_the_way(pose, start, rack, sign)
            angle += max(-_LARGEST_TURN, min(_LARGEST_TURN, error / rise))
        if abs(error) < 1e-11:
            return self._on_the_way(pose, start, rack, sign)
        raise Unreachable

    def _on_the_way(self, pose: Pose, start: float, rack: float, sign: float) -> Pose:
        """Return the pose if the arm could be turned there from ``start`` without passing a lock."""
        count = int(abs(pose.angle - start) / _STRIDE)
        for i in range(1, count + 1):
            if self._try(start + i * (pose.angle - start) / (count + 1), rack, sign) is None:
                raise Unreachable
        return pose

    def limit(self, way: float, rack: float, start: float, farthest: float) -> float | None:
        """Return the height of the wheel centre where the linkage locks upwards (``way`` +1) or downwards; none within ``farthest``.

        The arm is turned until it cannot be, or until the wheel stops rising; the last angle is found by bisection.
        """
        pose, rise = self.place(start, rack)
        first, sign, turn = pose.centre[2], rise, way * copysign(_STRIDE, rise)
        good, bad = start, start
        while abs(pose.centre[2] - first) < farthest:
            good = bad
            bad = good + turn
            found = self._try(bad, rack, sign)
            if found is None:
                break
            pose = found
        else:
            return None
        for _ in range(50):
            middle = 0.5 * (good + bad)
            found = self._try(middle, rack, sign)
            if found is None:
                bad = middle
            else:
                good, pose = middle, found
        return pose.centre[2]

    def _try(self, angle: float, rack: float, sign: float) -> Pose | None:
        try:
            pose, rise = self.place(angle, rack)
        except Unreachable:
            return None
        return pose if rise * sign > 0 else None


def _rise(k: Vector, swing: Vector, drift: Vector, reach: Vector, inner: Vector, arm: Vector) -> float:
    """Return the rise of the wheel centre per radian of the arm; all points are seen from the first one."""
    base = scale(1.0 / dot(k, k), cross(k, sub(drift, swing)))
    n = sub(reach, inner)
    lever = dot(n, cross(k, reach))
    if abs(lever) < 1e-12:
        raise Unreachable
    share = -dot(n, add(swing, cross(base, reach))) / lever
    turning = along(base, share, k)
    return swing[2] + turning[0] * arm[1] - turning[1] * arm[0]
