"""Alignment arithmetic: toe as a length and as an angle, caster by sweep, shims, strings, thrust angle, turns of a thread."""

from math import acos, asin, atan2, cos, degrees, sin, sqrt, tan
from typing import NamedTuple

from calc.geometry.vectors import Vector, apply, cross, dot, scale, spin, sub, unit
from calc.geometry.wheel import camber, spin_axis, toe_in
from calc.refusal import Refused


class CasterSweep(NamedTuple):
    """Camber with the wheel turned in and out (rad, outward positive), and the caster the workshop rule makes of them."""

    turned_in: float
    turned_out: float
    estimate: float


def toe_angle(length: float, diameter: float) -> float:
    """Return the toe angle of a wheel from its toe as a length at a diameter: sin t = e / D.

    >>> round(degrees(toe_angle(0.001, 0.381)), 6)
    0.150383
    """
    return asin(length / diameter)


def toe_length(angle: float, diameter: float) -> float:
    """Return toe as a length at a diameter: e = D sin t.

    >>> round(toe_length(0.0043633, 0.381), 8)
    0.00166242
    """
    return diameter * sin(angle)


def caster_from_sweep(turned_out: float, turned_in: float, turn: float) -> float:
    """Return caster (rad) from the camber (outward positive) turned out and turned in by ``turn``: (out - in) / (2 sin d).

    >>> round(caster_from_sweep(0.0401, -0.0314, 0.349066), 5)
    0.10453
    """
    return (turned_out - turned_in) / (2 * sin(turn))


def caster_sweep(caster: float, inclination: float, static_camber: float, turn: float) -> CasterSweep:
    """Return what a caster sweep of exactly turned wheels reads, and how far the rule is from the true caster.

    The wheel turns rigidly about the steering axis until its heading has changed by ``turn``. Source: exact rotation.
    """
    axis = unit((-tan(caster), -tan(inclination), 1.0))
    start = spin_axis(static_camber, 0.0)
    inward, outward = (camber(_headed(start, axis, side * turn)) for side in (1.0, -1.0))
    return CasterSweep(inward, outward, caster_from_sweep(outward, inward, turn))


def _headed(start: Vector, axis: Vector, toe: float) -> Vector:
    """Return the spin axis turned about ``axis`` until its toe-in is ``toe``: A cos f + B sin f = C for the sideways part."""
    across: Vector = (cos(toe), -sin(toe), 0.0)  # the spin axis has no part along this when its toe-in is ``toe``
    still = scale(dot(axis, start), axis)
    a, b, c = dot(sub(start, still), across), dot(cross(axis, start), across), dot(still, across)
    size = sqrt(a * a + b * b)
    if abs(c) >= size:
        raise Refused(
            "wheel_turn", "must be an angle the wheel can be turned to", f"{degrees(abs(toe)):g}°", label="Wheel turn"
        )
    base, half = atan2(b, a), acos(-c / size)
    turned = (apply(spin(axis, angle), start) for angle in (base + half, base - half))
    return min(turned, key=lambda s: abs(toe_in(s) - toe))


def thrust_angle(left_toe_in: float, right_toe_in: float) -> float:
    """Return the angle the rear wheels steer the car to, positive when they point to the left: (right - left) / 2.

    >>> round(thrust_angle(0.002, 0.004), 6)
    0.001
    """
    return (right_toe_in - left_toe_in) / 2


def string_angle(front_gap: float, rear_gap: float, front_track: float, rear_track: float, wheelbase: float) -> float:
    """Return how far a string is off parallel to the centre-line, positive when its front end is too far out (rad).

    Gaps are from the string to the hub centres; a parallel string stands off by half the difference of the tracks.

    >>> string_angle(0.05, 0.06, 1.52, 1.50, 2.5)
    0.0
    """
    return round(((front_gap + front_track / 2) - (rear_gap + rear_track / 2)) / wheelbase, 15)


def toe_from_string(front_gap: float, rear_gap: float, diameter: float, string: float = 0.0) -> float:
    """Return toe-in of a wheel from the gaps between an outer string and the front and rear edge of its rim.

    Equation: t = asin((front - rear) / D) - e, e being the angle the string's front end stands too far out.

    >>> round(degrees(toe_from_string(0.0513, 0.0500, 0.4)), 4)
    0.1862
    """
    return asin((front_gap - rear_gap) / diameter) - string
