"""A rigid axle in heave and roll: path, pinion angle, roll centre and roll steer, for any set of links that leaves it two freedoms."""

from collections.abc import Sequence
from math import asin, atan2
from typing import NamedTuple

from calc.geometry.checks import check_drawn, check_linkage
from calc.geometry.constraints import Mechanism, Pose
from calc.geometry.linkage import Linkage
from calc.geometry.rates import Twist, twists
from calc.geometry.solve_errors import Unreachable
from calc.geometry.vectors import Vector, apply
from calc.geometry.walk import General, Spot, walk
from calc.refusal import Refused

_FINEST = 1e-4  # m
_STILL = 1e-7  # rad/m


class AxleState(NamedTuple):
    """An axle with its wheels at two travels: pose, and its motion in heave (per metre) and in roll (per metre of half the difference)."""

    left: float
    right: float
    pose: Pose
    heave: Twist
    roll: Twist


class AxleReading(NamedTuple):
    """What an axle says of itself, SI units; the instant centre is none at infinity.

    ``dx`` and ``dy`` are the shift of its middle (forward, left), ``yaw`` positive when it steers left, ``roll`` positive with the left
    wheel up, ``pinion`` positive with the nose up; slopes per unit of heave; ``roll_steer`` positive at a rear axle is roll oversteer.
    """

    left: float
    right: float
    dx: float
    dy: float
    yaw: float
    roll: float
    pinion: float
    wheel_slope: float
    contact_slope: float
    lateral_slope: float
    side_centre_x: float | None
    side_centre_height: float | None
    roll_centre_height: float
    roll_steer: float


class Axle:
    """A rigid axle on its linkage, ready to be moved."""

    def __init__(self, linkage: Linkage) -> None:
        check_linkage(linkage)
        self.linkage = linkage
        self.mechanism = Mechanism(linkage)
        check_drawn(linkage, self.mechanism)
        self.heights = tuple(self.mechanism.origin[2] + offset[2] for offset in self.mechanism.heights)
        self.radius = linkage.loaded_radius
        try:
            self.general = General(self.mechanism, self.heights)
        except Unreachable:
            raise Refused(
                "points",
                "must let the axle be assembled at its drawn height",
                hint="The members do not meet there.",
                label="Points",
            ) from None

    def pose(self, left: float, right: float) -> Pose:
        """Return the pose with the wheels at two travels. Refused beyond the limits, which are said."""
        pose, share = walk(self._solve, self.general.drawn, (0.0, 0.0), (left, right), _FINEST)
        if share < 1.0:
            raise self._out_of_reach(left, right, share)
        return pose

    def _solve(self, goal: Spot, near: Pose, step: float) -> Pose:
        return self.general.at((self.heights[0] + goal[0], self.heights[1] + goal[1]), 0.0, near, step)

    def _out_of_reach(self, left: float, right: float, share: float) -> Refused:
        last = f"{1000 * share * left:.1f} and {1000 * share * right:.1f} mm"
        return Refused(
            "travel",
            f"must stay within reach: this axle locks at {last} (left and right)",
            f"{1000 * left:g} and {1000 * right:g} mm",
            label="Wheel travel",
        )

    def state(self, left: float = 0.0, right: float = 0.0) -> AxleState:
        """Return the pose and the motion at two wheel travels."""
        pose = self.pose(left, right)
        try:
            per_left, per_right, _ = twists(self.mechanism, pose, 0.0)
        except Unreachable:
            raise self._out_of_reach(left, right, 1.0) from None
        return AxleState(left, right, pose, per_left.plus(1.0, per_right), per_left.plus(-1.0, per_right))

    def reading(self, left: float = 0.0, right: float = 0.0) -> AxleReading:
        """Return what the axle says of itself at two wheel travels.

        Equation: roll centre height = V_y / w_x + R in roll at fixed mean height, V at the axle centre; roll steer = w_z / w_x.
        """
        state = self.state(left, right)
        centre, origin = state.pose.centre, self.mechanism.origin
        along, ahead = apply(state.pose.turn, (0.0, 1.0, 0.0)), apply(state.pose.turn, (1.0, 0.0, 0.0))
        below: Vector = (centre[0], centre[1], centre[2] - self.radius)
        vx, _, vz = state.heave.at(centre, below)
        nod = state.heave.turning[1]
        still = abs(nod) < _STILL
        spin = state.roll.turning
        return AxleReading(
            left,
            right,
            centre[0] - origin[0],
            centre[1] - origin[1],
            atan2(-along[0], along[1]),
            asin(max(-1.0, min(1.0, along[2]))),
            atan2(ahead[2], ahead[0]),
            state.heave.velocity[0],
            vx,
            state.heave.velocity[1],
            None if still else below[0] + vz / nod,
            None if still else -vx / nod,
            state.roll.velocity[1] / spin[0] + self.radius,
            spin[2] / spin[0],
        )

    def sweep(self, travels: Sequence[tuple[float, float]]) -> tuple[AxleReading, ...]:
        """Return the readings over pairs of left and right travel."""
        return tuple(self.reading(left, right) for left, right in travels)
