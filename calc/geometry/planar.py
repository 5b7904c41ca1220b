"""Plane cases with a closed form: two arm lines in front view, lock-out of a four-bar, a Panhard rod, a Watt linkage, a leaf spring."""

from math import acos, atan2, hypot, sqrt
from typing import NamedTuple

from calc.geometry.solve_errors import Unreachable

Flat = tuple[float, float]
_PARALLEL = 1e-9
_STEEPEST = 1.5009831567  # rad: 86 degrees, beyond which an arm is no longer one


class FrontView(NamedTuple):
    """Instant centre (y, z; none when the arms are parallel), swing arm, lateral slope, roll centre height, camber rate (rad/m)."""

    centre: Flat | None
    swing_arm: float | None
    slope: float
    roll_centre_height: float
    camber_rate: float


class LockAngles(NamedTuple):
    """Lower-arm angles (rad from horizontal, outer end up positive) at which upper arm and knuckle stretch or fold; none: no such lock."""

    droop: float | None
    bump: float | None
    folded: float | None


def front_view(lower: tuple[Flat, Flat], upper: tuple[Flat, Flat], contact: Flat) -> FrontView:
    """Return what two arms (inner, outer end as y and z) do to the wheel with this contact point.

    Equation: the arm lines meet at the instant centre I; m = (I_z - C_z) / (C_y - I_y), outboard motion of C per rise;
    roll centre height = C_y m; camber rate = -1 / (C_y - I_y).

    >>> front_view(((0.3, 0.2), (0.7, 0.2)), ((0.3, 0.5), (0.7, 0.5)), (0.75, 0.0)).centre is None
    True
    """
    (y1, z1), (y2, z2) = lower
    (y3, z3), (y4, z4) = upper
    ay, az, by, bz = y2 - y1, z2 - z1, y4 - y3, z4 - z3
    turn = ay * bz - az * by
    if abs(turn) < _PARALLEL * hypot(ay, az) * hypot(by, bz):
        # all of the wheel moves at right angles to the arms
        slope = -az / ay
        return FrontView(None, None, slope, contact[0] * slope, 0.0)
    share = ((y3 - y1) * bz - (z3 - z1) * by) / turn
    centre = (y1 + share * ay, z1 + share * az)
    swing = contact[0] - centre[0]
    if abs(swing) < 1e-9:
        raise Unreachable
    slope = (centre[1] - contact[1]) / swing
    return FrontView(centre, swing, slope, contact[0] * slope, -1.0 / swing)


def lock_angles(lower: float, upper: float, knuckle: float, pivot: Flat) -> LockAngles:
    """Return where a planar double wishbone locks; ``pivot`` is the upper arm's from the lower arm's (outboard, up).

    Equation: |B - P| = b + k (stretched) or |b - k| (folded) with B on the lower arm's circle: the triangle inequality at its limits.
    """
    far = hypot(*pivot)
    lean = atan2(pivot[1], pivot[0])
    stretched = _angles(lower, far, lean, upper + knuckle)
    folded = _angles(lower, far, lean, abs(upper - knuckle))
    return LockAngles(
        max((a for a in stretched if a < 0), default=None),
        min((a for a in stretched if a > 0), default=None),
        min(folded, key=abs, default=None),
    )


def _angles(arm: float, far: float, lean: float, distance: float) -> list[float]:
    cosine = (arm * arm + far * far - distance * distance) / (2 * arm * far)
    if abs(cosine) > 1:
        return []
    opening = acos(cosine)
    return [angle for angle in (lean - opening, lean + opening) if abs(angle) <= _STEEPEST]


def panhard_shift(run: float, below: float, rise: float) -> float:
    """Return how far the axle moves towards the rod's chassis end when it rises: y - sqrt(y^2 + dz^2 - (z - dz)^2).

    ``run`` is the rod's lateral length, ``below`` how far its axle end lies below the chassis end as drawn (m).

    >>> round(panhard_shift(0.8, 0.0, 0.04), 9)
    0.001000626
    """
    square = run * run + below * below - (rise - below) ** 2
    if square < 0:
        raise Unreachable
    return run - sqrt(square)


def leaf_path(front_half: float, eye_height: float, seat_height: float, rise: float) -> tuple[float, float]:
    """Return how far a leaf-sprung axle moves forward when it rises (m), and the slope as drawn (forward per rise).

    Equation: an arm of 0.75 of the front half, hinged at the height of the eye. Good to 10 %.
    """
    arm = 0.75 * front_half
    drop = eye_height - seat_height
    if abs(drop) >= arm or abs(rise - drop) >= arm:
        raise Unreachable
    pivot = sqrt(arm * arm - drop * drop)
    return pivot - sqrt(arm * arm - (rise - drop) ** 2), -drop / pivot
