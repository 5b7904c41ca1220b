"""Steering: the ideal pair of angles, how near a linkage comes to it, turning circle, steering ratio."""

from math import atan2, cos, sin
from typing import NamedTuple

from calc.geometry.centres import joint, virtual_axis
from calc.geometry.motion import Corner, State
from calc.geometry.vectors import Vector, add, along, sub
from calc.geometry.wheel import toe_in


class SteerPair(NamedTuple):
    """Both front wheels at one rack travel. Angles positive to the left (rad); the percentage (as a share) is none at straight ahead."""

    rack: float
    left: float
    right: float
    ideal_inner: float | None
    ackermann: float | None


def ideal_inner(outer: float, wheelbase: float, track: float) -> float:
    """Return the inner angle for which both front wheels roll about one point on the rear axle line: cot d_o - cot d_i = t/L.

    >>> round(ideal_inner(0.349065850399, 2.6, 1.5), 6)
    0.431726
    """
    # in this form it holds through a right angle, where tan(d_i) has its pole
    return atan2(sin(outer), cos(outer) - track / wheelbase * sin(outer))


def ideal_outer(inner: float, wheelbase: float, track: float) -> float:
    """Return the outer angle that goes with an inner one: cot d_o = cot d_i + t/L."""
    return atan2(sin(inner), cos(inner) + track / wheelbase * sin(inner))


def ackermann_share(inner: float, outer: float, wheelbase: float, track: float) -> float | None:
    """Return (d_i - d_o) / (d_i* - d_o), d_i* being the ideal inner angle for the actual outer one; none where that is not positive."""
    if outer <= 0:
        return None
    return (inner - outer) / (ideal_inner(outer, wheelbase, track) - outer)


def steer_angles(corner: Corner, rack: float, other: Corner | None = None) -> tuple[float, float]:
    """Return the left and right steer angles at a rack travel, positive to the left, static toe included."""
    left = -toe_in(corner.state(0.0, rack).spin)
    return left, toe_in((other or corner).state(0.0, -rack).spin)


def steer_pair(corner: Corner, rack: float, wheelbase: float, track: float, other: Corner | None = None) -> SteerPair:
    """Return both angles and the Ackermann percentage at a rack travel; the inner wheel is the left one in a left turn."""
    left, right = steer_angles(corner, rack, other)
    inner, outer = (left, right) if left + right > 0 else (-right, -left)
    if inner <= 0 or outer <= 0:  # straight ahead, where static toe is larger than the steer angle
        return SteerPair(rack, left, right, None, None)
    return SteerPair(
        rack, left, right, ideal_inner(outer, wheelbase, track), ackermann_share(inner, outer, wheelbase, track)
    )


def kerb_circle(outer: float, wheelbase: float, scrub: float) -> float:
    """Return the diameter of the circle of the outer front wheel: 2 (L / sin d_o + scrub)."""
    return 2 * (wheelbase / sin(outer) + scrub)


def tie_rod_angle(corner: Corner, rack: float) -> float | None:
    """Return the angle between tie rod and steering arm in plan (rad), none without a steering axis: at 0 and at pi the linkage toggles."""
    linkage = corner.linkage
    state = corner.state(0.0, rack)
    axis = axis_points(corner, state)
    if linkage.tie_rod is None or axis is None:
        return None
    outer = corner.parts.carried(linkage.tie_rod[1], "carrier", state.pose, state.per_travel).at
    x, y, _ = corner.chassis_end(linkage.tie_rod, rack)
    low, high = axis
    foot = along(low, (outer[2] - low[2]) / (high[2] - low[2]), sub(high, low))
    rod, arm = (x - outer[0], y - outer[1]), (foot[0] - outer[0], foot[1] - outer[1])
    return abs(atan2(rod[0] * arm[1] - rod[1] * arm[0], rod[0] * arm[0] + rod[1] * arm[1]))


def axis_points(corner: Corner, state: State) -> tuple[Vector, Vector] | None:
    """Return two points of the steering axis, lower first: its joints, or else the axis the wheel really turns about."""
    if corner.linkage.kingpin:
        lower, upper = (joint(corner, state, name) for name in corner.linkage.kingpin)
        return lower, upper
    virtual = virtual_axis(corner, state)
    return None if virtual is None else (virtual.at_ground, add(virtual.at_ground, virtual.direction))


def turn_radius(outer: float, wheelbase: float, track: float) -> float:
    """Return the radius of the middle of the rear axle for an outer angle: L cot d_o - t/2.

    >>> round(turn_radius(0.349065850399, 2.6, 1.5), 4)
    6.3934
    """
    return wheelbase * cos(outer) / sin(outer) - track / 2


def mean_angle(inner: float, outer: float) -> float:
    """Return the angle whose cotangent is the mean of the two cotangents: that of one wheel in the middle."""
    return atan2(2 * sin(inner) * sin(outer), cos(inner) * sin(outer) + cos(outer) * sin(inner))
