"""One wheel in motion: positions over travel and rack, swept outwards from the drawn position so that no other assembly is jumped to."""

from collections.abc import Sequence
from typing import NamedTuple

from calc.geometry.checks import check_drawn, check_linkage
from calc.geometry.constraints import Mechanism, Pose
from calc.geometry.hinged import HingedArm
from calc.geometry.linkage import Linkage, Pair
from calc.geometry.linkages import closed_form
from calc.geometry.parts import Parts
from calc.geometry.rates import Twist, hinge_twist, twists
from calc.geometry.solve_errors import Unreachable
from calc.geometry.vectors import Vector, add, apply
from calc.geometry.walk import General, Spot, walk
from calc.geometry.wheel import contact, spin_axis
from calc.refusal import Refused

_FINEST = 5e-5  # m, a limit of travel is found to this where Newton has to feel for it
_SHARP = 1e-7  # m, the same where a closed form says outright that it cannot reach
_LOOKED = 0.5  # m, travel beyond which no limit is looked for


class State(NamedTuple):
    """A wheel at one travel and rack travel: pose, spin axis, contact point, and its motion per metre of each."""

    travel: float
    rack: float
    pose: Pose
    spin: Vector
    contact: Vector
    per_travel: Twist
    per_rack: Twist


class Corner:
    """One wheel on its linkage, ready to be moved. ``travel`` is the rise of the wheel centre from its drawn height (m)."""

    def __init__(self, linkage: Linkage) -> None:
        check_linkage(linkage)
        self.linkage = linkage
        self.mechanism = Mechanism(linkage)
        check_drawn(linkage, self.mechanism)
        self.parts = Parts(linkage, self.mechanism.origin)
        self.spin = spin_axis(linkage.static_camber, linkage.static_toe_in)
        self.radius = linkage.loaded_radius
        self.height = self.mechanism.origin[2]
        try:
            self.closed = closed_form(linkage)
            if self.closed is None:
                self.general = General(self.mechanism, (self.height,))
            self.drawn = self._solve((0.0, 0.0), Pose(self.mechanism.origin), 0.0)
        except Unreachable:
            raise Refused(
                "points",
                "must let the wheel be assembled at its drawn height",
                hint="The members do not meet there.",
                label="Points",
            ) from None
        self._finest = _SHARP if self.closed else _FINEST
        self.drawn_contact = contact(self.mechanism.origin, self.spin, self.radius)

    def pose(self, travel: float = 0.0, rack: float = 0.0) -> Pose:
        """Return the pose at a travel and a rack travel. Refused beyond the limits, which are said."""
        return self._walk(self.drawn, (0.0, 0.0), (travel, rack))

    def state(self, travel: float = 0.0, rack: float = 0.0) -> State:
        """Return the whole state at a travel and a rack travel."""
        return self.state_of(self.pose(travel, rack), travel, rack)

    def state_of(self, pose: Pose, travel: float, rack: float) -> State:
        """Return the state that belongs to a pose."""
        try:
            rise, steer = self._twists(pose, rack)
        except Unreachable:
            raise Refused("travel", "must not be at a lock", f"{1000 * travel:g} mm", label="Wheel travel") from None
        spin = apply(pose.turn, self.spin)
        return State(travel, rack, pose, spin, contact(pose.centre, spin, self.radius), rise, steer)

    def _twists(self, pose: Pose, rack: float) -> tuple[Twist, Twist]:
        if isinstance(self.closed, HingedArm):
            still: Vector = (0.0, 0.0, 0.0)
            return hinge_twist(pose.centre, self.closed.foot, self.closed.axis), Twist(still, still)
        rise, steer = twists(self.mechanism, pose, rack)
        return rise, steer

    def chassis_end(self, link: Pair, rack: float) -> Vector:
        """Return where the chassis end of a link is: that of the tie rod moves with rack or drop arm."""
        point = self.linkage.points[link[0]]
        return add(point, self.mechanism.steer.at(rack)[0]) if link == self.linkage.tie_rod else point

    def sweep(self, travels: Sequence[float], rack: float = 0.0) -> tuple[State, ...]:
        """Return the states over a list of travels at one rack travel."""
        return tuple(self.state_of(pose, z, rack) for pose, z in zip(self.poses(travels, rack), travels, strict=True))

    def poses(self, travels: Sequence[float], rack: float = 0.0) -> tuple[Pose, ...]:
        """Return the poses over a list of travels, found outwards from the one nearest the drawn height."""
        order = sorted(range(len(travels)), key=lambda i: abs(travels[i]))
        base = self._walk(self.drawn, (0.0, 0.0), (0.0, rack)) if order else self.drawn
        found: dict[int, Pose] = {}
        last = {True: (base, 0.0), False: (base, 0.0)}
        for i in order:
            up = travels[i] >= 0
            start, at = last[up]
            pose = self._walk(start, (at, rack), (travels[i], rack))
            found[i] = pose
            last[up] = (pose, travels[i])
        return tuple(found[i] for i in range(len(travels)))

    def limits(self, rack: float = 0.0, looked: float = _LOOKED) -> tuple[float | None, float | None]:
        """Return the lowest and the highest travel the linkage reaches, none where it reaches as far as was looked."""
        return self._limit(-looked, rack), self._limit(looked, rack)

    def rack_limits(self, travel: float = 0.0, looked: float = _LOOKED) -> tuple[float | None, float | None]:
        """Return how far the rack can go to the right (negative) and to the left, none where no lock was met."""
        start = self.pose(travel)
        right, left = (self._end_of_way(start, (travel, 0.0), (travel, side * looked))[1] for side in (-1, 1))
        return right, left

    def _end_of_way(self, pose: Pose, start: Spot, goal: Spot) -> tuple[float | None, float | None]:
        """Return the travel and the rack travel where the way to a goal ends, none and none where it does not."""
        share = walk(self._solve, pose, start, goal, self._finest)[1]
        return (None, None) if share >= 1.0 else between(start, goal, share)

    def _limit(self, far: float, rack: float) -> float | None:
        start = self._walk(self.drawn, (0.0, 0.0), (0.0, rack))
        if self.closed:
            height = self.closed.limit(1.0 if far > 0 else -1.0, rack, start.angle, abs(far))
            return None if height is None else height - self.height
        return self._end_of_way(start, (0.0, rack), (far, rack))[0]

    def _solve(self, goal: Spot, near: Pose, step: float) -> Pose:
        """Return the pose at a travel and a rack travel, one step from a near one. Raises ``Unreachable``."""
        height = self.height + goal[0]
        if self.closed:
            return self.closed.at_height(height, goal[1], near.angle)
        return self.general.at((height,), goal[1], near, step)

    def _walk(self, pose: Pose, start: Spot, goal: Spot) -> Pose:
        """Return the pose at a goal (travel, rack), walked to in steps; refused with the last position that was reached."""
        if self.closed and start[1] == goal[1]:  # the closed form looks along its own way
            try:
                return self._solve(goal, pose, 0.0)
            except Unreachable:
                pass
        pose, share = walk(self._solve, pose, start, goal, self._finest)
        if share < 1.0:
            raise out_of_reach(start, goal, between(start, goal, share))
        return pose


def between(start: Spot, goal: Spot, share: float) -> Spot:
    """Return the spot at a share of the way."""
    return start[0] + share * (goal[0] - start[0]), start[1] + share * (goal[1] - start[1])


def out_of_reach(start: Spot, goal: Spot, reached: Spot) -> Refused:
    """Return the refusal of a position beyond a lock: it says which input, and how far it can go."""
    if abs(goal[0] - start[0]) >= abs(goal[1] - start[1]):
        way = "bump" if goal[0] > start[0] else "droop"
        return Refused(
            "travel",
            f"must stay within reach: this linkage locks at {1000 * abs(reached[0]):.1f} mm of {way} travel",
            f"{1000 * goal[0]:g} mm",
            label="Wheel travel",
        )
    way = "left" if goal[1] > start[1] else "right"
    return Refused(
        "rack",
        f"must stay within reach: this linkage locks with the rack {1000 * abs(reached[1]):.1f} mm to the {way}",
        f"{1000 * goal[1]:g} mm",
        label="Rack travel",
    )
