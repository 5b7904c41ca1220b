"""Two wheels of one axle in body roll: each finds the ground; camber to it, roll centre by motion and by force, jacking.

Sources: kinematics derived; force-based centre after Dixon, The roll-centre concept, 1987, and Mitchell, SAE 983085, 1998 (both by title).
"""

from math import atan2, cos, sin, sqrt
from typing import NamedTuple

from calc.geometry.motion import Corner, State
from calc.geometry.vectors import Vector, cross, dot
from calc.geometry.wheel import camber, contact
from calc.refusal import Refused

_CLOSE = 2e-11  # m, beyond what the position itself is found to
_PARALLEL = 1e-6  # slope sum below which the kinematic centre is at infinity sideways


class RolledWheel(NamedTuple):
    """One wheel on the ground under a rolled body; ``contact_y`` outboard from the car's centre-line, ``lateral_slope`` outboard per rise."""

    travel: float
    camber_to_ground: float
    toe_in: float
    contact_y: float
    lateral_slope: float
    state: State


class RollPair(NamedTuple):
    """Both wheels, the kinematic roll centre (none when it runs to infinity), and what the forces do."""

    left: RolledWheel
    right: RolledWheel
    centre_y: float | None
    centre_z: float | None
    force_height: float
    jacking: float


def wheel_in_roll(corner: Corner, roll: float, heave: float = 0.0) -> RolledWheel:
    """Return one wheel where it touches the ground, the body turned by ``roll`` about the ground centre-line and risen by ``heave``.

    Seen from the chassis the ground has the upward normal (0, sin r, cos r); ``roll`` is positive with this wheel's side up.
    """
    n: Vector = (0.0, sin(roll), cos(roll))
    level = corner.drawn_contact[2] * cos(roll) - heave
    travel = -heave - corner.drawn_contact[1] * sin(roll)  # a good first guess: the body turned, the wheel left behind
    for _ in range(30):
        state = corner.state(travel)
        lean = dot(n, state.spin)
        root = sqrt(1.0 - lean * lean)
        error = dot(state.pose.centre, n) - corner.radius * root - level
        tipping = dot(cross(state.per_travel.turning, state.spin), n)
        slope = dot(state.per_travel.velocity, n) + corner.radius * lean * tipping / root
        if abs(error) < _CLOSE:
            break
        travel -= error / slope
    else:
        raise Refused("roll", "must leave both wheels on the ground", label="Body roll")
    point = contact(state.pose.centre, state.spin, corner.radius, n)
    outboard: Vector = (0.0, cos(roll), -sin(roll))
    velocity = state.per_travel.at(state.pose.centre, point)
    seen = (point[0], point[1], point[2] - corner.drawn_contact[2])
    toe = atan2(state.spin[0], dot(state.spin, outboard))
    return RolledWheel(
        travel, camber(state.spin, n), toe, dot(seen, outboard), dot(velocity, outboard) / dot(velocity, n), state
    )


def roll_pair(left: Corner, right: Corner, roll: float, left_share: float, heave: float = 0.0) -> RollPair:
    """Return both wheels in roll (rad, positive with the left side up); ``right`` is described as a left wheel, to be mirrored.

    Equation: kinematic centre = cut of z = -m_l (y - y_l) and z = m_r (y + y_r); h_F = k m_l y_l + (1 - k) m_r y_r;
    jacking per unit of lateral force (positive left) = -k m_l + (1 - k) m_r, upward on the body.
    """
    a, b = wheel_in_roll(left, roll, heave), wheel_in_roll(right, -roll, heave)
    ml, mr = a.lateral_slope, b.lateral_slope
    total = ml + mr
    y = None if abs(total) < _PARALLEL else (ml * a.contact_y - mr * b.contact_y) / total
    height = left_share * ml * a.contact_y + (1 - left_share) * mr * b.contact_y
    jacking = -left_share * ml + (1 - left_share) * mr
    return RollPair(a, b, y, None if y is None else mr * (y + b.contact_y), height, jacking)
