"""Instant centres, swing arms, roll centre of one wheel, and the steering axis as the wheel really turns."""

from typing import NamedTuple

from calc.geometry.motion import Corner, State
from calc.geometry.rates import Twist
from calc.geometry.vectors import Vector, sub
from calc.geometry.wheel import SteeringAxis, screw, steering_axis

STILL = 1e-7  # rad/m, turning below which an instant centre is at infinity


class Slopes(NamedTuple):
    """How the carrier moves per unit rise: outboard at the contact point, forward there, and forward at the wheel centre."""

    lateral: float
    contact: float
    wheel: float


class Centre(NamedTuple):
    """An instant centre in one view: its coordinate across the view, its height above the contact point, and the swing arm (m).

    At infinity all three are none; ``slope`` is the direction of the line to it (rise per metre), which always exists.
    """

    across: float | None
    above: float | None
    swing_arm: float | None
    slope: float


class VirtualAxis(NamedTuple):
    """The axis the wheel turns about when the rack moves and the spring keeps its length: at the ground, its direction and pitch."""

    at_ground: Vector
    direction: Vector
    pitch: float
    steering: SteeringAxis


def slopes(state: State) -> Slopes:
    """Return the slopes on which roll centre and anti effects rest.

    Equation: m = V_Cy / V_Cz, b_C = V_Cx / V_Cz, b_W = V_x / V_z, with V_C the velocity of the carrier-fixed point at the contact.
    """
    vx, vy, vz = state.per_travel.at(state.pose.centre, state.contact)
    return Slopes(vy / vz, vx / vz, state.per_travel.velocity[0] / state.per_travel.velocity[2])


def roll_centre_height(state: State) -> float:
    """Return the height of the roll centre above ground with both wheels at this travel: C_y m."""
    return state.contact[1] * slopes(state).lateral


def front_view(state: State) -> Centre:
    """Return the instant centre in the plane across the car through the contact point: y = C_y - V_Cz/w_x, z = V_Cy/w_x."""
    _, vy, vz = state.per_travel.at(state.pose.centre, state.contact)
    turning = state.per_travel.turning[0]
    if abs(turning) < STILL:
        return Centre(None, None, None, -vy / vz)
    return Centre(state.contact[1] - vz / turning, vy / turning, vz / turning, -vy / vz)


def side_view(state: State) -> Centre:
    """Return the instant centre in the plane along the car through the contact point: x = C_x + V_Cz/w_y, z = -V_Cx/w_y."""
    vx, _, vz = state.per_travel.at(state.pose.centre, state.contact)
    turning = state.per_travel.turning[1]
    if abs(turning) < STILL:
        return Centre(None, None, None, -vx / vz)
    return Centre(state.contact[0] + vz / turning, -vx / turning, vz / turning, -vx / vz)


def drawn_axis(corner: Corner, state: State) -> SteeringAxis | None:
    """Return the axis through the two steering joints; none where the linkage has no such two joints."""
    kingpin = corner.linkage.kingpin
    if kingpin is None:
        return None
    lower, upper = (joint(corner, state, name) for name in kingpin)
    return steering_axis(lower, sub(upper, lower), state.contact, state.spin)


def joint(corner: Corner, state: State, name: str) -> Vector:
    """Return where a steering joint is: a strut's top mount stays on the chassis, other joints ride on the carrier."""
    if corner.linkage.slider and name == corner.linkage.slider[0]:
        return corner.linkage.points[name]
    return corner.parts.carried(name, "carrier", state.pose, state.per_travel).at


def steering_twist(corner: Corner, state: State) -> Twist | None:
    """Return the motion per metre of rack with the spring held at its length; none without a spring or a rack."""
    spring = corner.linkage.springs.get("spring")
    if spring is None or corner.linkage.tie_rod is None:
        return None
    down = corner.parts.length(spring, state.pose, state.per_travel).ratio
    if abs(down) < 1e-9:
        return None
    return state.per_rack.plus(-corner.parts.length(spring, state.pose, state.per_rack).ratio / down, state.per_travel)


def virtual_axis(corner: Corner, state: State) -> VirtualAxis | None:
    """Return the axis the wheel really turns about, which for links without two common joints is not drawn anywhere."""
    motion = steering_twist(corner, state)
    if motion is None or sum(w * w for w in motion.turning) < STILL**2:
        return None
    point, direction, pitch = screw(motion.velocity, motion.turning, state.pose.centre)
    if abs(direction[2]) < 1e-9:
        return None
    share = (state.contact[2] - point[2]) / direction[2]
    ground = (point[0] + share * direction[0], point[1] + share * direction[1], state.contact[2])
    return VirtualAxis(ground, direction, pitch, steering_axis(ground, direction, state.contact, state.spin))
