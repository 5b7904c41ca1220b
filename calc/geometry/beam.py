"""Torsion beam, as two turns: the mean of the travels about the bush axis, half their difference about bush and shear centre.

An approximation: bushes are rigid, the cross member only twists. Good to 10 % of roll steer at best.
Source: shear-centre model, from memory (Reimpell, Stoll and Betzler, The Automotive Chassis, 2001, chapter 4; Dixon, Suspension
Geometry and Computation, 2009, chapter 15).
"""

from math import acos, atan2, hypot
from typing import NamedTuple

from calc.geometry.solve_errors import Unreachable
from calc.geometry.vectors import Vector, across, add, apply, cross, spin, sub, unit
from calc.geometry.wheel import camber, toe_in
from calc.refusal import Refused

_LATERAL: Vector = (0.0, 1.0, 0.0)


class BeamWheel(NamedTuple):
    """The left wheel: camber and toe-in from zero as drawn (rad), shift of its centre forward and outboard (m)."""

    camber: float
    toe_in: float
    dx: float
    dy: float


def beam_wheel(bush: Vector, shear_centre: Vector, wheel: Vector, left: float, right: float) -> BeamWheel:
    """Return the left wheel of a torsion beam with both wheels at given travels; for the right one swap the travels.

    >>> beam_wheel((0.4, 0.56, 0.3), (0.33, 0.0, 0.34), (0.0, 0.72, 0.3), 0.0, 0.0).camber
    0.0
    """
    mean, half = 0.5 * (left + right), 0.5 * (left - right)
    try:
        centre, axis = _turn(wheel, _LATERAL, bush, _LATERAL, mean)
        centre, axis = _turn(centre, axis, bush, unit(sub(shear_centre, bush)), half)
    except Unreachable:
        raise Refused(
            "travel",
            "must be within reach of the arm",
            f"{1000 * left:g} and {1000 * right:g} mm",
            label="Wheel travel",
        ) from None
    return BeamWheel(camber(axis), toe_in(axis), centre[0] - wheel[0], centre[1] - wheel[1])


def roll_centre_height(bush: Vector, shear_centre: Vector, contact: Vector) -> float:
    """Return the height of the roll centre above ground as drawn, by the same analogy: y_C V_y / V_z in roll.

    >>> round(roll_centre_height((0.4, 0.56, 0.3), (0.33, 0.0, 0.34), (0.0, 0.72, 0.0)), 3)
    0.113
    """
    velocity = cross(unit(sub(shear_centre, bush)), sub(contact, bush))
    if abs(velocity[2]) < 1e-12:
        raise Refused(
            "centre_ahead", "must not put the axis of roll under the wheel", label="Shear centre ahead of the axle"
        )
    return contact[1] * velocity[1] / velocity[2]


def _turn(centre: Vector, spin_axis: Vector, foot: Vector, axis: Vector, rise: float) -> tuple[Vector, Vector]:
    """Turn a wheel about a line until its centre has risen by ``rise``: A cos a + B sin a = A + rise."""
    arm = sub(centre, foot)
    out = across(arm, axis)
    a, b = out[2], cross(axis, out)[2]
    size = hypot(a, b)
    if abs(a + rise) > size:
        raise Unreachable
    middle, half = atan2(b, a), acos((a + rise) / size)
    turned = spin(axis, middle - half if middle > 0 else middle + half)
    return add(foot, apply(turned, arm)), apply(turned, spin_axis)
